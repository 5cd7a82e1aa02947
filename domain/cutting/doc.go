// Package cutting says which piece is cut from which stock: lengths from bars in one dimension, panels from sheets in two
// by straight-through cuts. Salvaged stock is there once, new stock is bought at a price; every cut takes a kerf.
//
// The idea: money on new stock first, then offcut waste, then fewest cuts. Column generation gives a bound that no cutting
// can go below, made safe in whole numbers; diving into the relaxation gives cuttings; where a better one could exist, all
// patterns that it could use are listed and searched. The answer always carries the bound and the gap. Waste is made less
// by the same means without a claim that it is the least; cuts are saved where a bar is just as long as what is cut.
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
// SolveSheets does the same for Sheets. A problem is one section of one material, or one board; the caller splits a demand
// by section. A stock piece that may serve only some uses names them in Serves, matched with Piece.Kind. What cannot be made
// is in plan.Unmade with the reason, never dropped: where stock runs out, as much as possible is made. Where a price is
// missing, plan.Unpriced says so and the least length is bought instead. plan.Bars, plan.Buy and plan.Unmade name rows of
// the stock and the demand by number. An allowance for wastage is the caller's, on the buying list.
//
// Nothing here reads a clock: a round is fixed work, so a seed and a number of rounds give the same plan everywhere. Up to
// 2,000 rounds of lengths take about a second; a search that has proven its plan stops by itself. Of sheets a round is
// dearer: 100 to a second.
//
// Looking for
//
//   - lengths, what is refused: lengths.go; what comes back: plan.go; the second opinion: verify.go (shares nothing)
//   - asking for a plan, and the limits: solve.go; the phases of a search: search.go; less waste: waste.go
//   - like pieces and like stock made one: core.go, gather.go; laid back on real bars: layout.go
//   - quick cuttings: greedy.go; bounds in whole numbers: bound.go
//   - the relaxation: master.go, generate.go; its linear program: simplex.go, inverse.go
//   - the most valuable pattern: knapsack.go (a table), branch.go (long stock), ceiling.go (coarse bounds)
//   - going down to whole numbers: dive.go, choice.go, prune.go; all patterns that matter: pool.go
//   - sheets: sheets.go, sheetplan.go, sheetsolve.go, sheetcore.go; verifysheets.go (the second opinion)
//   - a quick bound for any number of panels: scales.go
//   - panels put together: block.go; few panels exactly: frontier.go; many: plates.go; quickly: pack.go; mended: regroup.go
package cutting
