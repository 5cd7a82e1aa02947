// Package recipe turns what a carpenter says (so long, so high at each end, studs at 600, lined both sides, a door
// there) into every element, fixing, hole and relation, in build order.
//
// The idea: a recipe is a pure function from parameters and the register it joins to records. It thinks in a
// [frame] of its own (x along, y through, z up), and a [builder] gives codes, turns in the build order and places
// in the fit-out. Directions of carrying come from here: a fixing holds what is carried and goes into what carries
// it. What covers, traps or bears is left to be read from the boxes, which are therefore exact.
//
// Looking for
//
//   - the door, the table of recipes: expand.go; strict reading of parameters: strict.go
//   - runs of fixings and sliding clear of studs: run.go
//   - placing pieces: place.go; codes, fixings with their holes, relations: build.go
//   - a stud wall's parameters: studwall.go, opening.go; setting it out: plan.go, setout.go, line.go; frames: frame.go
//   - its plates, studs and noggings: plates.go, uprights.go, nogging.go; what its ends meet: ends.go
//   - its boards: face.go (columns), rows.go, boards.go; how they are screwed: pattern.go, screws.go, member.go
//   - what goes into which surface, and what never does: hostfix.go; warnings: warn.go
//   - building on a wall that stands: standing.go, then lining.go, doorset.go, trim.go, insulation.go, seal.go
package recipe
