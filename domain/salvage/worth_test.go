package salvage_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/salvage"
)

// pieceAs takes one piece of a kind, material and size, held to the stud as the test says.
func pieceAs(tb testing.TB, kind domain.ElementKind, material string, lengthMm, widthMm int, held ...domain.Fixing) (*domain.Register, func(...domain.Price) salvage.Piece) {
	tb.Helper()
	r := stud(held...)
	r.Elements = append(r.Elements, domain.Element{Code: "X", Kind: kind, Material: material, LengthMm: lengthMm, WidthMm: widthMm, ThicknessMm: 12,
		Placement: domain.Placement{Along: domain.Direction{Z: 1}, Across: domain.Direction{X: 1}}})
	return r, func(prices ...domain.Price) salvage.Piece {
		r.Prices = append(r.Prices, prices...)
		return pieceOf(tb, salvage.Take(r), "X")
	}
}

func holding(kind string, count int) domain.Fixing {
	return domain.Fixing{Code: "F", Type: kind, Count: count, Holds: "X", IntoHost: "SLAB"}
}

// Least sizes and holes a metre: common practice, no source. 17 08 02 is gypsum in Decision 2000/532/EC, 17 06 04
// insulation, 17 02 01 wood.
func TestWhatIsWorthKeeping(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name              string
		kind              domain.ElementKind
		material          string
		lengthMm, widthMm int
		held              []domain.Fixing
		expected          salvage.Condition
		goes              salvage.Route
		waste             string
	}{
		{"plasterboard with filled heads", domain.Board, "pb-a-12", 2400, 1200, []domain.Fixing{holding("drywall-screw-timber-3-5", 30)}, salvage.Recycle, salvage.Recycling, "17 08 02"},
		{"plasterboard that nothing was screwed through", domain.Board, "pb-a-12", 2400, 1200, nil, salvage.Whole, salvage.Reuse, ""},
		{"wood board with bare screws", domain.Board, "osb3-11-metric", 2397, 1197, []domain.Fixing{holding("sheet-screw-4-5x50", 55)}, salvage.Whole, salvage.Reuse, ""},
		{"strip of wood board", domain.Board, "osb3-11-metric", 145, 1197, nil, salvage.Recycle, salvage.Recycling, "17 02 01"},
		{"a board laid on its side is as large", domain.Board, "osb3-11-metric", 297, 1197, nil, salvage.Whole, salvage.Reuse, ""},
		{"sliver of insulation", domain.Insulation, "rw-45-50", 69, 562, nil, salvage.Spent, salvage.Waste, "17 06 04"},
		{"slab of insulation", domain.Insulation, "rw-45-50", 1200, 562, nil, salvage.Whole, salvage.Reuse, ""},
		{"nogging of a hand's width", domain.Nogging, "c16-cls-38x89", 143, 89, nil, salvage.Recycle, salvage.Recycling, "17 02 01"},
		{"packers are small as they are made", domain.Packer, "packer-ply-18x89", 100, 89, nil, salvage.Whole, salvage.Reuse, ""},
		{"beam with a board screwed along it", domain.Beam, "c24-sawn-47x200", 4990, 200, []domain.Fixing{holding("wood-screw-5", 279)}, salvage.Downgraded, salvage.Reuse, ""},
		{"seal", domain.Seal, "sealant-acrylic-310", 3540, 6, nil, salvage.Spent, salvage.Waste, "08 04 10"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, take := pieceAs(t, tt.kind, tt.material, tt.lengthMm, tt.widthMm, tt.held...)
			p := take()
			if diff := cmp.Diff([]any{tt.expected, tt.goes, tt.waste}, []any{p.Expected, p.Goes, p.WasteCode}); diff != "" {
				t.Errorf("%s %d x %d (-want +got):\n%s%v", tt.material, tt.lengthMm, tt.widthMm, diff, p.Because)
			}
		})
	}
}

// A beam of 4.99 m at 9.80 a metre is 48.90 new; at 35 % of that 17.12, halves up.
func TestDowngradedIsWorthTheFirmsShare(t *testing.T) {
	t.Parallel()
	beam := domain.Price{Key: "material:c24-sawn-47x200", Amount: 980, Unit: "m"}
	for _, tt := range []struct {
		name  string
		share []domain.Price
		want  salvage.Totals
	}{
		{"no share given, no value", nil, salvage.Totals{Downgraded: 1, DowngradedNewMinor: 4890}},
		{"35 %", []domain.Price{{Key: domain.ShareDowngraded, Amount: 35, Unit: "percent"}},
			salvage.Totals{Downgraded: 1, DowngradedNewMinor: 4890, DowngradedMinor: 1712, Share: salvage.Share{Percent: 35, Known: true}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r, take := pieceAs(t, domain.Beam, "c24-sawn-47x200", 4990, 200, holding("wood-screw-5", 279))
			p := take(slices.Concat([]domain.Price{beam}, tt.share)...)
			all := salvage.Take(r).Totals
			got := salvage.Totals{Downgraded: all.Downgraded, DowngradedNewMinor: all.DowngradedNewMinor, DowngradedMinor: all.DowngradedMinor, Share: all.Share}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("totals (-want +got):\n%s", diff)
			}
			if p.ValueKnown != tt.want.Share.Known || p.ValueMinor != tt.want.DowngradedMinor || p.NewMinor != 4890 {
				t.Errorf("beam: new %d, value %d known %t; want 4890, %d, %t", p.NewMinor, p.ValueMinor, p.ValueKnown, tt.want.DowngradedMinor, tt.want.Share.Known)
			}
			// Two plates and studs of 2.4 m at 2.00 are whole: 9.60, whatever the beam is worth.
			if all.ValueMinor != 960 {
				t.Errorf("value of what is whole = %d, want 960", all.ValueMinor)
			}
		})
	}
}
