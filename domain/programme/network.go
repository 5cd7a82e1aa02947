package programme

import "slices"

// network is a checked problem as flat slices: the form that every search works on. Time is counted in steps of the
// greatest common divisor of the durations, so that work in quarter hours costs a fifteenth.
type network struct {
	n        int
	step     int     // minutes a unit of time
	duration []int32 // in units
	forward  side
	backward side
	order    []int32 // each activity after those it waits for, ties by place
	head     []int32 // earliest start without resources
	tail     []int32 // least time from start to the end of the whole, own duration included
	needs    needs
	serial   int32 // all one after the other: no schedule worth having is longer
	day      int32 // units of a day, 0 where nights do not matter
	whole    []bool
	load     []int64 // per activity: what it takes of each resource, in thousandths of all there is, times its duration
	horizon  int32   // no schedule that is made is longer: serial, and a wait for the morning before each whole activity
}

// side is one direction of the arcs: what each activity comes after.
type side struct {
	first []int32
	arcs  []int32
}

func (s *side) of(i int32) []int32 { return s.arcs[s.first[i]:s.first[i+1]] }

// newNetwork flattens a problem that passes Check.
func newNetwork(p *Problem) *network {
	w := &network{n: len(p.Activities), step: commonStep(p)}
	w.duration = make([]int32, w.n)
	after := make([][]int32, w.n)
	before := make([][]int32, w.n)
	for i := range p.Activities {
		a := &p.Activities[i]
		w.duration[i] = int32(a.Minutes / w.step)
		w.serial += w.duration[i]
		for _, b := range a.After {
			after[i] = append(after[i], int32(b))
		}
		slices.Sort(after[i])
		after[i] = slices.Compact(after[i])
		for _, b := range after[i] {
			before[b] = append(before[b], int32(i))
		}
	}
	w.forward, w.backward = newSide(after), newSide(before)
	w.order = w.topological()
	w.heads()
	w.needs = newNeeds(p)
	w.loads(p)
	w.nights(p)
	return w
}

// loads is how much of the resources each activity takes, for how long.
func (w *network) loads(p *Problem) {
	w.load = make([]int64, w.n)
	for i := range p.Activities {
		for _, need := range p.Activities[i].Needs {
			if capacity := p.Resources[need.Resource].Capacity; capacity > 0 {
				w.load[i] += int64(need.Amount) * 1000 / int64(capacity) * int64(w.duration[i])
			}
		}
	}
}

// nights notes which activities wait for the morning rather than go on over a night. One that waits would not have fitted
// into what was left of the day, so no wait is longer than the activity.
func (w *network) nights(p *Problem) {
	w.horizon, w.whole = w.serial, make([]bool, w.n)
	w.day = int32(p.DayMinutes / w.step)
	for i := range p.Activities {
		if w.whole[i] = p.Activities[i].Whole && w.day > 0 && w.duration[i] <= w.day; w.whole[i] {
			w.horizon += w.duration[i]
		}
	}
}

// overnight reports whether any activity waits for the morning.
func (w *network) overnight() bool { return w.horizon > w.serial }

func newSide(lists [][]int32) side {
	s := side{first: make([]int32, len(lists)+1)}
	for i, l := range lists {
		s.arcs = append(s.arcs, l...)
		s.first[i+1] = int32(len(s.arcs))
	}
	return s
}

// commonStep is the greatest common divisor of the durations, and of the day where there is one; 1 where all are
// milestones.
func commonStep(p *Problem) int {
	step := p.DayMinutes
	for i := range p.Activities {
		for a, b := step, p.Activities[i].Minutes; ; {
			if b == 0 {
				step = a
				break
			}
			a, b = b, a%b
		}
	}
	return max(step, 1)
}

func (w *network) topological() []int32 {
	waits := make([]int32, w.n)
	order := make([]int32, 0, w.n)
	for i := range int32(w.n) {
		if waits[i] = int32(len(w.forward.of(i))); waits[i] == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ {
		for _, j := range w.backward.of(order[k]) {
			if waits[j]--; waits[j] == 0 {
				order = append(order, j)
			}
		}
	}
	return order
}

func (w *network) heads() {
	w.head, w.tail = make([]int32, w.n), make([]int32, w.n)
	for _, i := range w.order {
		for _, b := range w.forward.of(i) {
			w.head[i] = max(w.head[i], w.head[b]+w.duration[b])
		}
	}
	for _, i := range slices.Backward(w.order) {
		for _, b := range w.backward.of(i) {
			w.tail[i] = max(w.tail[i], w.tail[b])
		}
		w.tail[i] += w.duration[i]
	}
}
