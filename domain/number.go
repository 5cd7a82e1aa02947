package domain

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Party is who answers on a joint walk-round.
type Party string

// The two parties.
const (
	TenantSide   Party = "tenant"
	LandlordSide Party = "surveyor" // the landlord's
)

// Parties lists both, the tenant first.
func Parties() []Party { return []Party{TenantSide, LandlordSide} }

// Numbered is a list of hole sets in which every hole has its number on the map of its surface: those that lack one (it is
// 0, or missing at the end) get the next free ones, in build order and then by code. others are the sets that are there
// beside them. A number is given once: a struck set keeps its own, and one whose count falls keeps those it had behind the
// others. Sets are copied where they change.
func Numbered(others, holes []Hole) []Hole {
	lacking := []int{}
	for i := range holes {
		if lacks(&holes[i]) {
			lacking = append(lacking, i)
		}
	}
	if len(lacking) == 0 {
		return holes
	}
	last := map[string]int{}
	for _, some := range [][]Hole{others, holes} {
		for i := range some {
			for _, n := range some[i].Numbers {
				last[some[i].Host] = max(last[some[i].Host], n)
			}
		}
	}
	out := slices.Clone(holes)
	slices.SortStableFunc(lacking, func(a, b int) int {
		return cmp.Or(cmp.Compare(out[a].BuiltOrder, out[b].BuiltOrder), cmp.Compare(out[a].Code, out[b].Code))
	})
	for _, i := range lacking {
		h := &out[i]
		numbers := make([]int, max(h.Count, len(h.Numbers)))
		copy(numbers, h.Numbers)
		for k := range h.Count {
			if numbers[k] == 0 {
				last[h.Host]++
				numbers[k] = last[h.Host]
			}
		}
		h.Numbers = numbers
	}
	return out
}

func lacks(h *Hole) bool {
	return len(h.Numbers) < h.Count || slices.Contains(h.Numbers[:h.Count], 0)
}

// Renumbered gives numbers to holes that a change puts in place of older ones and adds: a hole in a place where there was
// one before keeps that one's number, whichever set it is in now, and all others get the next free ones.
func Renumbered(before, put, add []Hole) (numberedPut, numberedAdd []Hole) {
	m := renumbering{was: map[string]*Hole{}, at: map[drilledPlace]int{}, taken: map[drilledNumber]bool{}}
	replaced := make(map[string]bool, len(put))
	for i := range put {
		replaced[put[i].Code] = true
	}
	for i := range before {
		h := &before[i]
		m.was[h.Code] = h
		for k, p := range h.Run.Points() {
			if place := (drilledPlace{h.Host, h.Face, Point{}.Moved(p)}); k < len(h.Numbers) && (m.at[place] == 0 || h.State != HoleStruck) {
				m.at[place] = h.Numbers[k]
			}
		}
		for _, n := range h.Numbers {
			if !replaced[h.Code] {
				m.taken[drilledNumber{h.Host, n}] = true
			}
		}
	}
	put, add = slices.Clone(put), slices.Clone(add)
	for _, struck := range []bool{false, true} { // what is drilled comes first
		for i := range put {
			if (put[i].State == HoleStruck) == struck {
				m.follow(&put[i])
			}
		}
		for i := range add {
			if (add[i].State == HoleStruck) == struck && len(add[i].Numbers) == 0 {
				m.follow(&add[i])
			}
		}
	}
	for i := range put {
		m.retire(&put[i])
	}
	put = Numbered(slices.Concat(before, add), put)
	return put, Numbered(slices.Concat(before, put), add)
}

// renumbering is what numbers there were, where, and which are given again already.
type renumbering struct {
	was   map[string]*Hole
	at    map[drilledPlace]int
	taken map[drilledNumber]bool
}

type drilledPlace struct {
	host string
	face HoleFace
	at   Point
}

type drilledNumber struct {
	host   string
	number int
}

// follow gives the holes of a set the numbers of their places; a set that nobody moved keeps what it carries.
func (m *renumbering) follow(h *Hole) {
	old, points := m.was[h.Code], h.Run.Points()
	switch {
	case old != nil && old.Host == h.Host && (len(points) == 0 || sameRun(old.Run, h.Run)):
		if len(h.Numbers) == 0 {
			h.Numbers = slices.Clone(old.Numbers)
		}
	default:
		h.Numbers = make([]int, min(len(points), h.Count))
		for k := range h.Numbers {
			h.Numbers[k] = m.at[drilledPlace{h.Host, h.Face, Point{}.Moved(points[k])}]
		}
	}
	for k, n := range h.Numbers {
		if m.taken[drilledNumber{h.Host, n}] {
			h.Numbers[k] = 0
		}
		m.taken[drilledNumber{h.Host, n}] = n != 0
	}
	h.Numbers = slices.DeleteFunc(h.Numbers, func(n int) bool { return n == 0 && h.State == HoleStruck })
}

// retire keeps behind a set the numbers that it had and that nobody took over, so that none is given again.
func (m *renumbering) retire(h *Hole) {
	old := m.was[h.Code]
	if old == nil || old.Host != h.Host {
		return
	}
	for _, n := range old.Numbers {
		if n != 0 && !m.taken[drilledNumber{h.Host, n}] {
			m.taken[drilledNumber{h.Host, n}] = true
			for len(h.Numbers) < h.Count {
				h.Numbers = append(h.Numbers, 0)
			}
			h.Numbers = append(h.Numbers, n)
		}
	}
}

func sameRun(a, b Run) bool {
	return a.Start == b.Start && a.Along == b.Along && slices.Equal(a.PositionsMm, b.PositionsMm)
}

// numbers holds hole sets to numbers of their own on each surface.
func (c *checker) numbers() {
	type place struct {
		host   string
		number int
	}
	taken := map[place]string{}
	for i := range c.r.Holes {
		h := &c.r.Holes[i]
		for _, n := range h.Numbers {
			at := place{h.Host, n}
			s := spot{holeNoun, i, h.Code}
			if n == 0 {
				continue // not given yet
			}
			if n < 0 || n > 100_000_000 {
				c.fault(s, "numbers", "has the number %d: numbers start at 1", n)
				break
			}
			if other, twice := taken[at]; twice {
				c.fault(s, "numbers", "has number %d on %s, which is %s's: leave numbers out, and the next free ones are given", n, h.Host, other)
				break
			}
			taken[at] = h.Code
		}
	}
}

// NumberRuns shortens 1, 2, 3, 7 to "1-3, 7".
func NumberRuns(numbers []int) string {
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		part := strconv.Itoa(numbers[i])
		if j > i {
			part += "-" + strconv.Itoa(numbers[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
