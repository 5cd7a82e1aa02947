package relocation

import (
	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/release"
	"unpick/domain/strip"
)

// Here is the old place: its whole planned strip-out with the graph that it was planned from, and its making
// good. A step of no minutes is done.
type Here struct {
	Register   *domain.Register
	Graph      *release.Graph
	Steps      []strip.Step
	MakingGood makinggood.List
	Stop       func() bool // asked between orders: nobody waits any more, so the first order will do; nil is never
}

// There is the next place: the trips that bring what is used again, in the order in which they go, and the putting up in
// packages of work, each after those that it is fixed to.
type There struct {
	FitOut   domain.FitOut
	Trips    []Trip
	Packages []Package
}

// Trip is one load of one vehicle. Trips of a vehicle go one after the other.
type Trip struct {
	Name               string
	Vehicle            int
	Pieces             []string // codes of the old place
	Loading, Unloading int      // of one person: from the stack into the vehicle, and from it to where it goes up
	People             int      // who load and unload it; 0 reads as 1
}

// Package is a run of pieces of one assembly that go up one after the other, once they are there.
type Package struct {
	Assembly, Name string
	Pieces         []string       // codes of the next place
	Minutes        int            // of one person
	Trips          []int          // that bring what they are made of
	Bought         bool           // some of it is bought
	Access         []strip.Access // what it is reached from, beside the floor, for as long as it takes
	After          []int          // packages that have to stand before
}
