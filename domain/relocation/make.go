package relocation

import (
	"cmp"
	"slices"
	"time"

	"unpick/domain"
)

// maker makes the programme of a move, and the same with more people.
type maker struct {
	here  Here
	there There
	today time.Time
}

func (m *maker) programme(terms Terms) (*Programme, error) {
	b, err := m.lay(terms)
	if err != nil {
		return nil, err
	}
	p := b.answer()
	if p.WhatIf, err = m.whatIf(b); err != nil {
		return nil, err
	}
	b.mends(p)
	b.say(p)
	if faults := Check(p, m.facts(b.planner)); len(faults) > 0 {
		return nil, unclean(faults)
	}
	return p, nil
}

// pair is the two programmes of one planner. There is no latest one without a day of giving back, and one that does not
// fit has no putting up.
type pair struct {
	*planner
	latest, soonest *laid
	soonestOn       time.Time
	fits            bool
}

// lay makes both programmes with one set of terms.
func (m *maker) lay(terms Terms) (*pair, error) {
	p, err := m.planner(terms)
	if err != nil {
		return nil, err
	}
	b := &pair{planner: p}
	if on := p.dates.handBack; !on.IsZero() {
		if b.latest = p.backwards(on, p.best(on)); b.latest == nil {
			return nil, domain.Errorf(domain.Refused, "this work finds no days before %s: look at the calendars of both places", words(on))
		}
		if b.fits = p.inTime(b.latest); b.fits {
			b.latest = p.ahead(b.latest)
		}
	}
	if b.soonest, b.soonestOn = p.soonest(); b.soonest == nil {
		return nil, domain.Errorf(domain.Refused, "no day of giving back within %d years is late enough for this work: look at the calendars of both places", soonestYears)
	}
	b.soonest = p.ahead(b.soonest)
	if b.soonest == nil || b.fits && b.latest == nil {
		return nil, domain.Errorf(domain.Refused, "putting up finds no days at %s: look at its calendar", m.there.FitOut.Name)
	}
	b.fits = b.fits || p.dates.handBack.IsZero()
	return b, nil
}

// planner reads everything that a programme is made of.
func (m *maker) planner(terms Terms) (*planner, error) {
	of := m.here.Register.FitOut
	terms.People = cmp.Or(terms.People, of.Crew.Size())
	s, err := sitesOf(of, m.there.FitOut, terms.Saturdays)
	if err != nil {
		return nil, err
	}
	p := &planner{sites: s, terms: terms, dates: datesOf(of, m.there.FitOut, terms, s.calendars[here], m.today, m.here.Register.Signed(domain.NoticeGiven)), vehicles: 1, stop: m.here.Stop}
	d := p.dates
	if d.handBack.IsZero() && d.entry.IsZero() {
		return nil, domain.Errorf(domain.Invalid, "neither the day of giving back nor the day of entry is known: give one of them here, or set the end of the lease of %s or the start of that of %s in the settings", of.Name, m.there.FitOut.Name)
	}
	if !d.delivery.IsZero() && d.delivery.Before(d.entry) {
		return nil, domain.Errorf(domain.Invalid, "what is bought comes on %s, before the day of entry, %s: nobody is there to take it in", words(d.delivery), words(d.entry))
	}
	if p.work, err = workOf(m.here, m.there, terms, s.full); err != nil {
		return nil, err
	}
	for i := range p.jobs {
		p.vehicles = max(p.vehicles, p.jobs[i].vehicle+1)
	}
	return p, p.passable()
}

// ahead lays putting up beside a programme of the old place: from the day of entry, or where nobody gives one from
// the first load on, or from the delivery.
func (p *planner) ahead(back *laid) *laid {
	entry := p.dates.entry
	if entry.IsZero() {
		entry = p.neededOn(back)
	}
	return p.forwards(back, entry)
}

// neededOn is the first day on which the next place is needed: for the first load or the delivery, and without either once
// everything is done at the old place.
func (p *planner) neededOn(l *laid) time.Time {
	load := -1
	for i := range p.jobs[:p.old] {
		if on := l.placed[i].start / l.axis.full; p.jobs[i].kind == Load && (load < 0 || on < load) {
			load = on
		}
	}
	switch d := p.dates.delivery; {
	case load >= 0 && (d.IsZero() || l.axis.date(load).Before(d)):
		return l.axis.date(load)
	case !d.IsZero():
		return d
	}
	return l.axis.date(l.axis.dayOfEnd(l.oldDone))
}

// passable refuses a load that is longer than a day on which both places are worked.
func (p *planner) passable() error {
	f := newFloor(p.axis(p.dates.notBefore, farthest), 0, 0, 0, nil)
	for i := range p.jobs {
		if j := &p.jobs[i]; j.kind == Load && !f.fitsSomeDay(j) {
			return domain.Errorf(domain.Refused, "%s takes %d minutes with loading, the way and unloading, and the longest day on which both places are worked has %d: give a smaller payload, more people or a shorter way", j.code, j.minutes, f.longest(j))
		}
	}
	return nil
}

// best says that a programme counted backwards cannot be bettered.
func (p *planner) best(handBack time.Time) func(*laid) bool {
	load, loads := p.loadBound(handBack)
	start := p.startBound(handBack)
	return func(l *laid) bool {
		late := !loads || l.needed >= 0 && !l.axis.date(l.needed).Before(load.on)
		return late && !l.axis.date(l.starts/l.axis.full).Before(start.on)
	}
}

// inTime reports whether a programme counted backwards begins no earlier than anybody may, here and there.
func (p *planner) inTime(l *laid) bool {
	if l.starts < len(l.axis.days)*l.axis.full && l.axis.date(l.starts/l.axis.full).Before(p.dates.notBefore) {
		return false
	}
	return l.needed < 0 || p.dates.entry.IsZero() || !l.axis.date(l.needed).Before(p.dates.entry)
}

// soonestYears is how far ahead a day of giving back is looked for.
const soonestYears = 3

// soonest is the programme of the earliest day of giving back at which it fits, and that day. Days that a bound rules out
// are not tried.
func (p *planner) soonest() (*laid, time.Time) {
	first := p.dates.notBefore
	loads := slices.ContainsFunc(p.jobs, func(j job) bool { return j.kind == Load })
	if loads && p.dates.entry.After(first) {
		first = p.dates.entry
	}
	for n := range soonestYears * 366 {
		on := first.AddDate(0, 0, n)
		if !p.calendars[here].Works(on) || p.startBound(on).on.Before(p.dates.notBefore) {
			continue
		}
		if load, ok := p.loadBound(on); ok && load.on.Before(p.dates.entry) {
			continue
		}
		if l := p.backwards(on, p.inTime); l == nil || !p.inTime(l) {
			continue
		}
		return p.backwards(on, p.best(on)), on
	}
	return nil, first
}

// whatIf is the same move with one more person, with Saturdays, and with both.
func (m *maker) whatIf(b *pair) ([]WhatIf, error) {
	out := []WhatIf{}
	for _, more := range []struct {
		people    int
		saturdays bool
	}{{0, false}, {1, false}, {0, true}, {1, true}} {
		terms := b.terms
		if more.saturdays && terms.Saturdays || terms.People+more.people > mostPeople {
			continue
		}
		terms.People += more.people
		terms.Saturdays = terms.Saturdays || more.saturdays
		other := b
		if more.people > 0 || more.saturdays {
			var err error
			if other, err = m.lay(terms); err != nil {
				return nil, err
			}
		}
		out = append(out, other.row())
	}
	return out, nil
}

func (b *pair) row() WhatIf {
	w := WhatIf{People: b.terms.People, Saturdays: b.terms.Saturdays, Soonest: iso(b.soonestOn), Fits: b.fits, LateDays: b.lateDays()}
	if b.latest != nil {
		o := b.outcome(b.latest, b.dates.handBack)
		w.LatestStart, w.Needed, w.Both = o.Starts, o.Needed, o.Both.Days
	} else {
		w.Both = b.outcome(b.soonest, b.soonestOn).Both.Days
	}
	shown, _ := b.shown()
	w.Ready = iso(shown.axis.date(shown.axis.dayOfEnd(shown.ready)))
	return w
}

// lateDays is by how many days of the calendar the soonest day of giving back is after the one there is.
func (b *pair) lateDays() int {
	if b.fits {
		return 0
	}
	return daysBetween(b.dates.handBack, b.soonestOn)
}

// shown is the programme that is shown, and which it is.
func (b *pair) shown() (*laid, string) {
	if b.terms.Soonest || !b.fits || b.latest == nil {
		return b.soonest, Soonest
	}
	return b.latest, Latest
}

func daysBetween(from, to time.Time) int { return int(to.Sub(from).Hours() / 24) }

func iso(day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return day.Format(time.DateOnly)
}
