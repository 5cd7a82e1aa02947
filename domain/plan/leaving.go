package plan

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// stands refuses to leave what does not stand without what comes out: a wall held to another wall that goes, a skirting
// screwed through its boards. It looks at fixings and at what was said to bear on what; what only the boxes show, the
// replay finds. r is as Leaving gives it.
func stands(r *domain.Register) error {
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
		if k := &r.Relations[i]; k.Kind == domain.BearsOn && !k.Struck {
			note(k.From, k.To, k.Code)
		}
	}
	if len(needs) == 0 {
		return nil
	}
	return domain.Errorf(domain.Refused, "%s\nLet that stay too, or take both out", strings.Join(leaningWords(needs), "\n"))
}

func leaningWords(needs map[[2]string][]string) []string {
	const most = 3
	var lines []string
	for pair, evidence := range needs {
		slices.Sort(evidence)
		shown := strings.Join(evidence[:min(len(evidence), most)], ", ")
		if len(evidence) > most {
			shown += fmt.Sprintf(" and %d more", len(evidence)-most)
		}
		going := pair[1]
		if going == "" {
			going = "loose pieces"
		}
		lines = append(lines, fmt.Sprintf("%s cannot stay while %s comes out: it is held there by %s", pair[0], going, shown))
	}
	slices.Sort(lines)
	return lines
}
