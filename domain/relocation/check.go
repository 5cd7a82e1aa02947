package relocation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/makinggood"
	"unpick/domain/strip"
)

// Facts is what a programme is held against: what was handed in, not what the planner made of it.
type Facts struct {
	Here, There domain.FitOut
	Steps       []strip.Step
	Before      [][2]int // numbers of steps: the first is over before the second begins
	MakingGood  makinggood.List
	Trips       []Trip
	Packages    []Package
	Stores      map[string]int // towers, steps, room in a zone: how much there is
	NotBefore   time.Time
	Entry       time.Time // zero: none is given
}

// facts are read from what was handed in, and from the problem of taking out, which has its own check.
func (m *maker) facts(p *planner) Facts {
	f := Facts{Here: m.here.Register.FitOut, There: m.there.FitOut, Steps: m.here.Steps, MakingGood: m.here.MakingGood, Trips: m.there.Trips, Packages: m.there.Packages,
		Stores: map[string]int{}, NotBefore: p.dates.notBefore, Entry: p.dates.entry}
	for _, s := range p.stores {
		f.Stores[s.Code] = s.Capacity
	}
	for i := range p.jobs[:p.old] {
		for _, a := range p.jobs[i].after {
			if p.jobs[i].kind == TakeOut {
				f.Before = append(f.Before, [2]int{p.jobs[a.job].step, p.jobs[i].step})
			}
		}
	}
	return f
}

// checker is the second opinion on a programme: it reads the entries as they are written, day by day and minute by minute,
// and shares no code with what laid them.
type checker struct {
	p      *Programme
	f      Facts
	faults []string
	steps  map[int]*Entry
	loads  map[string]*Entry
	goods  map[string]*Entry // "repair " or "paint " and the surface
	ups    map[string][]*Entry
}

// Check is every fault of a programme: a piece that goes up before it has come, or is loaded before it is out; a person,
// a vehicle or a tower in two places; work on a day or at an hour at which the place is closed; work left out or done
// twice; a repair painted, or given back, before it is hard; anything outside the dates. Nil is none.
func Check(p *Programme, f Facts) []string {
	if p.Refused != "" {
		return nil
	}
	c := &checker{p: p, f: f, steps: map[int]*Entry{}, loads: map[string]*Entry{}, goods: map[string]*Entry{}, ups: map[string][]*Entry{}}
	c.everything()
	if len(c.faults) > 0 {
		return c.faults // what is missing cannot be held against the rest
	}
	c.open()
	c.people()
	c.vehicles()
	c.stores()
	c.order()
	c.arrivals()
	c.hardened()
	c.within()
	return c.faults
}

func (c *checker) fault(format string, values ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, values...))
}

// everything: each step, each surface, each load and each package is there once, with all its minutes.
func (c *checker) everything() {
	for i := range c.p.Work {
		e := &c.p.Work[i]
		key, twice := "", false
		switch e.Kind {
		case TakeOut:
			_, twice = c.steps[e.Step]
			c.steps[e.Step], key = e, fmt.Sprint("step ", e.Step)
		case Load:
			_, twice = c.loads[e.Code]
			c.loads[e.Code], key = e, e.Code
		case Repair, Paint:
			key = string(e.Kind) + " " + e.Host
			_, twice = c.goods[key]
			c.goods[key] = e
		case PutUp:
			for _, piece := range e.Pieces {
				c.ups[piece] = append(c.ups[piece], e)
			}
		}
		if twice {
			c.fault("%s is done twice", key)
		}
	}
	for _, s := range c.f.Steps {
		if s.DurationMinutes > 0 {
			c.worked(c.steps[s.Number], fmt.Sprint("step ", s.Number), s.DurationMinutes, 0)
		}
	}
	owed := map[string]int{}
	for _, r := range c.f.MakingGood.Rows {
		if r.Charged {
			owed["repair "+r.Host] += r.Minutes
		}
	}
	for _, p := range c.f.MakingGood.Planes {
		if p.Done == "" {
			owed["paint "+p.Host] += p.Minutes
		}
	}
	for key, minutes := range owed {
		if minutes > 0 {
			c.worked(c.goods[key], key, 0, minutes)
		}
	}
	for _, t := range c.f.Trips {
		c.worked(c.loads[t.Name], t.Name, c.p.Terms.Travel, 0)
	}
	for _, g := range c.f.Packages {
		for _, piece := range g.Pieces {
			if n := len(c.ups[piece]); n != 1 && g.Minutes > 0 {
				c.fault("%s goes up %d times", piece, n)
			}
		}
		if g.Minutes > 0 && len(g.Pieces) > 0 && len(c.ups[g.Pieces[0]]) == 1 {
			c.worked(c.ups[g.Pieces[0]][0], g.Assembly, 0, g.Minutes)
		}
	}
}

// worked holds an entry to so many minutes of the clock, or of one person.
func (c *checker) worked(e *Entry, what string, clock, person int) {
	if e == nil {
		c.fault("%s is left out", what)
		return
	}
	minutes := 0
	for _, x := range e.Parts {
		minutes += x.To - x.From
	}
	if minutes < clock || minutes*len(e.People) < person {
		c.fault("%s has %d minutes of %d people, and takes more", what, minutes, len(e.People))
	}
}

// open: every part lies in the hours of its place on a day that it is worked, and a load on one day in those of both.
func (c *checker) open() {
	next := c.f.There.Calendar
	if next.Breaks == nil {
		next.Breaks = c.f.Here.Calendar.Breaks
	}
	calendars := [2]calendar.Calendar{calendar.New(c.f.Here.Calendar), calendar.New(next)}
	if c.p.Terms.Saturdays {
		calendars[0], calendars[1] = calendars[0].WithSaturdays(), calendars[1].WithSaturdays()
	}
	opens, closes := calendars[1].Hours()
	hours := [2]string{clockOf(opens), clockOf(closes)}
	for _, e := range c.p.Work {
		if e.Kind == Load && len(e.Parts) != 1 {
			c.fault("%s is not on one day", e.Code)
		}
		for _, x := range e.Parts {
			date, ok := calendar.Day(x.On)
			if !ok || x.From < 0 || x.To <= x.From || x.To > calendars[0].MinutesADay() {
				c.fault("%s has a part that is none: %+v", e.Code, x)
				continue
			}
			for i, at := range calendars {
				if e.Kind != Load && (i == 1) != e.There {
					continue
				}
				if !at.Works(date) {
					c.fault("%s is worked on %s, which is %s there", e.Code, x.On, at.Off(date))
				}
				from, to := calendars[0].Clock(calendar.Moment{Minute: x.From}), calendars[0].ClockEnd(calendar.Moment{Minute: x.To})
				if i == 1 && closes <= 24*60 && from <= to && (from < hours[0] || to > hours[1]) {
					c.fault("%s is worked from %s to %s on %s, outside the hours of its place", e.Code, from, to, x.On)
				}
			}
		}
	}
}

func clockOf(minute int) string { return fmt.Sprintf("%02d:%02d", minute/60, minute%60) }

// use is somebody or something taken for a part of a day, and where it is at its beginning and its end.
type use struct {
	from, to int
	in, out  bool // at the next place
	code     string
}

// people: never more than the crew, each in one place at a time, with the way between.
func (c *checker) people() {
	days := map[string][]use{}
	for _, e := range c.p.Work {
		if len(e.People) == 0 {
			c.fault("nobody does %s", e.Code)
		}
		for i, who := range e.People {
			if who < 1 || who > c.p.People || i > 0 && e.People[i-1] == who {
				c.fault("%s is done by %v, of a crew of %d", e.Code, e.People, c.p.People)
			}
			for _, x := range e.Parts {
				key := fmt.Sprintf("%s person %d", x.On, who)
				days[key] = append(days[key], use{from: x.From, to: x.To, in: e.There, out: e.There || e.Kind == Load, code: e.Code})
			}
		}
	}
	c.apart(days)
}

// vehicles: a vehicle has come back before it is loaded again.
func (c *checker) vehicles() {
	days := map[string][]use{}
	for _, t := range c.f.Trips {
		for _, x := range c.loads[t.Name].Parts {
			key := fmt.Sprintf("%s vehicle %d", x.On, t.Vehicle)
			days[key] = append(days[key], use{from: x.From, to: x.To, out: true, code: t.Name})
		}
	}
	c.apart(days)
}

func (c *checker) apart(days map[string][]use) {
	for key, uses := range days {
		slices.SortFunc(uses, func(a, b use) int { return cmp.Compare(a.from, b.from) })
		for i := 1; i < len(uses); i++ {
			way := 0
			if uses[i-1].out != uses[i].in {
				way = c.p.Terms.Travel
			}
			if uses[i].from < uses[i-1].to+way {
				c.fault("%s is needed for %s before %s is over and the way made", key, uses[i].code, uses[i-1].code)
			}
		}
	}
}

// stores: towers, steps and room in a zone are never overdrawn.
func (c *checker) stores() {
	type change struct {
		at string
		by int
	}
	changes := map[string][]change{}
	take := func(e *Entry, store string, n int) {
		for _, x := range e.Parts {
			changes[store] = append(changes[store], change{fmt.Sprintf("%s %05d", x.On, x.From), n}, change{fmt.Sprintf("%s %05d", x.On, x.To), -n})
		}
	}
	for _, s := range c.f.Steps {
		e := c.steps[s.Number]
		if e == nil {
			continue
		}
		needs := map[string]int{}
		switch s.Access {
		case strip.FromTower:
			needs["towers"] = 1
		case strip.FromSteps:
			needs["steps"] = 1
		}
		if _, ok := c.f.Stores["zone "+s.Zone]; ok {
			needs["zone "+s.Zone] = len(e.People)
		}
		for store, n := range needs {
			take(e, store, n)
		}
	}
	for _, g := range c.f.Packages {
		if g.Minutes == 0 || len(g.Pieces) == 0 {
			continue
		}
		for _, a := range g.Access {
			store := "steps"
			if a == strip.FromTower {
				store = "towers"
			}
			take(c.ups[g.Pieces[0]][0], store, 1)
		}
	}
	for store, all := range changes {
		slices.SortFunc(all, func(a, b change) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.by, b.by)) })
		used := 0
		for _, x := range all {
			if used += x.by; used > c.f.Stores[store] {
				c.fault("%d of %s are in use at %s, and there are %d", used, store, x.at, c.f.Stores[store])
			}
		}
	}
}

func begins(e *Entry) string { return fmt.Sprintf("%s %05d", e.Parts[0].On, e.Parts[0].From) }
func ends(e *Entry) string {
	x := e.Parts[len(e.Parts)-1]
	return fmt.Sprintf("%s %05d", x.On, x.To)
}

// order: steps in their order, making good once everything is out.
func (c *checker) order() {
	for _, b := range c.f.Before {
		if x, y := c.steps[b[0]], c.steps[b[1]]; x != nil && y != nil && ends(x) > begins(y) {
			c.fault("step %d begins before step %d is over", b[1], b[0])
		}
	}
	for key, e := range c.goods {
		for n, s := range c.steps {
			if ends(s) > begins(e) {
				c.fault("%s begins before step %d is over", key, n)
			}
		}
		for code, l := range c.loads {
			if c.p.Terms.EmptyFirst && ends(l) > begins(e) {
				c.fault("%s begins before %s has gone", key, code)
			}
		}
	}
}

// arrivals: what is loaded is out, what goes up is there, and so is what it is fixed to.
func (c *checker) arrivals() {
	out := map[string]*Entry{}
	for _, s := range c.f.Steps {
		for _, q := range s.Pieces {
			out[q.Code] = c.steps[s.Number]
		}
	}
	for _, t := range c.f.Trips {
		for _, piece := range t.Pieces {
			if s := out[piece]; s != nil && ends(s) > begins(c.loads[t.Name]) {
				c.fault("%s is loaded with %s before step %d has it out", piece, t.Name, s.Step)
			}
		}
	}
	up := func(g Package) *Entry {
		if g.Minutes == 0 || len(g.Pieces) == 0 {
			return nil
		}
		return c.ups[g.Pieces[0]][0]
	}
	for _, g := range c.f.Packages {
		e := up(g)
		if e == nil {
			continue
		}
		for _, k := range g.Trips {
			if l := c.loads[c.f.Trips[k].Name]; ends(l) > begins(e) {
				c.fault("%s goes up before %s has brought what it is made of", e.Code, l.Code)
			}
		}
		for _, k := range g.After {
			if b := up(c.f.Packages[k]); b != nil && ends(b) > begins(e) {
				c.fault("%s goes up before %s, which it is fixed to", e.Code, b.Code)
			}
		}
		if c.p.Terms.Delivery != "" && g.Bought && e.Starts < c.p.Terms.Delivery {
			c.fault("%s goes up before what is bought is delivered", e.Code)
		}
	}
}

// hardened: paint and giving back wait until the repairs of a surface are hard, counted in days of the calendar.
func (c *checker) hardened() {
	handBack, _ := calendar.Day(c.back())
	last := calendar.New(c.f.Here.Calendar)
	if c.p.Terms.Saturdays {
		last = last.WithSaturdays()
	}
	done := last.Before(last.OnOrBefore(handBack), c.f.Here.Tenancy.ContingencyDays)
	cures := map[string]int{}
	for _, r := range c.f.MakingGood.Rows {
		if r.Charged {
			cures[r.Host] = max(cures[r.Host], (r.CureHours+23)/24)
		}
	}
	for host, days := range cures {
		repair := c.goods["repair "+host]
		if repair == nil {
			continue
		}
		filled, _ := calendar.Day(repair.Ends)
		hard := filled.AddDate(0, 0, days)
		if paint := c.goods["paint "+host]; paint != nil {
			if ends(repair) > begins(paint) || paint.Starts < hard.Format(time.DateOnly) {
				c.fault("%s is painted on %s, and its repairs are hard on %s", host, paint.Starts, hard.Format(time.DateOnly))
			}
		} else if hard.After(done) {
			c.fault("the repairs of %s are not hard by %s", host, done.Format(time.DateOnly))
		}
	}
	for _, e := range c.p.Work {
		if !e.There && e.Ends > done.Format(time.DateOnly) {
			c.fault("%s ends on %s, and the last day of work at the old place is %s", e.Code, e.Ends, done.Format(time.DateOnly))
		}
	}
}

// back is the day of giving back of the programme that is shown.
func (c *checker) back() string {
	if c.p.Shown == Latest {
		return c.p.HandBack
	}
	return c.p.Soonest.HandBack
}

// within: nothing before the first day, and nothing in the next place before its day of entry.
func (c *checker) within() {
	for _, e := range c.p.Work {
		if e.Starts < c.f.NotBefore.Format(time.DateOnly) {
			c.fault("%s begins on %s, before anybody may", e.Code, e.Starts)
		}
		if !c.f.Entry.IsZero() && (e.There || e.Kind == Load) && e.Starts < c.f.Entry.Format(time.DateOnly) {
			c.fault("%s is in the next place on %s, before the day of entry", e.Code, e.Starts)
		}
	}
}

// unclean words what the check found, the first few in full.
func unclean(faults []string) error {
	const most = 20
	slices.Sort(faults)
	if len(faults) > most {
		faults = append(faults[:most], fmt.Sprintf("and %d more", len(faults)-most))
	}
	return domain.Errorf(domain.Unclean, "the programme of both ends does not hold and is not handed out:\n  %s", strings.Join(faults, "\n  "))
}
