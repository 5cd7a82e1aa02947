package programme

// Four amounts stand side by side in one word, fifteen bits each with a guard bit above. With all guards set, taking
// a need away leaves every guard standing exactly where every amount was enough: one subtraction asks all four.
const (
	lanes    = 4
	laneBits = 16
	guards   = uint64(0x8000_8000_8000_8000)
)

// needs is what every activity takes, packed: for each activity the words in which it takes anything at all.
type needs struct {
	first    []int32
	word     []int32
	amount   []uint64
	capacity []uint64 // per word, guards set
	amounts  [][]int32
	limits   []int32 // per resource, unpacked
}

func newNeeds(p *Problem) needs {
	words := (len(p.Resources) + lanes - 1) / lanes
	out := needs{first: make([]int32, len(p.Activities)+1), capacity: make([]uint64, words), limits: make([]int32, len(p.Resources))}
	for i := range out.capacity {
		out.capacity[i] = guards
	}
	for i, r := range p.Resources {
		out.capacity[i/lanes] |= uint64(r.Capacity) << (i % lanes * laneBits)
		out.limits[i] = int32(r.Capacity)
	}
	packed := make([]uint64, words)
	for i := range p.Activities {
		amounts := make([]int32, len(p.Resources))
		clear(packed)
		for _, n := range p.Activities[i].Needs {
			amounts[n.Resource] = int32(n.Amount)
			packed[n.Resource/lanes] |= uint64(n.Amount) << (n.Resource % lanes * laneBits)
		}
		for k, amount := range packed {
			if amount != 0 {
				out.word = append(out.word, int32(k))
				out.amount = append(out.amount, amount)
			}
		}
		out.first[i+1] = int32(len(out.word))
		out.amounts = append(out.amounts, amounts)
	}
	return out
}

// profile is what is free at each unit of time.
type profile struct {
	needs *needs
	free  [][]uint64 // per word, per unit of time
	full  [][]uint64 // nothing taken
	dirty int32      // units from here on are untouched
}

func newProfile(w *network) *profile {
	p := &profile{needs: &w.needs}
	for _, capacity := range w.needs.capacity {
		full := make([]uint64, w.horizon+1)
		for t := range full {
			full[t] = capacity
		}
		p.full = append(p.full, full)
		p.free = append(p.free, append([]uint64(nil), full...))
	}
	return p
}

// clear gives everything back.
func (p *profile) clear() {
	for k := range p.free {
		copy(p.free[k][:p.dirty], p.full[k])
	}
	p.dirty = 0
}

// fit is the first time from t on at which the activity finds all it needs for its whole duration.
func (p *profile) fit(i, t, duration int32) int32 {
	from, to := p.needs.first[i], p.needs.first[i+1]
	if from == to || duration == 0 {
		return t
	}
	t = fitWord(p.free[p.needs.word[from]], p.needs.amount[from], t, duration)
	for k := from + 1; k < to; {
		moved := fitWord(p.free[p.needs.word[k]], p.needs.amount[k], t, duration)
		if k++; moved > t {
			t, k = moved, from // what fitted before must be asked again
		}
	}
	return t
}

// fitWord looks at each window from its end: a unit with too little sends the window past it, and what was looked at
// beyond stays good.
func fitWord(free []uint64, amount uint64, t, duration int32) int32 {
	low, end := t, t+duration
	for {
		u := end - 1
		for u >= low && (free[u]-amount)&guards == guards {
			u--
		}
		if u < low {
			return t
		}
		t, low = u+1, end
		end = t + duration
	}
}

// take books the activity from t on.
func (p *profile) take(i, t, duration int32) {
	if duration == 0 {
		return
	}
	for k := p.needs.first[i]; k < p.needs.first[i+1]; k++ {
		amount := p.needs.amount[k]
		cells := p.free[p.needs.word[k]][t : t+duration]
		for u := range cells {
			cells[u] -= amount
		}
	}
	p.dirty = max(p.dirty, t+duration)
}
