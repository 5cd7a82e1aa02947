package plan

import (
	"math"

	"unpick/domain"
)

// Summary is what a person wants to know first.
type Summary struct {
	Pieces         int     `json:"pieces" jsonschema_description:"that come out"`
	PiecesStay     int     `json:"pieces_that_stay" jsonschema_description:"the landlord's"`
	FixingSets     int     `json:"fixing_sets"`
	Fixings        int     `json:"fixings"`
	Holes          int     `json:"holes" jsonschema_description:"charged hole faces in the landlord's fabric"`
	HolesAgreed    int     `json:"holes_agreed"`
	HolesInherited int     `json:"holes_inherited"`
	Unlicensed     int     `json:"holes_not_covered"`
	Steps          int     `json:"steps"`
	Holds          int     `json:"holds"`
	Days           int     `json:"working_days"`
	MostPeople     int     `json:"most_people" jsonschema_description:"the greatest number that a step asks for"`
	PersonHours    float64 `json:"person_hours"`
	MakingHours    float64 `json:"making_good_hours"`
	CostMinor      int64   `json:"cost_to_give_back_minor" jsonschema_description:"priced items only; see cost_known"`
	CostKnown      bool    `json:"cost_known" jsonschema_description:"false while an item has no rate"`
	WithoutRate    int     `json:"items_without_rate"`
	Kept           int     `json:"pieces_kept"`
	MassKg         float64 `json:"mass_kg"`
	KeptKg         float64 `json:"kept_kg"`
	SavedMinor     int64   `json:"value_kept_minor"`
	SavedCarbonKg  float64 `json:"embodied_carbon_kept_kg"`
	StoredCarbonKg float64 `json:"stored_carbon_kept_kg"`
	FixingsFit     int     `json:"fixings_fit"`
	Provisional    bool    `json:"provisional" jsonschema_description:"true while something nobody has seen is planned as the worst case"`
}

func summarise(r *domain.Register, p *Plan) Summary {
	s := Summary{Steps: len(p.Sequence.Steps), Days: len(p.Days), Holes: p.MakingGood.Balance.Register, HolesInherited: p.MakingGood.Balance.Inherited}
	for i := range r.Elements {
		switch e := &r.Elements[i]; {
		case e.ComesOut():
			s.Pieces++
			s.Provisional = s.Provisional || e.Known.Provisional()
		case e.IsInPlace():
			s.PiecesStay++
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			s.FixingSets++
			s.Fixings += f.Count
			s.Provisional = s.Provisional || f.Known.Provisional()
		}
	}
	for _, l := range p.MakingGood.Licence {
		s.HolesAgreed += l.Agreed
		s.Unlicensed += l.Unlicensed
	}
	minutes := 0
	for _, step := range p.Sequence.Steps {
		s.Holds += len(step.Holds)
		s.MostPeople = max(s.MostPeople, step.People)
	}
	for _, row := range p.MakingGood.Rows {
		if row.Charged {
			minutes += row.Minutes
		}
	}
	for _, plane := range p.MakingGood.Planes {
		minutes += plane.Minutes
	}
	s.PersonHours, s.MakingHours = tenth(float64(p.Sequence.PersonMinutes)/60), tenth(float64(minutes)/60)
	s.CostMinor, s.CostKnown, s.WithoutRate = p.Schedule.Total.PricedMinor, p.Schedule.Total.Known, p.Schedule.Total.WithoutRate
	t := p.Salvage.Totals
	s.Kept, s.MassKg, s.KeptKg, s.SavedMinor = t.Kept, tenth(t.MassKg), tenth(t.KeptKg), t.ValueMinor
	s.SavedCarbonKg, s.StoredCarbonKg, s.FixingsFit = tenth(t.EmbodiedKg), tenth(t.StoredKg), t.FixingsFit
	return s
}

func tenth(x float64) float64 { return math.Round(x*10) / 10 }
