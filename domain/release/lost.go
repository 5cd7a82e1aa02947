package release

import (
	"slices"

	"unpick/domain"
)

// Lost is a piece in place that reaches no host surface now and did once.
type Lost struct {
	Piece  int32
	Direct bool // what carried it itself is out; else it hangs on something that is lost
}

// Lost lists the pieces that have lost their hold: what held them has been taken out, or undone. A piece that never was held
// by anything is not among them. The judge is the graph of the register with all of that back.
func (g *Graph) Lost() []Lost {
	if len(g.Unsupported) == 0 {
		return nil
	}
	built, differs := asBuilt(g.Register)
	if !differs {
		return nil
	}
	was := Build(built)
	held := make([]bool, len(was.Nodes))
	for n := range was.Pieces() {
		held[n] = true
	}
	for _, n := range was.Unsupported {
		held[n] = false
	}
	direct := make([]bool, len(was.Nodes))
	for _, a := range was.Arcs {
		if a.Reason == Carried && slices.ContainsFunc(was.Elements(a.After), func(e int32) bool { return !g.Register.Elements[e].IsInPlace() }) {
			direct[a.Before] = true
		}
	}
	var out []Lost
	for _, n := range g.Unsupported {
		lost := Lost{Piece: n}
		hadHold := false
		for _, e := range g.Elements(n) {
			hadHold = hadHold || held[was.PieceOf[e]]
			lost.Direct = lost.Direct || direct[was.PieceOf[e]]
		}
		if hadHold {
			out = append(out, lost)
		}
	}
	return out
}

// asBuilt is a register with everything back that was taken out, and whether that is anything.
func asBuilt(r *domain.Register) (built *domain.Register, differs bool) {
	out := *r
	out.Elements, out.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	for i := range out.Elements {
		if e := &out.Elements[i]; !e.IsInPlace() && e.State != domain.Struck {
			e.State, differs = domain.InPlace, true
		}
	}
	for i := range out.Fixings {
		if f := &out.Fixings[i]; f.State == domain.FixingUndone {
			f.State, differs = domain.FixingIn, true
		}
	}
	return &out, differs
}

// CarriedBy lists, ascending, some pieces and all that hangs or stands on them, directly or through others, whatever else
// carries it too.
func (g *Graph) CarriedBy(pieces []int32) []int32 {
	on := g.carriedBy()
	in := make([]bool, len(g.Nodes))
	var out []int32
	queue := slices.Clone(pieces)
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if in[n] {
			continue
		}
		in[n] = true
		out = append(out, n)
		for _, arc := range on.of(n) {
			queue = append(queue, g.Arcs[arc].Before)
		}
	}
	slices.Sort(out)
	return out
}
