// Package strip turns a release graph into a strip-out sequence that a crew can follow.
//
// The idea: walk the graph forwards. A crew that is set up somewhere (zone, access equipment, tool) takes all that comes
// free there before it changes over, and the order of the setups is searched for the fewest changeovers: every order
// where the job is small, a beam of them where it is not, none where it is very large. There, of all that may leave next
// what needs no changeover is taken, and runs that can be finished come before runs that cannot. Last built, first out
// breaks ties. A run of like pieces is one step. Props and services proved dead are steps of their own.
//
// Looking for
//
//   - what a step says: step.go
//   - keeping the order and the numbers that a crew has: keep.go, changes.go; the orders that it had before: history.go
//   - fewest changeovers: setups.go, on the graph of pieces alone, thin.go, with lists of small numbers, counts.go; how many there are, and what no order can be below: changeovers.go, least.go, views.go
//   - which piece next: order.go, runs.go; only a part of what could come out: part.go
//   - props before what steadies or braces a piece leaves: prop.go; frames, which nobody lets stand by a last tie: frames.go; open edges of decks: edges.go; what stands that nothing holds any more, or too little: unheld.go; what is not to go before support is in: ties.go
//   - steps written beside the walk: write.go; what a step needs: work.go (minutes, tools), crew.go (people, lifting), stance.go (access, where the crew stands), settingup.go (towers, lifters, zones kept clear), place.go (zone, level to stand on), rates.go (rows of the catalogue), caution.go (cautions, holds)
//   - steps laid on days: days.go
package strip
