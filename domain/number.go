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

// Numbered is a list of hole sets in which every hole has its number on the map of its surface: those that lack one get
// the next free ones, in build order and then by code. others are the sets that are there beside them. A number is given
// once: a struck set keeps its own, and one whose count falls keeps those it had. Sets are copied where they change.
func Numbered(others, holes []Hole) []Hole {
	lacking := []int{}
	for i := range holes {
		if len(holes[i].Numbers) < holes[i].Count {
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
		numbers := make([]int, 0, h.Count)
		numbers = append(numbers, h.Numbers...)
		for len(numbers) < h.Count {
			last[h.Host]++
			numbers = append(numbers, last[h.Host])
		}
		h.Numbers = numbers
	}
	return out
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
			if n < 1 || n > 100_000_000 {
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
