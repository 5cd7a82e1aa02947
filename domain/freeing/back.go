package freeing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/choice"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// Back is one step of putting back.
type Back struct {
	Number        int          `json:"number"`
	Title         string       `json:"title"`
	Elements      []string     `json:"elements" jsonschema_description:"in the order in which they go back"`
	Fixings       []Again      `json:"fixings"`
	People        int          `json:"people"`
	Access        strip.Access `json:"access"`
	SetUp         []strip.Task `json:"set_up,omitempty" jsonschema_description:"of its minutes: equipment moved along or taken away"`
	Who           string       `json:"who,omitempty" jsonschema_description:"who does it where the crew may not"`
	PersonMinutes int          `json:"person_minutes"`
	Cautions      []string     `json:"cautions"`
}

// Again is fixings of one type that go in again, and how many of them have to be new.
type Again struct {
	Type    string              `json:"type"`
	Name    string              `json:"name"`
	Release domain.ReleaseClass `json:"release_class"`
	Count   int                 `json:"count"`
	New     int                 `json:"new"`
	Metres  float64             `json:"metres,omitempty" jsonschema_description:"for beads, all of it new"`
}

// putBack fills what goes back: what came out less what was wanted, in the reverse of the order.
func (g *Ground) putBack(a *Answer, wanted map[string]bool) {
	homeless := g.homeless(a.Out, wanted)
	g.unsound(a, wanted, homeless)
	a.StaysOut = []string{}
	for _, code := range a.Out {
		if homeless[code] {
			a.StaysOut = append(a.StaysOut, code)
		}
	}
	goesBack := func(code string) bool { return !wanted[code] && !homeless[code] }
	a.StaysPropped = []string{}
	var places []strip.Place
	for i := len(a.Steps) - 1; i >= 0; i-- {
		if s := &a.Steps[i]; s.Kind == strip.Prop && slices.ContainsFunc(s.Before, func(code string) bool { return !goesBack(code) }) {
			for _, code := range s.Elements { // nothing is in the place yet of what held it
				if goesBack(code) {
					a.StaysPropped = append(a.StaysPropped, code)
				}
			}
			continue
		}
		if b, any := g.back(&a.Steps[i], goesBack); any {
			b.Number = len(a.Back) + 1
			a.Back, places = append(a.Back, b), append(places, a.Steps[i].Place())
			for _, f := range b.Fixings {
				a.NewFixings = together(a.NewFixings, f)
			}
		}
	}
	g.towerBack(a, places)
	for i := range a.Back {
		a.BackMinutes += a.Back[i].PersonMinutes
	}
	slices.Sort(a.StaysPropped)
	slices.SortFunc(a.NewFixings, func(x, y Again) int { return cmp.Compare(x.Type, y.Type) })
	a.NewPieces = []string{}
	for _, p := range g.stock.Pieces {
		if (p.Expected == salvage.Recycle && !p.OnlySmall || p.Expected == salvage.Cut) && goesBack(p.Code) && slices.Contains(a.Out, p.Code) {
			a.NewPieces = append(a.NewPieces, p.Code)
		}
	}
}

// towerBack moves the tower back along the places of what goes back from it, and takes it down after the last; after taking out
// where nothing does.
func (g *Ground) towerBack(a *Answer, places []strip.Place) {
	tower := strip.TowerOf(g.graph.Register.Catalogue)
	last := -1
	for i := range a.Back {
		if a.Back[i].Access != strip.FromTower {
			continue
		}
		if last >= 0 && places[i] != places[last] {
			a.Back[i].add(tower.Move)
		}
		last = i
	}
	if last >= 0 {
		a.Back[last].add(tower.Down)
		return
	}
	for i := range slices.Backward(a.Steps) {
		if s := &a.Steps[i]; s.Kind == strip.Remove && s.Access == strip.FromTower {
			s.Add(tower.Down)
			a.PersonMinutes += tower.Down.PersonMinutes
			a.People = max(a.People, tower.Down.People)
			return
		}
	}
}

// add gives a step of putting back one more task.
func (b *Back) add(t strip.Task) {
	b.SetUp, b.PersonMinutes, b.People = append(b.SetUp, t), b.PersonMinutes+t.PersonMinutes, max(b.People, t.People)
}

// back is the reverse of one step; any is false where nothing of it goes back.
func (g *Ground) back(s *strip.Step, goesBack func(string) bool) (b Back, any bool) {
	b = Back{Elements: []string{}, Fixings: []Again{}, People: s.People, Access: s.Access, Who: s.Who, Cautions: append([]string{}, s.BothWays...)}
	for _, code := range slices.Backward(s.Elements) {
		if goesBack(code) {
			b.Elements = append(b.Elements, code)
		}
	}
	rates := g.graph.Register.Catalogue.WorkRates
	times := func(rate string) int { return int(math.Ceil(rates[rate].Minutes * float64(len(b.Elements)))) }
	switch {
	case s.Kind == strip.MakeDead:
		b.Title = "Have the services put on again and tested"
		return b, len(b.Elements) > 0
	case s.ByBatten():
		b.Title, b.PersonMinutes = "Take away the battens", times("stay-strike")
		return b, len(b.Elements) > 0
	case s.Kind == strip.Prop:
		b.Title, b.PersonMinutes = "Strike the props", times("prop-strike")
		b.Cautions = append(b.Cautions, "whoever designed the props says when they may go; nobody below while they are eased")
		return b, len(b.Elements) > 0
	case s.Kind == strip.StrikeProp && s.Tool != "props":
		b.Title, b.PersonMinutes = "Stay with battens again", times("stay-set")
		return b, len(b.Elements) > 0
	case s.Kind == strip.StrikeProp:
		b.Title, b.PersonMinutes = "Set the props again", times("prop-set")
		b.Cautions = append(b.Cautions, "designed and checked by a competent person; nobody below what is not propped yet")
		return b, len(b.Elements) > 0
	}
	cost := g.fixBack(s, &b, goesBack)
	if len(s.Elements) == 0 {
		b.Title, b.PersonMinutes = "Fix again "+g.fixedTo(s), minutes(cost)
		return b, len(b.Fixings) > 0
	}
	b.Title = "Put back " + strip.Counted(g.graph.Register, b.Elements)
	for _, n := range g.nodesOf(b.Elements) {
		cost += thousandths(handling(g.graph, n))
	}
	b.PersonMinutes = minutes(cost)
	return b, len(b.Elements) > 0
}

// fixedTo says what a step of undoing alone undid.
func (g *Ground) fixedTo(s *strip.Step) string {
	var held, into []string
	for _, w := range s.Fixings {
		for _, code := range w.Codes {
			f := &g.graph.Register.Fixings[domain.Place(g.graph.Links.Fixings, code)]
			held, into = append(held, f.Holds), append(into, f.IntoElement)
		}
	}
	slices.Sort(held)
	slices.Sort(into)
	return strings.Join(slices.Compact(held), ", ") + " to " + strings.Join(slices.Compact(into), ", ")
}

// fixBack adds the fixings of a step whose piece stands again, and returns what putting them in costs.
func (g *Ground) fixBack(s *strip.Step, b *Back, goesBack func(string) bool) int64 {
	r, cost := g.graph.Register, int64(0)
	for _, w := range s.Fixings {
		t := r.Catalogue.FixingTypes[w.Type]
		again := Again{Type: w.Type, Name: w.Name, Release: w.Release}
		for _, code := range w.Codes {
			f := r.Fixings[domain.Place(g.graph.Links.Fixings, code)]
			if !goesBack(f.Holds) || f.IntoElement != "" && !goesBack(f.IntoElement) {
				continue
			}
			cost += thousandths(choice.PutIn(r.Catalogue, f))
			if t.UndoUnit == "m" {
				again.Metres += float64(f.BeadMm) / 1000
			} else {
				again.Count += f.Count
			}
		}
		if again.Count == 0 && again.Metres == 0 {
			continue
		}
		again.New = again.Count - fit(t, again.Count)
		b.Fixings = append(b.Fixings, again)
	}
	return cost
}

// fit is how many of a type that come out can go in again: none of those that are cut or spoil what they held.
func fit(t domain.FixingType, count int) int {
	if t.Release == domain.CutThrough || t.Release == domain.Destructive {
		return 0
	}
	return int(math.Floor(float64(count)*t.ReuseFraction + 1e-9))
}

func together(list []Again, f Again) []Again {
	for i := range list {
		if list[i].Type == f.Type {
			list[i].Count, list[i].New, list[i].Metres = list[i].Count+f.Count, list[i].New+f.New, list[i].Metres+f.Metres
			return list
		}
	}
	return append(list, f)
}

// nodesOf are the nodes of pieces, each once, in the order given.
func (g *Ground) nodesOf(codes []string) []int32 {
	var out []int32
	seen := map[int32]bool{}
	for _, code := range codes {
		if n := g.graph.PieceOf[domain.Place(g.graph.Links.Elements, code)]; !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}
