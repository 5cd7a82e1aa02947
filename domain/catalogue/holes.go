package catalogue

import (
	"fmt"
	"sync"

	"unpick/domain"
)

const holeColumns = "record,size,pitch_mm,major_max_mm,major_min_mm,minor_max_mm,minor_min_mm,thickness_from_mm,thickness_to_mm," +
	"steel_strength_n_mm2,hole_mm,fine_mm,medium_mm,coarse_mm,note,source,confirmed"

// HoleSize is one row of the table of holes in steel and timber: the limits of a thread, the hole for a self-tapping
// screw, what a drill point goes through, the clearance for a bolt, or the pilot for a wood screw.
type HoleSize struct {
	Record                           string // thread, pilot, self-drill, clearance, wood-pilot
	Size                             string // "ST4.8", "M10", "5 wood screw"
	PitchMm                          float64
	MajorMaxMm, MajorMinMm           float64
	MinorMaxMm, MinorMinMm           float64
	FromThicknessMm, ToThicknessMm   float64
	StrengthNMm2                     float64 // of the steel, for a pilot
	HoleMm, FineMm, MediumMm, WideMm float64
	Note                             string
	domain.Sourced
}

// HoleSizes are all rows of the table, in its order. The slice is shared: never write to it.
func HoleSizes() []HoleSize { return holeSizes() }

var holeSizes = sync.OnceValue(func() []HoleSize {
	var out []HoleSize
	err := each(tables(), "tapping_holes.csv", holeColumns, func(r row) { out = append(out, holeSize(r)) })
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err))
	}
	return out
})

func holeSize(r row) HoleSize {
	return HoleSize{
		Record: r.oneOf("record", "thread", "pilot", "self-drill", "clearance", "wood-pilot"), Size: r.must("size"), PitchMm: r.number("pitch_mm"),
		MajorMaxMm: r.number("major_max_mm"), MajorMinMm: r.number("major_min_mm"),
		MinorMaxMm: r.number("minor_max_mm"), MinorMinMm: r.number("minor_min_mm"),
		FromThicknessMm: r.number("thickness_from_mm"), ToThicknessMm: r.number("thickness_to_mm"),
		StrengthNMm2: r.number("steel_strength_n_mm2"), HoleMm: r.number("hole_mm"), FineMm: r.number("fine_mm"),
		MediumMm: r.number("medium_mm"), WideMm: r.number("coarse_mm"), Note: r.text("note"), Sourced: r.sourced(),
	}
}

// TappingHole is the drilled pilot for a self-tapping screw in steel of a thickness and strength (100, 300 or 500
// N/mm2; structural steel goes by 500). Between two thicknesses of the table, and on the border of two rows, the
// larger hole is given: a screw that seizes breaks. Not ok outside the table.
func TappingHole(size string, thicknessMm, strengthNMm2 float64) (row HoleSize, ok bool) {
	thinnest := 0.0
	for _, h := range HoleSizes() {
		if h.Record != "pilot" || h.Size != size || h.StrengthNMm2 != strengthNMm2 {
			continue
		}
		if thinnest == 0 {
			thinnest = h.FromThicknessMm
		}
		if thicknessMm < thinnest || thicknessMm > h.ToThicknessMm || ok && h.FromThicknessMm > thicknessMm {
			continue
		}
		row, ok = h, true
	}
	return row, ok
}

// DrillRange is the total thickness of steel that the point of a self-drilling screw is made for (ISO 15480): less
// does not hold, more burns the point.
func DrillRange(size string) (fromMm, toMm float64, ok bool) {
	h, ok := hole("self-drill", size)
	return h.FromThicknessMm, h.ToThicknessMm, ok
}

// Clearance is the row of ISO 273 for a bolt: fine, medium and coarse clearance holes.
func Clearance(size string) (HoleSize, bool) { return hole("clearance", size) }

func hole(record, size string) (HoleSize, bool) {
	for _, h := range HoleSizes() {
		if h.Record == record && h.Size == size {
			return h, true
		}
	}
	return HoleSize{}, false
}
