package advice

import (
	"slices"

	"unpick/domain"
)

// ForAmended is the advice on a change that puts records in place of older ones of the same codes, and adds others: what [For]
// says of them as they then are and did not say of them as they were. A note added to a run that was over the agreed count
// already is no news; ten more screws in it are. The holes of an amended fixing are looked at with it. Host surfaces are for
// [ForHost]. Sternest first, as [For].
func ForAmended(r *domain.Register, add, put domain.Records) []domain.Advice {
	put.Holes = withTheirHoles(r, put)
	rest, was := r.Without(put)
	type says struct{ kind, text string }
	had := map[says]bool{}
	for _, a := range For(rest, was) {
		had[says{a.Kind, a.Text}] = true
	}
	now := inForce(put)
	now.Append(add)
	return slices.DeleteFunc(For(rest, now), func(a domain.Advice) bool { return had[says{a.Kind, a.Text}] })
}

// withTheirHoles are the holes that are put, and those of fixings that are put alone.
func withTheirHoles(r *domain.Register, put domain.Records) []domain.Hole {
	of, there := map[string]bool{}, map[string]bool{}
	for i := range put.Fixings {
		of[put.Fixings[i].Code] = true
	}
	for i := range put.Holes {
		there[put.Holes[i].Code] = true
	}
	out := slices.Clone(put.Holes)
	for i := range r.Holes {
		if h := &r.Holes[i]; of[h.Fixing] && !there[h.Code] {
			out = append(out, *h)
		}
	}
	return out
}

// inForce are the records that are not struck out.
func inForce(put domain.Records) domain.Records {
	return domain.Records{
		Zones: put.Zones, Prices: put.Prices, SignOffs: put.SignOffs,
		Assemblies: kept(put.Assemblies, func(a *domain.Assembly) bool { return !a.Struck }),
		Elements:   kept(put.Elements, func(e *domain.Element) bool { return e.State != domain.Struck }),
		Fixings:    kept(put.Fixings, func(f *domain.Fixing) bool { return f.State != domain.FixingStruck }),
		Holes:      kept(put.Holes, func(h *domain.Hole) bool { return h.State != domain.HoleStruck }),
		Relations:  kept(put.Relations, func(rel *domain.Relation) bool { return !rel.Struck }),
	}
}

func kept[T any](records []T, stays func(*T) bool) []T {
	var out []T
	for i := range records {
		if stays(&records[i]) {
			out = append(out, records[i])
		}
	}
	return out
}
