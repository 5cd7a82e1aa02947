package strip

import (
	"cmp"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/salvage"
)

// Plan orders everything in the graph into steps. The graph must be free of cycles (release.Graph.Check); a node
// that never comes free is an error. It grows as n log n with the pieces.
func Plan(g *release.Graph, inv salvage.Inventory) (Sequence, error) {
	p := newPlanner(g, inv)
	p.search()
	return p.plan()
}

func (p *planner) plan() (Sequence, error) {
	p.writer = newWriter(p)
	defer p.writer.close()
	p.makeDead()
	p.propUnheld()
	front := release.NewFront(p.graph, p.add)
	for {
		next, ok := p.next()
		if !ok {
			break
		}
		p.take(next)
		p.say()
		front.Done(next, p.add)
	}
	p.closeStep()
	p.strikeLast()
	p.steps = p.writer.close()
	if p.runs.left > 0 {
		return Sequence{}, domain.Errorf(domain.Cycle, "%d pieces never come free: the register has a cycle", p.runs.left)
	}
	return p.finish(), nil
}

// tellEvery is after how many pieces somebody who waits is told how far it is.
const tellEvery = 256

func (p *planner) say() {
	if all := p.graph.Pieces(); p.tell != nil && (all-p.runs.left)%tellEvery == 0 {
		p.tell(all-p.runs.left, all)
	}
}

// planner holds the walk's state: the step being filled, and what has left.
type planner struct {
	graph    *release.Graph
	tell     func(placed, of int)
	keep     *keeping       // nil where no order was given out yet
	part     *Chosen        // nil where everything comes out
	served   []release.Arc  // what serves a piece that stays, of a part
	loosened map[int32]bool // fixings undone ahead of the piece that they hold
	r        *domain.Register
	pieces   []*salvage.Piece // by element, nil for what does not come out
	runs     *runs
	writer   *writer
	steps    []Step  // once all are written
	open     []int32 // nodes of the step being filled
	openRun  *run    // the run they belong to, nil when the step is empty
	props    props
	edges    edges
	rates    *rates
	places   places
	unheld   []Unheld  // what has lost what held it
	loose    []string  // likewise, light enough to be taken down in the hand
	levels   []float64 // by node: the level that the crew stands on
	least    int       // changeovers, weighed: no order has fewer
	proven   bool      // the order has no more than any
	order    []int32   // the nodes in some order that the arcs allow, made when a bound asks
}

func newPlanner(g *release.Graph, inv salvage.Inventory) *planner {
	p := &planner{graph: g, r: g.Register, pieces: make([]*salvage.Piece, len(g.Register.Elements)), levels: make([]float64, len(g.Nodes)), rates: newRates(g.Register.Catalogue)}
	for i := range inv.Pieces {
		if e := domain.Place(g.Links.Elements, inv.Pieces[i].Code); e >= 0 {
			p.pieces[e] = &inv.Pieces[i]
		}
	}
	p.places = newPlaces(g)
	p.props, p.edges = newProps(g), newEdges(g)
	p.runs = newRuns(g, p.keyOf)
	return p
}

// take adds a piece to the open step, or starts another one where it does not belong to the same run or needs
// props first.
func (p *planner) take(n int32) {
	need := p.props.before(n)
	if len(need) > 0 || !p.joins(n) {
		p.closeStep()
	}
	if len(need) > 0 {
		p.propStep(need, n)
	}
	p.loosen(n)
	p.openRun = p.runs.runs[p.runs.runOf[n]]
	p.open = append(p.open, n)
	p.props.left(n)
	p.edges.left(n)
}

// closeStep writes the open step, and strikes the props of what has just left.
func (p *planner) closeStep() {
	if len(p.open) > 0 {
		p.writer.put(p.closed())
		p.open = p.open[:0]
	}
	p.openRun = nil
	if struck := p.props.toStrike(); len(struck) > 0 {
		p.strikeStep(struck)
	}
}

func (p *planner) strikeLast() {
	if struck := p.props.toStrike(); len(struck) > 0 {
		p.strikeStep(struck)
	}
}

func (p *planner) finish() Sequence {
	p.number()
	s := Sequence{Steps: p.steps, Changeovers: p.changeovers(), Alternatives: p.graph.Alternatives, Unheld: p.unheld, Loose: p.loose, Changes: p.changes()}
	p.settingUp(s.Steps)
	for i := range s.Steps {
		s.PersonMinutes += s.Steps[i].PersonMinutes
	}
	for _, f := range p.graph.Unreachable {
		s.Unreachable = append(s.Unreachable, p.r.Fixings[f].Code)
	}
	p.firstHolds(s.Steps)
	p.shortages(s.Steps)
	return s
}

func differs[T comparable](a, b T) int {
	if a == b {
		return 0
	}
	return 1
}

// lastBuiltFirst orders what may come out next: built last first, then by code.
func lastBuiltFirst(a, b *release.Node) int {
	if c := cmp.Compare(b.Built, a.Built); c != 0 {
		return c
	}
	return cmp.Compare(a.Code, b.Code)
}
