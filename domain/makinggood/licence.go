package makinggood

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
)

// Licensed compares one host surface, as built, with what was agreed. A hole may break several limits; it is not
// covered once.
type Licensed struct {
	Host       string            `json:"host"`
	HostName   string            `json:"host_name"`
	Rule       domain.FixingRule `json:"rule"`
	Clause     string            `json:"clause,omitempty"`
	Agreed     int               `json:"agreed_holes"`
	Built      int               `json:"built_holes"`
	Inherited  int               `json:"inherited_holes"`
	Kept       int               `json:"kept_holes,omitempty" jsonschema_description:"of the built ones: they hold what the landlord lets stay"`
	NoItem     int               `json:"holes_of_unlicensed_works" jsonschema_description:"holes of assemblies that no item of the licence covers"`
	OverDia    int               `json:"holes_too_big"`
	OverDepth  int               `json:"holes_too_deep"`
	OverCount  int               `json:"holes_past_the_count" jsonschema_description:"made after the agreed count was used up"`
	Unlicensed int               `json:"unlicensed_holes"`
	Says       string            `json:"says"`
}

// cover is which holes the licence does not cover.
type cover struct {
	hosts   []Licensed
	without map[string]int  // holes not covered, by code of the set
	noItem  map[string]bool // assemblies that no item of the licence covers
}

// covered spends what was agreed for each surface on the holes in the order in which they were made, those without a
// build order first. Holes that break a rule or a limit, and those of works without a licence item, spend nothing.
func covered(r *domain.Register) cover {
	c := cover{hosts: make([]Licensed, len(r.Hosts)), without: map[string]int{}, noItem: map[string]bool{}}
	at := map[string]int{}
	for i, h := range r.Hosts {
		at[h.Code] = i
		c.hosts[i] = Licensed{Host: h.Code, HostName: h.Name, Rule: h.Rule, Clause: h.Clause, Agreed: h.AgreedHoles}
	}
	for _, a := range r.Assemblies {
		c.noItem[a.Code] = a.Licensed == ""
	}
	order := make([]*domain.Hole, len(r.Holes))
	for i := range r.Holes {
		order[i] = &r.Holes[i]
	}
	slices.SortFunc(order, func(a, b *domain.Hole) int {
		return cmp.Or(cmp.Compare(a.BuiltOrder, b.BuiltOrder), cmp.Compare(a.Code, b.Code))
	})
	left := make([]int, len(r.Hosts))
	for i, h := range r.Hosts {
		left[i] = h.AgreedHoles
	}
	for _, hole := range order {
		k, ok := at[hole.Host]
		switch {
		case !ok:
		case hole.State == domain.HoleInherited:
			c.hosts[k].Inherited += hole.Count
		case hole.State == domain.HoleKept: // the consent covers them
			c.hosts[k].Built += hole.Count
			c.hosts[k].Kept += hole.Count
		case hole.Charged() || hole.State == domain.HoleMadeGood:
			n := c.hosts[k].spend(hole, r.Hosts[k], c.noItem[hole.Assembly], &left[k])
			c.hosts[k].Unlicensed += n
			c.without[hole.Code] = n
		}
	}
	return c
}

// spend books one set of holes and answers how many of it are not covered.
func (l *Licensed) spend(hole *domain.Hole, host domain.HostSurface, noItem bool, left *int) int {
	n := hole.Count
	l.Built += n
	tooBig := host.MaxDiameterMm > 0 && hole.DiameterMm > host.MaxDiameterMm
	tooDeep := host.MaxDepthMm > 0 && (hole.DepthMm > host.MaxDepthMm || hole.Through)
	if noItem {
		l.NoItem += n
	}
	if tooBig {
		l.OverDia += n
	}
	if tooDeep {
		l.OverDepth += n
	}
	if host.Rule == domain.Never || noItem || tooBig || tooDeep {
		return n
	}
	past := max(n-*left, 0)
	*left -= n - past
	l.OverCount += past
	return past
}

// licence lists every host surface, those with holes that are not covered first.
func licence(c cover) []Licensed {
	out := slices.Clone(c.hosts)
	for i := range out {
		out[i].Says = out[i].words()
	}
	slices.SortStableFunc(out, func(a, b Licensed) int {
		return cmp.Or(cmp.Compare(b.Unlicensed, a.Unlicensed), cmp.Compare(a.Host, b.Host))
	})
	return out
}

// Over is how many more holes were made than agreed.
func (l Licensed) Over() int { return max(l.Built-l.Agreed, 0) }

// words says how a surface stands: made against agreed first, as it is counted on site, then why holes within the count
// are not covered all the same. Each reason is named only where there is one.
func (l Licensed) words() string {
	switch {
	case l.Rule == domain.Never && l.Built > 0:
		return fmt.Sprintf("no hole may be made here; %d made", l.Built)
	case l.Built == 0:
		return "no hole made"
	}
	out := fmt.Sprintf("%d of %d agreed", l.Built, l.Agreed)
	if over := l.Over(); over > 0 {
		out += fmt.Sprintf(", %d over", over)
	}
	if l.Kept > 0 {
		out += fmt.Sprintf(", %d of them kept", l.Kept)
	}
	mark := "; "
	for _, why := range []struct {
		n    int
		what string
	}{
		{l.NoItem, "in works without a licence item"}, {l.OverDia, "too big"}, {l.OverDepth, "too deep"},
	} {
		if why.n > 0 {
			out += fmt.Sprintf("%s%d %s", mark, why.n, why.what)
			mark = ", "
		}
	}
	return out
}
