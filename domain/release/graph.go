// Package release derives the release graph: which piece must be free before which other can be, each with its
// reason in words and its evidence.
//
// The idea: pieces (or the subassemblies that leave together), fixings and services proved dead are nodes. A
// fact that always holds is an arc "X before Y". A fact with alternatives (a screw that can be reached from
// either face, a piece with two ways out) is a gate: any one of its ways, once all its pieces are gone, opens
// it. Arcs and gates together are an AND/OR graph after Homem de Mello and Sanderson, "AND/OR graph
// representation of assembly plans", IEEE Transactions on Robotics and Automation 6(2) 1990,
// doi:10.1109/70.54734; ours has removals for nodes instead of subassemblies, and so stays linear in size.
//
// Looking for
//
//   - the graph and its nodes: graph.go; reasons and how they read: reason.go
//   - building it, in the order that facts are read: build.go
//   - what carries what: build.go by fixings, bearing.go by the boxes, settle.go of several; what has lost what carried it: lost.go; part of it: onless.go, carrier.go
//   - what hides a fixing: hide.go, one that nobody saw: unseen.go; what stands in the way out: trap.go
//   - what keeps a post from falling: steady.go, a stud under a head that it slides in: head.go; a stud under a floor from bending: brace.go; people from falling: edge.go
//   - what is kept only where it can be: prefer.go; which of it gives way, for the fewest minutes: untie.go, knot.go, knot_walk.go
//   - alternatives, cut down to what they say: gate.go
//   - walking the graph forwards: front.go; a register that contradicts itself: cycle.go
package release

import (
	"slices"

	"unpick/domain"
)

// NodeKind says what must happen at a node.
type NodeKind uint8

// The kinds of node.
const (
	Piece NodeKind = iota // one element, or the elements of one subassembly, leaves
	Undo                  // one set of fixings is undone
	Dead                  // one service is proved dead
)

// Node is something that happens once in a strip-out.
type Node struct {
	Kind  NodeKind
	Item  int32  // Undo: place in the register's fixings; Dead: place in its elements
	Code  string // element, subassembly or fixing code; a service's code for Dead
	Built int    // build order, the latest of its parts
}

// Arc is a fact: Before happens first.
type Arc struct {
	Before, After int32 // nodes
	Reason        Reason
	Fixing        int32 // evidence: place in the register's fixings, or -1
	Relation      int32 // evidence: place in the register's relations, or -1
}

// Preferred reports whether a fact only keeps the crew safe without temporary works: a hold, or props, may stand in for it.
func (a Arc) Preferred() bool {
	return a.Reason == Served && a.Relation < 0 || a.Reason == Braced || a.Reason == Steadied
}

// Gate is a fact with alternatives: After waits until all nodes of any one way have happened.
type Gate struct {
	After  int32
	Reason Reason
	Fixing int32 // evidence: place in the register's fixings, or -1
	Ways   []Way
}

// Way is one alternative of a gate.
type Way struct {
	Nodes []int32          // ascending
	From  domain.Direction // the side or way out, as a direction times 1000
}

// Steadying is a fact for the moment that By leaves: without it too little may hold Steadied.
type Steadying struct {
	By, Steadied int32 // nodes
	Relation     int32 // evidence, -1 where it was read from geometry
}

// Graph is the release graph of a register. It is read-only once built.
type Graph struct {
	Register     *domain.Register
	Links        *domain.Links
	Nodes        []Node // pieces first
	Arcs         []Arc
	Gates        []Gate
	Steadyings   []Steadying
	PieceOf      []int32 // element place -> node, -1 where it does not come out
	UndoOf       []int32 // fixing place -> node, -1 where it has none
	DeadOf       []int32 // element place -> Dead node, -1
	Unsupported  []int32 // Piece nodes with no path to a host, by any fact known
	Bearings     []Bearing
	Guards       []Guard
	OpenEdges    []int32 // deck boards with an edge over a fall that nothing guards
	Braces       []Brace
	Unreachable  []int32 // fixings that no side leaves room to undo, whatever comes out
	Alternatives Alternatives

	elements, fixings, inside lists // by piece

	losses *looked
}

// Elements are the places of what leaves at a piece, in the order built.
func (g *Graph) Elements(piece int32) []int32 { return g.elements.of(piece) }

// Fixings are the places of the fixings that hold a piece to something outside it, in the order built.
func (g *Graph) Fixings(piece int32) []int32 { return g.fixings.of(piece) }

// Inside are the places of the fixings between the elements of one piece: undone after, or left for re-use.
func (g *Graph) Inside(piece int32) []int32 { return g.inside.of(piece) }

// Pieces is how many nodes are pieces: the first ones.
func (g *Graph) Pieces() int { return len(g.elements.first) - 1 }

// Bearing is a piece resting on something that no fixing and no logged relation states; read from the boxes.
type Bearing struct {
	On      int32 // element place, or -1
	Host    int32 // host place, or -1
	Element int32 // what rests
}

// Predecessors lists, for every node, the arcs that end at it, as offsets into a slice of arc places.
func (g *Graph) Predecessors() (first, arcs []int32) {
	l := gather(len(g.Nodes), len(g.Arcs), func(i int) int32 { return g.Arcs[i].After })
	return l.first, l.items
}

// Successors lists, for every node, the arcs that start at it.
func (g *Graph) Successors() (first, arcs []int32) {
	l := gather(len(g.Nodes), len(g.Arcs), func(i int) int32 { return g.Arcs[i].Before })
	return l.first, l.items
}

// lists is one list of numbers for each of many keys, laid end to end.
type lists struct{ first, items []int32 }

func (l lists) of(key int32) []int32 { return l.items[l.first[key]:l.first[key+1]] }

// gather lists the numbers 0 to n-1 under the key of each, ascending; those with a key below 0 are left out.
func gather(keys, n int, key func(i int) int32) lists {
	l := lists{first: make([]int32, keys+1)}
	for i := range n {
		if k := key(i); k >= 0 {
			l.first[k+1]++
		}
	}
	for k := range keys {
		l.first[k+1] += l.first[k]
	}
	l.items = make([]int32, l.first[keys])
	next := slices.Clone(l.first[:keys])
	for i := range n {
		if k := key(i); k >= 0 {
			l.items[next[k]] = int32(i)
			next[k]++
		}
	}
	return l
}
