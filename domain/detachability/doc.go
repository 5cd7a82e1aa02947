// Package detachability scores how well each piece comes apart, by the published Dutch measurement, and adds the scores
// up by assembly and for the whole.
//
// The idea: four factors from fixed tables, two for the connection and two for how a piece sits among its neighbours,
// are read from the register and its release graph, and joined by harmonic means, so that one bad factor cannot be
// bought off. What the register does not know is not scored, and says why. The published index of a whole is weighted
// by environmental cost, which no register holds: the means given here are weighted otherwise and are named so.
//
// Looking for
//
//   - the tables, the formula and their sources: score.go
//   - a piece's four factors: rating.go, its connection: connection.go; what reaching a fixing damages: reach.go
//   - assemblies and the whole: report.go
package detachability
