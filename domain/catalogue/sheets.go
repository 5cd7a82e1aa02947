package catalogue

import (
	"regexp"
	"slices"
	"strconv"

	"unpick/domain"
)

// SheetSize is one size in which a sheet is sold, the longer side along the grain.
type SheetSize struct{ LengthMm, WidthMm int }

var (
	sizePair  = regexp.MustCompile(`(\d{3,4})x(\d{3,4})`)
	sizeRange = regexp.MustCompile(`(\d{3,4}) wide; lengths (\d{4})\.\.(\d{4}) step (\d{2,3})`)
	sizeList  = regexp.MustCompile(`(\d{3,4}) wide; lengths ((?:\d{4} ?)+)`)
	fourDigit = regexp.MustCompile(`\d{4}`)
)

// SheetSizes are the sizes in which a sheet is sold: its own, and those that the row of its stock sizes names, smallest
// first. Empty for what is no sheet.
func SheetSizes(m domain.Material) []SheetSize {
	if m.WidthMm == 0 || m.LengthMm == 0 {
		return nil
	}
	out := []SheetSize{{m.LengthMm, m.WidthMm}}
	number := func(s string) int { n, _ := strconv.Atoi(s); return n } // the pattern lets digits through only
	if r := sizeRange.FindStringSubmatch(m.StockSizes); r != nil {
		for mm := number(r[2]); mm <= number(r[3]) && number(r[4]) > 0; mm += number(r[4]) {
			out = append(out, SheetSize{mm, number(r[1])})
		}
	} else if l := sizeList.FindStringSubmatch(m.StockSizes); l != nil {
		for _, mm := range fourDigit.FindAllString(l[2], -1) {
			out = append(out, SheetSize{number(mm), number(l[1])})
		}
	} else {
		for _, p := range sizePair.FindAllStringSubmatch(m.StockSizes, -1) {
			a, b := number(p[1]), number(p[2])
			out = append(out, SheetSize{max(a, b), min(a, b)})
		}
	}
	slices.SortFunc(out, func(a, b SheetSize) int { return a.LengthMm*a.WidthMm - b.LengthMm*b.WidthMm })
	return slices.Compact(out)
}
