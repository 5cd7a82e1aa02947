package move

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/choice"
	"unpick/domain/schedule"
	"unpick/domain/strip"
)

// Hire is access equipment that putting up needs.
type Hire struct {
	Access     string   `json:"access" jsonschema:"enum=steps,enum=tower"`
	Days       int      `json:"days" jsonschema_description:"on which it is used, one crew putting up one thing after the other"`
	Assemblies []string `json:"assemblies" jsonschema_description:"that are put up from it"`
}

// AccessWords are what putting up is reached from beside the floor, and for how long: "steps 3 days, tower 1 day".
func (p *Plan) AccessWords() string {
	var out []string
	for _, h := range p.Access {
		out = append(out, h.Access+" "+counted(h.Days, "day", "days"))
	}
	return strings.Join(out, ", ")
}

// putMinutes is the work of putting each piece up: handling it, and driving the fixings that hold it.
func putMinutes(r *domain.Register) map[string]float64 {
	out := map[string]float64{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() {
			out[e.Code] = handling(r.Catalogue, e)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			if _, ok := out[f.Holds]; ok {
				out[f.Holds] += choice.PutIn(r.Catalogue, *f)
			}
		}
	}
	return out
}

// reached notes what each piece is put up from: what it is reached from when it comes out again. The days of each sort of
// equipment are counted as the strip-out counts its own, over the steps backwards, each as long as putting its pieces up takes.
func (p *Plan) reached(to *domain.Register, steps []strip.Step, hours domain.Calendar) {
	minutes := putMinutes(to)
	p.from = map[string]strip.Access{}
	var up []strip.Step
	for i := range slices.Backward(steps) {
		s := steps[i]
		if s.Kind != strip.Remove {
			continue
		}
		sum := 0.0
		for _, code := range s.Elements {
			sum += minutes[code]
			p.from[code] = s.Access
		}
		s.Number, s.DurationMinutes = len(up), int(math.Ceil(sum/float64(max(s.People, 1))-1e-9))
		up = append(up, s)
	}
	days, users := map[strip.Access]int{}, map[strip.Access][]string{}
	for _, day := range strip.Days(up, hours) {
		today := map[strip.Access]bool{}
		for _, part := range day.Work {
			s := &up[part.Step]
			today[s.Access] = true
			users[s.Access] = append(users[s.Access], s.Assembly)
		}
		for a := range today {
			days[a]++
		}
	}
	for _, a := range []strip.Access{strip.FromSteps, strip.FromTower} {
		if days[a] > 0 {
			slices.Sort(users[a])
			p.Access = append(p.Access, Hire{string(a), days[a], slices.Compact(users[a])})
		}
	}
	p.towers, p.towerWords = towerWork(to.Catalogue, up)
}

// hires adds what putting up is reached from: the hire by the day at the prices that the strip-out's has, and the work on
// towers. What has no price is named and counts as nothing, as at the old place.
func (c comparison) hires(w *Way) {
	if len(c.plan.from) == 0 {
		w.LeftOut = append(w.LeftOut, "There: access equipment for putting up: not worked out, since the layout cannot be planned")
		return
	}
	part := Part{Key: "access", Name: "There: hire of access equipment", Known: true}
	var made []string
	for _, h := range c.plan.Access {
		key := "prelim:access-" + h.Access
		price, ok := c.prices[key]
		if !ok {
			w.LeftOut = append(w.LeftOut, fmt.Sprintf("There: hire of %s for putting up, %d %s: no price for %s", h.Access, h.Days, unitWord("day", float64(h.Days)), key))
			continue
		}
		part.Money += schedule.Amount(float64(h.Days), price.Amount)
		made = append(made, fmt.Sprintf("%s, %s at %s (%s)", h.Access, counted(h.Days, "day", "days"), domain.FormatMoney(price.Amount, c.currency), key))
	}
	if part.Made = strings.Join(made, "; "); len(made) > 0 {
		part.Made += "; days on which Putting up uses it, one crew, one thing after the other"
		w.Parts = append(w.Parts, part)
	}
	if c.plan.towers > 0 {
		w.Parts = append(w.Parts, c.work("tower", "There: building, moving and striking a tower", c.plan.towers, c.plan.towerWords))
	}
}

// towerWork is the person-minutes that a tower takes beside the work from it: built once, moved from one assembly or room to
// the next, taken down once. Moves along one assembly are in nobody's rates, and are not counted.
func towerWork(c *domain.Catalogue, steps []strip.Step) (minutes int, made string) {
	type place struct{ zone, assembly string }
	moves, last, used := 0, place{}, false
	for i := range steps {
		s := &steps[i]
		if s.Kind != strip.Remove || s.Access != strip.FromTower || s.DurationMinutes == 0 {
			continue
		}
		at := place{s.Zone, s.Assembly}
		if used && at != last {
			moves++
		}
		last, used = at, true
	}
	if !used {
		return 0, ""
	}
	up, down, move := c.WorkRates["erect-tower"], c.WorkRates["strike-tower"], c.WorkRates["tower-move"]
	minutes = int(math.Ceil(up.Minutes + down.Minutes + float64(moves)*move.Minutes))
	return minutes, fmt.Sprintf("built and inspected once, %g min, %s from one assembly or room to the next at %g min, taken down once, %g min; moves along one not counted (erect-tower, tower-move, strike-tower: %s)",
		up.Minutes, counted(moves, "move", "moves"), move.Minutes, down.Minutes, up.Source)
}
