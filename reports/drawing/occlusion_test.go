package drawing

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

// readFitOut reads a fit-out file of the project's test data.
func readFitOut(tb testing.TB, path string) *domain.Register {
	tb.Helper()
	file, err := os.Open(filepath.Join("../../testdata", path))
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatalf("%s: %v", path, err)
	}
	return r
}

// TestNearestIsOnTop shoots rays through the isometric view and compares what each meets first, worked out from the
// boxes alone, with what the order of drawing leaves on top. Pieces with an outline of their own are left out of the
// comparison where their box has more than they have.
func TestNearestIsOnTop(t *testing.T) {
	t.Parallel()
	for _, path := range []string{"demo.json", "examples/one-wall.json", "examples/half-height-counter.json"} {
		r := readFitOut(t, path)
		v := isometricFrom(r)
		all := solids(v, r, State{})
		order := backToFront(v, all)
		var reach sheet
		for i := range all {
			reach.reach(paper{all[i].bounds.x0, all[i].bounds.y0})
			reach.reach(paper{all[i].bounds.x1, all[i].bounds.y1})
		}
		at, rays, wrong := reach.bounds(), 0, 0
		const step = 97.3 // mm: many rays, none of them along an edge
		for x := at.x0; x < at.x1; x += step {
			for y := at.y0; y < at.y1; y += step {
				first, depth, unsure := meets(v, all, paper{x, y})
				if first < 0 || unsure {
					continue
				}
				rays++
				top := nearestAt(all, order, paper{x, y})
				if top == first || top >= 0 && math.Abs(depthAt(v, &all[top], paper{x, y})-depth) < 12 {
					continue // the same, or two faces that lie on each other
				}
				if wrong++; wrong <= 5 {
					name := "nothing"
					if top >= 0 {
						name = all[top].e.Code
					}
					t.Errorf("%s at %.0f, %.0f: %s is on top, %s is nearer", path, x, y, name, all[first].e.Code)
				}
			}
		}
		if rays < 200 {
			t.Errorf("%s: only %d rays met anything", path, rays)
		}
		t.Logf("%s: %d solids, %d rays, %d wrong", path, len(all), rays, wrong)
	}
}

// meets is the solid that a ray through the paper meets first, and how deep; unsure where it passes the box of a piece
// that is not all of its box.
func meets(v view, all []solid, p paper) (first int, depth float64, unsure bool) {
	first, depth = -1, math.Inf(1)
	for i := range all {
		d := depthAt(v, &all[i], p)
		if math.IsInf(d, 1) {
			continue
		}
		if e := all[i].e; len(e.Outline) > 0 || e.StartCutDeg != 0 || e.EndCutDeg != 0 {
			unsure = true
		}
		if d < depth {
			first, depth = i, d
		}
	}
	return first, depth, unsure
}

// depthAt is how deep a ray through the paper enters a solid's box, infinite where it misses it by the slab method.
func depthAt(v view, b *solid, p paper) float64 {
	from := v.right.Scale(p.X).Add(v.up.Scale(-p.Y))
	enter, leave, ok := through(from.Sub(v.away.Scale(1e6)), v.away, &b.box)
	if !ok || leave <= enter {
		return math.Inf(1)
	}
	return enter - 1e6
}

// TestRings: three bars that hide each other in a ring are all drawn, once.
func TestRings(t *testing.T) {
	t.Parallel()
	bar := func(code string, at domain.Point, along, across domain.Direction) domain.Element {
		return domain.Element{Code: code, Kind: domain.Beam, LengthMm: 1000, WidthMm: 50, ThicknessMm: 50, Placement: domain.Placement{Origin: at, Along: along, Across: across}}
	}
	r := &domain.Register{Elements: []domain.Element{
		bar("A", domain.Point{X: 0, Y: 0, Z: 0}, domain.Direction{X: 1}, domain.Direction{Y: 1}),
		bar("B", domain.Point{X: 900, Y: 50, Z: -500}, domain.Direction{Z: 1}, domain.Direction{X: 1}),
		bar("C", domain.Point{X: 950, Y: -500, Z: 300}, domain.Direction{Y: 1}, domain.Direction{Z: 1}),
	}}
	v := isometricFrom(r)
	all := solids(v, r, State{})
	// The ring is forced: each waits for the one before it.
	before := [][]int{{1}, {2}, {0}}
	q := &depthQueue{solids: all}
	if got := ringFurthest(q, before, make([]bool, 3)); got < 0 || got > 2 {
		t.Fatalf("ringFurthest = %d", got)
	}
	seen := map[int]bool{}
	for _, i := range backToFront(v, all) {
		if seen[i] {
			t.Errorf("%s is drawn twice", all[i].e.Code)
		}
		seen[i] = true
	}
	if len(seen) != 3 {
		t.Errorf("%d of 3 are drawn", len(seen))
	}
}
