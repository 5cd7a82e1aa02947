package salvage_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// stud is a 2400 stud on a plate, each fixed as the test says.
func stud(fixings ...domain.Fixing) *domain.Register {
	at := func(x, z int) domain.Placement {
		return domain.Placement{Origin: domain.Point{X: x, Z: z}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}
	}
	flat := domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}
	return &domain.Register{
		FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Elements: []domain.Element{
			{Code: "P", Kind: domain.SolePlate, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Placement: flat},
			{Code: "S", Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Placement: at(0, 38)},
		},
		Fixings: fixings,
		Prices:  []domain.Price{{Key: "material:c16-cls-38x89", Amount: 200, Unit: "m"}},
	}
}

func foot(kind string) domain.Fixing {
	return domain.Fixing{Code: "F", Type: kind, Count: 2, Holds: "S", IntoElement: "P",
		Run: domain.Run{Start: domain.Point{Y: 20, Z: 70}, Along: domain.Direction{Y: 1}, PositionsMm: []int{0, 40}}}
}

func pieceOf(tb testing.TB, inv salvage.Inventory, code string) salvage.Piece {
	tb.Helper()
	for _, p := range inv.Pieces {
		if p.Code == code {
			return p
		}
	}
	tb.Fatalf("no piece %s in the inventory", code)
	return salvage.Piece{}
}

func TestWhatFixingsSpoil(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, fixing string
		expected     salvage.Condition
		usableMm     int
		valueMinor   int64
	}{
		{"screws cost nothing", "wood-screw-5", salvage.Whole, 2400, 480},
		// A nailed end loses 50 to 100 mm; the worse is planned (common practice, no source).
		{"gun nails cost the end", "gun-nail-3-1x90", salvage.Cut, 2300, 460},
		{"glue costs the piece", "grab-adhesive", salvage.Recycle, 0, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := pieceOf(t, salvage.Take(stud(foot(tt.fixing))), "S")
			got := []any{p.Expected, p.UsableMm, p.ValueMinor}
			if diff := cmp.Diff([]any{tt.expected, tt.usableMm, tt.valueMinor}, got); diff != "" {
				t.Errorf("Take with %s (-want +got):\n%s", tt.fixing, diff)
			}
		})
	}
}

// EN 16449: 44/12 x 0.5 x density / (1 + moisture/100); C16, mean density 370 at 12 %: 605.7 kg CO2 a cubic metre.
// Worked from the formula; the standard's own example is not at hand.
func TestStoredCarbon(t *testing.T) {
	t.Parallel()
	p := pieceOf(t, salvage.Take(stud()), "S")
	perM3 := 44.0 / 12 * 0.5 * 370 / 1.12
	if want := perM3 * 2.4 * .089 * .038; math.Abs(p.StoredKg-want) > want*0.002 {
		t.Errorf("stored carbon = %.3f kg, want %.3f (EN 16449)", p.StoredKg, want)
	}
	if math.Abs(perM3-605.7) > 0.05 {
		t.Errorf("the formula gives %.1f kg a cubic metre, want 605.7", perM3)
	}
}

func TestFixingsComeBackByShare(t *testing.T) {
	t.Parallel()
	inv := salvage.Take(stud(foot("wood-screw-5")))
	want := []int{2, 1} // 0.8 of two, rounded down
	if got := []int{inv.Fixings[0].Count, inv.Fixings[0].Fit}; !cmp.Equal(want, got) {
		t.Errorf("count and fit = %v, want %v", got, want)
	}
}

// Two screws at a stud's foot: in a frame that comes out in one they stay in it, once undone they are in the hand, and what
// the landlord keeps has none to give.
func TestFixingsThatStayJoined(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name          string
		change        func(*domain.Register)
		loose, joined int
	}{
		{"piece by piece", func(*domain.Register) {}, 2, 0},
		{"in one frame", func(r *domain.Register) { r.Elements[0].Subassembly, r.Elements[1].Subassembly = "U", "U" }, 0, 2},
		{"in two frames", func(r *domain.Register) { r.Elements[0].Subassembly, r.Elements[1].Subassembly = "U", "V" }, 2, 0},
		{"a frame out, and taken to pieces", func(r *domain.Register) {
			r.Elements[0].Subassembly, r.Elements[1].Subassembly = "U", "U"
			r.Elements[0].State, r.Elements[1].State, r.Fixings[0].State = domain.TakenDown, domain.TakenDown, domain.FixingUndone
		}, 2, 0},
		{"the landlord keeps the stud", func(r *domain.Register) { r.Elements[1].Owner = domain.LandlordOwns }, 0, 0},
	} {
		r := stud(foot("wood-screw-5"))
		tt.change(r)
		loose, joined := 0, 0
		inv := salvage.Take(r)
		for _, b := range inv.Fixings {
			loose, joined = loose+b.Count, joined+b.Joined
		}
		if loose != tt.loose || joined != tt.joined || inv.Totals.FixingsCount != tt.loose {
			t.Errorf("%s: %d loose (%d in the totals), %d joined; want %d and %d", tt.name, loose, inv.Totals.FixingsCount, joined, tt.loose, tt.joined)
		}
	}
}

func TestTreatedTimberAsksBeforeItsCode(t *testing.T) {
	t.Parallel()
	r := stud(foot("grab-adhesive"))
	r.Elements[1].Treated = true
	p := pieceOf(t, salvage.Take(r), "S")
	if !p.ConditionalWaste || p.WasteCode != "17 02 01" {
		t.Errorf("treated piece: ask %v, code %q; want to be asked, with the mirror pair of 17 02 01 (Decision 2000/532/EC)", p.ConditionalWaste, p.WasteCode)
	}
}

func TestUnpricedPieceSaysSo(t *testing.T) {
	t.Parallel()
	r := stud()
	r.Prices = nil
	inv := salvage.Take(r)
	if p := pieceOf(t, inv, "S"); p.ValueKnown || inv.Totals.WithoutPrice != 2 {
		t.Errorf("value known %v, without price %d; want no value and both counted", p.ValueKnown, inv.Totals.WithoutPrice)
	}
}
