package release

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Check walks the graph to its end. A register in which pieces wait for each other is an error with code Cycle:
// it shows the shortest round, the reason of each step, and what would break it.
func (g *Graph) Check() error {
	var now []int32
	front := NewFront(g, func(n int32) { now = append(now, n) })
	for len(now) > 0 {
		n := now[len(now)-1]
		now = now[:len(now)-1]
		front.Done(n, func(m int32) { now = append(now, m) })
	}
	left := front.Left()
	if len(left) == 0 {
		return nil
	}
	return g.explainCycle(g.shortestCycle(left))
}

// wait is one step of a round: node waits for its predecessor, by an arc or by a way of a gate.
type wait struct {
	before, after int32
	arc           int32 // -1 for a gate
	gate          int32
}

// shortestCycle searches breadth first from each node that is left. Every gate left is shut on all its ways, so
// each of its missing nodes counts. Ties go to the first node by place.
func (g *Graph) shortestCycle(left []int32) []wait {
	inLeft := make(map[int32]bool, len(left))
	for _, n := range left {
		inLeft[n] = true
	}
	into := map[int32][]wait{}
	for i, a := range g.Arcs {
		if inLeft[a.Before] && inLeft[a.After] {
			into[a.After] = append(into[a.After], wait{a.Before, a.After, int32(i), -1})
		}
	}
	for i, gate := range g.Gates {
		for _, w := range gate.Ways {
			for _, n := range w.Nodes {
				if inLeft[n] && inLeft[gate.After] {
					into[gate.After] = append(into[gate.After], wait{n, gate.After, -1, int32(i)})
				}
			}
		}
	}
	var best []wait
	for _, start := range left[:min(len(left), cycleStartsMost)] {
		if c := roundFrom(start, into, len(best)); c != nil {
			best = c
		}
	}
	return best
}

// cycleStartsMost bounds the search in a register that is wrong all over: any round found then is short enough.
const cycleStartsMost = 2000

// roundFrom is the shortest round through start that is shorter than most (0 is any), nil where there is none.
func roundFrom(start int32, into map[int32][]wait, most int) []wait {
	came := map[int32]wait{}
	queue, depth := []int32{start}, 0
	for len(queue) > 0 && (most == 0 || depth+1 < most) {
		var next []int32
		for _, n := range queue {
			for _, w := range into[n] {
				if w.before == start {
					round := []wait{w}
					for at := n; at != start; at = came[at].after {
						round = append(round, came[at])
					}
					return round
				}
				if _, seen := came[w.before]; !seen {
					came[w.before] = w
					next = append(next, w.before)
				}
			}
		}
		queue = next
		depth++
	}
	return nil
}

func (g *Graph) explainCycle(round []wait) error {
	var lines []string
	var breakers []string
	for _, w := range round {
		sentence, evidence := g.explainWait(w)
		lines = append(lines, fmt.Sprintf("%s before %s, because %s (%s)", g.Nodes[w.before].Code, g.Nodes[w.after].Code, sentence, strings.Join(evidence, ", ")))
		for _, code := range evidence {
			if code != fromPlaces && (w.arc < 0 || g.Arcs[w.arc].Reason != Undone) {
				breakers = append(breakers, code)
			}
		}
	}
	slices.Sort(breakers)
	breakers = slices.Compact(breakers)
	mend := "look where these pieces stand: one of them is not where it is logged, or goes in another way"
	if len(breakers) > 0 {
		mend = fmt.Sprintf("look at %s: strike what is not so, amend a fixing that was logged as holding the wrong one of two pieces, or say from which side a fixing can be undone", strings.Join(breakers, ", "))
	}
	return domain.Errorf(domain.Cycle, "these pieces wait for each other, so none can come out first:\n  %s\nto mend it, %s", strings.Join(lines, "\n  "), mend)
}

// fromPlaces is the evidence of what nobody logged.
const fromPlaces = "read from where the pieces are"

func (g *Graph) explainWait(w wait) (string, []string) {
	if w.arc >= 0 {
		return g.Explain(g.Arcs[w.arc])
	}
	gate := g.Gates[w.gate]
	sentence := gate.Reason.sentence(g.Nodes[w.before].Code, g.Nodes[w.after].Code) + " on every side that is open"
	if gate.Fixing >= 0 {
		return sentence, []string{g.Register.Fixings[gate.Fixing].Code}
	}
	return sentence, []string{fromPlaces}
}
