package relocation

import (
	"fmt"
	"time"
)

// say writes what a tenant wants to know first: when it begins, how long both rents run, and whether that is the least.
func (b *pair) say(p *Programme) {
	if len(p.Work) == 0 {
		p.Words = []string{"Nothing is left to do."}
		return
	}
	p.Words = []string{}
	add := func(format string, values ...any) { p.Words = append(p.Words, fmt.Sprintf(format, values...)) }
	b.sayLease(add, b.dates.handBack)
	if o := p.Latest; o != nil && p.Fits {
		if o.Starts != "" {
			add("Counted backwards from giving back on %s: work begins on %s at the latest, %s.", on(o.HandBack), on(o.Starts), b.inHandWords())
		}
		b.sayNeeded(add, p, o)
		add("All is up in the next place by the evening of %s.", on(o.Ready))
	}
	if o := p.Soonest; p.HandBack == "" || o.HandBack != p.HandBack {
		add("As soon as it can be done: work begins on %s, the old place could be given back on %s, all is up by %s.", on(o.Starts), on(o.HandBack), on(o.Ready))
		if p.HandBack != "" && b.terms.HandBack == "" && o.HandBack < p.RentEnds {
			add("Rent runs to %s all the same, unless the landlord agrees in writing to take the place back sooner.", on(p.RentEnds))
		}
	}
	if p.AsAgreed == nil && p.Entry == "" {
		add("The day of entry is not given: the next place is taken to be there when it is needed.")
	}
	for i, c := range b.calendars {
		if !c.Known() {
			add("Whose public holidays count at the %s is not set, so none are left out: choose the region in its settings.", []string{"old place", "next place"}[i])
		}
	}
	add("%s, the hours of the old place, %s from one place to the other. The same towers and steps serve both places, one piece of work at a time; bringing them across is not counted, nor what suppliers and other trades do.",
		count(p.People, "person", "people"), count(b.terms.Travel, "minute", "minutes"))
}

func (b *pair) inHandWords() string {
	if b.dates.inHand == 0 {
		return "with no working day in hand"
	}
	return fmt.Sprintf("with %s in hand", count(b.dates.inHand, "working day", "working days"))
}

// sayNeeded is for how many days both places are needed, and for how many both are paid.
func (b *pair) sayNeeded(add func(string, ...any), p *Programme, o *Outcome) {
	if o.Needed == "" {
		add("Nothing goes from one place to the other, so no day of both rents is needed.")
		return
	}
	least := fmt.Sprintf("no order needs fewer (%s)", o.Limit)
	if !o.Proven {
		least = fmt.Sprintf("no order can need fewer than %d (%s)", o.Least, o.Limit)
	}
	add("This work needs the next place from %s, so both rents have to run for %s: %s.", on(o.Needed), count(o.Both.Days, "day", "days"), least)
	switch a := p.AsAgreed; {
	case a == nil:
	case a.Days > o.Both.Days:
		add("As the dates are, both run for %s, from %s to %s: %s more than the work needs.", count(a.Days, "day", "days"), on(a.From), on(a.To), count(a.Days-o.Both.Days, "day", "days"))
	default:
		add("As the dates are, both run for %s, from %s to %s.", count(a.Days, "day", "days"), on(a.From), on(a.To))
	}
}

// mends says, where the dates do not fit, by how much and what would help.
func (b *pair) mends(p *Programme) {
	if b.fits {
		return
	}
	d := b.dates
	add := func(format string, values ...any) { p.Mends = append(p.Mends, fmt.Sprintf(format, values...)) }
	add("Give back %s later, on %s at the soonest.", count(p.LateDays, "day", "days"), on(p.Soonest.HandBack))
	if words := d.lease.beyond(day(p.Soonest.HandBack)); words != "" {
		add("%s", words)
	}
	if o := p.Latest; o != nil {
		if o.Starts != "" && o.Starts < p.NotBefore {
			add("Work would have to begin on %s: %s before it can.", on(o.Starts), count(daysBetween(day(o.Starts), d.notBefore), "day", "days"))
		}
		if o.Needed != "" && p.Entry != "" && o.Needed < p.Entry {
			add("The next place would have to be open on %s, %s before its day of entry: ask for it sooner, or for a store in between.", on(o.Needed), count(daysBetween(day(o.Needed), d.entry), "day", "days"))
		}
	}
	for _, w := range p.WhatIf[1:] {
		with := ""
		switch more := w.People - p.People; {
		case more > 0 && w.Saturdays && !p.Terms.Saturdays:
			with = "One more person and Saturdays"
		case more > 0:
			with = "One more person"
		default:
			with = "Saturdays"
		}
		switch {
		case w.Fits:
			add("%s: then it fits.", with)
		case w.LateDays < p.LateDays:
			add("%s: then it is late by %s.", with, count(w.LateDays, "day", "days"))
		default:
			add("%s: no help, it is late by as much.", with)
		}
	}
}

// on is an ISO 8601 date as people say it.
func on(date string) string {
	if date == "" {
		return "no day"
	}
	return words(day(date))
}

func words(day time.Time) string { return day.Format("Mon 2 Jan 2006") }

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
