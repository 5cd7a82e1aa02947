// Package strip turns a release graph into a strip-out sequence that a crew can follow.
//
// The idea: walk the graph forwards, and of all that may leave next take what needs no changeover of zone, access
// equipment or tool; runs that can be finished come before runs that cannot; last built, first out breaks ties. A
// run of like pieces is one step. Props and services proved dead are steps of their own.
//
// Looking for
//
//   - what a step says: step.go
//   - keeping the order and the numbers that a crew has: keep.go, changes.go
//   - which piece next: order.go, runs.go; only a part of what could come out: part.go
//   - props before what steadies or braces a piece leaves: prop.go; open edges of decks: edges.go
//   - what a step needs: work.go (minutes, tools), crew.go (people, lifting), stance.go (access, where the crew stands), place.go (zone, level to stand on), rates.go (rows of the catalogue), caution.go (cautions, holds)
//   - steps laid on days: days.go
package strip
