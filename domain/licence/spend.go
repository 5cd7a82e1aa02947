package licence

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// walk goes over the holes in the order in which they were made.
type walk struct {
	r        *domain.Register
	surfaces []LicensedSurface
	items    []LicensedItem
	at       map[string]int  // surface by code
	itemAt   map[string]int  // item by what assemblies call it
	itemOf   map[string]int  // item by assembly, -1 for none
	noItem   map[string]bool // assemblies that no item covers
	stands   map[string]bool // assemblies with something in place, or a hole that is owed
	left     []int           // holes left of each surface's count
	fixings  map[string]int
	without  map[string]int
}

func newWalk(r *domain.Register) *walk {
	w := &walk{r: r, at: map[string]int{}, itemAt: map[string]int{}, itemOf: map[string]int{}, noItem: map[string]bool{}, stands: standing(r),
		without: map[string]int{}, fixings: map[string]int{}, surfaces: []LicensedSurface{}, items: []LicensedItem{}}
	for i, h := range r.Hosts {
		w.at[h.Code] = i
		w.surfaces = append(w.surfaces, LicensedSurface{Host: h.Code, HostName: h.Name, Rule: h.Rule, Clause: h.Clause, Agreed: h.AgreedHoles,
			LimitMm: h.MaxDiameterMm, LimitDeepMm: h.MaxDepthMm, AllowedKinds: h.Fixings})
		w.left = append(w.left, h.AgreedHoles)
	}
	for i, item := range r.FitOut.Tenancy.Items {
		w.itemAt[item.Item] = i
		w.items = append(w.items, LicensedItem{LicenceItem: item, Assemblies: []string{}, Reasons: []string{}})
	}
	for i := range r.Fixings {
		w.fixings[r.Fixings[i].Code] = i
	}
	for _, a := range r.Assemblies {
		w.itemOf[a.Code] = -1
		i, listed := w.itemAt[a.Licensed]
		switch {
		case a.Licensed == "" || len(w.items) > 0 && !listed:
			w.noItem[a.Code] = true
		case listed:
			w.itemOf[a.Code] = i
		}
	}
	w.countWorks()
	return w
}

// countWorks gives each item the assemblies that name it, in build order. Those past the item's count are covered by none.
func (w *walk) countWorks() {
	order := make([]*domain.Assembly, 0, len(w.r.Assemblies))
	for i := range w.r.Assemblies {
		if w.stands[w.r.Assemblies[i].Code] {
			order = append(order, &w.r.Assemblies[i])
		}
	}
	slices.SortStableFunc(order, func(a, b *domain.Assembly) int {
		return cmp.Or(cmp.Compare(a.BuiltOrder, b.BuiltOrder), cmp.Compare(a.Code, b.Code))
	})
	for _, a := range order {
		i := w.itemOf[a.Code]
		if i < 0 {
			continue
		}
		item := &w.items[i]
		item.Assemblies = append(item.Assemblies, a.Code)
		if item.Recipe != "" && item.Recipe != a.Recipe {
			continue
		}
		if item.Works++; item.Count > 0 && item.Works > item.Count {
			w.noItem[a.Code] = true
			item.past = append(item.past, a.Code)
		}
	}
}

// standing are the assemblies that have a piece or fixing in place or a hole that is owed.
func standing(r *domain.Register) map[string]bool {
	out := map[string]bool{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() && e.Owner != domain.LandlordOwns {
			out[e.Assembly] = true
		}
	}
	for i := range r.Fixings {
		if r.Fixings[i].InPlace() {
			out[r.Fixings[i].Assembly] = true
		}
	}
	for i := range r.Holes {
		if r.Holes[i].Charged() {
			out[r.Holes[i].Assembly] = true
		}
	}
	return out
}

// spendAll spends what was agreed on the holes in the order in which they were made, those without a build order first.
// Holes that break a rule or a limit, and those of works without an item, spend nothing.
func (w *walk) spendAll() {
	order := make([]*domain.Hole, len(w.r.Holes))
	for i := range w.r.Holes {
		order[i] = &w.r.Holes[i]
	}
	slices.SortFunc(order, func(a, b *domain.Hole) int {
		return cmp.Or(cmp.Compare(a.BuiltOrder, b.BuiltOrder), cmp.Compare(a.Code, b.Code))
	})
	for _, hole := range order {
		k, ok := w.at[hole.Host]
		switch {
		case !ok:
		case hole.State == domain.HoleInherited:
			w.surfaces[k].Inherited += hole.Count
		case hole.State == domain.HoleKept: // the consent covers them
			n := w.r.Hosts[k].New(hole)
			w.surfaces[k].AtDefects += hole.Count - n
			w.surfaces[k].Built += n
			w.surfaces[k].Kept += n
		case hole.Charged() || hole.State == domain.HoleMadeGood:
			w.without[hole.Code] = w.spend(hole, k)
		}
	}
}

// spend books one set of holes and answers how many of it are not covered.
func (w *walk) spend(hole *domain.Hole, k int) int {
	s, host := &w.surfaces[k], &w.r.Hosts[k]
	n := host.New(hole)
	s.AtDefects += hole.Count - n
	if n == 0 {
		return 0
	}
	s.Built += n
	deep := hole.DepthMm
	if hole.Through {
		deep = max(deep, host.ThicknessMm)
	}
	s.LargestMm, s.DeepestMm = max(s.LargestMm, hole.DiameterMm), max(s.DeepestMm, deep)
	if hole.Known.Provisional() {
		s.Provisional += n
	}
	noItem := w.noItem[hole.Assembly]
	tooBig := host.MaxDiameterMm > 0 && hole.DiameterMm > host.MaxDiameterMm
	tooDeep := host.MaxDepthMm > 0 && (hole.DepthMm > host.MaxDepthMm || hole.Through)
	wrong := !w.kind(s, hole, host.Fixings)
	out := n
	if inItem := w.inItem(hole, n); !noItem && inItem < n {
		out = n - inItem
		s.OutOfItem += out
	} else {
		out = 0
	}
	s.NoItem, s.OverDia = s.NoItem+only(n, noItem), s.OverDia+only(n, tooBig)
	s.OverDepth, s.WrongKind = s.OverDepth+only(n, tooDeep), s.WrongKind+only(n, wrong)
	if host.Rule == domain.Never || noItem || tooBig || tooDeep || wrong {
		s.Unlicensed += n
		return n
	}
	past := max(n-out-w.left[k], 0)
	w.left[k] -= n - out - past
	s.OverCount += past
	s.Unlicensed += out + past
	return out + past
}

func only(n int, yes bool) int {
	if yes {
		return n
	}
	return 0
}

// kind notes the family of the fixing that a hole was made for, and reports whether it is allowed. A hole that no fixing
// uses has none.
func (w *walk) kind(s *LicensedSurface, hole *domain.Hole, allowed []string) bool {
	i, ok := w.fixings[hole.Fixing]
	if !ok {
		return true
	}
	t := w.r.Catalogue.FixingTypes[w.r.Fixings[i].Type]
	if !slices.Contains(s.UsedKinds, t.Family) {
		s.UsedKinds = append(s.UsedKinds, t.Family)
	}
	return domain.Allows(allowed, t)
}
