package reports

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain/licence"
	"unpick/domain/survey"
)

// beyond lists what is not licensed: works, items, fixings, then surfaces.
func (b *book) beyond(c licence.Comparison) {
	t := b.newTable("Beyond the licence", []column{{"Kind", 10, plain}, {"What", 44, strong}, {"In words", 60, plain}, {"Codes", 24, plain}}, a4, len(c.Beyond))
	for _, x := range c.Beyond {
		t.add(x.Kind, x.What, x.Says, strings.Join(x.Codes, ", "))
	}
	t.end()
}

// licenceItems holds each item to what was built under it; the conditions of the licence stand below.
func (b *book) licenceItems(c licence.Comparison) {
	t := b.newTable("Licence items", []column{{"Item", 16, strong}, {"Allows", 34, plain}, {"Works allowed", 9, whole}, {"Works built", 8, whole}, {"Holes allowed", 9, whole}, {"Holes built", 8, whole}, {"Holes beyond", 8, whole},
		{"Allowed at most", 18, plain}, {"As built", 18, plain}, {"On surfaces", 18, plain}, {"Built under it", 18, plain}, {"Gone beyond", 34, plain}, {"Conditions", 34, plain}}, a3, len(c.Items))
	beyond := 0
	for _, i := range c.Items {
		t.add(i.Item, i.What, stated(i.Count), i.Works, stated(i.Holes), i.BuiltHoles, i.Beyond, limits(i.MaxDiameterMm, i.MaxDepthMm, i.Fixings), limits(i.LargestMm, i.DeepestMm, i.UsedKinds),
			strings.Join(i.UsedHosts, ", "), strings.Join(i.Assemblies, ", "), strings.Join(i.Reasons, "; "), i.LicenceItem.Conditions)
		beyond += i.Beyond
	}
	t.total("Total", "A", sum{"G", beyond, ""})
	for i, words := range c.Conditions {
		t.add("condition "+strconv.Itoa(i+1), words)
	}
	t.end()
}

// stated is a limit, and an empty cell where there is none.
func stated(limit int) any {
	if limit == 0 {
		return nil
	}
	return limit
}

// limits is "Ø 10 mm, 60 deep, masonry"; what is not stated is left out.
func limits(diameterMm float64, depthMm int, kinds []string) string {
	var parts []string
	if diameterMm > 0 {
		parts = append(parts, fmt.Sprintf("Ø %g mm", diameterMm))
	}
	if depthMm > 0 {
		parts = append(parts, strconv.Itoa(depthMm)+" deep")
	}
	return strings.Join(append(parts, kinds...), ", ")
}

// basis says what the figures of the workbook rest on, in all and by room.
func (b *book) basis(of survey.Basis) {
	t := b.newTable("Known", []column{{"What", 30, strong}, {"In all", 10, whole}, {"Seen", 10, whole}, {"Measured", 10, whole}, {"Assumed", 10, whole}, {"Unknown until opened", 12, whole}, {"In words", 44, plain}}, a4, 4+2*len(of.Rooms))
	line := func(what string, c survey.KnownCount, words string) {
		n := t.row + 1
		t.add(what, formula{fmt.Sprintf("SUM(C%d:F%d)", n, n), c.All()}, c.Seen, c.Measured, c.Assumed, c.Unknown, words)
	}
	line("Pieces that come out", of.Pieces, "what is assumed or unknown is planned as the worst case")
	line("Fixings in place", of.Fixings, "their number, and so the hours and the holes")
	line("Holes to make good", of.Holes, "and with them repairs, filler and money; none that was there before or lies in a defect of the start")
	line("Surfaces of the landlord's", of.Surfaces, "their size and finish, and so redecoration")
	for _, r := range of.Rooms {
		line(r.Name+": pieces", r.Pieces, "")
		line(r.Name+": fixings", r.Fixings, "")
	}
	t.end()
}
