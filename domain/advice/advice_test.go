package advice

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// unit is a register with one wall to fix to and one stud on it.
func unit() *domain.Register {
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F", Premises: domain.Premises{BuiltYear: 2010}, Exits: []domain.Exit{{Code: "DOOR", WidthMm: 838, HeightMm: 1981}}},
		Hosts: []domain.HostSurface{{Code: "BLOCK", Kind: "dense-block", U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 9000, VMm: 3000,
			Rule: domain.Allowed, AgreedHoles: 4, MaxDiameterMm: 8, MaxDepthMm: 60}},
		Elements: []domain.Element{piece("OLD", 0)},
		Fixings: []domain.Fixing{{Code: "OLDF", Type: "concrete-screw-6", Count: 2, Holds: "OLD", IntoHost: "BLOCK", Undo: []domain.Direction{{X: 1}},
			Run: domain.Run{Start: domain.Point{X: 50, Y: 50, Z: 300}, Along: domain.Direction{Z: 1}, PositionsMm: []int{0, 600}}}},
		Holes:     []domain.Hole{hole("OLDH", "OLDF", 2, 6, 55)},
		Catalogue: catalogue.Default(),
	}
}

// piece is a stud of 50 x 100 x 1000 against the wall, at y.
func piece(code string, y int) domain.Element {
	return domain.Element{Code: code, Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 1000, WidthMm: 100, ThicknessMm: 50,
		Placement: domain.Placement{Origin: domain.Point{Y: y + 100, Z: 200}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: -1}}, Assembly: "W1"}
}

func hole(code, fixing string, count int, diameter float64, depth int) domain.Hole {
	return domain.Hole{Code: code, Host: "BLOCK", Face: domain.FrontFace, Count: count, DiameterMm: diameter, DepthMm: depth, State: domain.HoleInUse, Fixing: fixing}
}

// added is a new stud with one set of fixings into the wall and their holes.
func added(slug string, count int, diameter float64, depth int) domain.Records {
	return domain.Records{
		Elements: []domain.Element{piece("NEW", 2000)},
		Fixings:  []domain.Fixing{{Code: "NEWF", Type: slug, Count: count, Holds: "NEW", IntoHost: "BLOCK", Assembly: "W1"}},
		Holes:    []domain.Hole{hole("NEWH", "NEWF", count, diameter, depth)},
	}
}

// cover is a board right in front of the old stud's screws, screwed to it.
func cover(slug string) domain.Records {
	e := piece("COVER", 0)
	e.Kind, e.Assembly, e.Placement.Origin.X = domain.Board, "W2", 60
	return domain.Records{Elements: []domain.Element{e}, Fixings: []domain.Fixing{{Code: "CF", Type: slug, Count: 1, Holds: "COVER", IntoElement: "OLD", Assembly: "W2"}}}
}

type told struct {
	Kind     string
	Severity domain.Severity
}

func tell(r *domain.Register, add domain.Records) []told {
	out := []told{}
	for _, a := range For(r, add) {
		if a.Kind != HostCaution {
			out = append(out, told{a.Kind, a.Severity})
		}
	}
	return out
}

func TestFor(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		add    domain.Records
		change func(r *domain.Register, add *domain.Records)
		want   []told
	}{
		{"as agreed", added("concrete-screw-6", 2, 6, 55), nil, []told{}},
		{"past the agreed count", added("concrete-screw-6", 3, 6, 55), nil, []told{{OverAgreed, domain.Warning}}},
		{"too big and too deep", added("concrete-screw-10", 2, 10, 90), nil, []told{{TooBig, domain.Warning}, {TooDeep, domain.Warning}}},
		{"no hole logged", added("concrete-screw-6", 2, 6, 55), func(_ *domain.Register, add *domain.Records) { add.Holes = nil }, []told{{HoleMissing, domain.Warning}}},
		{"never", added("concrete-screw-6", 2, 6, 55), func(r *domain.Register, _ *domain.Records) { r.Hosts[0].Rule = domain.Never }, []told{{NeverSurface, domain.Stop}}},
		{"never, with a reason", added("concrete-screw-6", 2, 6, 55), func(r *domain.Register, add *domain.Records) {
			r.Hosts[0].Rule, add.Fixings[0].Reason = domain.Never, "agreed by letter"
		}, []told{{NeverSurface, domain.Warning}}},
		{"ask, nothing agreed", added("concrete-screw-6", 2, 6, 55), func(r *domain.Register, _ *domain.Records) {
			r.Hosts[0].Rule, r.Hosts[0].AgreedHoles = domain.Ask, 0
		}, []told{{AskSurface, domain.Warning}}},
		{"shot-fired", added("shot-fired-pin", 2, 3.7, 25), nil, []told{{DestructiveFixing, domain.Warning}}},
		{"shot-fired, with a reason", added("shot-fired-pin", 2, 3.7, 25), func(_ *domain.Register, add *domain.Records) {
			add.Fixings[0].Reason = "the landlord's engineer asked for it"
		}, []told{{DestructiveFixing, domain.Note}}},
		{"expansion anchor in aircrete", added("sleeve-anchor-m6", 2, 8, 50), func(r *domain.Register, _ *domain.Records) { r.Hosts[0].Kind = "aircrete-block" }, []told{{ExpansionAnchor, domain.Stop}}},
		{"screws covered by another assembly", cover("sheet-screw-4-5x50"), nil, []told{{HiddenFixing, domain.Note}}},
		{"screws covered by a glued board", cover("grab-adhesive"), nil, []told{{GluedJoint, domain.Warning}, {HiddenFixing, domain.Warning}}},
		{"a side stays open", cover("sheet-screw-4-5x50"), func(r *domain.Register, _ *domain.Records) {
			r.Fixings[0].Undo = append(r.Fixings[0].Undo, domain.Direction{Y: -1})
		}, []told{}},
		{"covered before already", cover("sheet-screw-4-5x50"), func(r *domain.Register, _ *domain.Records) {
			e := piece("EARLIER", 0)
			e.Placement.Origin.X = 120
			r.Elements = append(r.Elements, e)
		}, []told{}},
		{"held by nothing", domain.Records{Elements: []domain.Element{piece("AIR", 4000)}}, nil, []told{{NotHeld, domain.Warning}}},
		{"too large for the door", added("concrete-screw-6", 2, 6, 55), func(_ *domain.Register, add *domain.Records) {
			add.Elements[0].LengthMm, add.Elements[0].WidthMm, add.Elements[0].ThicknessMm = 2700, 2500, 40
			add.Elements[0].Placement.Origin.Y = 6000
		}, []told{{CannotLeave, domain.Warning}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := unit()
			if tt.change != nil {
				tt.change(r, &tt.add)
			}
			if diff := cmp.Diff(tt.want, tell(r, tt.add)); diff != "" {
				t.Errorf("For (-want +got):\n%s\n%+v", diff, For(r, tt.add))
			}
			for _, a := range For(r, tt.add) {
				if a.Text == "" || a.Mend == "" && a.Kind != HostCaution {
					t.Errorf("%s: text %q, mend %q", a.Kind, a.Text, a.Mend)
				}
			}
		})
	}
}

func TestPasses(t *testing.T) {
	t.Parallel()
	door := domain.Exit{Code: "DOOR", WidthMm: 838, HeightMm: 1981}
	short := domain.Exit{Code: "TURN", WidthMm: 838, HeightMm: 1981, ReachMm: 2000}
	for _, tt := range []struct {
		name              string
		exit              domain.Exit
		long, wide, thick int
		want              bool
		parts, partMm     int
		ripped            bool
	}{
		{"sheet goes upright", door, 2397, 1197, 11, true, 0, 0, false},
		// by hand: the diagonal of 838 x 1981 is 2151
		{"sheet of 2100 leans", door, 2700, 2100, 11, true, 0, 0, false},
		{"sheet of 2200 does not", door, 2700, 2200, 11, false, 2, 1349, false},
		{"block as wide as the door is not", door, 2700, 839, 839, false, 2, 418, true},
		{"too long to turn", short, 4800, 200, 47, false, 3, 1598, false},
	} {
		if got := Passes(tt.exit, tt.long, tt.wide, tt.thick); got != tt.want {
			t.Errorf("%s: Passes = %v, want %v", tt.name, got, tt.want)
		}
		if tt.want {
			continue
		}
		w := partsFor([]domain.Exit{tt.exit}, tt.long, tt.wide, tt.thick)
		if !w.possible || w.parts != tt.parts || w.partMm != tt.partMm || w.ripped != tt.ripped {
			t.Errorf("%s: partsFor = %+v, want %d of %d, ripped %v", tt.name, w, tt.parts, tt.partMm, tt.ripped)
		}
	}
}

// A rectangle that fits can be found by turning it degree by degree; none that turning finds is refused.
func TestFitsAsTurned(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, q := rapid.IntRange(1, 300).Draw(t, "p"), rapid.IntRange(1, 300).Draw(t, "q")
		a, b := rapid.IntRange(1, 300).Draw(t, "a"), rapid.IntRange(1, 300).Draw(t, "b")
		got := fitsIn(float64(p), float64(q), float64(a), float64(b))
		if turned(float64(p), float64(q), float64(a), float64(b)) && !got {
			t.Errorf("%d x %d turns into %d x %d, and fitsIn refuses it", p, q, a, b)
		}
		if got && p*q > a*b {
			t.Errorf("%d x %d is larger than %d x %d, and fitsIn takes it", p, q, a, b)
		}
	})
}

// The same additions in another order get the same advice, but for the order of codes within it.
func TestForIgnoresOrder(t *testing.T) {
	t.Parallel()
	add := added("concrete-screw-10", 3, 10, 90)
	add.Append(cover("grab-adhesive"))
	again := domain.Records{Elements: slices.Clone(add.Elements), Fixings: slices.Clone(add.Fixings), Holes: add.Holes}
	slices.Reverse(again.Elements)
	slices.Reverse(again.Fixings)
	if diff := cmp.Diff(For(unit(), add), For(unit(), again)); diff != "" {
		t.Errorf("For after a shuffle (-want +got):\n%s", diff)
	}
}
