package issue

import (
	"fmt"
	"strings"

	"unpick/domain"
)

// Signed gives changes from one issue to the next their reason where work is it: repairs that were signed for on the surface
// of an item, pieces of its assembly that were taken out. between are the codes of what was signed between the two: what is
// done is owed no longer, and whoever reads that an item shrank can see who says that it was done, and on what photo.
func Signed(changes []Change, r *domain.Register, between map[string]bool) {
	if len(between) == 0 {
		return
	}
	x, words := r.Index(), map[string][]string{}
	for _, o := range r.Signed(domain.MadeGood) {
		if between[o.Code] {
			for host, codes := range grouped(o.About, func(code string) string { return surfaceOf(code, r, x) }) {
				words[host] = append(words[host], fmt.Sprintf("%s made good (%s)", strings.Join(firstOf(codes), ", "), o.Evidenced()))
			}
		}
	}
	for _, o := range r.Signed(domain.WorkDone) {
		if between[o.Code] {
			for assembly, codes := range grouped(o.About, func(code string) string { return assemblyOf(code, r, x) }) {
				words["out:"+assembly] = append(words["out:"+assembly], fmt.Sprintf("%s taken out (%s, %s)", strings.Join(firstOf(codes), ", "), o.By, o.On))
			}
		}
	}
	for i := range changes {
		c := &changes[i]
		said := words[c.Key]
		if host := hostOf(c.Key, r, x.Holes); host != "" {
			said = words[host]
		}
		if c.Kind == Added || c.Kind == Changed && !fewer(c.Fields) || len(said) == 0 {
			continue
		}
		c.Because = strings.TrimPrefix(c.Because+"; signed for since: "+strings.Join(firstOf(said), "; "), "; ")
	}
}

// firstOf are as many words as anybody reads in one cell, and how many more there are.
func firstOf(words []string) []string {
	const most = 6
	if len(words) <= most {
		return words
	}
	return append(words[:most:most], fmt.Sprintf("and %d more", len(words)-most))
}

// grouped are codes by what they belong to, without those that belong to nothing.
func grouped(codes []string, of func(string) string) map[string][]string {
	out := map[string][]string{}
	for _, code := range codes {
		if to := of(code); to != "" {
			out[to] = append(out[to], code)
		}
	}
	return out
}

// surfaceOf is the surface that a repair is on: of a hole set, of a fixing that leaves a film or a bruise, or itself.
func surfaceOf(code string, r *domain.Register, x *domain.Index) string {
	if at, ok := x.Holes[code]; ok {
		return r.Holes[at].Host
	}
	if at, ok := x.Fixings[code]; ok {
		return r.Fixings[at].IntoHost
	}
	if _, ok := x.Hosts[code]; ok {
		return code
	}
	return ""
}

func assemblyOf(code string, r *domain.Register, x *domain.Index) string {
	if at, ok := x.Elements[code]; ok {
		return r.Elements[at].Assembly
	}
	return ""
}
