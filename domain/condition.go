package domain

import (
	"math"
	"strconv"
)

// Stage says at which end of the tenancy a surface was looked at.
type Stage string

// The stages. Empty is not said: it is shown by its date, and its defects excuse nothing.
const (
	AtStart Stage = "start"  // before the tenant's works: what was there already
	Between Stage = "during" // while the tenant is in
	AtEnd   Stage = "end"    // when the place is given back
)

// Stages lists every stage, in the order above.
func Stages() []Stage { return []Stage{AtStart, Between, AtEnd} }

// Condition is a dated record of how a host surface was found. It is never changed: one that is wrong is withdrawn by a
// later one, and the numbers of records and defects stay as they were given.
type Condition struct {
	On        string   `json:"on" jsonschema:"format=date"`
	By        string   `json:"by,omitempty"`
	Stage     Stage    `json:"stage,omitempty" jsonschema:"enum=start,enum=during,enum=end" jsonschema_description:"at the start of the tenancy, during it, or at its end"`
	Text      string   `json:"text"`
	Photos    []string `json:"photos,omitempty" jsonschema_description:"SHA-256 of each photo's original bytes"`
	Defects   []Defect `json:"defects,omitempty" jsonschema_description:"what is not whole, each with its place and size; those of the start are not charged"`
	Withdraws int      `json:"withdraws,omitempty" jsonschema:"minimum=0" jsonschema_description:"number (from 1, in this list) of an earlier record that is wrong; text says why"`
}

// DefectKind says what is not whole.
type DefectKind string

// The kinds of defect.
const (
	OldHole   DefectKind = "hole"
	OldPlug   DefectKind = "plug"
	Spall     DefectKind = "spall" // material broken out: a chipped edge, a blown face
	OldPatch  DefectKind = "patch" // an earlier repair that shows
	Crack     DefectKind = "crack"
	Stain     DefectKind = "stain"
	Dent      DefectKind = "dent"
	WornPaint DefectKind = "finish" // scuffed, flaking, faded
	OtherFlaw DefectKind = "other"
)

// DefectKinds lists every kind, in the order above.
func DefectKinds() []DefectKind {
	return []DefectKind{OldHole, OldPlug, Spall, OldPatch, Crack, Stain, Dent, WornPaint, OtherFlaw}
}

// owesRepair reports whether the surface owed a filling there already.
func (k DefectKind) owesRepair() bool {
	return k == OldHole || k == OldPlug || k == Spall || k == OldPatch
}

// localMm is the widest or highest that a defect may be and still be one place to fill (common practice, no source). A whole
// wall that is spalled is bad as a wall, and a hole drilled into it is a hole more.
const localMm = 500

// Defect is one thing that is not whole, on the tenant's side of a surface. U and V are its middle along the surface's
// axes. A hole or a plug is round, as wide as its width; all else is as wide and high as it is.
type Defect struct {
	Kind     DefectKind `json:"kind" jsonschema:"enum=hole,enum=plug,enum=spall,enum=patch,enum=crack,enum=stain,enum=dent,enum=finish,enum=other"`
	UMm      int        `json:"u_mm" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"its middle, along the surface"`
	VMm      int        `json:"v_mm" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"its middle, up or across the surface"`
	WidthMm  int        `json:"width_mm" jsonschema:"minimum=1,maximum=1000000"`
	HeightMm int        `json:"height_mm,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"0 is as its width"`
	DepthMm  int        `json:"depth_mm,omitempty" jsonschema:"minimum=0,maximum=10000" jsonschema_description:"0 where nobody measured: then place and size decide"`
	Text     string     `json:"text,omitempty"`
}

// OwesRepair reports whether the surface owed a filling there already, so that a hole in the same place owes none. A crack, a
// stain or worn paint is recorded, and so is damage of more than half a metre; a new hole in them is charged all the same.
func (d Defect) OwesRepair() bool {
	return d.Kind.owesRepair() && d.WidthMm <= localMm && d.HeightMm <= localMm
}

// round reports whether it is taken as a circle.
func (d Defect) round() bool { return d.Kind == OldHole || d.Kind == OldPlug }

// Size is how large it is in words: "Ø 8 mm, 50 deep", "120 x 80 mm".
func (d Defect) Size() string {
	out := "Ø " + strconv.Itoa(d.WidthMm) + " mm"
	if !d.round() {
		high := d.HeightMm
		if high == 0 {
			high = d.WidthMm
		}
		out = strconv.Itoa(d.WidthMm) + " x " + strconv.Itoa(high) + " mm"
	}
	if d.DepthMm > 0 {
		out += ", " + strconv.Itoa(d.DepthMm) + " deep"
	}
	return out
}

// tapeMm is how far a place read from a tape may be out, each way (common practice, no source); offSurfaceMm is the same.
const tapeMm = offSurfaceMm

// Takes reports whether a hole lies wholly in the defect, to a tape's precision: no wider, and no deeper where the defect's
// depth was measured. Then the hole makes nothing worse than it was.
func (d Defect) Takes(diameterMm float64, depthMm int, through bool, uMm, vMm float64) bool {
	if !d.OwesRepair() || d.DepthMm > 0 && (through || depthMm > d.DepthMm+tapeMm) {
		return false
	}
	r, du, dv := diameterMm/2, math.Abs(uMm-float64(d.UMm)), math.Abs(vMm-float64(d.VMm))
	if d.round() {
		return r <= float64(d.WidthMm)/2+1 && math.Hypot(du, dv) <= tapeMm // a drill is known to the millimetre
	}
	high := d.HeightMm
	if high == 0 {
		high = d.WidthMm
	}
	return du+r <= float64(d.WidthMm)/2+tapeMm && dv+r <= float64(high)/2+tapeMm
}

// Found is a defect with its number on its surface and the record that it stands in.
type Found struct {
	Defect
	Number int // D1, D2 ... on its surface, given once
	Record int // number of its condition record, from 1
	Stage  Stage
}

// Name is what the defect is called: "SLAB D3".
func (f Found) Name(host string) string { return host + " D" + strconv.Itoa(f.Number) }

// Standing are the condition records that still hold, with their numbers.
func (h *HostSurface) Standing() (records []Condition, numbers []int) {
	gone := map[int]bool{}
	for i, c := range h.Conditions {
		if c.Withdraws > 0 {
			gone[c.Withdraws], gone[i+1] = true, true
		}
	}
	for i, c := range h.Conditions {
		if !gone[i+1] {
			records, numbers = append(records, c), append(numbers, i+1)
		}
	}
	return records, numbers
}

// Defects are the defects of records that still hold, in the order in which they were recorded.
func (h *HostSurface) Defects() []Found {
	gone := map[int]bool{}
	for _, c := range h.Conditions {
		gone[c.Withdraws] = true
	}
	var out []Found
	n := 0
	for i, c := range h.Conditions {
		for _, d := range c.Defects {
			n++
			if !gone[i+1] && c.Withdraws == 0 {
				out = append(out, Found{d, n, i + 1, c.Stage})
			}
		}
	}
	return out
}

// AtDefects are, for each hole of a set in the front of h, the number of the defect of the start that it lies in, 0 for
// none. It is nil where no hole of the set does, or where nobody knows the places. Where a hole lies does not change when it
// is made good or kept. A set that was there before the tenant needs no excuse.
func (h *HostSurface) AtDefects(hole *Hole) []int {
	if len(h.Conditions) == 0 || hole.Face != FrontFace || !hole.Ours() {
		return nil
	}
	var out []int
	for i, p := range hole.Run.Points() {
		if i >= hole.Count {
			break
		}
		u, v, _ := h.Local(p)
		for _, d := range h.Defects() {
			if d.Stage == AtStart && d.Takes(hole.DiameterMm, hole.DepthMm, hole.Through, u, v) {
				if out == nil {
					out = make([]int, hole.Count)
				}
				out[i] = d.Number
				break
			}
		}
	}
	return out
}
