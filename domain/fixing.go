package domain

// Known says how far a record was seen with one's own eyes. What is assumed or unknown plans as the worst case
// and is shown as provisional.
type Known string

// How a record is known. Empty reads as seen.
const (
	Seen     Known = "seen"
	Measured Known = "measured"
	Assumed  Known = "assumed"
	Unknown  Known = "unknown" // until opened
)

// Provisional reports whether k plans as the worst case.
func (k Known) Provisional() bool { return k == Assumed || k == Unknown }

// Run is where a set of like fixings or holes is: positions along a line.
type Run struct {
	Start       Point     `json:"start"`
	Along       Direction `json:"along" jsonschema_description:"direction of the line"`
	PositionsMm []int     `json:"positions_mm,omitempty" jsonschema_description:"distance of each from start; empty where nobody knows"`
}

// Points are the positions of the run, nil where nobody knows them.
func (r Run) Points() []Vector {
	if len(r.PositionsMm) == 0 {
		return nil
	}
	return r.AppendPoints(make([]Vector, 0, len(r.PositionsMm)))
}

// AppendPoints puts the positions of the run behind points.
func (r Run) AppendPoints(points []Vector) []Vector {
	start, along := r.Start.Vector(), r.Along.Unit()
	for _, at := range r.PositionsMm {
		points = append(points, start.Add(along.Scale(float64(at))))
	}
	return points
}

// FixingState says what a fixing is now.
type FixingState string

// The states of a fixing.
const (
	FixingIn     FixingState = "in-place"
	FixingUndone FixingState = "undone"
	FixingStruck FixingState = "struck"
)

// Fixing is a set of identical fixings that hold one element to one other element or one host surface. What is
// held is carried: the thing it goes into carries the thing it holds. Run gives the heads.
type Fixing struct {
	Code        string      `json:"code"`
	Type        string      `json:"type" jsonschema_description:"fixing type from the catalogue, e.g. concrete-screw-6"`
	LengthMm    int         `json:"length_mm,omitempty" jsonschema:"minimum=0,maximum=10000" jsonschema_description:"length of one fixing; for a bead, see bead_mm"`
	BeadMm      int         `json:"bead_mm,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"length of a bead of sealant or adhesive"`
	Count       int         `json:"count" jsonschema:"minimum=1,maximum=100000"`
	Holds       string      `json:"holds" jsonschema_description:"code of the element that it holds"`
	Through     []string    `json:"through,omitempty" jsonschema_description:"codes of elements that it passes through on the way"`
	IntoElement string      `json:"into_element,omitempty" jsonschema_description:"exactly one of into_element and into_host"`
	IntoHost    string      `json:"into_host,omitempty"`
	Run         Run         `json:"run,omitzero"`
	Undo        []Direction `json:"undo,omitempty" jsonschema_description:"directions from the head towards the tool; any one of them will do. Empty where nobody knows"`
	Assembly    string      `json:"assembly,omitempty"`
	State       FixingState `json:"state,omitempty" jsonschema:"enum=in-place,enum=undone,enum=struck"`
	Known       Known       `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown"`
	Builder     string      `json:"builder,omitempty"`
	BuiltOrder  int         `json:"built_order,omitempty" jsonschema:"minimum=0"`
	Drilled     bool        `json:"drilled,omitempty" jsonschema_description:"for a struck one: was the hole drilled"`
	Reason      string      `json:"reason,omitempty" jsonschema_description:"why it was struck, or why this type was used"`
	Note        string      `json:"note,omitempty"`
	Version     int         `json:"version,omitempty" jsonschema:"minimum=0"`
}

// InPlace reports whether f still holds something.
func (f Fixing) InPlace() bool { return f.State == "" || f.State == FixingIn }
