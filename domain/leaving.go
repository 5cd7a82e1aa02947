package domain

import (
	"maps"
	"slices"
)

// Leaving is the register as the strip-out has to see it where some assemblies stay: their pieces are the landlord's
// from then on, and the holes that their fixings use are kept. Where nothing stays it is the register itself; else a
// copy, and the register is as it was.
func (r *Register) Leaving() *Register {
	why := r.Consents()
	if len(why) == 0 {
		return r
	}
	out := *r
	out.Elements, out.Fixings, out.Holes = slices.Clone(r.Elements), slices.Clone(r.Fixings), slices.Clone(r.Holes)
	stays := map[string]bool{}
	for i := range out.Elements {
		if e := &out.Elements[i]; why[e.Assembly] != "" && e.IsInPlace() {
			e.Owner = LandlordOwns
			stays[e.Code] = true
		}
	}
	holds := map[string]bool{}
	for i := range out.Fixings {
		if f := &out.Fixings[i]; f.InPlace() && stays[f.Holds] {
			holds[f.Code] = true
		}
	}
	for i := range out.Holes {
		if h := &out.Holes[i]; h.State == HoleInUse && holds[h.Fixing] {
			h.State = HoleKept
		}
	}
	return &out
}

// Agreeing is the register with other things left by consent than those logged: a question, never stored.
func (r *Register) Agreeing(why map[string]string) *Register {
	out := *r
	out.Assemblies = slices.Clone(r.Assemblies)
	for i := range out.Assemblies {
		out.Assemblies[i].LeftBy = why[out.Assemblies[i].Code]
	}
	return &out
}

// Consents is what the landlord has agreed in writing may stay: the reference of the consent by code of assembly.
func (r *Register) Consents() map[string]string {
	out := map[string]string{}
	for i := range r.Assemblies {
		if a := &r.Assemblies[i]; a.LeftBy != "" && !a.Struck {
			out[a.Code] = a.LeftBy
		}
	}
	return out
}

// StayingBut is why for Leaving where only some assemblies come out: every other one that has a piece in place stays,
// in the words given. NotFound names an assembly that there is none of.
func (r *Register) StayingBut(out []string, words string) (map[string]string, error) {
	known := map[string]bool{}
	for i := range r.Assemblies {
		known[r.Assemblies[i].Code] = true
	}
	why := map[string]string{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly != "" && e.ComesOut() {
			why[e.Assembly] = words
		}
	}
	for _, code := range out {
		if !known[code] {
			return nil, Errorf(NotFound, "there is no assembly %q: the assemblies are %v", code, slices.Sorted(maps.Keys(known)))
		}
		delete(why, code)
	}
	return why, nil
}
