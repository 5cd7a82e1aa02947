package detachability_test

import (
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/detachability"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/domain/release"
)

func read(tb testing.TB, name string) *domain.Register {
	tb.Helper()
	file, err := os.Open("../../testdata/" + name)
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func take(r *domain.Register) detachability.Report {
	return detachability.Take(release.Build(r))
}

// shelf is a batten plugged to a wall and a sheet on it, held by the named fixing, with nothing over it.
func shelf(fixing string) *domain.Register {
	up, out := domain.Direction{Z: 1}, domain.Direction{Y: -1}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F", Name: "shelf", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{{Code: "NORTH", Kind: "dense-block", Origin: domain.Point{X: 4000}, U: domain.Direction{X: -1}, V: up, UMm: 4000, VMm: 3000, ThicknessMm: 140, Rule: domain.Allowed}},
		Elements: []domain.Element{
			{Code: "B1", Kind: domain.Batten, Material: "c16-cls-38x89", LengthMm: 1000, WidthMm: 89, ThicknessMm: 38, BuiltOrder: 1,
				Placement: domain.Placement{Origin: domain.Point{X: 1000, Z: 1000}, Along: domain.Direction{X: 1}, Across: up}},
			{Code: "S1", Kind: domain.Board, Material: "osb3-11-metric", LengthMm: 1000, WidthMm: 89, ThicknessMm: 11, BuiltOrder: 2,
				Placement: domain.Placement{Origin: domain.Point{X: 1000, Y: -38, Z: 1000}, Along: domain.Direction{X: 1}, Across: up}},
		},
		Fixings: []domain.Fixing{
			{Code: "X1", Type: "nylon-plug-6", Count: 2, Holds: "B1", IntoHost: "NORTH", BuiltOrder: 1, Undo: []domain.Direction{out}, Run: domain.Run{Start: domain.Point{X: 1000, Y: -38, Z: 1045}, Along: domain.Direction{X: 1}, PositionsMm: []int{100, 900}}},
			{Code: "X2", Type: fixing, Count: 2, Holds: "S1", IntoElement: "B1", BuiltOrder: 2, Undo: []domain.Direction{out}, Run: domain.Run{Start: domain.Point{X: 1000, Y: -49, Z: 1045}, Along: domain.Direction{X: 1}, PositionsMm: []int{200, 800}}},
		},
	}
}

// Read by hand from the published tables: the sheet is bare-screwed (0.9412), screwed with filled heads (0.8136) or
// glued; the batten has plugged screws behind what comes off it, so it waits, and the sheet lies over it.
func TestShelfByHand(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		fixing        string
		sheet, batten detachability.Score
	}{
		{"sheet-screw-4-5x50", detachability.Of(.8, 1, 1, 1), detachability.Of(.8, .8, 1, .4)},
		{"drywall-screw-timber-3-5", detachability.Of(.8, .6, 1, 1), detachability.Of(.8, .6, 1, .4)},
		{"grab-adhesive", detachability.Of(.1, .4, 1, 1), detachability.Of(.8, .4, 1, .4)},
	} {
		t.Run(tt.fixing, func(t *testing.T) {
			t.Parallel()
			got := take(shelf(tt.fixing))
			if diff := cmp.Diff([]*detachability.Score{&tt.batten, &tt.sheet}, []*detachability.Score{got.Pieces[0].Score, got.Pieces[1].Score}); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// What the register does not know is not scored, says why, and is in no mean.
func TestNotScored(t *testing.T) {
	t.Parallel()
	unseen, unheld, hidden := shelf("sheet-screw-4-5x50"), shelf("sheet-screw-4-5x50"), shelf("sheet-screw-4-5x50")
	unseen.Fixings[1].Known = domain.Unknown
	unheld.Fixings = unheld.Fixings[:1]
	hidden.Elements[1].Known = domain.Unknown
	for _, tt := range []struct {
		name string
		r    *domain.Register
		why  string
	}{
		{"a fixing nobody saw", unseen, "nobody has seen what X2 is"},
		{"nothing holds it", unheld, "nothing logged says what holds it or what it rests on"},
		{"a piece nobody saw", hidden, "nobody has seen it"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := take(tt.r)
			if p := got.Pieces[1]; p.Scored || p.Score != nil || p.Why != tt.why {
				t.Errorf("%+v; want not scored because %q", p, tt.why)
			}
			if got.Whole.NotScored != 1 || got.Whole.ByMass != got.Pieces[0].Score.Product {
				t.Errorf("%+v; want the mean of the batten alone", got.Whole)
			}
		})
	}
}

// A service that runs through a piece is a crossing of both.
func TestCrossing(t *testing.T) {
	t.Parallel()
	r := shelf("sheet-screw-4-5x50")
	r.Elements[1].Kind = domain.Cable
	r.Relations = []domain.Relation{{Code: "R1", Kind: domain.RunsThrough, From: "S1", To: "B1", Origin: domain.FromLog}}
	got := take(r)
	for _, p := range got.Pieces {
		if p.Score.Independency != detachability.Crossing {
			t.Errorf("%s: independency %v, want %v", p.Code, p.Score.Independency, detachability.Crossing)
		}
	}
}

// Every piece of whole fit-outs is within the published bounds or says why it has no score, the means lie between the
// lowest and the best, the assemblies hold every piece once, and two readings of one register agree.
func TestFitOuts(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"demo.json", "examples/one-wall.json", "examples/corner.json", "examples/half-height-counter.json", "examples/loose-shelf.json"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := read(t, name)
			got := take(r)
			if diff := cmp.Diff(got, take(r), cmp.AllowUnexported(detachability.Group{})); diff != "" {
				t.Errorf("two readings differ\n%s", diff)
			}
			pieces, scored := 0, 0
			for _, p := range got.Pieces {
				switch {
				case p.Scored && p.Score.Product >= 0.1 && p.Score.Product <= 1 && p.Why == "":
					scored++
				case p.Scored || p.Why == "":
					t.Errorf("%s: %+v", p.Code, p)
				}
			}
			for _, g := range got.Assemblies {
				pieces += g.Pieces
				if g.Scored && (g.ByMass < g.Lowest || g.ByMass > 1) {
					t.Errorf("%s: mean %v, lowest %v", g.Code, g.ByMass, g.Lowest)
				}
			}
			if pieces != len(got.Pieces) || pieces != got.Whole.Pieces || scored != pieces-got.Whole.NotScored || scored == 0 {
				t.Errorf("%d pieces in assemblies, %d in all, %d scored", pieces, got.Whole.Pieces, scored)
			}
			t.Logf("%d pieces, %d scored, mean by mass %v, lowest %v (%s)", pieces, scored, got.Whole.ByMass, got.Whole.Lowest, got.Whole.LowestCode)
		})
	}
}

// Nails in the stead of screws never raise the index of any piece, nor the mean of the whole.
func TestNailsNeverRaise(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"examples/corner.json", "demo.json"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := read(t, name)
			before := take(r)
			var screws []int
			for i, f := range r.Fixings {
				if ft := r.Catalogue.FixingTypes[f.Type]; ft.Detachability == 0.8 && (ft.Family == "timber" || ft.Family == "lining") {
					screws = append(screws, i)
				}
			}
			if len(screws) == 0 {
				t.Fatal("no screws to put nails for")
			}
			rapid.Check(t, func(t *rapid.T) {
				nailed := *r
				nailed.Fixings = slices.Clone(r.Fixings)
				for range rapid.IntRange(1, 40).Draw(t, "how many") {
					nailed.Fixings[screws[rapid.IntRange(0, len(screws)-1).Draw(t, "which")]].Type = "gun-nail-3-1x90"
				}
				after := take(&nailed)
				for i, p := range after.Pieces {
					if b := before.Pieces[i]; b.Scored != p.Scored || b.Scored && p.Score.Product > b.Score.Product {
						t.Fatalf("%s rose with nails: %+v, then %+v", p.Code, b.Score, p.Score)
					}
				}
				if after.Whole.ByMass > before.Whole.ByMass {
					t.Fatalf("the whole rose from %v to %v", before.Whole.ByMass, after.Whole.ByMass)
				}
			})
		})
	}
}
