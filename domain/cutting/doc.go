// Package cutting says which piece is cut from which stock: lengths from bars in one dimension, panels from sheets in two
// by straight-through cuts. Salvaged stock is there once, new stock is bought at a price; every cut takes a kerf.
//
// The idea: money on new stock first, then offcut waste, then fewest cuts. Column generation gives a bound that no cutting
// can go below, made safe in whole numbers; diving into the relaxation gives cuttings; where a better one could exist, all
// patterns that it could use are listed and searched. The answer always carries the bound and the gap.
//
// Using it:
//
//	plan, err := cutting.SolveLengths(&cutting.Lengths{
//		KerfMm: 3,
//		Stock: []cutting.Bar{
//			{Code: "W1-S03", LengthMm: 2644, Count: 1},                                // salvaged: once, no price
//			{Code: "cls-38x89/3000", LengthMm: 3000, Count: cutting.Unlimited, PriceMinor: 540}, // a merchant's length
//		},
//		Demand: []cutting.Piece{{Code: "stud", LengthMm: 2400, Count: 8}},
//	}, cutting.Limits{Seed: 1, Rounds: 2000, Stop: stop})
//
// A problem is one section of one material; the caller splits a demand by section. A stock piece that may serve only some
// uses names them in Serves, matched with Piece.Kind. What cannot be made is in plan.Unmade with the reason, never dropped.
// Nothing here reads a clock: a round is fixed work, so a seed and a number of rounds give the same plan everywhere.
//
// Looking for
//
//   - lengths, what is refused: lengths.go; what comes back: plan.go; the second opinion: verify.go (shares nothing)
//   - asking for a plan, limits, the phases: solve.go
//   - like pieces and like stock made one: core.go; pieces laid back on real bars: layout.go
//   - quick cuttings: greedy.go
package cutting
