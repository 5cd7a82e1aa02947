package programme

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"unpick/domain/release"
	"unpick/domain/strip"
)

// FromSteps is the scheduling problem of a strip-out: an activity for each step, in the order of the steps, which must
// be the whole sequence that was planned from the graph. A step waits for another only where the graph, a prop, a
// guard, a service or the equipment that is set up for it says so, not because the sequence happens to have it first; of
// alternatives, the one that the sequence used is kept. A step that is done in one go is whole: for that to count, the problem
// wants the minutes of a day. A step that needs more people or equipment than there is is refused, with the step named.
func FromSteps(g *release.Graph, steps []strip.Step, means Means) (*Problem, error) {
	m, err := newStepMapping(g, steps)
	if err != nil {
		return nil, err
	}
	if err := m.fromGraph(); err != nil {
		return nil, err
	}
	m.fromProps()
	m.fromGuards()
	m.fromServices()
	m.fromSettingUp(means.filled().Towers)
	p := &Problem{Activities: make([]Activity, len(steps))}
	for i := range steps {
		p.Activities[i] = Activity{Code: "step " + strconv.Itoa(steps[i].Number), Minutes: steps[i].DurationMinutes, Whole: steps[i].InOneGo()}
	}
	slices.SortFunc(m.links, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) })
	for _, l := range slices.Compact(m.links) {
		p.Activities[l[1]].After = append(p.Activities[l[1]].After, int(l[0]))
	}
	p.staff(steps, means)
	return p, p.Check()
}

// Equipment is a sort of access equipment as a resource: towers, else steps.
func Equipment(a strip.Access, means Means) Resource {
	means = means.filled()
	if a == strip.FromTower {
		return Resource{Code: Towers, Name: "mobile towers", Capacity: means.Towers}
	}
	return Resource{Code: StepLadder, Name: "steps or low platforms", Capacity: means.Steps}
}

// staff adds the resources that the steps need, and what each step needs of them.
func (p *Problem) staff(steps []strip.Step, means Means) {
	means = means.filled()
	resource := func(code, name string, capacity int) int {
		if i := slices.IndexFunc(p.Resources, func(r Resource) bool { return r.Code == code }); i >= 0 {
			return i
		}
		p.Resources = append(p.Resources, Resource{Code: code, Name: name, Capacity: capacity})
		return len(p.Resources) - 1
	}
	for i := range steps {
		s, a := &steps[i], &p.Activities[i]
		a.Needs = append(a.Needs, Need{resource(People, "people on the crew", means.People), s.People})
		if s.Access == strip.FromTower || s.Access == strip.FromSteps {
			r := Equipment(s.Access, means)
			a.Needs = append(a.Needs, Need{resource(r.Code, r.Name, r.Capacity), 1})
		}
		if k := means.room(s.Zone); k >= 0 {
			a.Needs = append(a.Needs, Need{resource(Zone+s.Zone, "room for people in "+s.Zone, means.Zones[k].People), s.People})
		}
	}
}

// stepMapping finds which step waits for which.
type stepMapping struct {
	graph    *release.Graph
	steps    []strip.Step
	stepOf   []int32   // per node, -1 for what no step names
	propped  []int32   // per node: the step that props it, -1
	arcsTo   [][]int32 // per node: nodes before it
	elements map[string]int32
	links    [][2]int32 // before, after
}

func newStepMapping(g *release.Graph, steps []strip.Step) (*stepMapping, error) {
	n := len(g.Nodes)
	m := &stepMapping{graph: g, steps: steps, stepOf: make([]int32, n), propped: make([]int32, n), arcsTo: make([][]int32, n), elements: map[string]int32{}}
	for i := range n {
		m.stepOf[i], m.propped[i] = -1, -1
	}
	for i := range g.Register.Elements {
		m.elements[g.Register.Elements[i].Code] = int32(i)
	}
	fixings := map[string]int32{}
	for i := range g.Register.Fixings {
		fixings[g.Register.Fixings[i].Code] = int32(i)
	}
	for k := range steps {
		s := &steps[k]
		for _, code := range s.Elements {
			element, known := m.elements[code]
			if !known {
				return nil, fmt.Errorf("step %d names %q, which is not in the register", s.Number, code)
			}
			m.place(s, int32(k), element)
		}
		for _, w := range s.Fixings {
			for _, code := range w.Codes {
				if f, known := fixings[code]; known && g.UndoOf[f] >= 0 {
					m.stepOf[g.UndoOf[f]] = int32(k)
				}
			}
		}
	}
	return m, nil
}

// place notes which node an element of a step stands for.
func (m *stepMapping) place(s *strip.Step, step, element int32) {
	nodes, of := m.stepOf, m.graph.PieceOf
	switch s.Kind {
	case strip.MakeDead:
		of = m.graph.DeadOf
	case strip.Prop:
		nodes = m.propped
	case strip.StrikeProp:
		if node := of[element]; node >= 0 && m.stepOf[node] >= 0 && m.propped[node] >= 0 {
			m.link(m.stepOf[node], step)
			m.link(m.propped[node], step)
		}
		return
	}
	if node := of[element]; node >= 0 {
		nodes[node] = step
	}
}

func (m *stepMapping) link(before, after int32) {
	if before != after {
		m.links = append(m.links, [2]int32{before, after})
	}
}

// fromGraph links steps along arcs and along the way that each gate was opened by.
func (m *stepMapping) fromGraph() error {
	for _, a := range m.graph.Arcs {
		m.arcsTo[a.After] = append(m.arcsTo[a.After], a.Before)
	}
	for i := range m.graph.Gates {
		g := &m.graph.Gates[i]
		m.arcsTo[g.After] = append(m.arcsTo[g.After], m.wayUsed(g)...)
	}
	for node, befores := range m.arcsTo {
		after := m.stepOf[node]
		if after < 0 {
			continue
		}
		for _, b := range befores {
			for _, before := range m.stepsOf(b, after) {
				if before > after {
					return fmt.Errorf("step %d must come before step %d (%s before %s), and the sequence has them the other way round",
						m.steps[before].Number, m.steps[after].Number, m.graph.Nodes[b].Code, m.graph.Nodes[node].Code)
				}
				m.link(before, after)
			}
		}
	}
	return nil
}

// wayUsed is the way of a gate whose last node happens first in the sequence.
func (m *stepMapping) wayUsed(g *release.Gate) []int32 {
	best, soonest := 0, int32(len(m.steps))
	for k, way := range g.Ways {
		last := int32(-1)
		for _, n := range way.Nodes {
			for _, s := range m.stepsOf(n, int32(len(m.steps))) {
				last = max(last, s)
			}
		}
		if last < soonest {
			best, soonest = k, last
		}
	}
	return g.Ways[best].Nodes
}

// stepsOf is the step of a node. A fixing that no step names, or one that is undone ahead of the piece that it holds,
// stands for what comes before it.
func (m *stepMapping) stepsOf(node, after int32) []int32 {
	if s := m.stepOf[node]; s >= 0 && (s <= after || m.graph.Nodes[node].Kind != release.Undo) {
		return []int32{s}
	}
	if m.graph.Nodes[node].Kind != release.Undo {
		return nil
	}
	var out []int32
	for _, b := range m.arcsTo[node] {
		out = append(out, m.stepsOf(b, after)...)
	}
	return out
}
