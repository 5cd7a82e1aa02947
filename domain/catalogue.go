package domain

import (
	"math"
	"strings"
)

// Catalogue is the trade's tables as one read-only value: domain/catalogue embeds the data, and a firm may
// override work rates in its own copy. Every row carries its source and how far that source was confirmed.
type Catalogue struct {
	FixingTypes map[string]FixingType // by slug
	Materials   map[string]Material   // by code
	HostKinds   map[string]HostKind   // by slug
	Repairs     map[string]Repair     // by slug
	WasteCodes  map[string]WasteCode  // by code as written: "17 02 01", "17 02 04*"
	Handling    map[string]Handling   // by key
	WorkRates   map[string]WorkRate   // by key
}

// Sourced says where a row comes from and how far that was confirmed ("memory", "common practice",
// "confirmed: ..."); it travels with the values into every document that uses them.
type Sourced struct {
	Source    string `json:"source"`
	Confirmed string `json:"confirmed"`
}

// ReleaseClass says what undoing a fixing does.
type ReleaseClass string

// The release classes, from kind to harsh.
const (
	UndoClean         ReleaseClass = "undo-clean"          // comes out and leaves only its hole
	UndoLeavesResidue ReleaseClass = "undo-leaves-residue" // comes out, but a plug, sleeve or film stays
	CutThrough        ReleaseClass = "cut-through"         // is cut; part of it stays in the host
	Destructive       ReleaseClass = "destructive"         // spoils what it held or what it went into
)

// FixingType is one kind and size of fixing. Its name, the hole it wants in the host and the clearance it
// wants in the fixture are three fields: a sleeve anchor is named by its thread, a concrete screw by its drill.
type FixingType struct {
	Slug            string
	Name            string
	Family          string  // masonry, steel, timber, lining, adhesive, seal, dry, service
	NominalMm       float64 // the size it is named by; 0 for beads and clips
	HoleInHostMm    float64 // drill for the host; 0 makes no hole
	HoleInFixtureMm float64 // clearance in the piece; 0 is none stated
	HoleDepthMm     int     // typical depth in the host; 0 is through, or none
	ThroughHost     bool    // goes right through thin steel
	Drive           string
	UndoTool        string
	Release         ReleaseClass
	Residue         string
	ReuseFraction   float64 // share of them fit to use again
	UndoPerHour     float64 // by one person, in UndoUnit
	UndoUnit        string  // "each" or "m"
	Detachability   float64 // type-of-connection score
	Notes           string
	Sourced
}

// MakesHole reports whether one of these leaves a hole in a host surface.
func (t FixingType) MakesHole() bool { return t.HoleInHostMm > 0 }

// pointDiameters is how many of its own diameters a wood screw's thread goes into what it is driven into, at the least that
// counts for its hold (EN 1995-1-1:2004, 8.7.2(3): 6d; value from memory).
const pointDiameters = 6

// DepthMm is how deep its hole usually goes: as the catalogue says, and of a wood screw, whose hole is as deep as the screw
// reaches, six diameters; 0 is right through, or no hole. Whoever knows the screw's length and what it passes knows better.
func (t FixingType) DepthMm() int {
	if t.HoleDepthMm == 0 && !t.ThroughHost && t.MakesHole() && t.Family == "timber" {
		return int(math.Ceil(pointDiameters * t.NominalMm))
	}
	return t.HoleDepthMm
}

// Material is something pieces are made of, with the mean density or the mass that weighs it.
type Material struct {
	Code           string
	Name           string
	Kind           string  // timber, board, insulation, membrane, metal, door, glazing, trim, sealant, adhesive, service
	DensityKgM3    float64 // mean density, never the characteristic one
	ThicknessMm    float64 // 0 where it has no size of its own
	WidthMm        int
	LengthMm       int
	MassKgM2       float64
	MassKgM        float64
	UnitMassKg     float64
	StockSizes     string // as sold, in words
	StockLengthsMm []int  // lengths merchants sell, ascending; empty for sheets and units
	Gap            string
	Moisture       string
	GwpPerKg       float64 // kg CO2e per kg, modules A1-A3; 0 is unknown
	BiogenicPerKg  float64 // kg CO2 stored per kg
	WasteCode      string
	Notes          string
	Sourced
}

// FixingRule says whether a host surface may be fixed to.
type FixingRule string

// The fixing rules of a host surface.
const (
	Allowed FixingRule = "allowed"
	Ask     FixingRule = "ask"
	Never   FixingRule = "never"
)

// HostKind is a kind of landlord's fabric.
type HostKind struct {
	Slug          string
	Name          string
	Rule          FixingRule // where nothing else was agreed
	Reason        string
	Caution       string // for fixing to it
	RepairCaution string // for making it good
	MaxDepthMm    int    // typical limit; 0 where none may be drilled
	DefaultRepair string
	OtherRepairs  []string
	Notes         string
	Sourced
}

// Repair is one method of making good a host surface.
type Repair struct {
	Slug          string
	Host          string   // host kind slug
	FromMm, ToMm  float64  // hole diameters it is for: from <= d < to
	Residues      []string // what may be left in the hole, see catalogue.Residue; empty is anything
	WasteFactor   float64  // filler bought per volume filled; 0 where the filler does not follow the volume
	LeastMl       float64  // least filler or paint a hole, or paint a square metre; 0 where none is counted so
	WidenMm       float64  // the filled diameter is this much over the hole's
	FixedDepthMm  float64  // filled this deep whatever the hole's depth; 0 fills the hole
	PackMl        int      // a common pack of what it fills or paints with; 0 where nothing is counted so
	Buys          string   // what is in that pack
	AppliesTo     string
	Steps         string
	Materials     string
	Consumption   string // the formula in words
	LabourMinutes int    // per Unit
	CureHours     int    // before the place is painted, or taken over as done; 0 where nothing cures
	Unit          string // hole, spot, patch, m, m2, item, panel, tile
	Standard      string
	Finish        string
	Caution       string
	Sourced
}

// WasteCode is an entry of the List of Waste.
type WasteCode struct {
	Code        string
	Description string
	Entry       string // mirror-nonhazardous, mirror-hazardous, absolute-hazardous, absolute-nonhazardous
	MirrorOf    string
	Hazardous   string
	Items       string
	Caution     string
	Route       string
	Sourced
}

// IsHazardous reports whether an entry is marked as hazardous waste: its code ends in a star.
func (w WasteCode) IsHazardous() bool { return strings.HasSuffix(w.Code, "*") }

// Mirrors are the entries that the same waste may fall under, once assessed.
func (w WasteCode) Mirrors() []string {
	if w.MirrorOf == "" {
		return nil
	}
	return strings.Split(w.MirrorOf, "|")
}

// Handling is a guideline figure for lifting and carrying.
type Handling struct {
	Key, Topic, Sex, Height, Reach string
	Value                          float64
	Unit                           string
	When, Note                     string
	Sourced
}

// WorkRate is how long a job takes one person: minutes per Unit.
type WorkRate struct {
	Key     string // "take-down-board", "lay-down-frame", "carry-out", "prop-strike"
	Job     string
	Minutes float64 // person-minutes per Unit
	Unit    string  // piece, m, m2, kg, item
	People  int     // least crew for it
	Sourced
}
