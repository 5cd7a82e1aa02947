package strip

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

// fallMm is the height from which an exclusion zone below is asked for (common practice, no source).
const fallMm = 2000

// cautions says in plain words what could hurt or spoil, each once.
func (p *planner) cautions(nodes []int32, s *Step, key runKey) []string {
	out := s.Cautions
	add := func(format string, args ...any) {
		if line := fmt.Sprintf(format, args...); !slices.Contains(out, line) {
			out = append(out, line)
		}
	}
	for _, w := range s.Fixings {
		switch w.Release {
		case domain.Destructive:
			add("%s spoils what it holds: expect to trim or lose the piece, and wear gloves and glasses", w.Name)
		case domain.CutThrough:
			add("%s is cut, not undone", w.Name)
		}
	}
	if s.Provisional {
		add("nobody has seen all of these pieces or fixings: open carefully, log what is found, and stop if it is not as planned")
	}
	if key.Access == FromSteps && s.DurationMinutes > 30 {
		add("over 30 minutes at height: use a tower or platform instead of steps (guide figure)")
	}
	if key.Access != FromFloor {
		add("work at height: nobody below")
	}
	for _, n := range nodes {
		for _, i := range p.graph.Elements(n) {
			p.pieceCautions(&p.r.Elements[i], add)
		}
	}
	return out
}

func (p *planner) pieceCautions(e *domain.Element, add func(string, ...any)) {
	if e.Treated {
		add("treated or of unknown age: no sawing dust, keep apart, ask before a waste code is used")
	}
	if e.FireRated {
		add("tested fire set: keep its parts together and labelled; it counts only as a set")
	}
	switch e.Kind {
	case domain.Insulation:
		add("mineral fibre: mask and gloves, bag it as it comes out")
	case domain.Beam, domain.Post, domain.Joist, domain.Trimmer:
		add("structure: the order and any temporary support are for a competent person to confirm")
	}
}

// holds are the points to sign before the step starts.
func (p *planner) holds(nodes []int32, s *Step) []Hold {
	var out []Hold
	add := func(h Hold) {
		if !slices.ContainsFunc(out, func(x Hold) bool { return x.Kind == h.Kind }) {
			out = append(out, h)
		}
	}
	for _, n := range nodes {
		for _, i := range p.graph.Elements(n) {
			e := &p.r.Elements[i]
			lo, _ := e.Box().Bounds()
			overhead := e.Kind == domain.DeckBoard || e.Kind == domain.Joist || e.Kind == domain.Beam || e.Kind == domain.Trimmer
			if overhead && lo.Z >= fallMm {
				add(Hold{"exclusion-zone", "exclusion zone below set out, signed and kept: nobody under the work", "foreman"})
			}
			if e.FireRated {
				add(Hold{"fire-plan", "escape routes and fire separation agreed with whoever still uses the building, before a fire set is taken out", "landlord and tenant"})
			}
		}
	}
	for _, w := range s.Fixings {
		if w.Release == domain.CutThrough && p.rates.fixing(w.Type).Family == "masonry" {
			add(Hold{"hot-work", "hot-work permit: steel is cut or ground off", "landlord"})
		}
	}
	return out
}

// makeDead writes the first step: every service that is touched, or worked round, isolated and proved dead, in
// order of code.
func (p *planner) makeDead() {
	s := Step{Kind: MakeDead, Tool: "proved tester, locks and tags", Access: FromFloor, Stand: "at the point of isolation",
		Title: "Isolate the services and prove them dead"}
	landlords := false
	for n := range p.graph.Nodes {
		node := &p.graph.Nodes[n]
		if node.Kind != release.Dead || !p.happens(int32(n)) {
			continue
		}
		e := &p.r.Elements[node.Item]
		landlords = landlords || e.Owner == domain.LandlordOwns
		s.Elements = append(s.Elements, node.Code)
	}
	if len(s.Elements) == 0 {
		return
	}
	slices.Sort(s.Elements)
	w := p.r.Catalogue.WorkRates["prove-dead"]
	s.People = max(w.People, 1)
	s.PersonMinutes = ceil(w.Minutes * float64(len(s.Elements)))
	s.DurationMinutes = ceil(float64(s.PersonMinutes) / float64(s.People))
	s.Holds = []Hold{{"services-dead", "services dead, locked off and proved dead by a licensed person, with the certificate at hand", "licensed person"}}
	if landlords {
		s.Holds = append(s.Holds, Hold{"impairment", "impairment of the landlord's fire alarm or sprinklers agreed with landlord and insurer, for how long and who watches", "landlord and insurer"})
	}
	s.Cautions = []string{"a service is live until it has been proved dead at the place of work"}
	p.steps = append(p.steps, s)
}

// asbestosBanYear is the year of the last ban in Great Britain; earlier or unknown buildings are suspect. HSE
// HSG264, value from memory.
const asbestosBanYear = 2000

// firstHolds puts what must be in hand before anything is touched onto the first step.
func (p *planner) firstHolds(steps []Step) {
	if len(steps) == 0 {
		return
	}
	site := p.r.FitOut.Premises
	holds := []Hold{{"written-plan", "the dismantling written down and a plan in place where the law asks for it; consent of the landlord at hand", "contractor"}}
	switch {
	case site.Survey != "":
		holds = append(holds, Hold{"asbestos", "refurbishment and demolition asbestos survey seen: " + site.Survey, "contractor"})
	case site.BuiltYear == 0 || site.BuiltYear < asbestosBanYear:
		holds = append(holds, Hold{"asbestos", "no asbestos survey is on record and the building is of an age, or of no known age, to have it: get and read one before disturbing anything", "contractor"})
	}
	holds = append(holds, Hold{"waste-carrier", "registered waste carrier booked and its licence seen", "contractor"})
	steps[0].Holds = append(holds, steps[0].Holds...)
}
