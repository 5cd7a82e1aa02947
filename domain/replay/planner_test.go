package replay

import (
	"fmt"
	"maps"
	"slices"

	"unpick/domain"
)

// workable makes a plan that the oracle has nothing against, by trying every group at every moment in the order
// that prefer gives; ok is false where it gets stuck. With props it takes out carriers from under their loads.
func workable(r *domain.Register, props bool, prefer func(codes []string)) (steps []Step, ok bool) {
	o := newOracle(r)
	add := func(s Step) {
		s.Code = fmt.Sprintf("P%d", len(steps)+1)
		steps = append(steps, s)
		o.take(s)
	}
	var services []string
	for _, code := range o.codes() {
		if o.el[code].Kind.IsService() || o.runsThrough(code) {
			services = append(services, code)
		}
	}
	if len(services) > 0 {
		add(Step{Kind: MakeDead, Services: services})
	}
	for {
		left := o.codes()
		left = slices.DeleteFunc(left, o.landlords)
		if len(left) == 0 {
			break
		}
		prefer(left)
		found := false
		for _, withProps := range []bool{props, true} {
			for _, code := range left {
				if next := o.outNow(code, withProps); next != nil {
					for _, s := range next {
						add(s)
					}
					found = true
					break
				}
			}
			if found {
				break
			}
		}
		if !found {
			return steps, false
		}
		if gone := slices.DeleteFunc(slices.Sorted(maps.Keys(o.now.props)), func(p string) bool { return o.now.in[p] }); len(gone) > 0 {
			add(Step{Kind: StrikeProp, Props: gone})
		}
	}
	for _, e := range r.Elements { // the platform is open on two sides
		if e.Kind == domain.DeckBoard && len(steps) > 0 {
			steps[0].OpenEdges = append(steps[0].OpenEdges, e.Code)
		}
	}
	return steps, true
}

// outNow is what takes a piece and its group out now without breaking a rule, nil where nothing does.
func (o *oracle) outNow(code string, props bool) []Step {
	out := Step{Kind: Remove}
	for _, c := range o.codes() {
		if o.together(c, code) {
			out.Elements = append(out.Elements, c)
		}
	}
	for _, f := range o.r.Fixings {
		held := slices.Contains(out.Elements, f.Holds)
		letGo := o.landlords(f.Holds) && slices.Contains(out.Elements, f.IntoElement)
		if _, in := o.fix[f.Code]; in && !o.now.undone[f.Code] && (held || letGo) {
			out.Fixings = append(out.Fixings, f.Code)
		}
	}
	if o.clean(out) {
		return []Step{out}
	}
	if !props {
		return nil
	}
	prop := Step{Kind: Prop}
	for _, a := range o.arcs {
		if slices.Contains(out.Elements, a.to) && !slices.Contains(out.Elements, a.from) && o.now.in[a.from] {
			prop.Props = append(prop.Props, a.from)
			if a.fixing != "" && !o.now.undone[a.fixing] && !slices.Contains(out.Fixings, a.fixing) {
				out.Fixings = append(out.Fixings, a.fixing)
			}
		}
	}
	for u, by := range o.steady {
		if o.now.in[u] && slices.ContainsFunc(by, func(c string) bool { return slices.Contains(out.Elements, c) }) {
			prop.Props = append(prop.Props, u)
		}
	}
	slices.Sort(prop.Props)
	prop.Props = slices.DeleteFunc(slices.Compact(prop.Props), func(p string) bool { return o.now.props[p] || slices.Contains(out.Elements, p) })
	if len(prop.Props) == 0 || slices.ContainsFunc(prop.Props, o.landlords) || !o.clean(prop, out) {
		return nil
	}
	return []Step{prop, out}
}

// clean tries steps on a copy.
func (o *oracle) clean(steps ...Step) bool {
	try := *o
	try.now, try.found = o.now.clone(), map[int]map[Rule]bool{}
	try.fallen, try.shock = maps.Clone(o.fallen), maps.Clone(o.shock)
	for _, s := range steps {
		try.strike = s.Kind == StrikeProp
		try.take(s)
	}
	return len(try.found) == 0
}
