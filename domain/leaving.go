package domain

import (
	"maps"
	"slices"
)

// StaysForNow is in whose words something stays where only a part comes out.
const StaysForNow = "not part of this schedule"

// Leaving is the register as the strip-out has to see it where some assemblies stay: their pieces are the landlord's
// from then on, and the holes that their fixings use are kept. Where only a part comes out, every hole that is owed for
// anything else is apart. Where nothing stays it is the register itself; else a copy, and the register is as it was.
func (r *Register) Leaving() *Register {
	why := r.Consents()
	if len(why) == 0 && len(r.Only) == 0 {
		return r
	}
	out := *r
	out.Elements, out.Fixings, out.Holes = slices.Clone(r.Elements), slices.Clone(r.Fixings), slices.Clone(r.Holes)
	keeps := map[string]bool{} // pieces that hold on to their holes for good
	for i := range out.Elements {
		if e := &out.Elements[i]; why[e.Assembly] != "" && e.IsInPlace() {
			e.Owner = LandlordOwns
			keeps[e.Code] = why[e.Assembly] != StaysForNow
		}
	}
	holds, fixings := map[string]bool{}, map[string]*Fixing{}
	for i := range out.Fixings {
		f := &out.Fixings[i]
		holds[f.Code], fixings[f.Code] = f.InPlace() && keeps[f.Holds], f
	}
	for i := range out.Holes {
		switch h := &out.Holes[i]; {
		case h.State == HoleInUse && holds[h.Fixing]:
			h.State = HoleKept
		case len(r.Only) > 0 && h.Charged() && !slices.Contains(r.Only, h.MadeFor(fixings[h.Fixing])):
			h.State = HoleApart
		}
	}
	return &out
}

// Agreeing is the register with other things left by consent than those logged: a question, never stored.
func (r *Register) Agreeing(why map[string]string) *Register {
	out := *r
	out.Only = nil
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

// Part is the register where some assemblies come out alone, and the whole that it is a part of: what stays by consent
// stays in both, unless it is asked for by name. In the part every other assembly that has a piece in place stays for now.
// NotFound names an assembly that there is none of, or that was struck out.
func (r *Register) Part(only []string) (part, whole *Register, err error) {
	known := map[string]bool{}
	for i := range r.Assemblies {
		if !r.Assemblies[i].Struck {
			known[r.Assemblies[i].Code] = true
		}
	}
	why, lifted := r.Consents(), false
	for _, code := range only {
		if !known[code] {
			return nil, nil, Errorf(NotFound, "there is no assembly %q: the assemblies are %v", code, slices.Sorted(maps.Keys(known)))
		}
		lifted = lifted || why[code] != ""
		delete(why, code)
	}
	whole = r
	if lifted {
		whole = r.Agreeing(why)
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly != "" && e.ComesOut() && why[e.Assembly] == "" && !slices.Contains(only, e.Assembly) {
			why[e.Assembly] = StaysForNow
		}
	}
	part = r.Agreeing(why)
	part.Only = slices.Compact(slices.Sorted(slices.Values(only)))
	return part, whole, nil
}

// AllStaying is why for Agreeing where every assembly that has a piece to come out stays, in the words given.
func (r *Register) AllStaying(words string) map[string]string {
	why := map[string]string{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly != "" && e.ComesOut() {
			why[e.Assembly] = words
		}
	}
	return why
}

// PartsOf are the assemblies that a part of the works can be made of: what comes out, or has come out, and is not left by
// consent. Everything that is owed for anything else is common to all parts.
func (r *Register) PartsOf() map[string]bool {
	out, stays := map[string]bool{}, r.Consents()
	for i := range r.Assemblies {
		if a := &r.Assemblies[i]; !a.Struck && (stays[a.Code] == "" || stays[a.Code] == StaysForNow) {
			out[a.Code] = true
		}
	}
	return out
}
