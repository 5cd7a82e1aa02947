package release

import (
	"slices"
	"sync"

	"unpick/domain"
)

// Losses is what work out of turn has done to what still stands.
type Losses struct {
	Lost   []Lost   // nothing holds it any more
	OnLess []OnLess // part of what carried it is out, and too little is left
}

// Lost is a piece in place that reaches no host surface now and did once.
type Lost struct {
	Piece  int32
	Direct bool // what carried it itself is out; else it hangs on something that is lost
}

// Losses lists the pieces that have lost their hold, all of it or part: what held them has been taken out, or undone. A piece
// that never was held by anything is not among them. The judge is the graph of the register with all of that back; where
// nothing is out, nothing is looked for.
func (g *Graph) Losses() Losses { return g.losses.look() }

// Unsound are the codes of all that has lost its hold in a register, or a part of it, for who needs no graph beside.
func Unsound(links *domain.Links) []string {
	g := carrying(links).Graph
	found := (&looked{whole: g}).look()
	var out []string
	add := func(n int32) {
		for _, e := range g.Elements(n) {
			out = append(out, g.Register.Elements[e].Code)
		}
	}
	for _, x := range found.Lost {
		add(x.Piece)
	}
	for _, x := range found.OnLess {
		add(x.Piece)
	}
	return out
}

// looked is what has been lost, looked for when somebody first asks. It looks at the whole graph, for a copy may leave facts out.
type looked struct {
	whole *Graph
	once  sync.Once
	found Losses
}

func (l *looked) look() Losses {
	l.once.Do(func() {
		if !begun(l.whole.Register) {
			return
		}
		was := carrying(asBuilt(l.whole.Register).Link()).Graph
		l.found.Lost = l.whole.lost(was)
		l.found.OnLess = l.whole.onLess(was, l.found.Lost)
	})
	return l.found
}

func (g *Graph) lost(was *Graph) []Lost {
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

// begun reports whether anything is out or undone.
func begun(r *domain.Register) bool {
	return slices.ContainsFunc(r.Elements, isOut) || slices.ContainsFunc(r.Fixings, func(f domain.Fixing) bool { return f.State == domain.FixingUndone })
}

func isOut(e domain.Element) bool { return !e.IsInPlace() && e.State != domain.Struck }

// asBuilt is a register with everything back that was taken out.
func asBuilt(r *domain.Register) *domain.Register {
	out := *r
	out.Elements, out.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	for i := range out.Elements {
		if isOut(out.Elements[i]) {
			out.Elements[i].State = domain.InPlace
		}
	}
	for i := range out.Fixings {
		if f := &out.Fixings[i]; f.State == domain.FixingUndone {
			f.State = domain.FixingIn
		}
	}
	return &out
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
