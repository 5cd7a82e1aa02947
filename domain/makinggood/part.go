package makinggood

import (
	"slices"

	"unpick/domain"
)

// NotInPart is why a row is shown and not charged where only a part of the works is asked for.
const NotInPart = "not in this part"

// Part is the making good of the assemblies in r.Only out of that of the whole: the same rows with the same numbers, of
// which only their own are charged, and the surfaces that nothing else was repaired in. r is the part's register, which counts
// the holes the other way.
func (l List) Part(r *domain.Register) List {
	r = r.Leaving()
	own := func(assembly string) bool { return slices.Contains(r.Only, assembly) }
	out := List{Rows: slices.Clone(l.Rows), Planes: []Plane{}, Licence: l.Licence}
	for i := range out.Rows {
		if row := &out.Rows[i]; row.Charged && !own(row.Assembly) {
			row.NotOwed, row.Charged, row.Minutes, row.CureHours = NotInPart, false, 0, 0
			row.RateMinor, row.RateKnown, row.AmountMinor, row.VolumeMl, row.MaterialMl = 0, false, 0, 0, 0
			row.Steps = row.notOwedWords()
		}
	}
	for _, p := range l.Planes {
		if !slices.ContainsFunc(p.Assemblies, func(a string) bool { return !own(a) }) {
			out.Planes = append(out.Planes, p)
		}
	}
	out.Balance = balance(r, out.Rows)
	out.Buying = buying(r.Catalogue, out.Rows, out.Planes)
	out.Days = days(r.FitOut, out.Rows, out.Planes)
	return out
}
