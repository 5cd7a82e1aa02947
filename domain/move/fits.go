package move

import (
	"slices"

	"unpick/domain"
	"unpick/domain/advice"
)

// misfits is where a layout does not fit, as the advice at logging says it: two pieces in one place, a piece in the
// landlord's fabric, out of the unit, above or below it. Nothing of that can be put up as it is described.
func misfits(to *domain.Register) []domain.Advice {
	site := *to
	site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
	all := advice.For(&site, domain.Records{Assemblies: to.Assemblies, Elements: to.Elements, Fixings: to.Fixings, Holes: to.Holes, Relations: to.Relations})
	return slices.DeleteFunc(all, func(a domain.Advice) bool { return a.Kind != advice.Clash && a.Kind != advice.OutOfPlace })
}
