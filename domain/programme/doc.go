// Package programme lays activities in time so that the whole is done as early as the people and the equipment allow:
// resource-constrained project scheduling, with a lower bound beside the result and a proof when the two meet.
//
// The idea: two searches take turns on one incumbent. A genetic search makes very many schedules, each from an order
// of the activities, packed tight from both ends. A proving search asks "is there one a minute shorter?", learns from
// every dead end why it was one, and either finds it or shows that there is none. Times are minutes of work from the
// start, 0 the first; laying them on a calendar is somebody else's job. Nothing here reads a clock: the caller says when
// to stop.
//
// Looking for
//
//   - what an activity and a resource are, and what is refused: problem.go
//   - asking for a programme, and what comes back: solve.go
//   - the second opinion on a schedule: verify.go (shares nothing with the rest)
//   - the network as flat slices: network.go; what is free when: profile.go
//   - one schedule from one order: generate.go; from a rule: rules.go; packing it tight: justify.go
//   - the two searches taking turns: search.go
//   - the genetic search: genetic.go, crossover.go
//   - the proving search: prover.go (bounds and arcs), compulsory.go (resources), clauses.go and learn.go (why a dead end
//     was one), branch.go (what to try next), prove.go (running it)
//   - bounds without search: bound.go
//   - from strip-out steps to activities: steps.go, safety.go, settingup.go; what there is to work with: means.go
package programme
