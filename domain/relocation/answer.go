package relocation

import (
	"cmp"
	"slices"
	"time"

	"unpick/domain/calendar"
	"unpick/domain/programme"
)

// answer writes both programmes down: dates of each, and all work of the one that is shown.
func (b *pair) answer() *Programme {
	d := b.dates
	p := &Programme{Terms: b.terms, People: b.terms.People, DayMinutes: b.full, HandBack: iso(d.handBack), BackSince: d.becauseBack, RentEnds: iso(d.rentEnds),
		Entry: iso(d.entry), EntrySince: d.becauseInt, NotBefore: iso(d.notBefore), Fits: b.fits, LateDays: b.lateDays(),
		Mends: []string{}, Work: []Entry{}, Days: []Day{}, Short: append([]programme.Shortage{}, b.short...)}
	if !d.entry.IsZero() && !d.rentEnds.IsZero() {
		o := b.overlap(d.entry, d.rentEnds)
		p.AsAgreed = &o
	}
	if b.latest != nil {
		p.Latest = b.outcome(b.latest, d.handBack)
	}
	p.Soonest = b.outcome(b.soonest, b.soonestOn)
	var shown *laid
	shown, p.Shown = b.shown()
	b.entries(p, shown)
	return p
}

func (b *pair) overlap(from, to time.Time) Overlap {
	days := max(daysBetween(from, to)+1, 0)
	return Overlap{iso(from), iso(to), days, b.terms.rents(days)}
}

// outcome is the dates of a programme. The old rent runs to its end in the lease where the place is given back for it.
func (b *pair) outcome(l *laid, handBack time.Time) *Outcome {
	o := &Outcome{HandBack: iso(handBack)}
	if l.starts < len(l.axis.days)*l.axis.full {
		o.Starts = iso(l.axis.date(l.starts / l.axis.full))
	}
	if l.oldDone > 0 {
		o.WorkDone = iso(l.axis.date(l.axis.dayOfEnd(l.oldDone)))
	}
	if len(l.placed) > b.old {
		o.Ready = iso(l.axis.date(l.axis.dayOfEnd(l.ready)))
	}
	ends := handBack
	if handBack.Equal(b.dates.handBack) {
		ends = b.dates.rentEnds
	}
	if limit, ok := b.neededBound(handBack); ok {
		needed := b.neededOn(l)
		o.Needed, o.Limit = iso(needed), limit.because
		o.Both = b.overlap(needed, ends)
		o.Least = max(daysBetween(limit.on, ends)+1, 0)
		o.Proven = o.Both.Days <= o.Least
	} else {
		o.Both, o.Proven = Overlap{To: iso(ends), Rent: b.terms.rents(0)}, true
	}
	start := b.startBound(handBack)
	o.StartBound, o.StartLimit = iso(start.on), start.because
	return o
}

// entries is all work of a programme in the order in which it begins, and the days from the first to the last.
func (b *pair) entries(p *Programme, l *laid) {
	from := func(minute int) string { return b.calendars[here].Clock(calendar.Moment{Minute: minute}) }
	upTo := func(minute int) string { return b.calendars[here].ClockEnd(calendar.Moment{Minute: minute}) }
	for i := range l.placed {
		j, q := &b.jobs[i], &l.placed[i]
		if !j.worked() {
			continue
		}
		e := Entry{Kind: j.kind, Code: j.code, Title: j.title, Group: j.group, There: j.in == there, Step: j.step, Host: j.host, Pieces: j.pieces}
		for _, who := range q.who {
			e.People = append(e.People, who+1)
		}
		slices.Sort(e.People)
		for _, x := range q.parts {
			e.Parts = append(e.Parts, Part{iso(l.axis.date(x.day)), x.from, x.to})
		}
		first, last := e.Parts[0], e.Parts[len(e.Parts)-1]
		e.Starts, e.StartsAt, e.Ends, e.EndsAt = first.On, from(first.From), last.On, upTo(last.To)
		if j.kind == Load {
			e.LeavesAt, e.ThereAt = from(first.From+j.loading), upTo(first.From+j.loading+b.terms.Travel)
		}
		p.Work = append(p.Work, e)
	}
	slices.SortStableFunc(p.Work, func(x, y Entry) int {
		return cmp.Or(cmp.Compare(x.Starts, y.Starts), cmp.Compare(x.Parts[0].From, y.Parts[0].From), cmp.Compare(x.Ends, y.Ends))
	})
	if len(p.Work) == 0 {
		return
	}
	first, last := day(p.Work[0].Starts), day(p.Work[0].Ends)
	for _, e := range p.Work {
		if ends := day(e.Ends); ends.After(last) {
			last = ends
		}
	}
	for on := first; !on.After(last); on = on.AddDate(0, 0, 1) {
		p.Days = append(p.Days, Day{iso(on), b.calendars[here].Off(on), b.calendars[there].Off(on)})
	}
}
