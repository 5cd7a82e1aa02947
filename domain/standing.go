package domain

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Leaning is something left by consent that does not stand without what comes out: a wall held to another wall that goes, a
// skirting screwed through its boards.
type Leaning struct {
	Stays, Goes string   // assemblies; Goes is empty for loose pieces
	By          []string // the fixings that hold it there, and what was said to bear on what, in order of code
}

// Says is a leaning in words: what cannot stay, while what comes out, and why.
func (l Leaning) Says() string {
	const most = 3
	shown := strings.Join(l.By[:min(len(l.By), most)], ", ")
	if len(l.By) > most {
		shown += fmt.Sprintf(" and %d more", len(l.By)-most)
	}
	going := l.Goes
	if going == "" {
		going = "loose pieces"
	}
	return fmt.Sprintf("%s cannot stay while %s comes out: it is held there by %s", l.Stays, going, shown)
}

// Leanings are the leanings of a register, in order of what stays and what goes. They are read from fixings and from what was
// said to bear on what; what only the boxes show, the replay finds.
func (r *Register) Leanings() []Leaning {
	r = r.Leaving()
	why := r.Consents()
	if len(why) == 0 {
		return nil
	}
	index := r.Index()
	stays := func(code string) (assembly string, stays, there bool) {
		i, ok := index.Elements[code]
		if !ok || !r.Elements[i].IsInPlace() {
			return "", false, false
		}
		return r.Elements[i].Assembly, why[r.Elements[i].Assembly] != "", true
	}
	needs := map[[2]string][]string{} // by assembly that stays and assembly that goes: the evidence
	note := func(held, by, evidence string) {
		left, keeps, ok := stays(held)
		going, kept, there := stays(by)
		if ok && keeps && there && !kept && r.Elements[index.Elements[by]].ComesOut() {
			pair := [2]string{left, going}
			needs[pair] = append(needs[pair], evidence)
		}
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if !f.InPlace() {
			continue
		}
		note(f.Holds, f.IntoElement, f.Code)
		for _, through := range f.Through {
			note(f.Holds, through, f.Code)
		}
	}
	for i := range r.Relations {
		if k := &r.Relations[i]; k.Kind == BearsOn && !k.Struck {
			note(k.From, k.To, k.Code)
		}
	}
	var out []Leaning
	for pair, by := range needs {
		slices.Sort(by)
		out = append(out, Leaning{pair[0], pair[1], by})
	}
	slices.SortFunc(out, func(a, b Leaning) int { return strings.Compare(a.Says(), b.Says()) })
	return out
}

// CheckConsents refuses a change of what may stay that leaves something standing on what comes out: consent recorded for it
// alone, or taken back from what carries it. What leaned before is no fault of the change, so that it can be mended one by
// one. The place is the consent that was changed.
func CheckConsents(before, after *Register) Errors {
	had, has := before.Consents(), after.Consents()
	if maps.Equal(had, has) {
		return nil
	}
	leaned := map[[2]string]bool{}
	for _, l := range before.Leanings() {
		leaned[[2]string{l.Stays, l.Goes}] = true
	}
	index := after.Index()
	var faults Errors
	for _, l := range after.Leanings() {
		if leaned[[2]string{l.Stays, l.Goes}] {
			continue
		}
		changed := l.Stays
		if had[l.Stays] != "" && had[l.Goes] != "" {
			changed = l.Goes
		}
		faults.Addf(Refused, fmt.Sprintf("/assemblies/%d/left_by_consent", index.Assemblies[changed]), "%s. Let that stay first, or both at once with the register's workbook; or take both out", l.Says())
	}
	return faults
}
