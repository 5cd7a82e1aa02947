package plan

import (
	"math"

	"unpick/domain"
	"unpick/domain/survey"
)

// Summary is what a person wants to know first.
type Summary struct {
	Pieces          int          `json:"pieces" jsonschema_description:"that come out"`
	PiecesStay      int          `json:"pieces_that_stay" jsonschema_description:"the landlord's"`
	FixingSets      int          `json:"fixing_sets"`
	Fixings         int          `json:"fixings"`
	Holes           int          `json:"holes" jsonschema_description:"charged hole faces in the landlord's fabric"`
	HolesAgreed     int          `json:"holes_agreed"`
	HolesInherited  int          `json:"holes_inherited"`
	Unlicensed      int          `json:"holes_not_covered"`
	Steps           int          `json:"steps"`
	Holds           int          `json:"holds"`
	Days            int          `json:"working_days" jsonschema_description:"of taking out, one crew, one step after the other"`
	MakingDays      int          `json:"making_good_days" jsonschema_description:"working days of making good and redecoration once all is out, curing included"`
	AllDays         int          `json:"working_days_in_all" jsonschema_description:"taking out, then making good"`
	CureRules       bool         `json:"curing_rules,omitempty" jsonschema_description:"true where curing and not work sets the days of making good"`
	MostPeople      int          `json:"most_people" jsonschema_description:"the greatest number that a step asks for"`
	PersonHours     float64      `json:"person_hours"`
	MakingHours     float64      `json:"making_good_hours"`
	CostMinor       int64        `json:"cost_to_give_back_minor" jsonschema_description:"priced items only; see cost_known"`
	CostKnown       bool         `json:"cost_known" jsonschema_description:"false while an item has no rate; what else is not in the figure is in not_in_cost"`
	CostWhole       bool         `json:"cost_whole" jsonschema_description:"true only where every item has a rate and nothing is left in not_in_cost"`
	WithoutRate     int          `json:"items_without_rate"`
	NotInCost       []string     `json:"not_in_cost" jsonschema_description:"what giving the place back also costs and the firm has no price for"`
	Prices          bool         `json:"has_prices" jsonschema_description:"false where the firm's price list is empty"`
	Salvage         int          `json:"pieces_of_salvage" jsonschema_description:"that come out, or are out and at hand"`
	Kept            int          `json:"pieces_kept"`
	MassKg          float64      `json:"mass_kg"`
	KeptKg          float64      `json:"kept_kg"`
	SavedMinor      int64        `json:"value_kept_minor" jsonschema_description:"of what is kept whole or cut, at the price of new"`
	SavedKnown      bool         `json:"value_kept_known" jsonschema_description:"false while a kept piece has no price: the figure is then a part, and there is no total"`
	SavedNoPrice    int          `json:"kept_without_price"`
	DowngradedMinor int64        `json:"value_downgraded_minor" jsonschema_description:"of what is kept downgraded, at the firm's share of the price of new"`
	SavedCarbonKg   float64      `json:"embodied_carbon_kept_kg"`
	StoredCarbonKg  float64      `json:"stored_carbon_kept_kg"`
	FixingsFit      int          `json:"fixings_fit"`
	StackedM3       float64      `json:"stacked_m3" jsonschema_description:"room to store what is kept"`
	Basis           survey.Basis `json:"basis" jsonschema_description:"what the figures rest on: how many of what are assumed or unknown"`
	BeyondLicence   int          `json:"beyond_licence" jsonschema_description:"works, items and surfaces that go beyond the licence"`
	AtDefects       int          `json:"holes_at_defects" jsonschema_description:"in defects of the start: shown, not charged"`
	Provisional     bool         `json:"provisional" jsonschema_description:"true while something nobody has seen is planned as the worst case"`
}

func summarise(r *domain.Register, p *Plan) Summary {
	s := Summary{Steps: len(p.Sequence.Steps), Days: len(p.Days), Holes: p.MakingGood.Balance.Register, HolesInherited: p.MakingGood.Balance.Inherited}
	for i := range r.Elements {
		switch e := &r.Elements[i]; {
		case e.ComesOut():
			s.Pieces++
		case e.IsInPlace():
			s.PiecesStay++
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			s.FixingSets++
			s.Fixings += f.Count
		}
	}
	s.Basis, s.BeyondLicence, s.AtDefects = survey.Of(r), len(p.Licence.Beyond), p.MakingGood.Balance.AtDefects
	s.Provisional = s.Basis.Provisional()
	for _, l := range p.MakingGood.Licence {
		s.HolesAgreed += l.Agreed
		s.Unlicensed += l.Unlicensed
	}
	for _, step := range p.Sequence.Steps {
		s.Holds += len(step.Holds)
		s.MostPeople = max(s.MostPeople, step.People)
	}
	good := p.MakingGood.Days
	s.PersonHours, s.MakingHours = tenth(float64(p.Sequence.PersonMinutes)/60), tenth(float64(good.FillMinutes+good.PaintMinutes)/60)
	s.MakingDays, s.AllDays, s.CureRules = good.Days, s.Days+good.Days, good.CureRules
	s.Prices = len(r.Prices) > 0
	s.cost(p)
	t := p.Salvage.Totals
	s.Kept, s.MassKg, s.KeptKg, s.SavedMinor = t.Kept, tenth(t.MassKg), tenth(t.KeptKg), t.ValueMinor
	s.Salvage, s.SavedKnown, s.SavedNoPrice = t.Pieces, t.ValueKnown, t.WithoutPrice
	s.DowngradedMinor, s.StackedM3 = t.DowngradedMinor, tenth(t.StackedM3)
	s.SavedCarbonKg, s.StoredCarbonKg, s.FixingsFit = tenth(t.EmbodiedKg), tenth(t.StoredKg), t.FixingsFit
	return s
}

// cost is what the schedule comes to, and what it leaves out.
func (s *Summary) cost(p *Plan) {
	s.NotInCost = p.NotInTotal()
	s.CostMinor, s.CostKnown, s.WithoutRate = p.Schedule.Total.PricedMinor, p.Schedule.Total.Known, p.Schedule.Total.WithoutRate
	s.CostWhole = s.CostKnown && len(s.NotInCost) == 0
}

func thousandth(x float64) float64 { return math.Round(x*1000) / 1000 }

func tenth(x float64) float64 { return math.Round(x*10) / 10 }
