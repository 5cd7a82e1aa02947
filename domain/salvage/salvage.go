// Package salvage says what comes out, piece by piece, and what it is good for.
//
// The idea: a piece starts whole, and each fixing that spoils it (a nail at its end, glue on its face) takes
// something off: length, grade, or the piece. What is left, and whether it is large enough to be worth carrying
// away, decides where it goes. What nobody has seen is downgraded and counts for nothing. Once a piece is out, what it
// was found as is signed, and counts over all that was expected.
//
// Looking for
//
//   - pieces and where they go: salvage.go; totals: totals.go; what fixings spoil: spoil.go
//   - what is too small, too full of holes or never used again: worth.go; tested fire sets: fireset.go
//   - screws and bolts that come back: fixings.go
//   - what was found, and waste that was assessed: found.go
//   - mass, value, carbon: weigh.go; what it saves by material, stored carbon, room to store: savings.go
//   - waste by List of Waste entry: waste.go
package salvage

import (
	"cmp"
	"slices"
	"strings"

	"unpick/domain"
)

// Condition is what a piece is fit for once it is out.
type Condition = domain.PieceCondition

// The conditions, best first.
const (
	Whole      = domain.Whole
	Cut        = domain.Cut
	Downgraded = domain.Downgraded
	Recycle    = domain.Recycle
	Spent      = domain.Spent
)

// Route is where a piece goes.
type Route string

// The routes.
const (
	Reuse     Route = "re-use"
	Sell      Route = "sell"
	Recycling Route = "recycle"
	Waste     Route = "waste"
	Return    Route = "return" // hired: back to its owner
)

// Piece is one element as it is expected to come out, or as it came out.
type Piece struct {
	Code             string             `json:"code"`
	Kind             domain.ElementKind `json:"kind"`
	Material         string             `json:"material"`
	MaterialName     string             `json:"material_name"`
	Assembly         string             `json:"assembly,omitempty"`
	Zone             string             `json:"zone,omitempty"`
	LengthMm         int                `json:"length_mm"`
	WidthMm          int                `json:"width_mm"`
	ThicknessMm      int                `json:"thickness_mm"`
	State            string             `json:"state,omitempty" jsonschema_description:"taken-down or stored; empty while it is in place"`
	Treated          bool               `json:"treated,omitempty"`
	UsableMm         int                `json:"usable_mm" jsonschema_description:"length that is good: as found, else what is left after spoilt ends are trimmed; 0 where it is material only"`
	ExpectedMm       int                `json:"expected_usable_mm" jsonschema_description:"usable length as it was expected"`
	Holes            int                `json:"holes" jsonschema_description:"screw, nail and bolt holes in it"`
	Expected         Condition          `json:"expected"`
	Because          []string           `json:"because,omitempty" jsonschema_description:"what spoils it"`
	Found            *Found             `json:"found,omitempty" jsonschema_description:"what it turned out to be; counts over what was expected"`
	Goes             Route              `json:"goes"`
	Provisional      bool               `json:"provisional,omitempty"`
	MassKg           float64            `json:"mass_kg"`
	MassKnown        bool               `json:"mass_known"`
	NewMinor         int64              `json:"new_minor" jsonschema_description:"price of the usable part new, by the firm's list; 0 with new_known false is no rate"`
	NewKnown         bool               `json:"new_known"`
	ValueMinor       int64              `json:"value_minor" jsonschema_description:"what it is worth: the price new, of which a downgraded piece has the firm's share:downgraded; 0 with value_known false is no rate, and 0 for what nobody has seen yet"`
	ValueKnown       bool               `json:"value_known"`
	EmbodiedKg       float64            `json:"embodied_kg_co2e" jsonschema_description:"modules A1-A3 of the same piece new"`
	EmbodiedKnown    bool               `json:"embodied_known"`
	StoredKg         float64            `json:"stored_kg_co2" jsonschema_description:"biogenic carbon dioxide held in the piece, after EN 16449"`
	VolumeM3         float64            `json:"volume_m3" jsonschema_description:"of the part that is good where it is kept, else of all of it"`
	StackedM3        float64            `json:"stacked_m3" jsonschema_description:"room that it takes in a stack"`
	WasteCode        string             `json:"waste_code,omitempty" jsonschema_description:"List of Waste entry, for what is not kept"`
	WasteCaution     string             `json:"waste_caution,omitempty"`
	WasteChoice      []string           `json:"waste_choice,omitempty" jsonschema_description:"the entries between which somebody has to assess"`
	OnlySmall        bool               `json:"-"` // too small to be kept for another place, and nothing spoils it for its own
	SoundInPlace     bool               `json:"-"` // downgraded for its own holes, or for what it is treated with, and nothing else: good for the place it had
	ConditionalWaste bool               `json:"ask_before_coding,omitempty" jsonschema_description:"mirror entry: assess before this code is used"`
}

// ServesInPlace reports whether a piece may go back to the very place that it had, with the same fixings in the same holes:
// as it was, or downgraded for nothing but those. What somebody found counts over what was expected.
func (p *Piece) ServesInPlace() bool {
	return p.Goes == Reuse && !p.Provisional && (p.Condition() == Whole || p.Found == nil && p.SoundInPlace)
}

// FixingsBack are the fixings of one type that come out loose, and those that come out in a frame or a set and stay in it.
type FixingsBack struct {
	Type      string  `json:"type"`
	Name      string  `json:"name"`
	Count     int     `json:"count" jsonschema_description:"that come out loose"`
	Joined    int     `json:"stay_joined,omitempty" jsonschema_description:"more, that hold a frame or a set together that comes out in one: not loose, and in no other figure here"`
	Fit       int     `json:"fit_for_use_again"`
	Share     float64 `json:"share_fit"`
	NewMinor  int64   `json:"new_minor" jsonschema_description:"those that are fit, new, by the firm's prices; 0 with new_known false is no price"`
	NewKnown  bool    `json:"new_known"`
	Caution   string  `json:"caution,omitempty"`
	Source    string  `json:"source"`
	Confirmed string  `json:"confirmed"`
}

// Inventory is everything that comes out.
type Inventory struct {
	Pieces  []Piece       `json:"pieces"`
	Fixings []FixingsBack `json:"fixings"`
	Savings []Saving      `json:"savings" jsonschema_description:"what is kept, by material"`
	Waste   []WasteLine   `json:"waste" jsonschema_description:"what is not kept, by List of Waste entry"`
	Totals  Totals        `json:"totals"`
}

// Take lists every piece that comes out or is out and at hand, in order of code, and the fixings that come back. Linear
// in the register.
func Take(r *domain.Register) Inventory {
	index := r.Index()
	spoils := spoilt(r, index)
	fireSets(r, spoils)
	prices := r.PriceList()
	share := ShareOf(prices)
	said := signedIn(r)
	inv := Inventory{Pieces: make([]Piece, 0, len(r.Elements))}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() || IsOut(e) {
			inv.Pieces = append(inv.Pieces, take(r, e, spoils[i], prices, share, said))
		}
	}
	slices.SortFunc(inv.Pieces, func(a, b Piece) int { return cmp.Compare(a.Code, b.Code) })
	inv.Fixings = fixingsBack(r, index, prices)
	inv.Savings = savings(r, inv.Pieces)
	inv.Waste = waste(r.Catalogue, inv.Pieces)
	inv.Totals = total(inv, share)
	return inv
}

func take(r *domain.Register, e *domain.Element, s spoil, prices map[string]domain.Price, share Share, said signed) Piece {
	m := r.Catalogue.Materials[e.Material]
	p := Piece{
		Code: e.Code, Kind: e.Kind, Material: e.Material, MaterialName: m.Name, Assembly: e.Assembly, Zone: e.Zone,
		LengthMm: e.LengthMm, WidthMm: e.WidthMm, ThicknessMm: e.ThicknessMm,
		Treated: e.Treated, Holes: s.holes, Provisional: e.Known.Provisional() || s.provisional,
	}
	if IsOut(e) {
		p.State = string(e.State)
	}
	if p.Provisional {
		s.downgrade("nobody has seen it or all that holds it: no value is counted until it is found")
		p.Because = s.because
	}
	p.UsableMm = max(e.LengthMm-s.trimStartMm-s.trimEndMm, 0)
	s.notAgain(m)
	s.holed(e, m)
	spoilt := s.lost || p.UsableMm < e.LengthMm
	s.small(e, m, p.UsableMm)
	p.OnlySmall = s.lost && !spoilt
	p.Because = s.because
	p.Expected = expected(e, m, s, p.UsableMm)
	if p.Expected == Recycle || p.Expected == Spent {
		p.UsableMm = 0
	}
	p.ExpectedMm = p.UsableMm
	p.SoundInPlace = p.Expected == Downgraded && !s.worse && p.UsableMm == e.LengthMm
	if o := said.found[e.Code]; o != nil && IsOut(e) {
		p.find(o)
	}
	p.Goes = route(e, p.Condition())
	weigh(&p, e, m, prices, share)
	if p.Provisional {
		p.ValueMinor, p.ValueKnown, p.EmbodiedKg, p.StoredKg = 0, p.NewKnown, 0, 0
	}
	p.room(e, m)
	if p.Discarded() {
		code(r.Catalogue, &p, e, m)
		if o := said.assessed[e.Code]; o != nil {
			p.assess(r.Catalogue, o)
		}
	}
	return p
}

// expected is the worst that a piece's fixings, size and kind make of it. A seal is cut to come out, and what is left
// of glue or wet insulation is material for nobody.
func expected(e *domain.Element, m domain.Material, s spoil, usableMm int) Condition {
	switch {
	case e.Kind == domain.Seal || m.Kind == "sealant" || m.Kind == "adhesive":
		return Spent
	case s.lost && m.Kind == "insulation":
		return Spent
	case s.lost:
		return Recycle
	case s.downgraded || e.Treated:
		return Downgraded
	case usableMm < e.LengthMm:
		return Cut
	}
	return Whole
}

// route follows the condition, except that what is hired goes back however it looks.
func route(e *domain.Element, c Condition) Route {
	switch {
	case e.Owner == domain.HiredIn:
		return Return
	case c == Spent:
		return Waste
	case c == Recycle:
		return Recycling
	}
	return Reuse
}

// code sets the List of Waste entry. Treated or old timber is a mirror entry: ask before a code is printed.
func code(c *domain.Catalogue, p *Piece, e *domain.Element, m domain.Material) {
	w, ok := c.WasteCodes[m.WasteCode]
	if !ok {
		p.WasteCaution = "no List of Waste entry for this material: ask the carrier"
		return
	}
	p.WasteCode, p.WasteCaution = w.Code, w.Caution
	p.ConditionalWaste = e.Treated && w.MirrorOf != ""
	if p.ConditionalWaste {
		p.WasteChoice = append([]string{w.Code}, w.Mirrors()...)
		p.WasteCaution = "treated or of unknown age: assess before choosing between " + strings.Join(p.WasteChoice, " and ")
	}
}
