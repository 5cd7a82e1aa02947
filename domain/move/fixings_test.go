package move_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/move"
	"unpick/domain/salvage"
)

// screwed is a register of one stud on one plate with sets of fixings: type, length and count.
func screwed(code string, sets ...domain.Fixing) *domain.Register {
	r := pieces(append(lengths(1, domain.SolePlate, "c16-cls-38x89", 2400, 89, 38), lengths(1, domain.Stud, "c16-cls-38x89", 2400, 89, 38)...)...)
	r.FitOut.Code = code
	for i, f := range sets {
		f.Code, f.Holds, f.IntoElement = string(rune('a'+i)), "AB", "AA"
		r.Fixings = append(r.Fixings, f)
	}
	return r
}

func set(kind string, lengthMm, count int) domain.Fixing {
	return domain.Fixing{Type: kind, LengthMm: lengthMm, Count: count}
}

// TestFixingsByLength: of ten screws of 80 that come out four fifths are fit, and none stands in for one of 120; a type named
// by its length needs it typed no second time; weight and friction are nothing that anybody buys.
func TestFixingsByLength(t *testing.T) {
	t.Parallel()
	from := screwed("OLD", set("wood-screw-5", 80, 10), set("wood-screw-5x100", 0, 10), set("friction-fit", 0, 4))
	to := screwed("NEXT", set("wood-screw-5", 120, 5), set("wood-screw-5", 80, 20), set("wood-screw-5x100", 100, 5), set("friction-fit", 0, 9), set("bearing", 0, 1), set("tongue-groove-dry", 0, 3))
	p, err := move.Make(move.Source{Register: from, Inventory: salvage.Take(from), NotStaying: "not asked here"}, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	type row struct{ need, again, margin, buy int }
	got := map[string]map[int]row{}
	for _, f := range p.Fixings {
		if got[f.Type] == nil {
			got[f.Type] = map[int]row{}
		}
		got[f.Type][f.LengthMm] = row{f.Need, f.Reused, f.Margin, f.Buy}
	}
	if diff := cmp.Diff(map[string]map[int]row{"wood-screw-5": {120: {5, 0, 1, 6}, 80: {20, 8, 2, 14}}, "wood-screw-5x100": {100: {5, 5, 0, 0}}}, got, cmp.AllowUnexported(row{})); diff != "" {
		t.Errorf("fixings (-want +got):\n%s", diff)
	}
}

// TestFixingPrices: 1,258 screws needed and 126 over are 1,384. At 9.00 a box of 200 that is 7 boxes, 63.00; at 9.00 a "box"
// nobody knows what, and never 1,384 times 9.00.
func TestFixingPrices(t *testing.T) {
	t.Parallel()
	const kind = "sheet-screw-4-5x50"
	for _, tt := range []struct {
		name   string
		prices []domain.Price
		want   int64
		buy    string
		said   string
	}{
		{"a piece", []domain.Price{{Key: "fixing:" + kind, Amount: 3, Unit: "piece"}}, 4152, "1384 pieces", ""},
		{"each", []domain.Price{{Key: "fixing:" + kind, Amount: 3, Unit: "each"}}, 4152, "1384 pieces", ""},
		{"a box of 200", []domain.Price{{Key: "fixing:" + kind, Amount: 900, Unit: "box of 200"}}, 6300, "7 packs of 200 for 1384 pieces", ""},
		{"a length's own price", []domain.Price{{Key: "fixing:" + kind, Amount: 3, Unit: "piece"}, {Key: "fixing:" + kind + "/50", Amount: 1500, Unit: "box of 1000"}}, 3000, "2 packs of 1000 for 1384 pieces", ""},
		{"a box", []domain.Price{{Key: "fixing:" + kind, Amount: 900, Unit: "box"}}, 0, "1384 pieces", "fixing:" + kind + `/50 (its price is by "box", which does not say how many: give it by piece, or by box of 200)`},
		{"none", nil, 0, "1384 pieces", "fixing:" + kind + "/50"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			to := screwed("NEXT", set(kind, 50, 1258))
			to.Prices = append(tt.prices, domain.Price{Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}, domain.Price{Key: "labour-hour", Amount: 3800, Unit: "hour"})
			p := order(t, to)
			if f := p.Fixings[0]; f.AmountMinor != tt.want || f.Known != (tt.want > 0) || f.BuyWords() != tt.buy || p.Total.FixingsMinor != tt.want || p.Total.Known != (tt.want > 0) || p.FixingsKnown() != (tt.want > 0) || p.Ways[0].Known != (tt.want > 0) {
				t.Errorf("%+v, %s; want %s for %d", f, f.BuyWords(), tt.buy, tt.want)
			}
			if got := append(p.Unpriced, "")[0]; got != tt.said {
				t.Errorf("said %q, want %q", got, tt.said)
			}
		})
	}
}

// Every dry fixing is either a thing that somebody puts there, or a fit; and every fit is in the catalogue.
func TestFitsAreNotBought(t *testing.T) {
	t.Parallel()
	things := map[string]bool{"wedge-packer": true, "pinch-jack": true, "clip": true, "folding-wedges": true, "packer": true, "friction-fit": false, "bearing": false, "slide-deflection": false, "tongue-groove-dry": false}
	for slug, kind := range catalogue.Default().FixingTypes {
		thing, known := things[slug]
		if kind.Family == "dry" && !known {
			t.Errorf("%s (%s) is dry: say here and in fits whether it is a thing", slug, kind.Name)
		}
		if !known {
			continue
		}
		if p := order(t, screwed("NEXT", set(slug, 0, 4))); (len(p.Fixings) > 0) != thing {
			t.Errorf("%s: bought %v, want that to be %v", slug, p.Fixings, thing)
		}
	}
}
