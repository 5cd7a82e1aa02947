package makinggood

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
)

// Licensed compares one host surface, as built, with what was agreed.
type Licensed struct {
	Host       string            `json:"host"`
	HostName   string            `json:"host_name"`
	Rule       domain.FixingRule `json:"rule"`
	Clause     string            `json:"clause,omitempty"`
	Agreed     int               `json:"agreed_holes"`
	Built      int               `json:"built_holes"`
	Inherited  int               `json:"inherited_holes"`
	OverDia    int               `json:"holes_too_big"`
	OverDepth  int               `json:"holes_too_deep"`
	Unlicensed int               `json:"unlicensed_holes"`
	Says       string            `json:"says"`
}

// licence lists every host surface, those with unlicensed holes first.
func licence(r *domain.Register) []Licensed {
	at := map[string]int{}
	out := make([]Licensed, len(r.Hosts))
	for i, h := range r.Hosts {
		at[h.Code] = i
		out[i] = Licensed{Host: h.Code, HostName: h.Name, Rule: h.Rule, Clause: h.Clause, Agreed: h.AgreedHoles}
	}
	for i := range r.Holes {
		hole := &r.Holes[i]
		k, ok := at[hole.Host]
		if !ok {
			continue
		}
		l, host := &out[k], r.Hosts[k]
		switch {
		case hole.State == domain.HoleInherited:
			l.Inherited += hole.Count
		case hole.Charged() || hole.State == domain.HoleMadeGood:
			l.Built += hole.Count
			if host.MaxDiameterMm > 0 && hole.DiameterMm > host.MaxDiameterMm {
				l.OverDia += hole.Count
			}
			if host.MaxDepthMm > 0 && (hole.DepthMm > host.MaxDepthMm || hole.Through) {
				l.OverDepth += hole.Count
			}
		}
	}
	for i := range out {
		judge(&out[i])
	}
	slices.SortStableFunc(out, func(a, b Licensed) int {
		return cmp.Or(cmp.Compare(b.Unlicensed, a.Unlicensed), cmp.Compare(a.Host, b.Host))
	})
	return out
}

// judge counts what is not covered: every hole where none may be made, else those past the agreed count, too big
// or too deep, whichever is most (one hole may break several limits).
func judge(l *Licensed) {
	if l.Rule == domain.Never {
		l.Unlicensed = l.Built
	} else {
		l.Unlicensed = max(l.Built-l.Agreed, l.OverDia, l.OverDepth, 0)
	}
	switch {
	case l.Rule == domain.Never && l.Built > 0:
		l.Says = fmt.Sprintf("no hole may be made here; %d logged", l.Built)
	case l.Unlicensed > 0:
		l.Says = fmt.Sprintf("%d of %d not covered: %d agreed, %d too big, %d too deep", l.Unlicensed, l.Built, l.Agreed, l.OverDia, l.OverDepth)
	case l.Built == 0:
		l.Says = "no hole made"
	default:
		l.Says = fmt.Sprintf("%d of %d agreed", l.Built, l.Agreed)
	}
}
