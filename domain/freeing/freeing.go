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
