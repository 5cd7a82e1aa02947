package relocation

import "math"

// Rent is what both places cost while both rents run. A day is a twelfth of a year's months over 365 days; each rent is
// rounded once, halves up. What is not given is not in it, and there is a total only where both are.
type Rent struct {
	HereMinor  int64 `json:"here_minor"`
	ThereMinor int64 `json:"there_minor"`
	HereKnown  bool  `json:"here_known"`
	ThereKnown bool  `json:"there_known"`
}

// Known reports whether both rents are given.
func (r Rent) Known() bool { return r.HereKnown && r.ThereKnown }

// Minor is both together.
func (r Rent) Minor() int64 { return r.HereMinor + r.ThereMinor }

// rents is what both places cost over so many days.
func (t Terms) rents(days int) Rent {
	return Rent{overDays(t.RentHere, days), overDays(t.RentThere, days), t.RentHere > 0, t.RentThere > 0}
}

func overDays(monthly int64, days int) int64 {
	return int64(math.Floor(float64(monthly)*12*float64(days)/365 + .5))
}
