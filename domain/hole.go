package domain

// HoleState says what a hole is now.
type HoleState string

// The states of a hole.
const (
	HoleInUse     HoleState = "in-use"    // a fixing in place uses it
	HoleEmpty     HoleState = "empty"     // its fixing is out
	HoleAbandoned HoleState = "abandoned" // drilled and never used: hit steel, moved 50 mm
	HoleInherited HoleState = "inherited" // there before the tenant: shown, never charged
	HoleMadeGood  HoleState = "made-good"
	HoleKept      HoleState = "kept"   // never stored: in use by what the landlord lets stay, see Register.Leaving
	HoleApart     HoleState = "apart"  // never stored: owed, and of works that are not part of what is asked, see Register.Part
	HoleStruck    HoleState = "struck" // logged by mistake: never drilled
)

// HoleFace is the face of a host surface that a hole breaks. A bolt through a wall breaks two faces.
type HoleFace string

// The two faces.
const (
	FrontFace HoleFace = "front" // the tenant's side, where the surface's normal points
	BackFace  HoleFace = "back"
)

// Hole is a set of like holes in one face of a host surface. A hole face is counted once: where a fixing makes
// the holes, the recipe or the log writes the hole set with it and nothing else counts the fixing's own holes.
type Hole struct {
	Code       string    `json:"code"`
	Host       string    `json:"host"`
	Face       HoleFace  `json:"face" jsonschema:"enum=front,enum=back"`
	DiameterMm float64   `json:"diameter_mm" jsonschema:"exclusiveMinimum=0,maximum=1000"`
	DepthMm    int       `json:"depth_mm" jsonschema:"minimum=0,maximum=10000" jsonschema_description:"0 only for a hole right through"`
	Through    bool      `json:"through,omitempty"`
	Count      int       `json:"count" jsonschema:"minimum=1,maximum=100000"`
	Run        Run       `json:"run,omitzero"`
	Numbers    []int     `json:"numbers,omitempty" jsonschema_description:"number of each hole on the map of its surface, in the order of the run; given once and never again"`
	State      HoleState `json:"state" jsonschema:"enum=in-use,enum=empty,enum=abandoned,enum=inherited,enum=made-good,enum=struck"`
	Fixing     string    `json:"fixing,omitempty" jsonschema_description:"the fixing that uses or used it"`
	Residue    string    `json:"residue,omitempty" jsonschema_description:"what stays in it: plug, sleeve, stub; empty is a clean hole"`
	Assembly   string    `json:"assembly,omitempty"`
	Known      Known     `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown"`
	BuiltOrder int       `json:"built_order,omitempty" jsonschema:"minimum=0"`
	Reason     string    `json:"reason,omitempty" jsonschema_description:"why it was struck or abandoned"`
	Note       string    `json:"note,omitempty"`
	Version    int       `json:"version,omitempty" jsonschema:"minimum=0"`
}

// MadeFor is the assembly that a hole was made for: as it was logged, else that of the fixing that uses it, nil for none.
func (h *Hole) MadeFor(f *Fixing) string {
	if h.Assembly == "" && f != nil {
		return f.Assembly
	}
	return h.Assembly
}

// Ours reports whether the tenant made this hole, whatever became of it.
func (h Hole) Ours() bool { return h.State != HoleInherited && h.State != HoleStruck }

// Charged reports whether giving the place back has to answer for this hole.
func (h Hole) Charged() bool {
	switch h.State {
	case HoleInUse, HoleEmpty, HoleAbandoned:
		return true
	}
	return false
}
