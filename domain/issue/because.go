package issue

import (
	"slices"
	"strings"

	"unpick/domain"
)

// Because gives changes from one issue to the next their reason where a condition record of the start is it: one that was
// entered in the log between the two, with defects that excuse holes, on the surface of an item that is gone, fewer or no
// longer charged. r says when its records were entered.
func Because(changes []Change, r *domain.Register, before, after int64) {
	words := map[string]string{}
	for i := range r.Hosts {
		h := &r.Hosts[i]
		said := 0
		for _, d := range h.Defects() {
			e, ok := r.EnteredOf(h.Code, d.Record)
			if !ok || d.Record == said || d.Stage != domain.AtStart || !d.OwesRepair() || e.Entry <= before || e.Entry >= after {
				continue
			}
			said = d.Record
			words[h.Code] = strings.TrimPrefix(words[h.Code]+"; holes in its defects are not charged: "+h.RecordWords(d.Record, e), "; ")
		}
	}
	if len(words) == 0 {
		return
	}
	holes := r.Index().Holes
	for i := range changes {
		c := &changes[i]
		if c.Kind == Added && !strings.HasSuffix(c.Key, atDefects) || c.Kind == Changed && !fewer(c.Fields) {
			continue
		}
		c.Because = words[hostOf(c.Key, r, holes)]
	}
}

// fewer reports whether an item may have changed because holes are excused: a change of words or of a rate alone is none.
func fewer(fields []FieldChange) bool {
	return slices.ContainsFunc(fields, func(f FieldChange) bool { return f.Field == "quantity" || f.Field == "group" || f.Field == "what" })
}

// hostOf is the surface that an item is about, "" for none.
func hostOf(key string, r *domain.Register, holes map[string]int) string {
	if code, ok := strings.CutPrefix(key, "hole:"); ok {
		if at, ok := holes[strings.TrimSuffix(code, atDefects)]; ok {
			return r.Holes[at].Host
		}
		return ""
	}
	for i := range r.Hosts {
		if code := r.Hosts[i].Code; key == "finish:"+code || strings.HasPrefix(key, "repair:"+code+":") {
			return code
		}
	}
	return ""
}
