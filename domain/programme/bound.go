package programme

import (
	"cmp"
	"slices"
)

// Bound is a length that no schedule can go below, with the reason in words.
type Bound struct {
	Minutes int    `json:"minutes"`
	Because string `json:"because"`
}

// What a bound without search rests on: ByWork stands before the code of a resource.
const (
	ByChain = "the longest chain of work that waits for work"
	ByWork  = "the work of "
)

// chainBound is the longest chain of activities that wait for each other, as if everybody were always there.
func (w *network) chainBound() Bound {
	if w.n == 0 {
		return Bound{Because: "nothing to do"}
	}
	return Bound{Minutes: int(slices.Max(w.tail)) * w.step, Because: ByChain}
}

// workBound is the best over resources and over sets of activities of: nothing of the set can start before its
// earliest head; its work then fills the resource at best; and after the last of it the shortest tail is still to come.
func (w *network) workBound(p *Problem) Bound {
	best := Bound{}
	byHead := make([]int32, w.n)
	for i := range byHead {
		byHead[i] = int32(i)
	}
	slices.SortFunc(byHead, func(a, b int32) int { return cmp.Or(cmp.Compare(w.head[b], w.head[a]), cmp.Compare(a, b)) })
	after := make([]int32, w.n) // what is still to come once the activity is finished
	for i := range after {
		after[i] = w.tail[i] - w.duration[i]
	}
	thresholds := slices.Clone(after)
	slices.Sort(thresholds)
	thresholds = thin(slices.Compact(thresholds))
	for r, capacity := range w.needs.limits {
		if capacity == 0 {
			continue
		}
		for _, least := range thresholds {
			work := int64(0)
			for _, i := range byHead {
				amount := w.needs.amounts[i][r]
				if amount == 0 || after[i] < least {
					continue
				}
				work += int64(amount) * int64(w.duration[i])
				full := (work + int64(capacity) - 1) / int64(capacity)
				if minutes := (int(w.head[i]) + int(full) + int(least)) * w.step; minutes > best.Minutes {
					best = Bound{Minutes: minutes, Because: ByWork + p.Resources[r].Code}
				}
			}
		}
	}
	return best
}

// thin keeps at most so many values of a sorted list that the bound of a very large programme stays cheap. Leaving
// thresholds out weakens the bound and keeps it true.
func thin(values []int32) []int32 {
	const most = 256
	if len(values) <= most {
		return values
	}
	out := make([]int32, 0, most)
	for k := range most {
		out = append(out, values[k*len(values)/most])
	}
	return out
}

// rootBound is the best bound without search.
func (w *network) rootBound(p *Problem) Bound {
	chain, work := w.chainBound(), w.workBound(p)
	if work.Minutes > chain.Minutes {
		return work
	}
	return chain
}
