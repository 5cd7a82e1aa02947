package domain

// RelationKind names a fact between two things that no fixing states.
type RelationKind string

// The kinds of relation, each read "From <kind> To".
const (
	BearsOn     RelationKind = "bears-on"     // From rests on To, an element or a host surface: To carries From
	Hides       RelationKind = "hides"        // From covers To, an element or a fixing: From leaves first
	Traps       RelationKind = "traps"        // From lies in To's only way out: From leaves first
	Interlocks  RelationKind = "interlocks"   // From was laid after To, tongue in groove: From leaves first
	Seals       RelationKind = "seals"        // From is a seal on To: From is cut first
	Steadies    RelationKind = "steadies"     // From keeps To from falling over
	RunsThrough RelationKind = "runs-through" // From, a service, runs through or on To: dead, then out, before To
	Serves      RelationKind = "serves"       // From guards, gives access to or lights work on To: To leaves first
)

// RelationKinds lists every kind, in the order above.
func RelationKinds() []RelationKind {
	return []RelationKind{BearsOn, Hides, Traps, Interlocks, Seals, Steadies, RunsThrough, Serves}
}

// RelationOrigin says where a relation comes from.
type RelationOrigin string

// The origins. A logged or recipe relation beats one read from geometry.
const (
	FromRecipe   RelationOrigin = "recipe"
	FromLog      RelationOrigin = "logged"
	FromGeometry RelationOrigin = "geometry"
)

// Relation is one fact, From kind To.
type Relation struct {
	Code     string         `json:"code"`
	Kind     RelationKind   `json:"kind" jsonschema:"enum=bears-on,enum=hides,enum=traps,enum=interlocks,enum=seals,enum=steadies,enum=runs-through,enum=serves"`
	From     string         `json:"from" jsonschema_description:"element code"`
	To       string         `json:"to" jsonschema_description:"element code; a host surface for bears-on; a fixing for hides"`
	Origin   RelationOrigin `json:"origin,omitempty" jsonschema:"enum=recipe,enum=logged,enum=geometry"`
	How      string         `json:"how,omitempty" jsonschema_description:"for one read from geometry: how it was found"`
	Assembly string         `json:"assembly,omitempty"`
	Struck   bool           `json:"struck,omitempty"`
	Reason   string         `json:"reason,omitempty"`
	Note     string         `json:"note,omitempty"`
	Version  int            `json:"version,omitempty" jsonschema:"minimum=0"`
}
