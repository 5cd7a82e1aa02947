package release

import (
	"cmp"
	"slices"
)

// prefer adds the facts that keep the crew safe without temporary works: a guard leaves after the board it guards, a
// brace after what is braced, a head after the studs that it steadies. Such a fact gives way where the others leave no
// order that keeps it (the cover of a hole is screwed through the boards round it): the sequence then has a hold, or
// props, in its stead.
func (b *builder) prefer() {
	b.readGuards()
	b.readBraces()
	wanted := b.wanted()
	if len(wanted) == 0 {
		return
	}
	wanted = b.possible(wanted)
	b.Arcs = append(b.Arcs, b.keep(wanted)...)
}

// wanted are the facts that are to be kept where they can be, each once.
func (b *builder) wanted() []Arc {
	var out []Arc
	for _, g := range b.Guards {
		out = append(out, Arc{g.Board, g.By, Served, -1, -1})
	}
	for _, br := range b.Braces {
		out = append(out, Arc{br.Floor, br.By, Braced, -1, -1})
	}
	for _, s := range b.Steadyings {
		out = append(out, Arc{s.Steadied, s.By, Steadied, -1, s.Relation})
	}
	return out
}

// possible drops what contradicts a fact that always holds: After comes before Before in any case.
func (b *builder) possible(wanted []Arc) []Arc {
	slices.SortStableFunc(wanted, func(x, y Arc) int { return cmp.Compare(x.Before, y.Before) })
	first, arcs := b.Predecessors()
	mark, turn, from := make([]int32, len(b.Nodes)), int32(0), int32(-1)
	var queue []int32
	return slices.DeleteFunc(wanted, func(a Arc) bool {
		if a.Before != from {
			from = a.Before
			turn++
			mark[from] = turn
			queue = append(queue[:0], from)
			for len(queue) > 0 {
				n := queue[len(queue)-1]
				queue = queue[:len(queue)-1]
				for _, i := range arcs[first[n]:first[n+1]] {
					if m := b.Arcs[i].Before; mark[m] != turn {
						mark[m] = turn
						queue = append(queue, m)
					}
				}
			}
		}
		return mark[a.After] == turn
	})
}

// keep walks the graph to its end as if all wanted facts held, and lets go of those that stop it. What it keeps has an
// order: the one walked. Where several could be let go, those of the piece that waits for the fewest are, then of the
// one built last.
func (b *builder) keep(wanted []Arc) []Arc {
	w := &wish{graph: b.Graph, arcs: wanted, waits: make([]int32, len(b.Nodes)), let: make([]bool, len(wanted)), done: make([]bool, len(b.Nodes)), isParked: make([]bool, len(b.Nodes))}
	w.after = gather(len(b.Nodes), len(wanted), func(i int) int32 { return wanted[i].Before })
	w.before = gather(len(b.Nodes), len(wanted), func(i int) int32 { return wanted[i].After })
	for _, a := range wanted {
		w.waits[a.After]++
	}
	front := NewFront(b.Graph, w.ready)
	for {
		for len(w.now) > 0 {
			n := w.now[len(w.now)-1]
			w.now = w.now[:len(w.now)-1]
			w.leave(n)
			front.Done(n, w.ready)
		}
		if !w.letGo() {
			break
		}
	}
	var kept []Arc
	for i, a := range wanted {
		if !w.let[i] {
			kept = append(kept, a)
		}
	}
	return kept
}

// wish is the walk of keep: pieces that only a wanted fact holds back stand parked.
type wish struct {
	graph         *Graph
	arcs          []Arc
	after, before lists // wanted facts by Before, by After
	waits         []int32
	let, done     []bool
	isParked      []bool
	now, parked   []int32 // parked may still list what has gone on since
}

func (w *wish) ready(n int32) {
	if w.waits[n] > 0 {
		w.parked, w.isParked[n] = append(w.parked, n), true
		return
	}
	w.now = append(w.now, n)
}

func (w *wish) leave(n int32) {
	w.done[n] = true
	for _, i := range w.after.of(n) {
		if w.let[i] {
			continue
		}
		m := w.arcs[i].After
		if w.waits[m]--; w.waits[m] == 0 {
			w.unpark(m)
		}
	}
}

func (w *wish) unpark(n int32) {
	if w.isParked[n] {
		w.isParked[n] = false
		w.now = append(w.now, n)
	}
}

// letGo gives up what one parked piece still waits for; false where none is parked.
func (w *wish) letGo() bool {
	w.parked = slices.DeleteFunc(w.parked, func(n int32) bool { return !w.isParked[n] })
	if len(w.parked) == 0 {
		return false
	}
	n := slices.MinFunc(w.parked, func(x, y int32) int {
		a, c := &w.graph.Nodes[x], &w.graph.Nodes[y]
		return cmp.Or(cmp.Compare(w.waits[x], w.waits[y]), cmp.Compare(c.Built, a.Built), cmp.Compare(a.Code, c.Code))
	})
	for _, i := range w.before.of(n) {
		w.let[i] = w.let[i] || !w.done[w.arcs[i].Before]
	}
	w.waits[n] = 0
	w.unpark(n)
	return true
}
