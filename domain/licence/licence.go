// Package licence holds what the licence to alter allows against what was built: surface by surface and item by item, what
// is not licensed first.
//
// The idea: every hole is held to its surface (the rule, the count, the largest diameter and depth, the kinds of fixing)
// and to the item that its assembly names (which surfaces, how many, how large, which kinds). One that breaks any of these
// is not covered, once, however many it breaks. A hole where the surface had a hole or a patch already is no new hole: it
// spends nothing. It says what the documents say, and never what the law makes of it.
//
// Looking for
//
//   - the comparison, surfaces: licence.go; items: items.go
//   - the holes that are not covered, in build order: spend.go
package licence

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
)

// Comparison is the licence against the register.
type Comparison struct {
	Beyond     []Beyond          `json:"beyond" jsonschema_description:"what is not licensed, works before holes"`
	Surfaces   []LicensedSurface `json:"surfaces" jsonschema_description:"those with holes that are not covered first"`
	Items      []LicensedItem    `json:"items" jsonschema_description:"items that were gone beyond first"`
	Conditions []string          `json:"conditions,omitempty"`
	// Without is how many holes of each set are not covered, by its code; NoItem the assemblies that no item covers.
	Without map[string]int  `json:"-"`
	NoItem  map[string]bool `json:"-"`
}

// Beyond is one thing that the licence does not cover.
type Beyond struct {
	Kind  string   `json:"kind" jsonschema:"enum=works,enum=item,enum=fixing,enum=holes"`
	What  string   `json:"what"`
	Says  string   `json:"says"`
	Codes []string `json:"codes"`
}

// LicensedSurface compares one host surface, as built, with what was agreed. A hole may break several limits; it is not covered
// once.
type LicensedSurface struct {
	Host         string            `json:"host"`
	HostName     string            `json:"host_name"`
	Rule         domain.FixingRule `json:"rule"`
	Clause       string            `json:"clause,omitempty"`
	Agreed       int               `json:"agreed_holes"`
	Built        int               `json:"built_holes"`
	Inherited    int               `json:"inherited_holes" jsonschema_description:"there before the tenant; none of them is in another count"`
	AtDefects    int               `json:"holes_at_defects,omitempty" jsonschema_description:"the tenant's own, where the surface had a hole or a patch at the start: no new holes, and not among the built ones"`
	Kept         int               `json:"kept_holes,omitempty" jsonschema_description:"of the built ones: they hold what the landlord lets stay"`
	NoItem       int               `json:"holes_of_unlicensed_works" jsonschema_description:"holes of assemblies that no item of the licence covers"`
	OverDia      int               `json:"holes_too_big"`
	OverDepth    int               `json:"holes_too_deep"`
	WrongKind    int               `json:"holes_of_other_fixings" jsonschema_description:"made for a kind of fixing that is not allowed here"`
	OutOfItem    int               `json:"holes_beyond_their_item" jsonschema_description:"on a surface, of a size or past a count that the item of their works does not allow"`
	OverCount    int               `json:"holes_past_the_count" jsonschema_description:"made after the agreed count was used up"`
	Unlicensed   int               `json:"unlicensed_holes"`
	LimitMm      float64           `json:"max_diameter_mm,omitempty" jsonschema_description:"allowed; 0 where no limit is stated"`
	LimitDeepMm  int               `json:"max_depth_mm,omitempty"`
	LargestMm    float64           `json:"largest_diameter_mm,omitempty" jsonschema_description:"as built"`
	DeepestMm    int               `json:"deepest_mm,omitempty" jsonschema_description:"as built; through holes count as their surface's thickness"`
	AllowedKinds []string          `json:"fixings_allowed,omitempty"`
	UsedKinds    []string          `json:"fixings_used,omitempty" jsonschema_description:"families as built"`
	Provisional  int               `json:"holes_provisional,omitempty" jsonschema_description:"of those built, assumed or unknown"`
	Says         string            `json:"says"`
}

// Compare holds a register to its licence. Linear in holes and assemblies, but for sorting.
func Compare(r *domain.Register) Comparison {
	w := newWalk(r)
	w.spendAll()
	c := Comparison{Surfaces: w.surfaces, Items: w.items, Conditions: r.FitOut.Tenancy.Conditions, Without: w.without, NoItem: w.noItem}
	for i := range c.Surfaces {
		slices.Sort(c.Surfaces[i].UsedKinds)
		c.Surfaces[i].Says = c.Surfaces[i].words()
	}
	w.finishItems()
	c.Beyond = w.beyond()
	slices.SortStableFunc(c.Surfaces, func(a, b LicensedSurface) int {
		return cmp.Or(cmp.Compare(b.Unlicensed, a.Unlicensed), cmp.Compare(a.Host, b.Host))
	})
	slices.SortStableFunc(c.Items, func(a, b LicensedItem) int { return cmp.Compare(len(b.Reasons), len(a.Reasons)) })
	return c
}

// beyond lists what is not covered: works without an item, items gone beyond, fixings, then surfaces.
func (w *walk) beyond() []Beyond {
	out := []Beyond{}
	for _, a := range w.r.Assemblies {
		if !w.noItem[a.Code] || !w.stands[a.Code] {
			continue
		}
		b := Beyond{Kind: "works", What: a.Code + " " + a.Name, Says: "no item of the licence covers it", Codes: []string{a.Code}}
		if _, listed := w.itemAt[a.Licensed]; listed {
			b.Says = fmt.Sprintf("it names %q, which is used up", a.Licensed)
		} else if a.Licensed != "" {
			b.Says = fmt.Sprintf("it names %q, which is no item of the licence", a.Licensed)
		}
		out = append(out, b)
	}
	for _, i := range w.items {
		for _, why := range i.Reasons {
			out = append(out, Beyond{Kind: "item", What: i.Item + ": " + i.What, Says: why, Codes: i.Assemblies})
		}
	}
	out = append(out, w.holdingOn()...)
	for _, s := range w.surfaces {
		if s.Unlicensed > 0 {
			out = append(out, Beyond{Kind: "holes", What: s.HostName, Says: s.Says, Codes: []string{s.Host}})
		}
	}
	return out
}

// holdingOn are fixings without a hole (clamps, adhesive, beads) of a kind that is not allowed on their surface, or on a
// surface that the item of their works does not name. What only rests on it is no fixing to it. Those of works that no item covers are told with their works.
func (w *walk) holdingOn() []Beyond {
	var out []Beyond
	for i := range w.r.Fixings {
		f := &w.r.Fixings[i]
		t := w.r.Catalogue.FixingTypes[f.Type]
		k, onHost := w.at[f.IntoHost]
		if !onHost || !f.InPlace() || t.MakesHole() || t.Family == "dry" || w.noItem[f.Assembly] {
			continue
		}
		b := Beyond{Kind: "fixing", What: fmt.Sprintf("%s: %d x %s on %s", f.Code, f.Count, t.Name, w.r.Hosts[k].Name), Codes: []string{f.Code}}
		if !domain.Allows(w.r.Hosts[k].Fixings, t) {
			b.Says = "the licence does not allow this kind of fixing there"
		} else if at, ok := w.itemOf[f.Assembly]; ok && at >= 0 {
			item := w.items[at].LicenceItem
			switch {
			case !domain.Allows(item.Fixings, t):
				b.Says = item.Item + " does not allow this kind of fixing"
			case len(item.Hosts) > 0 && !slices.Contains(item.Hosts, f.IntoHost):
				b.Says = item.Item + " does not name this surface"
			}
		}
		if b.Says != "" {
			out = append(out, b)
		}
	}
	return out
}

// Over is how many more holes were made than agreed.
func (s LicensedSurface) Over() int { return max(s.Built-s.Agreed, 0) }

// words says how a surface stands: made against agreed first, as it is counted on site, then why holes within the count
// are not covered all the same. Each reason is named only where there is one.
func (s LicensedSurface) words() string {
	switch {
	case s.Rule == domain.Never && s.Built > 0:
		return fmt.Sprintf("no hole may be made here; %d made", s.Built) + s.defectWords()
	case s.Built == 0 && s.AtDefects > 0:
		return "no new hole made" + s.defectWords()
	case s.Built == 0:
		return "no hole made"
	}
	out := fmt.Sprintf("%d of %d agreed", s.Built, s.Agreed)
	if over := s.Over(); over > 0 {
		out += fmt.Sprintf(", %d over", over)
	}
	if s.Kept > 0 {
		out += fmt.Sprintf(", %d of them kept", s.Kept)
	}
	mark := "; "
	for _, why := range []struct {
		n    int
		what string
	}{
		{s.NoItem, "in works without a licence item"}, {s.OverDia, "too big"}, {s.OverDepth, "too deep"},
		{s.WrongKind, "for a kind of fixing not allowed here"}, {s.OutOfItem, "beyond the item of their works"},
	} {
		if why.n > 0 {
			out += fmt.Sprintf("%s%d %s", mark, why.n, why.what)
			mark = ", "
		}
	}
	return out + s.defectWords()
}

// defectWords names the holes that are the tenant's and count as none: "; 1 more in a defect of the start, no new hole".
func (s LicensedSurface) defectWords() string {
	switch s.AtDefects {
	case 0:
		return ""
	case 1:
		return "; 1 more in a defect of the start, no new hole"
	}
	return fmt.Sprintf("; %d more in defects of the start, no new holes", s.AtDefects)
}
