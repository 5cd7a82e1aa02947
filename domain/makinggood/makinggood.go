// Package makinggood accounts for every hole face and every remnant in the landlord's fabric: each ends in
// exactly one repair row, one priced item and one sign-off, and the totals must agree.
//
// The idea: start from the hole sets, not from the fixings, because a hole with nothing in it is owed as well.
// What a fixing leaves on a face without a hole (a film of sealant, a clamp's bruise) is a row too.
//
// Looking for
//
//   - rows from holes, remnants and films: makinggood.go
//   - whole planes to redecorate: redecorate.go
//   - holes where the surface had a defect before the tenant: atdefects.go; what the licence covers: package licence
//   - what of it is a part of the works: part.go
//   - how long it takes, with curing: days.go
//   - what to buy, in whole packs: buying.go
//   - the totals that must agree: balance.go
package makinggood

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/licence"
)

// Row is one repair: a set of like holes or remnants in one face of one host surface.
type Row struct {
	Number         int             `json:"number"`
	Host           string          `json:"host"`
	HostName       string          `json:"host_name"`
	Face           domain.HoleFace `json:"face,omitempty"`
	Hole           string          `json:"hole,omitempty" jsonschema_description:"hole set that this row answers for"`
	Fixing         string          `json:"fixing,omitempty"`
	Assembly       string          `json:"assembly,omitempty"`
	What           string          `json:"what" jsonschema_description:"in words: 8 holes 6 mm, 55 deep"`
	Where          string          `json:"where" jsonschema_description:"along the surface, in its own axes"`
	Remnant        string          `json:"remnant,omitempty" jsonschema_description:"what stays in the fabric; empty is a clean hole"`
	Leaves         string          `json:"leaves,omitempty" jsonschema_description:"the same, of a film, a bead or a bruise by the name of what leaves it: Silicone line: thin film each side"`
	Quantity       float64         `json:"quantity"`
	Places         int             `json:"places,omitempty" jsonschema_description:"in which the surface is repaired: holes, or beads and marks of fixings without one, whatever unit the quantity is in"`
	Unit           string          `json:"unit"`
	DiameterMm     float64         `json:"diameter_mm,omitempty"`
	DepthMm        int             `json:"depth_mm,omitempty"`
	Repair         string          `json:"repair,omitempty"`
	Steps          string          `json:"steps"`
	Materials      string          `json:"materials,omitempty"`
	Defects        string          `json:"defects,omitempty" jsonschema_description:"defects of the start that its holes lie in: shown, not charged"`
	Entered        string          `json:"defects_entered,omitempty" jsonschema_description:"of defects whose record was entered after holes were logged in the surface or an issue went out: when"`
	NotCovered     float64         `json:"not_covered,omitempty" jsonschema_description:"how much of the quantity the licence does not cover"`
	FilledMm       float64         `json:"filled_diameter_mm,omitempty" jsonschema_description:"of the round that one repair fills; 0 where the filler does not follow the volume"`
	FilledDepthMm  float64         `json:"filled_depth_mm,omitempty"`
	VolumeMl       float64         `json:"volume_ml,omitempty" jsonschema_description:"filled in all, without waste"`
	WasteFactor    float64         `json:"waste_factor,omitempty" jsonschema_description:"filler bought for each volume filled, from the repair's row"`
	LeastMl        float64         `json:"least_ml,omitempty" jsonschema_description:"least filler or paint a hole"`
	MaterialMl     float64         `json:"material_ml,omitempty" jsonschema_description:"millilitres to buy in all: the larger of volume times waste factor and the least a hole; 0 where nothing is counted so"`
	Minutes        int             `json:"labour_minutes" jsonschema_description:"0 for inherited holes: not owed"`
	CureHours      int             `json:"cure_hours,omitempty"`
	Standard       string          `json:"standard,omitempty"`
	Finish         string          `json:"finish,omitempty"`
	Caution        string          `json:"caution,omitempty"`
	Charged        bool            `json:"charged" jsonschema_description:"false for what is shown and not owed: see not_owed"`
	NotOwed        string          `json:"not_owed,omitempty" jsonschema_description:"why a row is shown and not charged: there before, kept, made good"`
	Issue          int             `json:"issue,omitempty" jsonschema_description:"the newest issue of the making-good list, where the row is in it"`
	Done           string          `json:"done,omitempty" jsonschema_description:"who signed for it, and when"`
	RateMinor      int64           `json:"rate_minor"`
	RateKnown      bool            `json:"rate_known"`
	AmountMinor    int64           `json:"amount_minor"`
	Provisional    bool            `json:"provisional,omitempty"`
	NeedsDecision  bool            `json:"needs_decision,omitempty" jsonschema_description:"no repair method is listed for this hole in this surface: the landlord's engineer decides"`
	SourceOfMethod string          `json:"source,omitempty"`
}

// List is the making good of a fit-out.
type List struct {
	Rows    []Row                     `json:"rows"`
	Planes  []Plane                   `json:"redecoration"`
	Licence []licence.LicensedSurface `json:"licence"`
	Balance Balance                   `json:"balance"`
	Days    Days                      `json:"days"`
	Buying  []Buy                     `json:"materials_to_buy"`
}

// Make accounts for every hole face and remnant, in order of host, face and hole. Linear in holes and fixings.
func Make(r *domain.Register) List { return Against(r, licence.Compare(r)) }

// Against is Make for a register that was held to its licence already.
func Against(r *domain.Register, c licence.Comparison) List {
	m := maker{r: r, index: r.Index(), prices: r.PriceList(), cover: c, signed: signatures(r), stays: r.Consents()}
	for i := range r.Holes {
		m.hole(&r.Holes[i])
	}
	for i := range r.Fixings {
		m.film(&r.Fixings[i])
	}
	slices.SortFunc(m.rows, func(a, b Row) int {
		return cmp.Or(cmp.Compare(a.Host, b.Host), cmp.Compare(a.Face, b.Face), cmp.Compare(a.Hole, b.Hole), cmp.Compare(a.Fixing, b.Fixing), cmp.Compare(a.Defects, b.Defects))
	})
	for i := range m.rows {
		m.rows[i].Number = i + 1
	}
	l := List{Rows: m.rows, Planes: planes(r, m.rows, m.prices), Licence: c.Surfaces}
	l.Balance = balance(r, l.Rows)
	l.Buying = buying(r.Catalogue, l.Rows, l.Planes)
	l.Days = days(r.FitOut, l.Rows, l.Planes)
	return l
}

type maker struct {
	r      *domain.Register
	index  *domain.Index
	prices map[string]domain.Price
	cover  licence.Comparison
	signed map[string]domain.SignOff // by what they are about
	stays  map[string]string         // by consent, by assembly
	rows   []Row
}

// hole makes the row of a hole set, and one more for those of its holes that lie in a defect of the start. Those struck were
// never drilled.
func (m *maker) hole(h *domain.Hole) {
	if h.State == domain.HoleStruck {
		return
	}
	host := &m.r.Hosts[m.index.Hosts[h.Host]]
	old, defects := atDefects(host, h)
	places := placesAtDefects(host, h)
	if n := h.Count - old; n > 0 {
		row := m.row(h, host, n, "")
		if old > 0 {
			row.Where += "; without " + places
		}
		m.rows = append(m.rows, row)
	}
	if old > 0 {
		row := m.row(h, host, old, defects)
		row.Where = places
		m.rows = append(m.rows, row)
	}
}

// row is so many holes of a set: owed, unless they were there before the tenant or lie in defects of the start.
func (m *maker) row(h *domain.Hole, host *domain.HostSurface, n int, defects string) Row {
	row := Row{
		Host: h.Host, HostName: host.Name, Face: h.Face, Hole: h.Code, Fixing: h.Fixing, Assembly: m.madeFor(h), Defects: defects,
		Quantity: float64(n), Places: n, DiameterMm: h.DiameterMm, DepthMm: h.DepthMm,
		Charged: h.Charged() && defects == "", Provisional: h.Known.Provisional() || host.Known.Provisional(),
		Where: where(*host, h.Run), Remnant: m.remnant(h),
	}
	row.Leaves = row.Remnant
	row.What = fmt.Sprintf("%d %s %s mm, %s", n, plural(n, "hole", "holes"), trimNumber(h.DiameterMm), depth(h))
	switch not := m.cover.Without[h.Code]; {
	case h.State == domain.HoleInherited:
		row.What += ", there before the tenant"
		row.NotOwed = ThereBefore
		if _, ok := m.signed[h.Code]; ok {
			row.Done = m.doneBy(h.Code)
		}
	case h.State == domain.HoleKept:
		row.What += ", kept: what it holds stays"
		row.NotOwed = Kept
	case defects != "":
		row.Entered = m.r.EnteredLate(host, host.AtDefects(h))
		row.What += ", in what the condition record of the start has as " + defects
		row.NotOwed = AtDefect // filled as a favour it is excused still, and causes nothing that is owed
		if h.State == domain.HoleMadeGood {
			row.Done = m.doneBy(h.Code)
		}
	case h.State == domain.HoleMadeGood:
		row.NotOwed, row.Done = MadeGood, m.doneBy(h.Code)
	case not > 0:
		row.NotCovered = float64(not)
		row.What += fmt.Sprintf("; %d not covered by the licence", not)
	}
	repair, ok := catalogue.RepairFor(m.r.Catalogue, host.Kind, h.DiameterMm, row.Remnant)
	m.method(&row, *host, repair, ok)
	if ok && row.Charged {
		row.filler(repair, n, h.DiameterMm, depthOf(h, *host))
	}
	return row
}

func (m *maker) madeFor(h *domain.Hole) string {
	if f, ok := m.index.Fixings[h.Fixing]; ok {
		return h.MadeFor(&m.r.Fixings[f])
	}
	return h.MadeFor(nil)
}

// remnant is what stays in the hole: as logged, else what the fixing's type is known to leave.
func (m *maker) remnant(h *domain.Hole) string {
	if h.State == domain.HoleKept || h.State == domain.HoleMadeGood {
		return ""
	}
	if h.Residue != "" || h.State == domain.HoleInherited {
		return h.Residue
	}
	f, ok := m.index.Fixings[h.Fixing]
	if !ok {
		return ""
	}
	t := m.r.Catalogue.FixingTypes[m.r.Fixings[f].Type]
	if t.Release == domain.UndoClean {
		return ""
	}
	return t.Residue
}

// film is the row for what a fixing leaves on a face without a hole: sealant, adhesive, a clamp's bruise.
func (m *maker) film(f *domain.Fixing) {
	t := m.r.Catalogue.FixingTypes[f.Type]
	at, ok := m.index.Hosts[f.IntoHost]
	if !ok || f.State == domain.FixingStruck || t.MakesHole() || t.Residue == "" || t.Residue == "none" {
		return
	}
	host := m.r.Hosts[at]
	row := Row{Host: host.Code, HostName: host.Name, Face: domain.FrontFace, Fixing: f.Code, Assembly: f.Assembly, Charged: !m.landlords(f),
		Quantity: float64(f.Count), Places: f.Count, Where: where(host, f.Run), Remnant: t.Residue, Leaves: t.Name + ": " + t.Residue, Provisional: f.Known.Provisional()}
	row.What = fmt.Sprintf("%d x %s: %s", f.Count, t.Name, t.Residue)
	slug := "paint-touch-up"
	switch t.Family {
	case "seal":
		slug = "sealant-residue"
	case "adhesive":
		slug = "adhesive-residue-area"
	}
	if t.UndoUnit == "m" {
		row.Quantity = float64(f.BeadMm) / 1000
		row.What = fmt.Sprintf("%s, %s m: %s", t.Name, trimNumber(row.Quantity), t.Residue)
	}
	switch {
	case !row.Charged && m.stays[f.Assembly] != "":
		row.What += ", kept: what it holds stays"
		row.NotOwed = Kept
	case !row.Charged:
		row.What += ", there before the tenant"
		row.NotOwed = ThereBefore
	case m.cover.NoItem[f.Assembly]:
		row.NotCovered = row.Quantity
	}
	if _, ok := m.signed[f.Code]; ok {
		if row.Charged { // cleaned off as a favour it stays what it was
			row.Charged, row.NotOwed = false, MadeGood
		}
		row.Done = m.doneBy(f.Code)
	}
	repair, ok := m.r.Catalogue.Repairs[slug]
	m.method(&row, host, repair, ok)
	m.rows = append(m.rows, row)
}

// landlords reports whether a fixing holds a piece of the landlord's: whoever put that up, the tenant owes nothing for what
// it leaves, as for a hole that was there before.
func (m *maker) landlords(f *domain.Fixing) bool {
	at, ok := m.index.Elements[f.Holds]
	return ok && m.r.Elements[at].Owner == domain.LandlordOwns
}

// method fills in how the row is made good, and what that costs where the firm has a price for it.
func (m *maker) method(row *Row, host domain.HostSurface, repair domain.Repair, ok bool) {
	if !ok {
		row.NeedsDecision, row.Unit = true, "item"
		if p, ok := m.prices["decision:"+host.Code]; ok && row.Charged {
			row.RateMinor, row.RateKnown = p.Amount, true
			row.AmountMinor = int64(float64(p.Amount)*row.Quantity + 0.5)
		}
		row.Steps = "no method is listed for this in " + host.Kind + ": stop, report, and let the landlord's engineer decide"
		return
	}
	row.Repair, row.Steps, row.Materials, row.Unit = repair.Slug, repair.Steps, repair.Materials, repair.Unit
	row.Standard, row.Finish, row.Caution, row.SourceOfMethod = repair.Standard, repair.Finish, repair.Caution, repair.Source
	if kind := m.r.Catalogue.HostKinds[host.Kind]; kind.RepairCaution != "" {
		row.Caution = strings.TrimSuffix(kind.RepairCaution+"; "+row.Caution, "; ")
	}
	if !row.Charged {
		row.Steps = row.notOwedWords()
		return
	}
	row.Minutes, row.CureHours = int(float64(repair.LabourMinutes)*row.Quantity+0.5), repair.CureHours
	if p, ok := m.prices["repair:"+repair.Slug]; ok && row.Charged {
		row.RateMinor, row.RateKnown = p.Amount, true
		row.AmountMinor = int64(float64(p.Amount)*row.Quantity + 0.5)
	}
}

// filler says how much the repair takes, in parts that anybody can work out again.
func (row *Row) filler(repair domain.Repair, count int, diameterMm float64, depthMm int) {
	row.FilledMm, row.FilledDepthMm = catalogue.RepairFills(repair, diameterMm, depthMm)
	row.VolumeMl = float64(count) * catalogue.HoleVolumeMl(row.FilledMm, row.FilledDepthMm)
	row.WasteFactor, row.LeastMl = repair.WasteFactor, repair.LeastMl
	row.MaterialMl = max(row.VolumeMl*row.WasteFactor, float64(count)*row.LeastMl)
}
