package strip

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Task is work that a step brings with it beside taking out: equipment brought up, moved along or taken away.
type Task struct {
	Job           string `json:"job"`
	PersonMinutes int    `json:"person_minutes"`
	People        int    `json:"people"`
}

// Tower is what a mobile tower brings with it: built once, moved from one assembly or room to the next, taken down once. Moves
// along one assembly are in nobody's rates, and are not counted.
type Tower struct{ Build, Move, Down Task }

// TowerOf reads the work rates of a tower.
func TowerOf(c *domain.Catalogue) Tower {
	return Tower{taskOf(c, "erect-tower"), taskOf(c, "tower-move"), taskOf(c, "strike-tower")}
}

func taskOf(c *domain.Catalogue, rate string) Task {
	w := c.WorkRates[rate]
	return Task{w.Job, ceil(w.Minutes), max(w.People, 1)}
}

// Place is where equipment stands: it is moved from one to the next.
type Place struct{ Zone, Assembly string }

// Place is where a step is worked.
func (s *Step) Place() Place { return Place{s.Zone, s.Assembly} }

// ShutsOff reports whether nobody may be below or beside a step: the place is shut off for it, once for all that follow there.
func (s *Step) ShutsOff() bool {
	return slices.ContainsFunc(s.Holds, func(h Hold) bool { return h.Kind == exclusionZone })
}

// Add gives a step one more task, with its minutes and its people.
func (s *Step) Add(t Task) {
	s.SetUp = append(s.SetUp, t)
	s.PersonMinutes += t.PersonMinutes
	s.DurationMinutes += ceil(float64(t.PersonMinutes) / float64(t.People))
	s.People = max(s.People, t.People)
}

// Standing says where the crew stands, and what that and the lifting want brought up, moved or taken away.
func (s *Step) Standing() string {
	words := s.Stand
	for _, t := range s.SetUp {
		words += "; " + t.Words()
	}
	return strings.TrimPrefix(words, "; ")
}

// Words says a task with its minutes.
func (t Task) Words() string { return fmt.Sprintf("%s, %d person-min", t.Job, t.PersonMinutes) }

// settingUp gives the steps the work of setting up for them, in their order: the tower, a lifter under what is too heavy, the
// zone kept clear below. Of a part that goes back again the tower is taken down once it has.
func (p *planner) settingUp(steps []Step) {
	tower, stands := TowerOf(p.r.Catalogue), p.towerStands()
	var at, clear Place
	last := -1
	for i := range steps {
		s := &steps[i]
		if s.Kind != Remove {
			continue
		}
		if s.Access == FromTower {
			switch {
			case !stands:
				s.Add(tower.Build)
			case last >= 0 && s.Place() != at:
				s.Add(tower.Move)
			}
			stands, at, last = true, s.Place(), i
		}
		if len(s.Heavy) > 0 {
			s.Add(p.liftingTask(s))
		}
		if s.ShutsOff() && s.Place() != clear {
			s.Add(taskOf(p.r.Catalogue, "exclusion-zone"))
			clear = s.Place()
		}
	}
	if last >= 0 && p.part == nil {
		steps[last].Add(tower.Down)
	}
}

// liftingTask is setting the lifter for what is too heavy in a step.
func (p *planner) liftingTask(s *Step) Task {
	if s.Pieces[0].Kind == domain.Board {
		return taskOf(p.r.Catalogue, "board-lifter-set")
	}
	return taskOf(p.r.Catalogue, "lifter-set")
}

// towerStands reports whether the crew has a tower up already: something that it takes from one by its order is out.
func (p *planner) towerStands() bool {
	return p.keep != nil && slices.ContainsFunc(p.keep.earlier, func(x Placed) bool {
		return x.Access == FromTower && slices.ContainsFunc(x.Elements, func(code string) bool { return p.isOut(code) })
	})
}

func (p *planner) isOut(code string) bool {
	e := placeOf(p.graph, code)
	return e < 0 || p.graph.PieceOf[e] < 0
}
