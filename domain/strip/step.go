package strip

import (
	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/salvage"
)

// Kind says what a step does.
type Kind string

// The kinds of step.
const (
	MakeDead   Kind = "make-dead"   // isolate services and prove them dead
	Prop       Kind = "prop"        // temporary support in
	Remove     Kind = "remove"      // pieces out
	StrikeProp Kind = "strike-prop" // temporary support out
)

// Step is a run of like removals that one crew does with one tool in one zone.
type Step struct {
	Number          int          `json:"number" jsonschema_description:"kept while the strip-out goes on, so numbers are missed out once their steps are done"`
	Kind            Kind         `json:"kind"`
	Title           string       `json:"title"`
	Zone            string       `json:"zone,omitempty"`
	Assembly        string       `json:"assembly,omitempty"`
	Elements        []string     `json:"elements" jsonschema_description:"codes, in the order in which they leave, are propped or are proved dead"`
	Pieces          []PieceOut   `json:"pieces,omitempty"`
	Fixings         []FixingWork `json:"fixings,omitempty" jsonschema_description:"what is undone, by type"`
	Inside          []string     `json:"stay_joined,omitempty" jsonschema_description:"fixings that hold a frame or set together: undone after it is down, or left for re-use"`
	Tool            string       `json:"tool"`
	Who             string       `json:"who,omitempty" jsonschema_description:"who does it where the crew may not: a licensed electrician"`
	People          int          `json:"people"`
	Access          Access       `json:"access"`
	Stand           string       `json:"stand" jsonschema_description:"where the crew stands"`
	SetUp           []Task       `json:"set_up,omitempty" jsonschema_description:"equipment brought up, moved along or taken away for the step, in its minutes; plans made before it was told have none"`
	MassKg          float64      `json:"mass_kg"`
	HeaviestKg      float64      `json:"heaviest_kg"`
	PersonMinutes   int          `json:"person_minutes"`
	DurationMinutes int          `json:"duration_minutes"`
	Holds           []Hold       `json:"holds,omitempty"`
	Cautions        []string     `json:"cautions,omitempty"`
	Heavy           []Heavy      `json:"-"` // what of it is over the guideline figures; words are among the cautions
	LetGo           []string     `json:"-"` // what stays on its other fixings once those that it undoes are out
	BothWays        []string     `json:"-"` // of the cautions those that hold for putting the pieces back too
	Opens           []string     `json:"open_to_view,omitempty"`
	Lift            bool         `json:"lift,omitempty" jsonschema_description:"a set laid down whole, a beam, or a piece over the guideline figure: never stopped half way"`
	Short           int          `json:"people_short,omitempty" jsonschema_description:"how many more people it asks for than the crew has"`
	Crowded         int          `json:"people_over_room,omitempty" jsonschema_description:"how many more people it asks for than its zone has room for"`
	OpenEdges       []string     `json:"open_edges,omitempty" jsonschema_description:"deck boards beside a hole or an edge that a hold has guarded by hand from this step on"`
	Before          []string     `json:"before,omitempty" jsonschema_description:"of support that goes in: the pieces that leave only once it is in, since they hold or tie what it is put to; plans made before it was told have none"`
	KeepOff         []string     `json:"keep_off,omitempty" jsonschema_description:"pieces that stay and that a hold keeps people off from this step on, since what guards them or leads to them comes out"`
	Provisional     bool         `json:"provisional,omitempty"`
}

// Heavy is pieces that are over the guideline figure for three people at one height of the body.
type Heavy struct {
	Elements            []string
	Height              string
	GuideKg, HeaviestKg float64
}

// PieceOut is one piece that leaves, and where it goes.
type PieceOut struct {
	Code     string             `json:"code"`
	Kind     domain.ElementKind `json:"kind"`
	MassKg   float64            `json:"mass_kg"`
	Goes     salvage.Route      `json:"goes"`
	Expected salvage.Condition  `json:"expected"`
	Waste    string             `json:"waste_code,omitempty"`
	AskWaste bool               `json:"ask_before_coding,omitempty" jsonschema_description:"a mirror entry that nobody has assessed: no code is given"`
}

// FixingWork is the fixings of one type that a step undoes.
type FixingWork struct {
	Type    string              `json:"type"`
	Name    string              `json:"name"`
	Tool    string              `json:"tool"`
	Count   int                 `json:"count"`
	Metres  float64             `json:"metres,omitempty" jsonschema_description:"for beads: length to cut"`
	Unseen  int                 `json:"unseen,omitempty" jsonschema_description:"how many nobody has seen: their heads are found and cleared first, in the minutes"`
	Minutes float64             `json:"minutes"`
	Release domain.ReleaseClass `json:"release_class"`
	Codes   []string            `json:"codes"`
}

// Hold is a point that must be signed before a step may start.
type Hold struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
	Who  string `json:"who" jsonschema_description:"who signs it"`
}

// ByBatten reports whether a step of support stays light pieces with battens, rather than props them.
func (s *Step) ByBatten() bool { return s.Kind == Prop && s.Tool == battenTools }

// Access is what the crew reaches the work from.
type Access string

// The access equipment, lowest first.
const (
	FromFloor Access = "floor"
	FromSteps Access = "steps"
	FromTower Access = "tower"
)

// Words names the equipment as the crew does.
func (a Access) Words() string {
	switch a {
	case FromSteps:
		return "steps or low platform"
	case FromTower:
		return "tower or platform"
	}
	return string(a)
}

// Sequence is a whole strip-out.
type Sequence struct {
	Steps         []Step               `json:"steps"`
	PersonMinutes int                  `json:"person_minutes"`
	Changeovers   Changeovers          `json:"changeovers"`
	Unreachable   []string             `json:"unreachable_fixings,omitempty"`
	Alternatives  release.Alternatives `json:"alternatives" jsonschema_description:"how the choice among alternatives was made, and what no choice can be below; plans made before it was measured have zeros"`
	Unheld        []Unheld             `json:"unheld,omitempty" jsonschema_description:"what stands that nothing holds since what held it is out, by assembly: nobody goes on it or under it before it is propped; plans made before it was told have none"`
	Loose         []string             `json:"loose,omitempty" jsonschema_description:"light pieces that nothing holds since what held them is out: taken down in the hand before anybody works beside them"`
	Changes       []string             `json:"changes,omitempty" jsonschema_description:"what of the order that the crew has could not be kept, and why"`
}
