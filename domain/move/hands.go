package move

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// Lift is pieces that one person does not lift alone, by the guideline figures for men with the load close to the body:
// filter figures that ask for an assessment, not limits.
type Lift struct {
	Where      string   `json:"where" jsonschema:"enum=loading and unloading,enum=putting up"`
	Pieces     []string `json:"pieces" jsonschema_description:"codes of salvaged pieces, of what is carried as one, or of the next premises; sizes of what is bought"`
	HeaviestKg float64  `json:"heaviest_kg"`
	People     int      `json:"people,omitempty" jsonschema_description:"the fewest whose guideline figure it is within, or who can steer it; 0 is not by hand"`
	Words      string   `json:"words"`
}

// longMm is how long a stiff piece may be before one person can no longer steer it (common practice, no source).
const longMm = 3000

// hands says who lifts what at both ends. At the new one a piece is as heavy and held as high as when it will come out
// again, so the strip-out of the next premises says how many people, from what, and what is no lift for hands.
func (p *Plan) hands(to *domain.Register, hours domain.Calendar) {
	p.Lifts = p.carrying()
	steps, err := strip.Plan(release.Build(to), salvage.Take(to))
	if err != nil {
		p.unsure = append(p.unsure, fmt.Sprintf("Who lifts what when it goes up is not worked out, for the layout cannot be planned: %v", err))
		return
	}
	p.reached(to, steps.Steps, hours)
	at := map[string]int{}
	for k := range p.Build {
		at[p.Build[k].Assembly] = k
	}
	for i := range steps.Steps {
		s := &steps.Steps[i]
		k, ok := at[s.Assembly]
		if s.Kind != strip.Remove || !ok {
			continue
		}
		b := &p.Build[k]
		b.People = max(b.People, s.People)
		if s.Access != strip.FromFloor && !slices.Contains(b.Access, string(s.Access)) {
			b.Access = append(b.Access, string(s.Access))
			slices.Sort(b.Access)
		}
		for _, h := range s.Heavy {
			p.Lifts = append(p.Lifts, Lift{Where: "putting up", Pieces: slices.Sorted(slices.Values(h.Elements)), HeaviestKg: tenth(h.HeaviestKg),
				Words: fmt.Sprintf("over the guideline figure for three people at %s, %.1f kg: assess it, and put it up with a lifter or in parts", h.Height, h.GuideKg)})
		}
	}
}

// carrying are the lifts at hip height: onto the vehicle and off it, and what the merchant sets down.
func (p *Plan) carrying() []Lift {
	var guide [3]float64
	for n := range guide {
		guide[n], _ = catalogue.LiftingGuide(p.register.Catalogue, catalogue.Men, catalogue.KnuckleToElbow, catalogue.CloseToBody, n+1)
	}
	by := map[int]*Lift{}
	note := func(piece string, massKg float64, lengthMm int) {
		people := 0
		for n := len(guide); n > 0; n-- {
			if massKg <= guide[n-1] {
				people = n
			}
		}
		if people == 1 && lengthMm > longMm {
			people = 2
		}
		if people == 1 {
			return
		}
		l, ok := by[people]
		if !ok {
			l = &Lift{Where: "loading and unloading", People: people}
			by[people] = l
		}
		l.Pieces, l.HeaviestKg = append(l.Pieces, piece), max(l.HeaviestKg, tenth(massKg))
	}
	used, one := p.used(), p.asOne()
	for i := range p.inventory.Pieces {
		if q := &p.inventory.Pieces[i]; used[q.Code].Salvaged && one[q.Code] == nil {
			note(q.Code, q.MassKg, q.LengthMm)
		}
	}
	for _, w := range p.Wholes {
		for _, c := range w.Carried {
			if c.AsOne() {
				note(c.Code, c.MassKg, c.LengthMm)
			}
		}
	}
	for _, b := range p.Buying {
		if n := b.Count + b.Allowance; n > 0 && b.Unit != "m" {
			note(b.Size, b.MassKg/n, b.LengthMm)
		}
	}
	out := []Lift{}
	for people, l := range by {
		slices.Sort(l.Pieces)
		l.Words = fmt.Sprintf("%d people: over %.0f kg for one, or over %.0f m long", people, guide[0], longMm/1000.0)
		switch people {
		case 3:
			l.Words = fmt.Sprintf("3 people: over the guideline figure for two, %.1f kg", guide[1])
		case 0:
			l.Words = fmt.Sprintf("not by hand: over the guideline figure for three people, %.1f kg; a trolley or a lifter", guide[2])
		}
		out = append(out, *l)
	}
	slices.SortFunc(out, func(a, b Lift) int { return cmp.Compare(a.People, b.People) })
	return out
}
