package reports

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// sourceLine is one row of the catalogue that the document used.
type sourceLine struct {
	table, row string
	domain.Sourced
}

// sources lists where the figures come from, for every row of the catalogue that the register uses.
func (b *book) sources() {
	lines := b.sourceLines()
	t := b.newTable("Sources", []column{{"Table", 12, plain}, {"Row", 44, plain}, {"Source", 52, plain}, {"How far confirmed (memory: known from the trade, not looked up)", 50, plain}}, a4, len(lines))
	for _, l := range lines {
		t.add(l.table, l.row, l.Source, l.Confirmed)
	}
	t.end()
}

func (b *book) sourceLines() []sourceLine {
	r, c := b.in.Register, b.in.Register.Catalogue
	used := map[string]sourceLine{}
	for _, f := range r.Fixings {
		if t, ok := c.FixingTypes[f.Type]; ok {
			used["f"+f.Type] = sourceLine{"fixing", t.Name, t.Sourced}
		}
	}
	for _, e := range r.Elements {
		if m, ok := c.Materials[e.Material]; ok {
			used["m"+e.Material] = sourceLine{"material", m.Name, m.Sourced}
		}
		if w, ok := c.WorkRates["take-down-"+string(e.Kind)]; ok {
			used["w"+w.Key] = sourceLine{"work rate", w.Job, w.Sourced}
		}
	}
	for _, h := range r.Hosts {
		if k, ok := c.HostKinds[h.Kind]; ok {
			used["h"+h.Kind] = sourceLine{"host surface", k.Name, k.Sourced}
		}
	}
	for _, row := range b.in.Plan.MakingGood.Rows {
		if k, ok := c.Repairs[row.Repair]; ok {
			used["r"+row.Repair] = sourceLine{"repair", k.Slug + ": " + k.AppliesTo, k.Sourced}
		}
	}
	out := make([]sourceLine, 0, len(used))
	for _, l := range used {
		out = append(out, l)
	}
	slices.SortFunc(out, func(a, b sourceLine) int { return cmp.Or(cmp.Compare(a.table, b.table), cmp.Compare(a.row, b.row)) })
	return out
}
