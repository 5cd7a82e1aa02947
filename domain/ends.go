package domain

import "math"

// Ends are how far along a piece its two ends lie, in mm from its origin: each at the near side of its thickness, then at the
// far side. A square end lies alike at both.
type Ends struct{ Start, End [2]float64 }

// Ends reads the cuts of a piece's ends. A positive cut leans towards the thickness side: up a stud's end along the wall. The
// length is to the long points, save of a piece on the rake whose ends are both cut plumb: of a plate or nogging the length is
// in the middle of the cut.
func (e Element) Ends() Ends {
	length, thick := float64(e.LengthMm), float64(e.ThicknessMm)
	start, end := thick*math.Tan(e.StartCutDeg*math.Pi/180), thick*math.Tan(e.EndCutDeg*math.Pi/180)
	if e.plumbCut() {
		return Ends{[2]float64{-start / 2, start / 2}, [2]float64{length - start/2, length + start/2}}
	}
	shortest, longest := math.Min(0, start), math.Max(0, end)
	return Ends{[2]float64{-shortest, start - shortest}, [2]float64{length - longest, length + end - longest}}
}

// plumbCut reports whether both ends of a sloping piece are cut plumb.
func (e Element) plumbCut() bool {
	along := e.Placement.Along.Unit()
	rise := math.Asin(math.Min(1, math.Abs(along.Z))) * 180 / math.Pi
	return e.StartCutDeg != 0 && e.StartCutDeg == e.EndCutDeg && math.Abs(rise-math.Abs(e.StartCutDeg)) < .1
}

// Reach is how far the points lie apart: the shortest square length that the piece can be cut from.
func (x Ends) Reach() float64 { return max(x.End[0], x.End[1]) - min(x.Start[0], x.Start[1]) }

// Square is the part of a piece's length over which it is whole at both sides: what a square piece can be cut from.
func (x Ends) Square() (from, to float64) {
	return max(x.Start[0], x.Start[1]), min(x.End[0], x.End[1])
}
