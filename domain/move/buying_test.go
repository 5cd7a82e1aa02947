package move_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/move"
)

// pieces is a layout of loose pieces, so many of each kind, material and size.
func pieces(all ...domain.Element) *domain.Register {
	r := &domain.Register{FitOut: domain.FitOut{Code: "NEXT", Currency: "GBP"}, Catalogue: catalogue.Default()}
	for i, e := range all {
		e.Code, e.BuiltOrder = string(rune('A'+i/26))+string(rune('A'+i%26)), i+1
		e.Placement = domain.Placement{Origin: domain.Point{X: 1000 * i}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}
		r.Elements = append(r.Elements, e)
	}
	return r
}

func lengths(n int, kind domain.ElementKind, material string, lengthMm, widthMm, thickMm int) []domain.Element {
	return slices.Repeat([]domain.Element{{Kind: kind, Material: material, LengthMm: lengthMm, WidthMm: widthMm, ThicknessMm: thickMm}}, n)
}

func order(tb testing.TB, to *domain.Register) *move.Plan {
	tb.Helper()
	p, err := move.Make(move.Source{}, to, move.Usual())
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// TestAllowanceByClass. Sawn timber over 47 x 200 and 47 x 100: 5 of 6000, 3 of 5400 and 3 of 2400, 11 lengths: a fifth is
// 2.2, so 3 whole ones, not the 1 + 1 + 1 of each size rounded up by itself, which only happens to be the same here; their
// shares are 1.0, 0.6 and 0.6, so 1, 1 and 1. Studs: 1, 4 and 3: 5 % of 8 is 0.4, one, to the largest share, 4 x 0.05: the
// 4200. By size it was three. Money: 7.95 + 5 x 11.13 + 3 x 12.72 = 101.76 at 2.65 a metre, 11.13 of it over.
func TestAllowanceByClass(t *testing.T) {
	t.Parallel()
	to := pieces(slices.Concat(lengths(5, domain.Joist, "c24-sawn-47x200", 6000, 200, 47), lengths(3, domain.Joist, "c24-sawn-47x200", 5400, 200, 47), lengths(3, domain.GuardPost, "c24-sawn-47x100", 2400, 100, 47),
		lengths(1, domain.Stud, "c16-cls-38x89", 3000, 89, 38), lengths(4, domain.Stud, "c16-cls-38x89", 4200, 89, 38), lengths(3, domain.Stud, "c16-cls-38x89", 4800, 89, 38))...)
	to.Prices = []domain.Price{{Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}, {Key: "material:c24-sawn-47x200", Amount: 980, Unit: "m"}, {Key: "material:c24-sawn-47x100", Amount: 460, Unit: "m"}}
	p := order(t, to)
	got := map[string][2]float64{}
	for _, b := range p.Buying {
		got[b.Size] = [2]float64{b.Count, b.Allowance}
	}
	if diff := cmp.Diff(map[string][2]float64{"c24-sawn-47x200/6000": {5, 1}, "c24-sawn-47x200/5400": {3, 1}, "c24-sawn-47x100/2400": {3, 1},
		"c16-cls-38x89/3000": {1, 0}, "c16-cls-38x89/4200": {4, 1}, "c16-cls-38x89/4800": {3, 0}}, got); diff != "" {
		t.Errorf("bought, and over (-want +got):\n%s", diff)
	}
	type class struct {
		percent, count, over float64
		minor                int64
	}
	classes := map[string]class{}
	for _, a := range p.Allowed {
		classes[a.Class] = class{a.Percent, a.Count, a.Over, a.AmountMinor}
	}
	// 58.80 + 52.92 + 11.04
	if diff := cmp.Diff(map[string]class{"sawn": {20, 11, 3, 12276}, "cls": {5, 8, 1, 1113}}, classes, cmp.AllowUnexported(class{})); diff != "" {
		t.Errorf("allowances (-want +got):\n%s", diff)
	}
	if p.Total.WasteNewMinor != 12276+1113 {
		t.Errorf("over the cutting %d, want %d", p.Total.WasteNewMinor, 12276+1113)
	}
}

// The price of one length stands before that of a metre; one price a piece for every length is refused with the mend.
func TestPriceOfALength(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		prices []domain.Price
		want   int64 // of one stud of 2400, the only length asked for; 0 is none
		said   string
	}{
		{"a metre", []domain.Price{{Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}}, 636, ""},
		{"a length of its own", []domain.Price{{Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}, {Key: "material:c16-cls-38x89/2400", Amount: 600, Unit: "piece"}}, 600, ""},
		// 2.4 x 1.251 kg at 2.00
		{"a kilogram", []domain.Price{{Key: "material:c16-cls-38x89", Amount: 200, Unit: "kg"}}, 600, ""},
		{"every length at one price", []domain.Price{{Key: "material:c16-cls-38x89", Amount: 600, Unit: "piece"}}, 0,
			"material:c16-cls-38x89 (one price a piece, and it is sold in several sizes: price it by the metre or square metre, or each size as material:c16-cls-38x89/2400)"},
		{"an hour", []domain.Price{{Key: "material:c16-cls-38x89", Amount: 600, Unit: "hour"}}, 0, `material:c16-cls-38x89 (its price is by "hour": give it by m, m2, kg or piece)`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			to := pieces(lengths(1, domain.Stud, "c16-cls-38x89", 2400, 89, 38)...)
			to.Prices = tt.prices
			p := order(t, to)
			b := p.Buying[0]
			if b.PriceMinor != tt.want || b.Known != (tt.want > 0) || b.LengthMm != 2400 {
				t.Errorf("%+v, want a 2400 at %d", b, tt.want)
			}
			if got := append(p.Unpriced, "")[0]; got != tt.said {
				t.Errorf("said %q, want %q", got, tt.said)
			}
		})
	}
}

// TestCarbonKnownOrNot: a plate of steel 200 x 100 x 6 weighs 7850 kg/m3 x 0.00012 m3 = 0.942 kg, 1.55 kg CO2e a kilogram
// (ICE database v3, as the catalogue has it), so 3 are 2.8 kg and 4.4 kg CO2e; a fire door has no factor, and says so.
func TestCarbonKnownOrNot(t *testing.T) {
	t.Parallel()
	p := order(t, pieces(append(lengths(3, domain.Bracket, "steel", 200, 100, 6), lengths(1, domain.DoorLeaf, "door-leaf-fd30-838", 1981, 838, 44)...)...))
	by := map[string]move.Buy{}
	for _, b := range p.Buying {
		by[b.Material] = b
	}
	if b := by["steel"]; math.Abs(b.MassKg-2.8) > .01 || math.Abs(b.CarbonKg-4.4) > .01 || !b.CarbonKnown || b.GwpPerKg != 1.55 || b.Source == "" {
		t.Errorf("plates %+v, want 2.8 kg and 4.4 kg CO2e with their source", b)
	}
	if b := by["door-leaf-fd30-838"]; b.CarbonKnown || b.CarbonKg != 0 || b.MassKg != 42 {
		t.Errorf("fire door %+v, want 42 kg of unknown carbon", b)
	}
	if diff := cmp.Diff([]string{"Fire door leaf FD30 44 x 838 x 1981"}, p.Total.NoCarbon); diff != "" || p.Total.NewCarbonKg != 4.4 || len(p.Ways[0].NoCarbon) != 1 {
		t.Errorf("not known (-want +got):\n%s\n%v kg known", diff, p.Total.NewCarbonKg)
	}
}

// The same section at the same length is one line, however it is ripped; another section or treatment of one material is
// another line, and says so. What is ripped is bought, carried and made at the width that is sold.
func TestOneLineASectionAndLength(t *testing.T) {
	t.Parallel()
	titles := func(p *move.Plan) map[string]float64 {
		out := map[string]float64{}
		for _, b := range p.Buying {
			out[b.Title()+" "+b.Size] += b.Count
			if n := out[b.Title()+" "+b.Size]; n != b.Count {
				t.Errorf("%s %s stands in two lines", b.Title(), b.Size)
			}
		}
		return out
	}
	const cls, size = "CLS stud 38 x 89, C16, planed with rounded arrises", " c16-cls-38x89/3000"
	ripped := order(t, pieces(slices.Concat(lengths(1, domain.Stud, "c16-cls-38x89", 2990, 89, 38), lengths(1, domain.Packer, "c16-cls-38x89", 2990, 63, 38))...))
	if diff := cmp.Diff(map[string]float64{cls + size: 2}, titles(ripped)); diff != "" {
		t.Errorf("bought whole and to be ripped (-want +got):\n%s", diff)
	}
	if plain := order(t, pieces(lengths(2, domain.Stud, "c16-cls-38x89", 2990, 89, 38)...)); plain.Total.NewKg != ripped.Total.NewKg || plain.Total.NewCarbonKg != ripped.Total.NewCarbonKg {
		t.Errorf("two lengths weigh %g kg, one of them to be ripped %g", plain.Total.NewKg, ripped.Total.NewKg)
	}
	both := pieces(lengths(2, domain.Stud, "c16-cls-38x89", 2990, 89, 38)...)
	both.Elements[1].Treated = true
	if diff := cmp.Diff(map[string]float64{cls + size: 1, cls + ", treated" + size: 1}, titles(order(t, both))); diff != "" {
		t.Errorf("one of two treated (-want +got):\n%s", diff)
	}
	steel := titles(order(t, pieces(slices.Concat(lengths(1, domain.Beam, "steel", 2990, 100, 50), lengths(1, domain.Beam, "steel", 2990, 150, 75))...)))
	if len(steel) != 2 {
		t.Errorf("two sections of steel: %v", steel)
	}
}
