package domain

// ElementKind says what a piece is.
type ElementKind string

// The kinds of piece.
const (
	SolePlate   ElementKind = "sole-plate"
	HeadPlate   ElementKind = "head-plate"
	CapPlate    ElementKind = "cap-plate" // top of a half-height wall
	Stud        ElementKind = "stud"
	Nogging     ElementKind = "nogging"
	OpeningHead ElementKind = "opening-head"
	Batten      ElementKind = "batten"
	Board       ElementKind = "board"
	Insulation  ElementKind = "insulation"
	Post        ElementKind = "post"
	Beam        ElementKind = "beam"
	WallPlate   ElementKind = "wall-plate" // carries joists along a wall
	Joist       ElementKind = "joist"
	Trimmer     ElementKind = "trimmer"
	Hanger      ElementKind = "hanger" // joist hanger, ceiling hanger
	Strutting   ElementKind = "strutting"
	DeckBoard   ElementKind = "deck-board"
	StairString ElementKind = "stair-string"
	StairTread  ElementKind = "stair-tread"
	GuardPost   ElementKind = "guard-post"
	GuardRail   ElementKind = "guard-rail"
	ToeBoard    ElementKind = "toe-board"
	DoorLining  ElementKind = "door-lining"
	DoorLeaf    ElementKind = "door-leaf"
	Architrave  ElementKind = "architrave"
	Skirting    ElementKind = "skirting"
	Trim        ElementKind = "trim"
	Seal        ElementKind = "seal"
	Cable       ElementKind = "cable"
	Pipe        ElementKind = "pipe"
	Bracket     ElementKind = "bracket"
	Packer      ElementKind = "packer"
	OtherPiece  ElementKind = "other"
)

// ElementKinds lists every kind, in the order above.
func ElementKinds() []ElementKind {
	return []ElementKind{SolePlate, HeadPlate, CapPlate, Stud, Nogging, OpeningHead, Batten, Board, Insulation, Post, Beam,
		WallPlate, Joist, Trimmer, Hanger, Strutting, DeckBoard, StairString, StairTread, GuardPost, GuardRail, ToeBoard,
		DoorLining, DoorLeaf, Architrave, Skirting, Trim, Seal, Cable, Pipe, Bracket, Packer, OtherPiece}
}

// IsService reports whether a piece of this kind must be dead and proved dead before it is touched.
func (k ElementKind) IsService() bool { return k == Cable || k == Pipe }

// Owner says whose a piece is. Only the tenant's and the hired pieces come out.
type Owner string

// The owners. Empty reads as the tenant's.
const (
	TenantOwns   Owner = "tenant"
	LandlordOwns Owner = "landlord"
	HiredIn      Owner = "hired"
)

// ElementState says where a piece is now.
type ElementState string

// The states of an element. Empty reads as in place.
const (
	InPlace   ElementState = "in-place"
	TakenDown ElementState = "taken-down"
	Stored    ElementState = "stored"
	Reused    ElementState = "re-used"
	Disposed  ElementState = "disposed"
	Struck    ElementState = "struck" // left out, or logged by mistake
)

// Element is one piece. Its box is Length x Width x Thickness at its placement; Outline cuts the box down where
// the piece is not a plain rectangle.
type Element struct {
	Code        string       `json:"code"`
	Kind        ElementKind  `json:"kind"`
	Name        string       `json:"name,omitempty"`
	Material    string       `json:"material" jsonschema_description:"material from the catalogue, e.g. c16-cls-38x89"`
	LengthMm    int          `json:"length_mm" jsonschema:"minimum=1,maximum=100000" jsonschema_description:"to the long point where an end is cut on the rake"`
	WidthMm     int          `json:"width_mm" jsonschema:"minimum=1,maximum=100000"`
	ThicknessMm int          `json:"thickness_mm" jsonschema:"minimum=1,maximum=100000"`
	Placement   Placement    `json:"placement"`
	Outline     []FacePoint  `json:"outline,omitempty" jsonschema_description:"corners on the length x width face where it is not a plain rectangle: a raked board, a notch"`
	StartCutDeg float64      `json:"start_cut_deg,omitempty" jsonschema:"minimum=-89,maximum=89" jsonschema_description:"angle of the end cut at the origin end, 0 square"`
	EndCutDeg   float64      `json:"end_cut_deg,omitempty" jsonschema:"minimum=-89,maximum=89"`
	Assembly    string       `json:"assembly,omitempty"`
	Subassembly string       `json:"subassembly,omitempty" jsonschema_description:"pieces with the same one leave together: a raised frame, a door set"`
	Face        string       `json:"face,omitempty" jsonschema_description:"side of its assembly: a or b for a lining"`
	Zone        string       `json:"zone,omitempty"`
	MassKg      float64      `json:"mass_kg,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"stated mass; 0 takes it from the material"`
	Owner       Owner        `json:"owner,omitempty" jsonschema:"enum=tenant,enum=landlord,enum=hired"`
	Builder     string       `json:"builder,omitempty"`
	BuiltOrder  int          `json:"built_order,omitempty" jsonschema:"minimum=0"`
	Known       Known        `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown"`
	State       ElementState `json:"state,omitempty" jsonschema:"enum=in-place,enum=taken-down,enum=stored,enum=re-used,enum=disposed,enum=struck"`
	Treated     bool         `json:"treated,omitempty" jsonschema_description:"preservative treated, or old enough that nobody can say"`
	FireRated   bool         `json:"fire_rated,omitempty" jsonschema_description:"part of a tested set: its parts stay together"`
	Finish      string       `json:"finish,omitempty"`
	Reason      string       `json:"reason,omitempty" jsonschema_description:"why it was struck"`
	Note        string       `json:"note,omitempty"`
	Version     int          `json:"version,omitempty" jsonschema:"minimum=0"`
}

// FacePoint is a corner on a piece's length x width face, millimetres from its origin corner.
type FacePoint struct {
	AlongMm  int `json:"along_mm"`
	AcrossMm int `json:"across_mm"`
}

// IsInPlace reports whether e still stands in the fit-out.
func (e Element) IsInPlace() bool { return e.State == "" || e.State == InPlace }

// ComesOut reports whether the strip-out removes e: in place, and not the landlord's.
func (e Element) ComesOut() bool { return e.IsInPlace() && e.Owner != LandlordOwns }

// Box is the piece's oriented box.
func (e Element) Box() Box { return NewBox(e.Placement, e.LengthMm, e.WidthMm, e.ThicknessMm) }

// FaceAreaM2 is the area of the length x width face, by its outline where it has one.
func (e Element) FaceAreaM2() float64 {
	if len(e.Outline) < 3 {
		return float64(e.LengthMm) * float64(e.WidthMm) / 1e6
	}
	twice := 0.0
	for i, p := range e.Outline {
		q := e.Outline[(i+1)%len(e.Outline)]
		twice += float64(p.AlongMm)*float64(q.AcrossMm) - float64(q.AlongMm)*float64(p.AcrossMm)
	}
	if twice < 0 {
		twice = -twice
	}
	return twice / 2 / 1e6
}

// MassOf is the mass of e in kilograms: as stated, else a unit mass, mass a metre, mass a square metre, or mean
// density by volume, whichever the material gives first. ok is false where nothing gives one.
func (e Element) MassOf(m Material) (kg float64, ok bool) {
	switch {
	case e.MassKg > 0:
		return e.MassKg, true
	case m.Kind == "door" && m.UnitMassKg > 0, m.UnitMassKg > 0 && m.MassKgM2 == 0 && m.MassKgM == 0 && m.DensityKgM3 == 0:
		return m.UnitMassKg, true
	case m.MassKgM > 0:
		return m.MassKgM * float64(e.LengthMm) / 1000, true
	case m.MassKgM2 > 0:
		return m.MassKgM2 * e.FaceAreaM2(), true
	case m.DensityKgM3 > 0:
		return m.DensityKgM3 * e.FaceAreaM2() * float64(e.ThicknessMm) / 1000, true
	}
	return 0, false
}
