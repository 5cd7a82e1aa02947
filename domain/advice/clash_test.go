package advice

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// emptyRoom is an empty unit of 4000 x 3000, 2500 high: slab, soffit, and a block wall at each end.
func emptyRoom() *domain.Register {
	x, y, z := domain.Direction{X: 1}, domain.Direction{Y: 1}, domain.Direction{Z: 1}
	return &domain.Register{FitOut: domain.FitOut{Code: "F"}, Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{
		{Code: "SLAB", Kind: "concrete-slab", U: x, V: y, UMm: 4000, VMm: 3000, ThicknessMm: 150, Rule: domain.Allowed},
		{Code: "SOFFIT", Kind: "concrete-slab", Origin: domain.Point{Y: 3000, Z: 2500}, U: x, V: domain.Direction{Y: -1}, UMm: 4000, VMm: 3000, Rule: domain.Allowed},
		{Code: "WEST", Kind: "dense-block", U: y, V: z, UMm: 3000, VMm: 2500, ThicknessMm: 140, Rule: domain.Allowed},
		{Code: "EAST", Kind: "dense-block", Origin: domain.Point{X: 4000, Y: 3000}, U: domain.Direction{Y: -1}, V: z, UMm: 3000, VMm: 2500, Rule: domain.Allowed},
	}}
}

// bar is a piece along x, its least corner at x, y, z; deep lies along y, high along z.
func bar(code, assembly string, x, y, z, long, deep, high int) domain.Element {
	return domain.Element{Code: code, Kind: domain.Stud, Assembly: assembly, LengthMm: long, WidthMm: deep, ThicknessMm: high,
		Placement: domain.Placement{Origin: domain.Point{X: x, Y: y, Z: z}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}
}

// places are the words on where pieces stand, in order.
func places(r *domain.Register, add domain.Records) []string {
	out := []string{}
	for _, a := range For(r, add) {
		if a.Kind == Clash || a.Kind == OutOfPlace {
			out = append(out, a.Text)
		}
	}
	return out
}

func TestStandsInAnother(t *testing.T) {
	t.Parallel()
	old := bar("OLD", "W1", 500, 1000, 0, 2000, 89, 38)
	joint := func(into string) []domain.Fixing {
		return []domain.Fixing{{Code: "J", Type: "wood-screw-5", Count: 1, Holds: "NEW", IntoElement: into}}
	}
	kind := func(e domain.Element, k domain.ElementKind) domain.Element { e.Kind = k; return e }
	for _, tt := range []struct {
		name string
		add  domain.Records
		want []string
	}{
		{"beside it", domain.Records{Elements: []domain.Element{bar("NEW", "W2", 500, 1089, 0, 2000, 89, 38)}}, []string{}},
		{"to a tape's 5 mm", domain.Records{Elements: []domain.Element{bar("NEW", "W2", 500, 1084, 0, 2000, 89, 38)}}, []string{}},
		{"6 mm in it", domain.Records{Elements: []domain.Element{bar("NEW", "W2", 500, 1083, 0, 2000, 89, 38)}}, []string{"NEW of W2 stands 6 mm deep in OLD of W1"}},
		{"across it", domain.Records{Elements: []domain.Element{bar("NEW", "", 1000, 500, 0, 47, 2000, 100)}}, []string{"NEW stands 38 mm deep in OLD of W1"}},
		{"twice", domain.Records{Elements: []domain.Element{bar("NEW", "W2", 500, 1000, 0, 2000, 89, 38)}},
			[]string{"NEW of W2 stands exactly where OLD of W1 does, of the same size: was it logged twice?"}},
		{"a wall through it", domain.Records{Elements: []domain.Element{bar("A", "W2", 1000, 500, 0, 38, 1000, 89), bar("B", "W2", 1600, 500, 0, 38, 1000, 89)}},
			[]string{"W2 goes through W1: 2 pieces into 1 piece, deepest A, 38 mm into OLD"}},
		{"within one assembly", domain.Records{Elements: []domain.Element{bar("NEW", "W1", 1000, 500, 0, 47, 2000, 100)}}, []string{"NEW stands 38 mm deep in OLD"}},
		{"two of what is added", domain.Records{Elements: []domain.Element{bar("A", "W2", 500, 2000, 0, 2000, 89, 38), bar("B", "W3", 500, 2050, 0, 2000, 89, 38)}}, []string{"A of W2 stands 38 mm deep in B of W3"}},
		{"a pipe through it", domain.Records{Elements: []domain.Element{kind(bar("NEW", "", 1000, 500, 10, 22, 1000, 22), domain.Pipe)}}, []string{}},
		{"insulation pressed in", domain.Records{Elements: []domain.Element{kind(bar("NEW", "", 500, 1020, 0, 600, 50, 100), domain.Insulation)}}, []string{}},
		{"let in and screwed", domain.Records{Elements: []domain.Element{bar("NEW", "", 500, 1077, 0, 2000, 89, 38)}, Fixings: joint("OLD")}, []string{}}, // 12 of 38: a third
		{"let in too deep", domain.Records{Elements: []domain.Element{bar("NEW", "", 500, 1070, 0, 2000, 89, 38)}, Fixings: joint("OLD")}, []string{"NEW stands 19 mm deep in OLD of W1"}},
		{"said to run through", domain.Records{Elements: []domain.Element{bar("NEW", "", 1000, 500, 0, 47, 2000, 100)},
			Relations: []domain.Relation{{Code: "R", Kind: domain.RunsThrough, From: "NEW", To: "OLD"}}}, []string{}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := emptyRoom()
			r.Elements = []domain.Element{old}
			if diff := cmp.Diff(tt.want, places(r, tt.add)); diff != "" {
				t.Errorf("what is said (-want +got):\n%s", diff)
			}
		})
	}
}

func TestOutOfPlace(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		piece domain.Element
		want  []string
	}{
		{"from wall to wall, on the floor", bar("NEW", "", 0, 1000, 0, 4000, 89, 38), []string{}},
		{"under the soffit", bar("NEW", "", 0, 1000, 2462, 4000, 89, 38), []string{}},
		{"into a wall", bar("NEW", "W1", -60, 1000, 0, 1000, 89, 38), []string{"NEW of W1 reaches 60 mm into WEST, behind its face"}},
		{"right through a wall", bar("NEW", "", -1000, 1000, 0, 1500, 89, 38), []string{"NEW reaches 1000 mm into WEST, behind its face"}},
		{"into a wall of unknown thickness", bar("NEW", "", 3000, 1000, 0, 1090, 89, 38), []string{"NEW reaches 90 mm into EAST, behind its face"}},
		{"into the floor", bar("NEW", "", 1000, 1000, -20, 1000, 89, 38), []string{"NEW reaches 20 mm into SLAB, behind its face"}},
		{"below the floor", bar("NEW", "", 1000, 1000, -400, 1000, 89, 38), []string{"NEW lies below SLAB, up to 400 mm"}},
		{"through the soffit", bar("NEW", "", 1000, 1000, 2400, 1000, 89, 250), []string{"NEW reaches 150 mm into SOFFIT, behind its face"}},
		{"above the soffit", bar("NEW", "", 1000, 1000, 3000, 1000, 89, 38), []string{"NEW lies above SOFFIT, up to 538 mm, and nothing is higher there"}},
		{"outside", bar("NEW", "", 1000, 5000, 0, 1000, 89, 38), []string{"NEW reaches 2089 mm past the edge of every floor: it lies outside the unit"}},
		{"a trim past the edge", bar("NEW", "", 1000, 2990, 0, 1000, 40, 38), []string{}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, places(emptyRoom(), domain.Records{Elements: []domain.Element{tt.piece}})); diff != "" {
				t.Errorf("what is said (-want +got):\n%s", diff)
			}
		})
	}
	joist := bar("NEW", "", -90, 1000, 2000, 2000, 47, 200)
	pocket := domain.Records{Elements: []domain.Element{joist}, Relations: []domain.Relation{{Code: "R", Kind: domain.BearsOn, From: "NEW", To: "WEST"}}}
	if got := places(emptyRoom(), pocket); len(got) > 0 {
		t.Errorf("a joist's end in the pocket that it bears in: %q", got)
	}
	door := bar("NEW", "", -140, 1000, 0, 140, 838, 2000)
	door.Kind = domain.DoorLining
	if got := places(emptyRoom(), domain.Records{Elements: []domain.Element{door}}); len(got) > 0 {
		t.Errorf("a door lining in the landlord's opening: %q", got)
	}
}

// TestUnderASlope: a board that was cut to a sloping soffit touches it and is not in it, nor in the plate that runs along it;
// one that was not cut is.
func TestUnderASlope(t *testing.T) {
	t.Parallel()
	r := emptyRoom()
	r.Hosts[1].V = domain.Direction{Y: -3000, Z: -300} // 2500 high at the back, 2200 at the front
	r.Elements = []domain.Element{{Code: "HP", Kind: domain.HeadPlate, Assembly: "W1", LengthMm: 3015, WidthMm: 89, ThicknessMm: 38,
		Placement: domain.Placement{Origin: domain.Point{X: 1000, Y: 0, Z: 2162}, Along: domain.Direction{Y: 3000, Z: 300}, Across: domain.Direction{X: -1}}}}
	board := domain.Element{Code: "B", Kind: domain.Board, Assembly: "W1", LengthMm: 2490, WidthMm: 1200, ThicknessMm: 11,
		Placement: domain.Placement{Origin: domain.Point{X: 1011, Y: 1600, Z: 0}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}}
	if got := places(r, domain.Records{Elements: []domain.Element{board}}); len(got) != 1 || !strings.Contains(got[0], "into SOFFIT") {
		t.Errorf("a square board under a slope: %q", got)
	}
	board.Outline = []domain.FacePoint{{}, {AcrossMm: 1200}, {AlongMm: 2478, AcrossMm: 1200}, {AlongMm: 2358}}
	if got := places(r, domain.Records{Elements: []domain.Element{board}}); len(got) != 0 {
		t.Errorf("a board cut to the slope: %q", got)
	}
	board.Placement.Origin.X, board.LengthMm = 1000, 2440 // now in the plane of the plate, whose underside is at 2322 there and rises to 2442
	board.Outline = []domain.FacePoint{{}, {AcrossMm: 1200}, {AlongMm: 2440, AcrossMm: 1200}, {AlongMm: 2320}}
	if got := places(r, domain.Records{Elements: []domain.Element{board}}); len(got) != 0 {
		t.Errorf("a board cut to the plate: %q", got)
	}
	board.Outline = nil
	if got := places(r, domain.Records{Elements: []domain.Element{board}}); len(got) == 0 || !strings.Contains(got[0], "deep in HP") {
		t.Errorf("a square board up into a raked plate: %q", got)
	}
}

// TestClashesAgainstEveryPair: what the grid finds is what looking at every pair finds, and in whatever order.
func TestClashesAgainstEveryPair(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := emptyRoom()
		r.Hosts = nil
		n := rapid.IntRange(2, 12).Draw(t, "pieces")
		at := func(name string) int { return rapid.IntRange(0, 60).Draw(t, name) * 50 }
		var all []domain.Element
		for i := range n {
			all = append(all, bar(fmt.Sprintf("P%02d", i), "", at("x"), at("y"), at("z"), 50+at("long"), 50+at("deep"), 50+at("high")))
		}
		want := map[[2]string]bool{}
		for i := range all {
			for k := range i {
				a, b := all[i], all[k]
				over := func(p, long, q, other int) bool { return min(p+long, q+other)-max(p, q) > tapeMm }
				pa, pb := a.Placement.Origin, b.Placement.Origin
				if over(pa.X, a.LengthMm, pb.X, b.LengthMm) && over(pa.Y, a.WidthMm, pb.Y, b.WidthMm) && over(pa.Z, a.ThicknessMm, pb.Z, b.ThicknessMm) {
					want[pairOf(a.Code, b.Code)] = true
				}
			}
		}
		r.Elements = all[:n/2]
		got := map[[2]string]bool{}
		for _, a := range For(r, domain.Records{Elements: all[n/2:]}) {
			if a.Kind == Clash {
				got[pairOf(a.Codes[0], a.Codes[1])] = true
			}
		}
		for i := range n / 2 { // what was there before is not said again
			for k := range i {
				delete(want, pairOf(all[i].Code, all[k].Code))
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("pairs (-want +got):\n%s", diff)
		}
	})
}
