package release

import "slices"

// walk reports whether all of a knot can happen, one after the other, as its wishes stand; order is then the order, and
// done says what could happen where not all can. Of several that steady one piece it lets go as late as it can, which may
// miss an order that a choice among them would find; it never finds one that there is not.
func (k *knot) walk(stands []int32) bool {
	k.start(stands)
	for {
		for len(k.ready) > 0 {
			m := k.ready[len(k.ready)-1]
			k.ready = k.ready[:len(k.ready)-1]
			if k.steadiesOne(stands, m) {
				k.lastAt[m] = int32(len(k.lastOnes))
				k.lastOnes = append(k.lastOnes, m)
			} else {
				k.happen(stands, m)
			}
		}
		if !k.letGo(stands) {
			break
		}
	}
	return len(k.order) == len(k.before)
}

func (k *knot) start(stands []int32) {
	k.order, k.ready, k.lastOnes, k.asked = k.order[:0], k.ready[:0], k.lastOnes[:0], 0
	for i := range k.wishes {
		k.oneLeft[i] = int32(len(k.wishes[i].one))
	}
	for g := range k.gates {
		k.open[g] = false
		for i, w := range k.gates[g].ways {
			k.wayLeft[g][i] = int32(len(w))
		}
	}
	for m := range k.before {
		k.done[m], k.lastAt[m] = false, -1
		k.waits[m] = int32(len(k.before[m]) + len(k.after[m]))
		for _, i := range k.asks[m] {
			if k.wishes[i].holdsBack(stands[i], int32(m)) {
				k.waits[m]++
			}
		}
		k.work += 1 + len(k.before[m])
	}
	for m := len(k.before) - 1; m >= 0; m-- {
		if k.waits[m] == 0 {
			k.ready = append(k.ready, int32(m))
		}
	}
}

// holdsBack reports whether a wish, as it stands, has a node wait for its target whatever else goes.
func (w *wish) holdsBack(stands, m int32) bool {
	if stands == gives {
		return false
	}
	return stands == m || contains(w.all, m)
}

// steadiesOne reports whether a node is one of several that steady what is still there, and nobody has chosen which of
// them stays.
func (k *knot) steadiesOne(stands []int32, m int32) bool {
	for _, i := range k.asks[m] {
		if k.undecided(stands[i], i, m) {
			return true
		}
	}
	return false
}

func (k *knot) undecided(stands, i, m int32) bool {
	w := &k.wishes[i]
	return (stands == free || stands == kept) && !k.done[w.target] && contains(w.one, m)
}

// letGo lets the first one go that others still do the work of; false where none may. One that may not go once may not until
// the target of one of its wishes is gone: so only those not asked since are.
func (k *knot) letGo(stands []int32) bool {
	for k.asked < len(k.lastOnes) {
		m := k.lastOnes[k.asked]
		k.asked++
		if m >= 0 && k.mayGo(stands, m) {
			k.lastOnes[k.lastAt[m]], k.lastAt[m] = -1, -1
			k.happen(stands, m)
			return true
		}
	}
	return false
}

func (k *knot) mayGo(stands []int32, m int32) bool {
	for _, i := range k.asks[m] {
		if k.undecided(stands[i], i, m) && k.oneLeft[i] == 1 {
			return false
		}
	}
	return true
}

func (k *knot) happen(stands []int32, m int32) {
	k.done[m] = true
	k.order = append(k.order, m)
	k.work += 1 + len(k.next[m]) + len(k.inWays[m])
	for _, n := range k.next[m] {
		k.less(n)
	}
	for _, x := range k.inWays[m] {
		if k.wayLeft[x[0]][x[1]]--; k.wayLeft[x[0]][x[1]] == 0 && !k.open[x[0]] {
			k.open[x[0]] = true
			k.less(k.gates[x[0]].after)
		}
	}
	for _, i := range k.asks[m] {
		if contains(k.wishes[i].one, m) {
			k.oneLeft[i]--
		}
	}
	if len(k.aims[m]) == 0 {
		return
	}
	for _, i := range k.aims[m] {
		w := &k.wishes[i]
		for _, by := range w.all {
			if w.holdsBack(stands[i], by) {
				k.less(by)
			}
		}
		if stands[i] >= 0 && !contains(w.all, stands[i]) {
			k.less(stands[i])
		}
	}
	k.steadied(stands, m)
}

// steadied asks those again that wait as the last of one for a target that is gone now: what steadies nothing else is free, in
// the order in which they came to wait.
func (k *knot) steadied(stands []int32, target int32) {
	var free []int32 // places among the last ones
	for _, i := range k.aims[target] {
		for _, m := range k.wishes[i].one {
			at := k.lastAt[m]
			if at < 0 {
				continue
			}
			if k.steadiesOne(stands, m) {
				k.asked = min(k.asked, int(at))
			} else {
				free, k.lastAt[m] = append(free, at), -1
			}
		}
	}
	slices.Sort(free)
	for _, at := range free {
		k.ready = append(k.ready, k.lastOnes[at])
		k.lastOnes[at] = -1
	}
}

func (k *knot) less(m int32) {
	if k.waits[m]--; k.waits[m] == 0 {
		k.ready = append(k.ready, m)
	}
}

// coreStartsMost bounds from how many stuck nodes a core is looked for.
const coreStartsMost = 48

// core is the fewest wishes found, after a walk that got stuck, of which one at least has to give way: nodes that wait
// for each other, each for one thing alone, by facts that always hold where it can. either is a wish with several to
// choose among that has a part in every such circle found, -1 for none: nothing has to give way before that is decided.
func (k *knot) core(stands []int32) (core []int32, either int32) {
	either = -1
	met := make([]int32, len(k.before))
	found := false
	starts, turn := 0, int32(0)
	for m := range k.before {
		if k.done[m] || found && starts == coreStartsMost {
			continue
		}
		starts++
		list, open := k.tightened(stands, int32(m), met, &turn)
		switch {
		case open >= 0:
			if !found {
				either = open
			}
		case !found || len(list) < len(core):
			core, either, found = list, -1, true
		}
	}
	return core, either
}

// tightened is a circle without the nodes that only lead to it: it starts again from the last that it met.
func (k *knot) tightened(stands []int32, from int32, met []int32, turn *int32) (core []int32, either int32) {
	for size := len(k.before) + 1; ; {
		*turn++
		list, open, last, n := k.circle(stands, from, met, *turn)
		core, either = list, open
		if n >= size {
			return core, either
		}
		size, from = n, last
	}
}

// circle follows from one stuck node, and from each that this leads to, one thing that it waits for.
// last is the one met last, n how many there are.
func (k *knot) circle(stands []int32, from int32, met []int32, turn int32) (core []int32, either, last int32, n int) {
	either, last, n = -1, from, 1
	queue := []int32{from}
	met[from] = turn
	add := func(m int32) {
		if met[m] != turn {
			met[m], last = turn, m
			queue = append(queue, m)
			n++
		}
	}
	for len(queue) > 0 {
		m := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		k.work++
		if k.alwaysWaits(m, add) {
			continue
		}
		chosen, open := int32(-1), int32(-1)
		for _, i := range k.asks[m] {
			w := &k.wishes[i]
			switch {
			case k.done[w.target] || stands[i] == gives:
			case w.holdsBack(stands[i], m):
				if chosen < 0 || stands[i] != free || stands[chosen] == free && contains(core, i) {
					chosen = i
				}
			case k.undecided(stands[i], i, m) && k.oneLeft[i] == 1:
				open = i
			}
		}
		switch {
		case chosen >= 0:
			if stands[chosen] == free && !contains(core, chosen) {
				core = append(core, chosen)
			}
			add(k.wishes[chosen].target)
		case open >= 0:
			either = open
			add(k.wishes[open].target)
		}
	}
	return core, either, last, n
}

// alwaysWaits adds what a stuck node waits for by a fact that always holds; false where there is none.
func (k *knot) alwaysWaits(m int32, add func(int32)) bool {
	for _, b := range k.before[m] {
		if !k.done[b] {
			add(b)
			return true
		}
	}
	for _, g := range k.after[m] {
		if k.open[g] {
			continue
		}
		for _, w := range k.gates[g].ways {
			for _, n := range w {
				if !k.done[n] {
					add(n)
					break
				}
			}
		}
		return true
	}
	return false
}
