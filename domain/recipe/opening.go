package recipe

import "cmp"

// heavyLeafKg is the mass above which a leaf wants two studs each side (common practice, no source).
const heavyLeafKg = 25

// Opening is a doorway in a wall. The rough opening follows from the leaf: leaf, a gap round it, the lining and
// the packing behind that.
type Opening struct {
	AtMm         int     `json:"at_mm" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"near side of the rough opening, from the set-out end"`
	LeafWidthMm  int     `json:"leaf_width_mm" jsonschema:"minimum=300,maximum=3000" jsonschema_description:"both leaves of a pair together, with the gap between them"`
	LeafHeightMm int     `json:"leaf_height_mm" jsonschema:"minimum=300,maximum=4000"`
	LeafMassKg   float64 `json:"leaf_mass_kg,omitempty" jsonschema:"minimum=0,maximum=200" jsonschema_description:"over 25 kg two studs stand each side"`
	LiningMm     int     `json:"lining_mm,omitempty" jsonschema:"minimum=0,maximum=60" jsonschema_description:"thickness of the door lining; 0 reads as 32"`
	GapMm        int     `json:"gap_mm,omitempty" jsonschema:"minimum=0,maximum=10" jsonschema_description:"between leaf and lining; 0 reads as 3"`
	PackingMm    int     `json:"packing_mm,omitempty" jsonschema:"minimum=0,maximum=40" jsonschema_description:"between lining and studs, and over the lining; 0 reads as 6"`
	ThresholdMm  int     `json:"threshold_mm,omitempty" jsonschema:"minimum=0,maximum=40" jsonschema_description:"under the leaf; 0 reads as 8"`
}

func (o Opening) withDefaults() Opening {
	o.LiningMm = cmp.Or(o.LiningMm, 32)
	o.GapMm = cmp.Or(o.GapMm, 3)
	o.PackingMm = cmp.Or(o.PackingMm, 6)
	o.ThresholdMm = cmp.Or(o.ThresholdMm, 8)
	return o
}

// RoughWidthMm is the clear width between the studs of an opening.
func (o Opening) RoughWidthMm() int {
	o = o.withDefaults()
	return o.LeafWidthMm + 2*(o.GapMm+o.LiningMm+o.PackingMm)
}

// RoughHeightMm is the clear height from the floor to the underside of the opening's head.
func (o Opening) RoughHeightMm() int {
	o = o.withDefaults()
	return o.ThresholdMm + o.LeafHeightMm + o.GapMm + o.LiningMm + o.PackingMm
}

// studsEachSide is how many full-height studs stand on each side.
func (o Opening) studsEachSide() int {
	if o.LeafMassKg > heavyLeafKg {
		return 2
	}
	return 1
}

// doorway is an opening as the wall sees it: its rough opening in the wall's frame.
type doorway struct {
	x0, x1 int
	headMm int // underside of its head, above the frame's zero
	studs  int // each side
	code   string
}
