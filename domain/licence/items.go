package licence

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// LicensedItem is one item of the licence beside what was built under it.
type LicensedItem struct {
	domain.LicenceItem
	Assemblies []string `json:"assemblies" jsonschema_description:"that name it and stand, in build order"`
	Works      int      `json:"works" jsonschema_description:"of those, how many its count counts"`
	BuiltHoles int      `json:"built_holes"`
	LargestMm  float64  `json:"largest_diameter_mm,omitempty"`
	DeepestMm  int      `json:"deepest_mm,omitempty"`
	UsedHosts  []string `json:"hosts_used,omitempty"`
	UsedKinds  []string `json:"families_used,omitempty"`
	Beyond     int      `json:"holes_beyond" jsonschema_description:"holes that break a limit of the item"`
	Reasons    []string `json:"reasons" jsonschema_description:"how it was gone beyond; empty where it was not"`

	past                                    []string // assemblies past its count
	surface, large, deep, wrong, count, had int
}

// inItem books a set of holes on the item of its works and answers how many of it are within the item's limits: all where
// its works name no item.
func (w *walk) inItem(hole *domain.Hole, n int) int {
	at, ok := w.itemOf[hole.Assembly]
	if !ok || at < 0 || w.noItem[hole.Assembly] {
		return n
	}
	i := &w.items[at]
	i.BuiltHoles += n
	i.LargestMm, i.DeepestMm = max(i.LargestMm, hole.DiameterMm), max(i.DeepestMm, hole.DepthMm)
	if !slices.Contains(i.UsedHosts, hole.Host) {
		i.UsedHosts = append(i.UsedHosts, hole.Host)
	}
	wrong := false
	if f, ok := w.fixings[hole.Fixing]; ok {
		t := w.r.Catalogue.FixingTypes[w.r.Fixings[f].Type]
		if !slices.Contains(i.UsedKinds, t.Family) {
			i.UsedKinds = append(i.UsedKinds, t.Family)
		}
		wrong = !domain.Allows(i.Fixings, t)
	}
	surface := len(i.Hosts) > 0 && !slices.Contains(i.Hosts, hole.Host)
	large := i.MaxDiameterMm > 0 && hole.DiameterMm > i.MaxDiameterMm
	deep := i.MaxDepthMm > 0 && (hole.Through || hole.DepthMm > i.MaxDepthMm)
	i.surface, i.large, i.deep, i.wrong = i.surface+only(n, surface), i.large+only(n, large), i.deep+only(n, deep), i.wrong+only(n, wrong)
	if surface || large || deep || wrong {
		i.Beyond += n
		return 0
	}
	if i.Holes == 0 {
		return n
	}
	past := max(i.had+n-max(i.had, i.Holes), 0)
	i.had += n
	i.count += past
	i.Beyond += past
	return n - past
}

// finishItems words how each item was gone beyond.
func (w *walk) finishItems() {
	for k := range w.items {
		i := &w.items[k]
		slices.Sort(i.UsedHosts)
		slices.Sort(i.UsedKinds)
		if len(i.past) > 0 {
			i.Reasons = append(i.Reasons, fmt.Sprintf("it allows %d and %d stand: %s is past it", i.Count, i.Works, strings.Join(i.past, ", ")))
		}
		for _, why := range []struct {
			n    int
			what string
		}{
			{i.surface, "on a surface that it does not name"}, {i.large, fmt.Sprintf("larger than Ø %g mm", i.MaxDiameterMm)},
			{i.deep, fmt.Sprintf("deeper than %d mm", i.MaxDepthMm)}, {i.wrong, "for a kind of fixing that it does not allow"},
			{i.count, fmt.Sprintf("past the %d that it allows", i.Holes)},
		} {
			if why.n > 0 {
				i.Reasons = append(i.Reasons, fmt.Sprintf("%d %s %s", why.n, holes(why.n), why.what))
			}
		}
	}
}

func holes(n int) string {
	if n == 1 {
		return "hole"
	}
	return "holes"
}
