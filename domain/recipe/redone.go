package recipe

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
)

// Redone is the register as it would be if some of its assemblies were described otherwise: their records are left out,
// and made anew from the descriptions given, what was built first first. It is for asking, not for storing: amendments by
// hand are not carried over (see Again), and codes may change. NotFound is an assembly that the register has not; faults
// of parameters are those of Expand.
func Redone(r *domain.Register, now []domain.Assembly) (*domain.Register, error) {
	index, first := r.Index(), firstBuilt(r)
	out, described := r, map[string]domain.Assembly{}
	for _, a := range now {
		if _, ok := index.Assemblies[a.Code]; !ok {
			return nil, domain.Errorf(domain.NotFound, "there is no assembly %q in this fit-out", a.Code)
		}
		out, described[a.Code] = without(out, a.Code), a
	}
	kept := *out
	kept.Assemblies = slices.Clone(r.Assemblies)
	for i, a := range kept.Assemblies {
		if other, ok := described[a.Code]; ok {
			kept.Assemblies[i] = other
		}
	}
	out = &kept
	order := slices.Clone(now)
	turn := func(code string) int {
		if at, ok := first[code]; ok {
			return at
		}
		return math.MaxInt
	}
	slices.SortStableFunc(order, func(a, b domain.Assembly) int {
		return cmp.Or(cmp.Compare(turn(a.Code), turn(b.Code)), cmp.Compare(a.Code, b.Code))
	})
	for _, a := range order {
		made, err := Expand(out, a)
		if err != nil {
			return nil, err
		}
		out = out.With(made)
	}
	return out, nil
}

// firstBuilt is the turn of the first piece of each assembly.
func firstBuilt(r *domain.Register) map[string]int {
	out := map[string]int{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if at, ok := out[e.Assembly]; !ok || e.BuiltOrder < at {
			out[e.Assembly] = e.BuiltOrder
		}
	}
	return out
}
