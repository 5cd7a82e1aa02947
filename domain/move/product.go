package move

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/cutting"
)

// merchant is one size that can be bought.
type merchant struct {
	code              string
	lengthMm, widthMm int
	price             int64
	priced            bool
	why               string // a price is there, and cannot be read
}

// product is what merchants sell that a section can be made of: none, its own section, or a wider one that is ripped.
type product struct {
	sizes     []merchant
	why       string   // where there is none: what is sold, and why it will not do
	carriesNo string   // where what is ripped must not carry: why
	ripFromMm int      // the width that is sold, where it is ripped; 0 is not
	strips    int      // how many one width gives
	serves    []string // the only kinds that may be made of what is ripped; none named: all
}

// bars are the sizes as stock of the cutting.
func (x product) bars() []cutting.Bar {
	var out []cutting.Bar
	for _, m := range x.sizes {
		out = append(out, cutting.Bar{Code: m.code, LengthMm: m.lengthMm, Count: cutting.Unlimited, PriceMinor: m.price, NoPrice: !m.priced, Serves: x.serves})
	}
	return out
}

// productOf is what is sold of a material for a section, with the firm's price of each size. What the catalogue gives no
// section is sold in any. Lengths where nothing is known of the material are the usual ones of sawn timber (common practice,
// no source).
func productOf(cat *domain.Catalogue, prices map[string]domain.Price, f form, s section, kerfMm int) product {
	m := cat.Materials[s.material]
	key := "material:" + s.material
	var x product
	if f == bySheet {
		if !sameSize(s.a, m.ThicknessMm) {
			return product{why: fmt.Sprintf("it is wanted %d thick, and %s is sold %g thick: no board is made thinner or thicker", s.a, m.Name, m.ThicknessMm)}
		}
		sizes := catalogue.SheetSizes(m)
		for _, size := range sizes {
			y := merchant{code: sizeCode(s.material, size.LengthMm, size.WidthMm), lengthMm: size.LengthMm, widthMm: size.WidthMm}
			one := bought{key: key, size: fmt.Sprintf("%dx%d", size.LengthMm, size.WidthMm), m2: float64(size.LengthMm) * float64(size.WidthMm) / 1e6,
				kg: sheetMass(m, size.LengthMm, size.WidthMm, s.a), severalSizes: len(sizes) > 1}
			y.price, y.priced, y.why = one.priceOf(prices)
			x.sizes = append(x.sizes, y)
		}
		return x
	}
	wide := s.a
	if m.WidthMm > 0 && m.ThicknessMm > 0 {
		if x = sectionFrom(m, s, kerfMm); x.why != "" {
			return x
		}
		wide = max(m.WidthMm, int(math.Ceil(m.ThicknessMm)))
	}
	lengths := m.StockLengthsMm
	if len(lengths) == 0 {
		lengths = []int{2400, 3000, 3600, 4200, 4800}
	}
	for _, mm := range lengths {
		y := merchant{code: sizeCode(s.material, mm, 0), lengthMm: mm}
		one := bought{key: key, size: fmt.Sprint(mm), metres: float64(mm) / 1000, m2: float64(mm) * float64(wide) / 1e6, kg: lengthMass(m, mm, wide, s.b), severalSizes: len(lengths) > 1}
		y.price, y.priced, y.why = one.priceOf(prices)
		x.sizes = append(x.sizes, y)
	}
	return x
}

// sectionFrom says whether a section is sold as it is, is ripped from a wider one, or cannot be had. Nothing is planed or sawn
// thinner here, and metal is not ripped.
func sectionFrom(m domain.Material, s section, kerfMm int) product {
	a, b := max(float64(m.WidthMm), m.ThicknessMm), min(float64(m.WidthMm), m.ThicknessMm)
	sold := fmt.Sprintf("%s is sold %g x %g", m.Name, b, a)
	switch {
	case sameSize(s.a, a) && sameSize(s.b, b):
		return product{}
	case m.Kind == "metal" || !sameSize(s.b, b) || float64(s.a) > a:
		return product{why: fmt.Sprintf("its section is %d x %d, and %s: nothing that is sold of it gives that section", s.b, s.a, sold)}
	}
	x := product{ripFromMm: int(a), strips: (int(a) + kerfMm) / (s.a + kerfMm)}
	if graded(m) {
		// A strength class goes with the section that was graded (EN 14081-1, from memory): ripped, it is timber of no class.
		for _, k := range domain.ElementKinds() {
			if !slices.Contains(carries, k) {
				x.serves = append(x.serves, string(k))
			}
		}
		x.carriesNo = fmt.Sprintf("its section is %d x %d, and %s: ripped to it, it would have no strength class any more, and this piece carries", s.b, s.a, sold)
	}
	return x
}

// graded reports whether a timber is sold by its strength class.
func graded(m domain.Material) bool {
	return slices.ContainsFunc([]string{"c16-", "c24-", "gl24h-"}, func(class string) bool { return strings.HasPrefix(m.Code, class) })
}

// sameSize allows what a size is rounded by when it is logged in whole millimetres.
func sameSize(mm int, sold float64) bool { return math.Abs(float64(mm)-sold) < 1 }
