package freeing

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/space"
	"unpick/domain/strip"
)

// Ground is a register made ready for any number of questions. One question at a time.
type Ground struct {
	graph   *release.Graph
	site    *replay.Site
	stock   salvage.Inventory
	above   func(n int32) []int32 // what a piece carries, by however many steps
	light   func(n int32) bool    // a batten stays it, where it carries no floor
	near    *space.Index          // everything in place, the landlord's too
	placeOf []int32               // box in near -> element
	walls   *space.Index          // the host surfaces, as thin slabs behind their faces
}

// Answer is the least that must come out, in order, and what is put back after.
type Answer struct {
	Words         string       `json:"words"`
	Wanted        []string     `json:"wanted" jsonschema_description:"the pieces that were asked for; none where something is laid bare"`
	Out           []string     `json:"out" jsonschema_description:"every piece that comes out, in order, the wanted ones too"`
	Propped       []string     `json:"propped" jsonschema_description:"pieces that stay, on props"`
	Steps         []strip.Step `json:"steps"`
	People        int          `json:"people" jsonschema_description:"most people that a step asks for"`
	PersonMinutes int          `json:"person_minutes" jsonschema_description:"to take out"`
	Back          []Back       `json:"put_back"`
	BackMinutes   int          `json:"put_back_person_minutes"`
	NewFixings    []Again      `json:"fixings_again" jsonschema_description:"what the putting back needs, by type"`
	NewPieces     []string     `json:"new_pieces" jsonschema_description:"pieces that will not be fit to go back, or only shorter"`
	StaysOut      []string     `json:"stays_out" jsonschema_description:"pieces that came out too and go back only once something stands in the place of what was wanted: nothing would carry them, or too little"`
	StaysPropped  []string     `json:"stays_propped" jsonschema_description:"of the pieces on props those whose props stay until something stands in the place of what was wanted"`
	Meanwhile     []string     `json:"meanwhile" jsonschema_description:"what to mind until something stands in the place of what was wanted"`
	Exact         bool         `json:"least_possible" jsonschema_description:"no other choice costs fewer minutes of taking out and putting back, the setting up of equipment not counted"`
	AboveMinutes  int          `json:"at_most_minutes_above_the_least"`
	Falls         []string     `json:"falls" jsonschema_description:"what would lose its hold if the wanted pieces were simply taken"`
	OnOneEnd      []string     `json:"on_one_end" jsonschema_description:"what would hang on one end if the wanted pieces were simply taken"`
	Topples       []string     `json:"topples" jsonschema_description:"what would stand on its foot then with nothing to keep it from falling over"`
	LetsGo        string       `json:"lets_go,omitempty" jsonschema_description:"for a fixing: what undoing it would let go of"`
}

// New reads a register that passes domain.Check. A cycle in it is refused with code Cycle.
func New(r *domain.Register) (*Ground, error) {
	links := r.Link()
	g := &Ground{graph: release.BuildLinked(links), site: replay.Read(links), stock: salvage.Take(r)}
	if err := g.graph.Check(); err != nil {
		return nil, err
	}
	g.above = carriedUp(g.graph)
	g.light = strip.Light(g.graph, g.stock)
	boxes := make([]domain.Box, 0, len(r.Elements))
	for i := range r.Elements {
		if !r.Elements[i].IsInPlace() {
			continue
		}
		box := r.Elements[i].Box()
		boxes, g.placeOf = append(boxes, box), append(g.placeOf, int32(i))
	}
	g.near = space.New(boxes)
	slabs := make([]domain.Box, len(r.Hosts))
	for i := range r.Hosts {
		h := &r.Hosts[i]
		slabs[i] = domain.NewBox(h.Plane(), h.UMm, h.VMm, slabMm)
		slabs[i].Centre = slabs[i].Centre.Sub(slabs[i].Axes[2].Scale(slabMm))
	}
	g.walls = space.New(slabs)
	return g, nil
}

// slabMm is how thick a host surface is taken to be where only its face is known.
const slabMm = 40

// UsualWork is work enough for what a fit-out of some thousand pieces mostly asks, in a fraction of a second.
const UsualWork = 3_000_000

// Free finds the least that frees a target within about so much work: the same target and work always give the same
// answer. What cannot be freed is refused with the reason. An answer replays clean, or there is none.
func (g *Ground) Free(t Target, work int) (Answer, error) {
	goal, err := g.goalOf(t)
	if err != nil {
		return Answer{}, err
	}
	least, needed := int64(0), true // needed: nothing was heard but what any way to free it has to keep
	var heard []gate
	firm := map[int32]bool{} // what is not let go of
	for round := 0; ; round++ {
		c, err := g.choose(goal, work, heard, round == mostRounds, firm)
		if err != nil {
			return Answer{}, err
		}
		if over, inAnyCase := c.tooLoose(); len(over) > 0 {
			for _, n := range over {
				firm[n] = true
			}
			if needed {
				least = max(least, c.least)
			}
			needed = needed && inAnyCase
			round--
			continue
		}
		if needed && round < mostRounds {
			least = max(least, c.least)
		}
		c.least = least
		steps, faults, err := g.steps(goal, c)
		if err != nil {
			return Answer{}, err
		}
		if len(faults) == 0 {
			return g.answer(goal, c, steps), nil
		}
		if round == mostRounds {
			return Answer{}, unclean(faults)
		}
		heard = append(heard, g.hear(faults)...)
		needed = needed && !slices.ContainsFunc(faults, func(f replay.Fault) bool { return len(f.Ways) == 0 })
	}
}

// mostRounds is how often the second opinion is heard, before every fact of the graph is kept and nothing is propped.
const mostRounds = 4

// hear takes the second opinion at its word: what it names as in the way of a thing happens before that, or one of the
// ways that it names. The two measure with different code, and may differ about a bit that grazes an edge; and what is let go
// onto props may be hidden by what would have been out, had it left.
func (g *Ground) hear(faults []replay.Fault) []gate {
	var out []gate
	for _, f := range faults {
		after := g.nodeOf(f.Code)
		if after < 0 {
			continue
		}
		if len(f.Ways) == 0 {
			for _, code := range f.Evidence {
				if n := g.pieceOf(code); n >= 0 && n != after {
					out = append(out, gate{after, [][]int32{{n}}})
				}
			}
			continue
		}
		x := gate{after: after}
		for _, codes := range f.Ways {
			way := make([]int32, len(codes))
			for i, code := range codes {
				way[i] = g.pieceOf(code)
			}
			if !slices.Contains(way, -1) { // -1 never comes out
				x.ways = append(x.ways, way)
			}
		}
		if len(x.ways) > 0 {
			out = append(out, x)
		}
	}
	return out
}

// pieceOf is the node of a piece that may come out, -1 for none.
func (g *Ground) pieceOf(code string) int32 {
	if e := domain.Place(g.graph.Links.Elements, code); e >= 0 {
		return g.graph.PieceOf[e]
	}
	return -1
}

// nodeOf is the node of a piece or of a fixing, -1 for none.
func (g *Ground) nodeOf(code string) int32 {
	if n := g.pieceOf(code); n >= 0 {
		return n
	}
	if f := domain.Place(g.graph.Links.Fixings, code); f >= 0 {
		return g.graph.UndoOf[f]
	}
	return -1
}

// chosen is a solution in the terms of the graph.
type chosen struct {
	*facts
	part        strip.Chosen
	cost, least int64
}

// asked is the choice that a goal leaves, with what was heard on top, cut down to what is of use, and which node each
// was.
func (f *facts) asked(goal goal, heard []gate) (*network, []int32) {
	for _, x := range heard {
		f.waits(x.after, x.ways)
	}
	top := f.add(0)
	f.before[top] = append(f.before[top], goal.wanted...)
	if goal.bare >= 0 {
		for _, a := range f.graph.Arcs { // what the boxes say of its heads is among the ways, in full
			if read := a.Reason == release.Hidden && a.Relation < 0; a.After == goal.bare && !read {
				f.before[top] = append(f.before[top], a.Before)
			}
		}
		for _, x := range heard {
			if x.after == goal.bare {
				f.waits(top, x.ways)
			}
		}
	}
	for _, ways := range goal.ways {
		f.gate(top, ways...)
	}
	f.wanted = []int32{top}
	return f.concerning()
}

// choose solves what a goal asks. strict takes every fact of the graph as one that always holds, and no props in the
// stead of any.
func (g *Ground) choose(goal goal, work int, heard []gate, strict bool, firm map[int32]bool) (*chosen, error) {
	f := readFacts(g, goal.wanted, strict, firm)
	small, was := f.asked(goal, heard)
	s, ok := solve(small, work)
	if !ok {
		return nil, domain.Errorf(domain.Refused, "nothing that may come out frees it: what it waits for waits for it")
	}
	order := make([]int32, len(s.order))
	for i, m := range s.order {
		order[i] = was[m]
	}
	c := f.chosen(order, s)
	c.keep(heard, order)
	return c, nil
}

// keep has the steps follow what was heard, by the way that the order took.
func (c *chosen) keep(heard []gate, order []int32) {
	for _, x := range heard {
		at := slices.Index(order, x.after)
		if at < 0 {
			continue
		}
		for _, way := range x.ways {
			if slices.ContainsFunc(way, func(n int32) bool { return !slices.Contains(order[:at], n) }) {
				continue
			}
			for _, n := range way {
				c.part.Before = append(c.part.Before, [2]int32{n, x.after})
			}
			break
		}
	}
}

// isBare reports whether a piece is the cap of a wall and carries no more than its linings.
func isBare(g *release.Graph, n int32, above func(int32) []int32) bool {
	kind := func(n int32) domain.ElementKind { return g.Register.Elements[g.Elements(n)[0]].Kind }
	return kind(n) == domain.CapPlate && !slices.ContainsFunc(above(n), func(up int32) bool {
		switch kind(up) {
		case domain.Board, domain.Trim, domain.Skirting, domain.Architrave, domain.Seal, domain.Insulation, domain.Cable:
			return false
		}
		return true
	})
}

// chosen reads what happens, and in whose stead props stand, from an order of nodes.
func (f *facts) chosen(order []int32, s solution) *chosen {
	g := f.graph
	at := make([]int, len(f.cost))
	for i := range at {
		at[i] = -1
	}
	c := &chosen{facts: f, cost: s.cost, least: s.least, part: strip.Chosen{Happens: make([]bool, len(g.Nodes)), Loose: map[int32][]int32{}, Bare: map[int32]bool{}}}
	for i, n := range order {
		at[n] = i
		if int(n) < len(g.Nodes) {
			c.part.Happens[n] = true
		}
	}
	letOfCap := map[int32][]int32{}
	for _, x := range f.onProps {
		if at[x.by] < 0 || at[x.piece] >= 0 && at[x.piece] < at[x.by] {
			continue
		}
		c.part.Props = append(c.part.Props, release.Brace{By: x.by, Floor: x.piece})
		for _, n := range f.heldTo(x.piece, x.by) {
			c.part.Loose[x.by] = append(c.part.Loose[x.by], g.Nodes[n].Item)
			c.part.Before = append(c.part.Before, [2]int32{n, x.by}) // once its head is clear
		}
		letOfCap[x.piece] = append(letOfCap[x.piece], f.heldTo(x.piece, x.by)...)
		c.part.Bare[x.piece] = isBare(g, x.piece, f.above) && f.moreThanHalf(x.piece, letOfCap[x.piece]) // a batten does while studs hold it too
		for _, up := range f.above(x.piece) {                                                            // nobody works on a deck whose joists were let go onto props
			if c.part.Happens[up] {
				c.part.Wished = append(c.part.Wished, [2]int32{up, x.by})
			}
		}
	}
	for _, x := range f.letGo {
		if at[x.by] < 0 || at[x.piece] >= 0 && at[x.piece] < at[x.by] {
			continue
		}
		c.part.LetGo = append(c.part.LetGo, release.Brace{By: x.by, Floor: x.piece})
		for _, n := range f.heldTo(x.piece, x.by) {
			c.part.Loose[x.by] = append(c.part.Loose[x.by], g.Nodes[n].Item)
			c.part.Before = append(c.part.Before, [2]int32{n, x.by})
		}
	}
	for i := range f.steady {
		x := &f.steady[i]
		last := int32(-1)
		for _, by := range x.by {
			if at[by] < 0 {
				last = -1
				break
			}
			if last < 0 || at[by] > at[last] {
				last = by
			}
		}
		if last >= 0 && at[x.piece] >= 0 && at[x.piece] < at[last] {
			c.part.Before = append(c.part.Before, [2]int32{x.piece, last})
		}
	}
	return c
}

// tooLoose are the linings that one thing after another would be let go of, down to half of their fixings or less, and those that
// come out themselves, later: they come off first, as in the strip-out. inAnyCase says that what leaves in any case does that.
func (c *chosen) tooLoose() (over []int32, inAnyCase bool) {
	let, always := map[int32][]int32{}, map[int32][]int32{}
	leaves := c.leavesInAnyCase()
	for _, x := range c.part.LetGo {
		fixings := c.heldTo(x.Floor, x.By)
		let[x.Floor] = append(let[x.Floor], fixings...)
		if leaves[x.By] {
			always[x.Floor] = append(always[x.Floor], fixings...)
		}
	}
	inAnyCase = true
	for n, fixings := range let {
		switch {
		case c.part.Happens[n]:
			over = append(over, n)
			inAnyCase = inAnyCase && leaves[n]
		case !c.keeps(n, fixings):
			over = append(over, n)
			inAnyCase = inAnyCase && len(always[n]) > 0 && !c.keeps(n, always[n])
		}
	}
	return over, inAnyCase
}

// leavesInAnyCase is what is wanted, and what plain facts have before it.
func (c *chosen) leavesInAnyCase() map[int32]bool {
	out, todo := map[int32]bool{}, c.wanted
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		if todo = todo[:len(todo)-1]; !out[n] {
			out[n] = true
			todo = append(todo, c.before[n]...)
		}
	}
	return out
}
