package advice

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Misplaced is where a register as a whole cannot stand as it is described: two pieces in one place, a piece in the
// landlord's fabric, out of the unit, above or below it.
func Misplaced(r *domain.Register) []domain.Advice {
	site := *r
	site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
	l := newLook(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations})
	l.clashes()
	l.beyond()
	return slices.DeleteFunc(l.sorted(), func(a domain.Advice) bool { return a.Kind != Clash && a.Kind != OutOfPlace })
}

// mostClashes is how many a refusal tells: one mended wall often mends them all.
const mostClashes = 5

// Waiting is a refusal for pieces that wait for each other, with what stands in what: walls logged through each other are the
// usual reason, and the round alone names pieces of one of them. Another error stays as it is.
func Waiting(r *domain.Register, err error) error {
	if domain.CodeOf(err) != domain.Cycle {
		return err
	}
	var lines []string
	for _, a := range Misplaced(r) {
		if a.Kind == Clash {
			lines = append(lines, a.Text)
		}
	}
	if len(lines) == 0 {
		return err
	}
	if more := len(lines) - mostClashes; more > 0 {
		lines = append(lines[:mostClashes:mostClashes], fmt.Sprintf("and %d more", more))
	}
	return domain.Errorf(domain.Cycle, "pieces stand in one place, mend that first:\n  %s\nas they are, %s", strings.Join(lines, "\n  "), err)
}
