package strip

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/release"
)

// fallMm is the height from which an exclusion zone below is asked for (common practice, no source).
const fallMm = 2000

// cautions says in plain words what could hurt or spoil, each once, and notes which of it holds for putting back too.
func (p *planner) cautions(nodes []int32, s *Step, key runKey) []string {
	out, heavy := s.Cautions, len(s.Cautions)
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
	if s.Who != "" {
		add("by a %s, not by the crew: test again at the place of work before the first cut", s.Who)
	}
	undoing := len(out)
	if line := p.heightCaution(nodes, s, key); line != "" {
		add("%s", line)
	}
	for _, n := range nodes {
		for _, i := range p.graph.Elements(n) {
			p.pieceCautions(&p.r.Elements[i], add)
		}
	}
	s.BothWays = slices.Concat(out[:heavy], out[undoing:])
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

// exclusionZone is the kind of hold that keeps people from under the work.
const exclusionZone = "exclusion-zone"

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
			if e.Kind.IsService() {
				add(deadHold(e.Kind))
			}
			lo, _ := e.Box().Bounds()
			if overheadKind(e.Kind) && p.heightOver(n, lo.Z) >= fallMm {
				add(Hold{exclusionZone, "exclusion zone below set out, signed and kept: nobody under the work", "foreman"})
			}
			if e.FireRated {
				add(Hold{"fire-plan", "escape routes and fire separation agreed with whoever still uses the building, before a fire set is taken out", "landlord and tenant"})
			}
		}
	}
	for _, w := range s.Fixings {
		if w.Release == domain.CutThrough && p.rates.fixing(w.Type).Family == "masonry" || strings.Contains(w.Tool, "grinder") {
			add(Hold{"hot-work", "hot-work permit: steel is cut or ground off; sparks kept off what burns, and a fire watch after", "landlord"})
		}
	}
	return out
}

// licensed is who takes out a service; the crew does not.
var licensed = map[domain.ElementKind]string{
	domain.Cable: "licensed electrician",
	domain.Pipe:  "licensed plumber or gas engineer",
}

// deadHold is what stands before a service is touched, and who signs it.
func deadHold(kind domain.ElementKind) Hold {
	if kind == domain.Pipe {
		return Hold{"services-dead", "pipes isolated, drained and proved dead; what comes out is disconnected and capped at its origin, with the certificate at hand", licensed[kind]}
	}
	return Hold{"services-dead", "cables isolated, locked off and proved dead; what comes out is disconnected at its origin, with the certificate at hand", licensed[kind]}
}

// overheadKind reports whether pieces of a kind are big enough overhead that nobody may be under the work.
func overheadKind(kind domain.ElementKind) bool {
	switch kind {
	case domain.DeckBoard, domain.Joist, domain.Beam, domain.Trimmer, domain.WallPlate:
		return true
	}
	return false
}

// heightCaution is what to mind where people, or the piece that they hold, are above what they could fall from or what
// could fall on others; "" where nothing is.
func (p *planner) heightCaution(nodes []int32, s *Step, key runKey) string {
	deck := key.Kind == domain.DeckBoard || p.places.decks[key.Zone]
	switch {
	case key.Access == FromSteps && s.DurationMinutes > p.rates.ladderMinutes():
		return "work at height, off a low platform with guard rails: nobody below, and nothing dropped"
	case key.Access == FromSteps:
		return "work at height, off steps or a low platform: nobody below; three points of contact on steps, and nothing dropped"
	case key.Access == FromTower:
		return fmt.Sprintf("work at height, off a tower or platform: nobody below; guard rails on, brakes on, inspected once built and every %d days; nothing thrown or dropped", p.rates.towerDays())
	case key.Kind == domain.DeckBoard && slices.ContainsFunc(nodes, func(n int32) bool { return p.topOf(n)-p.levels[n] > fallMm }),
		deck && slices.ContainsFunc(nodes, func(n int32) bool { return p.heightOver(n, p.levels[n]) >= fallMm }):
		return "work at height, on the deck: nobody below; stay behind its guards, and guard or shut off any edge or hole that has none"
	case !limp(key.Kind) && slices.ContainsFunc(nodes, func(n int32) bool { return p.topOf(n)-p.levels[n] > fallMm || p.tall(n) }):
		return "taller than 2 m: it can fall while nothing holds it: nobody below or within its length"
	}
	return ""
}

// tall reports whether the top of a node is more than 2 m above where the crew stands.
func (p *planner) tall(n int32) bool {
	return slices.ContainsFunc(p.graph.Elements(n), func(i int32) bool {
		_, hi := p.r.Elements[i].Box().Bounds()
		return hi.Z-p.levels[n] > fallMm
	})
}

// makeDead writes the first steps: every service that is touched, or worked round, isolated and proved dead, in order of code;
// a step for each trade, since nobody signs for the other's.
func (p *planner) makeDead() {
	for _, kind := range []domain.ElementKind{domain.Cable, domain.Pipe} {
		p.makeDeadBy(kind)
	}
}

func (p *planner) makeDeadBy(kind domain.ElementKind) {
	hold := deadHold(kind)
	s := Step{Kind: MakeDead, Tool: "proved tester, locks and tags", Access: FromFloor, Stand: "at the point of isolation",
		Title: "Isolate the cables and prove them dead", Who: hold.Who, Holds: []Hold{hold}}
	if kind == domain.Pipe {
		s.Tool, s.Title = "valve keys, locks and tags", "Isolate the pipes, drain them and prove them dead"
	}
	landlords := false
	for n := range p.graph.Nodes {
		node := &p.graph.Nodes[n]
		if node.Kind != release.Dead || !p.happens(int32(n)) || p.r.Elements[node.Item].Kind != kind {
			continue
		}
		landlords = landlords || p.r.Elements[node.Item].Owner == domain.LandlordOwns
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
	if landlords {
		s.Holds = append(s.Holds, Hold{"impairment", "impairment of the landlord's fire alarm or sprinklers agreed with landlord and insurer, for how long and who watches", "landlord and insurer"})
	}
	s.Cautions = []string{"a service is live until it has been proved dead at the place of work"}
	p.writer.put(job{ready: &s})
}

// firstHolds puts what must be in hand before anything is touched onto the first step.
func (p *planner) firstHolds(steps []Step) {
	if len(steps) == 0 {
		return
	}
	seen, unseen := strings.TrimSpace(p.r.FitOut.Premises.Survey), p.r.FitOut.AsbestosUnseen()
	holds := []Hold{{"written-plan", "the dismantling written down and a plan in place where the law asks for it; consent of the landlord at hand", "contractor"}}
	switch {
	case unseen != "":
		holds = append(holds, Hold{"asbestos", unseen + ": get and read one before disturbing anything", "contractor"})
	case seen != "":
		holds = append(holds, Hold{"asbestos", "refurbishment and demolition asbestos survey seen: " + seen, "contractor"})
	}
	if of := p.r.AsbestosHosts(); len(of) > 0 {
		holds = append(holds, Hold{"asbestos-surface", "the plan of work for what holds asbestos seen (" + strings.Join(of, ", ") + "): nobody drills, scrapes, breaks or dry-sweeps it; local law says who may touch it", "licensed or trained contractor"})
	}
	holds = append(holds, Hold{"waste-carrier", "registered waste carrier booked and its licence seen", "contractor"})
	steps[0].Holds = append(holds, steps[0].Holds...)
}
