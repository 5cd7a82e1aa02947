// Package siting turns where a carpenter says a thing goes (out from this wall, so many millimetres from its left end, up
// to what stands opposite) into the points and directions that recipes and records take.
//
// The idea: on site nobody has axes. There are faces that one stands in front of, with a left end, and there is what
// lies under and over a line on plan. Everything here is read from the register; what it does not hold is asked for.
//
// Looking for
//
//   - upright faces, the landlord's and those of stud walls: face.go
//   - a wall out from a face or beside one, with what its ends, foot and head meet: wall.go; overhead.go
//   - a surface of the landlord's said in words, and ready places for one: surface.go
//   - a rectangle on plan, for a floor or a ceiling: area.go
//   - a run of fixings on a piece, with the holes it makes: run.go; which fixings go into what: fit.go
//   - a piece on a surface or by its corner: piece.go
package siting
