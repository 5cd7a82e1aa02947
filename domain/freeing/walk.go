package freeing

// keeper says which of the pieces that steady another stays until that is gone.
type keeper struct{ steadying, by int32 }

// walker finds an order in which a set of nodes can happen, if there is one.
type walker struct {
	*network
	waits   []int32 // by node
	done    []bool
	left    []int32 // by steadying: steadiers not yet gone
	open    []bool  // by gate
	next    [][]int32
	inWays  [][]wayOf
	wayLeft [][]int32 // by gate and way
	kept    []int32   // by steadying: the keeper, -1
	order   []int32
	ready   []int32
	waiting []int32 // may leave, but would leave something unsteady
	work    int
}

type wayOf struct{ gate, way int32 }

func newWalker(n *network) *walker {
	w := &walker{network: n, waits: make([]int32, len(n.cost)), done: make([]bool, len(n.cost)), left: make([]int32, len(n.steady)),
		open: make([]bool, len(n.gates)), next: make([][]int32, len(n.cost)), inWays: make([][]wayOf, len(n.cost)),
		wayLeft: make([][]int32, len(n.gates)), kept: make([]int32, len(n.steady))}
	for m := range n.cost {
		for _, b := range n.before[m] {
			w.next[b] = append(w.next[b], int32(m))
		}
		for _, b := range n.soft[m] {
			w.next[b] = append(w.next[b], int32(m))
		}
	}
	for g := range n.gates {
		w.wayLeft[g] = make([]int32, len(n.gates[g].ways))
		for k, way := range n.gates[g].ways {
			for _, m := range way {
				w.inWays[m] = append(w.inWays[m], wayOf{int32(g), int32(k)})
			}
		}
	}
	return w
}

// walk reports whether all of a set can happen, one after the other; w.order is then the order, and w.done says what
// could happen where not all can. Where no keeper is chosen it lets steadiers go as late as it can, which may miss an
// order that a choice of keepers would find; it never finds one that there is not.
func (w *walker) walk(in set, keepers []keeper) bool {
	w.start(in, keepers)
	total := 0
	for m := range w.cost {
		if !in.has(int32(m)) {
			continue
		}
		total++
		if w.waits[m] == 0 {
			w.ready = append(w.ready, int32(m))
		}
	}
	for {
		for len(w.ready) > 0 {
			m := w.ready[len(w.ready)-1]
			w.ready = w.ready[:len(w.ready)-1]
			if w.steadiesOne(in, m) {
				w.waiting = append(w.waiting, m)
			} else {
				w.happen(in, m)
			}
		}
		if !w.letGo(in) {
			break
		}
	}
	return len(w.order) == total
}

func (w *walker) start(in set, keepers []keeper) {
	w.order, w.ready, w.waiting = w.order[:0], w.ready[:0], w.waiting[:0]
	for s := range w.steady {
		w.left[s], w.kept[s] = int32(len(w.steady[s].by)), -1
	}
	for _, k := range keepers {
		w.kept[k.steadying] = k.by
	}
	for m := range w.cost {
		w.done[m], w.waits[m] = false, 0
		if !in.has(int32(m)) {
			continue
		}
		w.work += 1 + len(w.before[m])
		w.waits[m] = int32(len(w.before[m]) + len(w.after[m]))
		for _, b := range w.soft[m] {
			if in.has(b) {
				w.waits[m]++
			}
		}
		for _, g := range w.after[m] {
			w.open[g] = false
			for k, way := range w.gates[g].ways {
				if w.wayLeft[g][k] = int32(len(way)); len(way) == 0 && !w.open[g] {
					w.open[g] = true
					w.waits[m]--
				}
			}
		}
	}
}

// steadiesOne reports whether a node may not leave yet, since what it steadies is neither gone nor propped: it is the
// last that does, or the one chosen to stay, or nobody has chosen yet and another may do as well.
func (w *walker) steadiesOne(in set, m int32) bool {
	for _, s := range w.held[m] {
		if w.mustHold(in, s, m) {
			return true
		}
	}
	return false
}

func (w *walker) mustHold(in set, s, m int32) bool {
	x := &w.steady[s]
	if w.done[x.piece] || in.has(x.prop) {
		return false
	}
	return w.kept[s] < 0 || w.kept[s] == m
}

// letGo lets one go that others still do the work of; false where none may.
func (w *walker) letGo(in set) bool {
	for i, m := range w.waiting {
		may := true
		for _, s := range w.held[m] {
			if w.mustHold(in, s, m) && (w.kept[s] == m || w.left[s] == 1) {
				may = false
			}
		}
		if may {
			w.waiting = append(w.waiting[:i], w.waiting[i+1:]...)
			w.happen(in, m)
			return true
		}
	}
	return false
}

func (w *walker) happen(in set, m int32) {
	w.done[m] = true
	w.order = append(w.order, m)
	for _, s := range w.held[m] {
		w.left[s]--
	}
	for _, next := range w.next[m] {
		if in.has(next) {
			w.less(next)
		}
	}
	for _, x := range w.inWays[m] {
		after := w.gates[x.gate].after
		if !in.has(after) {
			continue
		}
		if w.wayLeft[x.gate][x.way]--; w.wayLeft[x.gate][x.way] == 0 && !w.open[x.gate] {
			w.open[x.gate] = true
			w.less(after)
		}
	}
	w.work += 1 + len(w.next[m]) + len(w.inWays[m])
	// What it was steadied by may now leave.
	still := w.waiting[:0]
	for _, s := range w.waiting {
		if w.steadiesOne(in, s) {
			still = append(still, s)
		} else {
			w.ready = append(w.ready, s)
		}
	}
	w.waiting = still
}

func (w *walker) less(m int32) {
	if w.waits[m]--; w.waits[m] == 0 {
		w.ready = append(w.ready, m)
	}
}
