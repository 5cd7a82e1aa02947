// Package salvage says what comes out, piece by piece, and what it is good for.
//
// The idea: a piece starts whole, and each fixing that spoils it (a nail at its end, glue on its face) takes
// something off: length, grade, or the piece. What is left, and whether it is large enough to be worth carrying
// away, decides where it goes. What nobody has seen is downgraded and counts for nothing. Nothing here is found
// condition; that is recorded when the piece is in somebody's hands.
//
// Looking for
//
//   - pieces and where they go: salvage.go; totals: totals.go; what fixings spoil: spoil.go
//   - what is too small, too full of holes or never used again: worth.go; tested fire sets: fireset.go
//   - screws and bolts that come back: fixings.go
//   - mass, value, carbon: weigh.go
package salvage

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// Condition is what a piece is expected to be fit for once it is out.
type Condition string

// The conditions, best first.
const (
	Whole      Condition = "whole"      // as it went in
	Cut        Condition = "cut"        // shorter: an end is spoilt, or it must be cut to leave
	Downgraded Condition = "downgraded" // not where it shows, and not where it carries without a look
	Recycle    Condition = "recycle"    // as material only
	Spent      Condition = "waste"      // not even as material
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

// Piece is one element as it is expected to come out.
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
	UsableMm         int                `json:"usable_mm" jsonschema_description:"length left after spoilt ends are trimmed; 0 where it is material only"`
	Holes            int                `json:"holes" jsonschema_description:"screw, nail and bolt holes in it"`
	Expected         Condition          `json:"expected"`
	Because          []string           `json:"because,omitempty" jsonschema_description:"what spoils it"`
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
	WasteCode        string             `json:"waste_code,omitempty" jsonschema_description:"List of Waste entry, for what is not kept"`
	WasteCaution     string             `json:"waste_caution,omitempty"`
	ConditionalWaste bool               `json:"ask_before_coding,omitempty" jsonschema_description:"mirror entry: assess before this code is used"`
}

// FixingsBack are the fixings of one type that come out.
type FixingsBack struct {
	Type      string  `json:"type"`
	Name      string  `json:"name"`
	Count     int     `json:"count"`
	Fit       int     `json:"fit_for_use_again"`
	Share     float64 `json:"share_fit"`
	Caution   string  `json:"caution,omitempty"`
	Source    string  `json:"source"`
	Confirmed string  `json:"confirmed"`
}

// Inventory is everything that comes out.
type Inventory struct {
	Pieces  []Piece       `json:"pieces"`
	Fixings []FixingsBack `json:"fixings"`
	Totals  Totals        `json:"totals"`
}

// Take lists every piece that comes out, in order of code, and the fixings that come back. Linear in the register.
func Take(r *domain.Register) Inventory {
	spoils := spoilt(r)
	fireSets(r, spoils)
	prices := r.PriceList()
	share := ShareOf(prices)
	inv := Inventory{Pieces: make([]Piece, 0, len(r.Elements))}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() {
			inv.Pieces = append(inv.Pieces, take(r, e, spoils[i], prices, share))
		}
	}
	slices.SortFunc(inv.Pieces, func(a, b Piece) int { return cmp.Compare(a.Code, b.Code) })
	inv.Fixings = fixingsBack(r)
	inv.Totals = total(inv, share)
	return inv
}

func take(r *domain.Register, e *domain.Element, s spoil, prices map[string]domain.Price, share Share) Piece {
	m := r.Catalogue.Materials[e.Material]
	p := Piece{
		Code: e.Code, Kind: e.Kind, Material: e.Material, MaterialName: m.Name, Assembly: e.Assembly, Zone: e.Zone,
		LengthMm: e.LengthMm, WidthMm: e.WidthMm, ThicknessMm: e.ThicknessMm,
		Holes: s.holes, Provisional: e.Known.Provisional() || s.provisional,
	}
	if p.Provisional {
		s.downgrade("nobody has seen it or all that holds it: no value is counted until it is found")
		p.Because = s.because
	}
	p.UsableMm = max(e.LengthMm-s.trimStartMm-s.trimEndMm, 0)
	s.notAgain(m)
	s.holed(e, m)
	s.small(e, m, p.UsableMm)
	p.Because = s.because
	p.Expected = expected(e, m, s, p.UsableMm)
	if p.Expected == Recycle || p.Expected == Spent {
		p.UsableMm = 0
	}
	p.Goes = route(e, p.Expected)
	weigh(&p, e, m, prices, share)
	if p.Provisional {
		p.ValueMinor, p.ValueKnown, p.EmbodiedKg, p.StoredKg = 0, p.NewKnown, 0, 0
	}
	if p.Goes == Waste || p.Goes == Recycling {
		code(r.Catalogue, &p, e, m)
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
		p.WasteCaution = "treated or of unknown age: assess before choosing between " + w.Code + " and " + w.MirrorOf
	}
}
