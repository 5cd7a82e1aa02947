// Package domain holds the nouns of the trade and their rules: pure values, no I/O, no clock, no globals.
//
// The idea: everything known about one fit-out is one [Register], loaded as an immutable snapshot. Planners in
// the packages below take a register and return a plan; nothing here or there writes back. Lengths are whole
// millimetres, masses kilograms, money integer minor units, durations minutes.
//
// Looking for
//
//   - the whole snapshot, finding a record by code: register.go
//   - what somebody signed on site: signoff.go
//   - the tenant's terms, crew, exits, zones, prices: fitout.go
//   - the landlord's fabric: host.go, and holes in it: hole.go
//   - the tenant's pieces: element.go; what one recipe built: assembly.go
//   - what holds them: fixing.go; what no fixing states: relation.go
//   - positions, directions, boxes: geometry.go
//   - rules that always hold: check.go, a noun each in check_*.go
//   - the nearest word to a misspelt one: nearest.go; what a person may be told: problem.go
//   - changing a register through the one door, and advice at logging: change.go
//   - the shape of the trade's tables (data in domain/catalogue): catalogue.go
package domain
