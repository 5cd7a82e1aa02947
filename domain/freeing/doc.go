// Package freeing finds the least that must come out to free one thing, the order to take it out in, and what is put
// back after.
//
// The idea: the release graph is an AND/OR graph. What always comes first is an arc; where one of several will do (a
// screw reached from either face, a piece with two ways out, a joist that is propped or taken out) there is a choice.
// The choice that costs the fewest minutes of taking out and putting back is found by branch and bound: exactly where
// it ends within the work allowed, and else with a bound under which no choice can be. What the planner finds is laid
// out by the same code as a whole strip-out, and is handed out only once the second opinion (replay) has found it clean.
//
// Looking for
//
//   - the way in and what an answer says: freeing.go; steps and their check: steps.go; what the second opinion is heard for: hear.go
//   - what goes back: back.go, what does not until something stands in the place of what was taken: stays.go, what to mind meanwhile: after.go
//   - what can be freed: target.go; by a code alone: named.go; a space, a surface: region.go
//   - the register as a choice: facts.go, its costs: minutes.go; a solution in the terms of the graph: chosen.go
//   - the choice as numbers: network.go, set.go; the search: search.go, its bound: bound.go, an order for a set: walk.go
package freeing
