package strip

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/salvage"
)

// Chosen is a choice of what happens, of all that could.
type Chosen struct {
	Happens []bool            // by node of the graph
	Before  [][2]int32        // what the choice lets happen before what, on top of the graph's own facts
	Wished  [][2]int32        // the same, given up where that leaves no order
	Props   []release.Brace   // props under Floor before By leaves, in place of taking Floor out
	LetGo   []release.Brace   // Floor stays on its other fixings while By leaves
	Bare    map[int32]bool    // of these Floor, what carries no more than linings: a batten stays it
	Loose   map[int32][]int32 // piece -> fixings undone before it leaves whose own piece stays, on props
}

// PlanPart orders only what is chosen into steps: the rest stays, held or propped. All that a chosen node waits for, one
// way of each of its gates in full, has to be chosen too; what only keeps a crew safe on what stays (a guard of a deck)
// is a hold on the step instead. Refused as Plan refuses.
func PlanPart(g *release.Graph, inv salvage.Inventory, part Chosen) (Sequence, error) {
	p := newPlanner(g, inv)
	p.part, p.loosened = &part, map[int32]bool{}
	p.leaveOut(p.runs)
	for _, a := range g.Arcs {
		if a.Reason == release.Served && a.Relation >= 0 && part.Happens[a.After] && !part.Happens[a.Before] {
			p.served = append(p.served, a)
		}
	}
	p.graph = part.of(g)
	p.props = newProps(p.graph)
	p.props.ties = lost(p.props.ties, part.Happens)
	return p.plan()
}

// of is the graph in which only the chosen nodes ever happen.
func (part *Chosen) of(g *release.Graph) *release.Graph {
	out := *g
	out.Gates = slices.DeleteFunc(slices.Clone(g.Gates), func(x release.Gate) bool { return !part.Happens[x.After] })
	out.Braces = slices.Concat(g.Braces, part.Props)
	propped := map[release.Brace]bool{}
	for _, x := range slices.Concat(part.Props, part.LetGo) {
		propped[x] = true
	}
	out.Arcs = nil
	for n := range g.Nodes {
		if !part.Happens[n] {
			out.Arcs = append(out.Arcs, release.Arc{Before: int32(n), After: int32(n), Fixing: -1, Relation: -1}) // waits for itself
		}
	}
	var wished []release.Arc
	for _, a := range g.Arcs {
		switch {
		case !part.Happens[a.Before] || !part.Happens[a.After]:
		case a.Preferred():
			wished = append(wished, a)
		case a.Reason != release.Carried || !propped[release.Brace{By: a.After, Floor: a.Before}]:
			out.Arcs = append(out.Arcs, a)
		}
	}
	for _, x := range part.Wished {
		wished = append(wished, release.Arc{Before: x[0], After: x[1], Reason: release.Carried, Fixing: -1, Relation: -1})
	}
	for _, x := range part.Before {
		out.Arcs = append(out.Arcs, release.Arc{Before: x[0], After: x[1], Reason: release.Steadied, Fixing: -1, Relation: -1})
	}
	out.Arcs = append(out.Arcs, part.possible(&out, wished)...)
	return &out
}

// possible keeps the wished facts that leave an order: those of what they would hold back for good are let go.
func (part *Chosen) possible(g *release.Graph, wished []release.Arc) []release.Arc {
	for len(wished) > 0 {
		try := *g
		try.Arcs = slices.Concat(g.Arcs, wished)
		var ready []int32
		front := release.NewFront(&try, func(n int32) { ready = append(ready, n) })
		for len(ready) > 0 {
			n := ready[len(ready)-1]
			ready = ready[:len(ready)-1]
			front.Done(n, func(n int32) { ready = append(ready, n) })
		}
		stuck := make([]bool, len(g.Nodes))
		for _, n := range front.Left() {
			stuck[n] = part.Happens[n]
		}
		before := len(wished)
		wished = slices.DeleteFunc(wished, func(a release.Arc) bool { return stuck[a.Before] && stuck[a.After] })
		if len(wished) == before {
			return wished
		}
	}
	return nil
}

// keepOff puts the hold on a step that takes what serves a piece that stays: a guard, a way down.
func (p *planner) keepOff(nodes []int32, s *Step) {
	if p.part == nil {
		return
	}
	for _, a := range p.served {
		if !slices.Contains(nodes, a.After) {
			continue
		}
		for _, e := range p.graph.Elements(a.Before) {
			if code := p.r.Elements[e].Code; !slices.Contains(s.KeepOff, code) {
				s.KeepOff = append(s.KeepOff, code)
			}
		}
	}
	if len(s.KeepOff) > 0 {
		slices.Sort(s.KeepOff)
		s.Holds = append(s.Holds, Hold{"keep-off", fmt.Sprintf("nobody on or under %s from this step until what comes out is back: shut it off and put up a notice", Few(p.floorsOf(s.KeepOff))), "foreman"})
	}
}

// floorsOf names pieces to keep off; of a deck all of it, since one board stands for the floor that a stair or a guard serves.
func (p *planner) floorsOf(codes []string) []string {
	var out []string
	for _, code := range codes {
		name := code
		if e := domain.Place(p.graph.Links.Elements, code); e >= 0 && p.r.Elements[e].Kind == domain.DeckBoard {
			if a := p.graph.Links.AssemblyOf[e]; a >= 0 {
				name = "all of the floor of " + p.r.Assemblies[a].Code + " " + p.r.Assemblies[a].Name
			}
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// Few names codes, the first few in full.
func Few(codes []string) string {
	const most = 6
	if len(codes) <= most {
		return strings.Join(codes, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(codes[:most], ", "), len(codes)-most)
}

// happens reports whether a node is among what is planned.
func (p *planner) happens(n int32) bool { return p.part == nil || p.part.Happens[n] }

// stayNames names what is let go of by a piece that leaves, and what it stays on instead: props, or its other fixings.
func (p *planner) stayNames(leaving int32, held []string) (words string, other []string) {
	var propped []string
	for _, code := range held {
		n := p.graph.PieceOf[domain.Place(p.graph.Links.Elements, code)]
		if slices.Contains(p.part.LetGo, release.Brace{By: leaving, Floor: n}) {
			other = append(other, code)
		} else {
			propped = append(propped, code)
		}
	}
	of := func(codes []string, one, more string) string {
		if len(codes) == 1 {
			return codes[0] + one
		}
		return strings.Join(codes, ", ") + more
	}
	var out []string
	if len(propped) > 0 {
		out = append(out, of(propped, ", which stays on its props", ", which stay on their props"))
	}
	if len(other) > 0 {
		out = append(out, of(other, ", which stays on its other fixings", ", which stay on their other fixings"))
	}
	return strings.Join(out, ", and "), other
}

// reach is what some fixings into a piece are reached from, where the piece itself is reached from less: the screws of a beam are
// over the head of whoever takes the post from under it.
func (p *planner) reach(into int32, fixings []int32, least Access) Access {
	if least != FromFloor {
		return least
	}
	switch above := p.highest(fixings) - p.levels[into]; {
	case above <= floorReachMm:
		return FromFloor
	case above <= stepsReachMm:
		return FromSteps
	}
	return FromTower
}

// loosen writes the step that undoes the fixings of what stays on props into the piece that leaves next.
func (p *planner) loosen(leaving int32) {
	if p.part == nil || len(p.part.Loose[leaving]) == 0 {
		return
	}
	key := p.runs.keyOf(leaving)
	key.Access = p.reach(leaving, p.part.Loose[leaving], key.Access)
	s := Step{Kind: Remove, Zone: key.Zone, Assembly: key.Assembly, Access: key.Access, People: 1, Elements: []string{}, Stand: stand(key, false, false)}
	minutes := 0.0
	var held []string
	for _, i := range p.part.Loose[leaving] {
		f := &p.r.Fixings[i]
		p.loosened[i] = true
		t := p.rates.fixing(f.Type)
		w := s.workOn(t, f.Type)
		before := w.Minutes
		w.add(f, t)
		minutes += w.Minutes - before
		s.Tool = t.UndoTool
		s.Provisional = s.Provisional || f.Known.Provisional()
		if !slices.Contains(held, f.Holds) {
			held = append(held, f.Holds)
		}
	}
	slices.Sort(held)
	s.PersonMinutes = max(ceil(minutes), 1)
	s.DurationMinutes = s.PersonMinutes
	var names string
	names, s.LetGo = p.stayNames(leaving, held)
	s.Title = "Undo what holds " + names + ", to " + p.graph.Nodes[leaving].Code
	s.Cautions = p.cautions([]int32{leaving}, &s, runKey{setup: setup{Access: key.Access}, Kind: domain.OtherPiece})
	p.writer.put(job{ready: &s})
}
