package replay

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

func drawBox(t *rapid.T, label string) body {
	whole := rapid.IntRange(-300, 300)
	way := rapid.Custom(func(t *rapid.T) domain.Direction {
		return domain.Direction{X: rapid.IntRange(-3, 3).Draw(t, "x"), Y: rapid.IntRange(-3, 3).Draw(t, "y"), Z: rapid.IntRange(-3, 3).Draw(t, "z")}
	})
	size := rapid.IntRange(20, 400)
	p := domain.Placement{Origin: domain.Point{X: whole.Draw(t, label+" x"), Y: whole.Draw(t, label+" y"), Z: whole.Draw(t, label+" z")}}
	p.Along = way.Filter(func(d domain.Direction) bool { return !d.IsZero() }).Draw(t, label+" along")
	p.Across = way.Filter(func(d domain.Direction) bool { return d.Unit().Cross(p.Along.Unit()).Length() > 1e-6 }).Draw(t, label+" across")
	return newBody(domain.NewBox(p, size.Draw(t, label+" length"), size.Draw(t, label+" width"), size.Draw(t, label+" thickness")))
}

// inside reports whether a point lies in b, at least so deep.
func inside(b *body, p domain.Vector, deep float64) bool {
	p = p.Sub(b.box.Centre)
	for i, axis := range b.box.Axes {
		if x := p.Dot(axis); x > b.box.Half[i]-deep || -x > b.box.Half[i]-deep {
			return false
		}
	}
	return true
}

// grid calls visit for points throughout a box.
func grid(b *body, n int, visit func(domain.Vector) bool) bool {
	for i := range n * n * n {
		p := b.box.Centre
		for k, at := range [3]int{i % n, i / n % n, i / n / n} {
			p = p.Add(b.box.Axes[k].Scale(b.box.Half[k] * (2*float64(at)/float64(n-1) - 1)))
		}
		if visit(p) {
			return true
		}
	}
	return false
}

// TestHitsAgainstPoints: where some point of the moving box lies well inside the other at some moment, it hits; where
// a plane stands between them at every moment, tried in many directions, it does not.
func TestHitsAgainstPoints(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawBox(t, "a"), drawBox(t, "b")
		way := domain.Vector{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y")}
		if rapid.Bool().Draw(t, "at rest") {
			way = domain.Vector{}
		}
		got := a.hits(way, &b)
		shared := false
		for k := range 5 {
			shared = shared || grid(&a, 7, func(p domain.Vector) bool { return inside(&b, p.Add(way.Scale(float64(k)/4)), 1e-3) })
			shared = shared || grid(&b, 7, func(p domain.Vector) bool { return inside(&a, p.Sub(way.Scale(float64(k)/4)), 1e-3) })
		}
		if shared && !got {
			t.Fatalf("%v moved %v misses %v, yet they share a point", a.box, way, b.box)
		}
		for i := range 2000 {
			normal := domain.Vector{X: float64(i%13 - 6), Y: float64(i/13%13 - 6), Z: float64(i/169%13 - 6)}.Unit()
			_, aHigh := a.along(normal)
			bLow, _ := b.along(normal)
			if got && normal.Length() > 0 && aHigh+max(0, way.Dot(normal)) < bLow-1e-3 {
				t.Fatalf("%v moved %v hits %v, yet the plane %v parts them", a.box, way, b.box, normal)
			}
		}
		if other := b.hits(way.Scale(-1), &a); other != got {
			t.Fatalf("a moved %v hits b: %t; b moved the other way hits a: %t", way, got, other)
		}
	})
}

func TestCrossedBy(t *testing.T) {
	t.Parallel()
	box, _ := place(vec{0, 0, 0}, vec{300, 200, 12})
	board := newBody(domain.NewBox(box, 300, 200, 12))
	thin := newBody(domain.NewBox(domain.Placement{Along: east.direction(), Across: north.direction()}, 300, 200, 1))
	at := func(x, y, z float64) domain.Vector { return domain.Vector{X: x, Y: y, Z: z} }
	for _, tt := range []struct {
		name     string
		b        *body
		from, to domain.Vector
		girthMm  float64
		want     bool
	}{
		{"right through", &board, at(100, 100, -50), at(100, 100, 200), 0, true},
		{"starting on its face, outwards", &board, at(100, 100, 12), at(100, 100, 262), 0, false},
		{"starting on its face, inwards", &board, at(100, 100, 12), at(100, 100, -250), 0, true},
		{"from a head 1 mm below its face, outwards", &board, at(100, 100, 11), at(100, 100, 261), 0, false},
		{"stopping short of it", &board, at(100, 100, 300), at(100, 100, 50), 0, false},
		{"along its face", &board, at(-50, 100, 12), at(400, 100, 12), 0, false},
		{"past its edge", &board, at(-1, 100, -50), at(-1, 100, 200), 0, false},
		{"past its edge, 6 mm thick", &board, at(-1, 100, -50), at(-1, 100, 200), 6, true},
		{"10 mm past its edge, 6 mm thick", &board, at(-10, 100, -50), at(-10, 100, 200), 6, false},
		{"through a membrane", &thin, at(100, 100, -50), at(100, 100, 200), 0, true},
		{"askew through its edge", &board, at(-20, 100, 6), at(20, 100, 8), 0, true},
	} {
		if got := tt.b.crossedBy(tt.from, tt.to, tt.girthMm); got != tt.want {
			t.Errorf("%s: crossedBy(%v, %v, %g) = %t, want %t", tt.name, tt.from, tt.to, tt.girthMm, got, tt.want)
		}
	}
}

func TestRests(t *testing.T) {
	t.Parallel()
	flat := func(x, y, z, length, width, thickness int) body {
		p, size := place(vec{x, y, z}, vec{length, width, thickness})
		return newBody(domain.NewBox(p, size[0], size[1], size[2]))
	}
	below := flat(0, 0, 0, 400, 100, 100)
	for _, tt := range []struct {
		name string
		a    body
		want bool
	}{
		{"on top", flat(0, 0, 100, 400, 100, 50), true},
		{"2 mm above", flat(0, 0, 102, 400, 100, 50), true},
		{"3 mm above", flat(0, 0, 103, 400, 100, 50), false},
		{"2 mm into it", flat(0, 0, 98, 400, 100, 50), true},
		{"5 mm into it", flat(0, 0, 95, 400, 100, 50), false},
		{"beside it", flat(0, 100, 0, 400, 100, 100), false},
		{"beside it, on a sliver", flat(0, 99, 100, 400, 100, 100), false},
		{"on its edge", flat(0, 90, 100, 400, 100, 100), true},
		{"under it", flat(0, 0, -50, 400, 100, 50), false},
		{"a 2 mm sheet on top", flat(0, 0, 100, 400, 100, 2), true},
		{"a 2 mm sheet 3 mm above", flat(0, 0, 103, 400, 100, 2), false},
	} {
		if got := rests(&tt.a, &below); got != tt.want {
			t.Errorf("rests %s = %t, want %t", tt.name, got, tt.want)
		}
	}
}

// TestFindAgainstPairs: the tree finds what plain pairwise tests find, and nothing else but what single precision
// rounds into it.
func TestFindAgainstPairs(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		bodies := make([]body, rapid.IntRange(0, 200).Draw(t, "boxes"))
		leave := make([]int32, len(bodies))
		for i := range bodies {
			at := vec{rapid.IntRange(0, 3000).Draw(t, "x"), rapid.IntRange(0, 3000).Draw(t, "y"), rapid.IntRange(0, 300).Draw(t, "z")}
			bodies[i] = newBody(domain.NewBox(domain.Placement{Origin: at.point(), Along: east.direction(), Across: north.direction()},
				rapid.IntRange(1, 900).Draw(t, "length"), 90, 38))
			leave[i] = int32(rapid.IntRange(-1, 9).Draw(t, "leave"))
		}
		tree := newTree(bodies, func(i int) bool { return i%7 != 0 })
		tree.until(leave)
		for range 5 {
			lo := domain.Vector{X: float64(rapid.IntRange(0, 3000).Draw(t, "lo x")), Y: float64(rapid.IntRange(0, 3000).Draw(t, "lo y"))}
			hi := lo.Add(domain.Vector{X: float64(rapid.IntRange(1, 2000).Draw(t, "wide")), Y: float64(rapid.IntRange(1, 2000).Draw(t, "deep")), Z: 150})
			after := int32(rapid.IntRange(-1, 9).Draw(t, "after"))
			var want []int32
			for i := range bodies {
				if i%7 != 0 && leave[i] > after && overlaps(lo, hi, bodies[i].lo, bodies[i].hi) {
					want = append(want, int32(i))
				}
			}
			got := tree.find(lo, hi, after, nil)
			slices.Sort(got)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("find(%v, %v, after %d) (-want +got):\n%s", lo, hi, after, diff)
			}
		}
	})
}
