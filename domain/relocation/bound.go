package relocation

import (
	"fmt"
	"time"
)

// limit is a day that no programme can be later than, and what makes it so.
type limit struct {
	on      time.Time
	because string
}

func (l *limit) lower(on time.Time, because string) {
	if l.because == "" || on.Before(l.on) {
		*l = limit{on, because}
	}
}

// loadBound is the latest day on which the first load can go, whatever the order: all loads have to be there by the last
// day of work at the old place, each on one day on which both are worked. False where there are none.
func (p *planner) loadBound(handBack time.Time) (limit, bool) {
	done := p.doneBy(handBack)
	days, why := p.tripDays()
	var l limit
	if days > 0 {
		l.lower(p.bothBefore(done, days), why)
	}
	if p.terms.EmptyFirst && days > 0 {
		p.emptyBound(done, &l)
	}
	return l, l.because != ""
}

// neededBound is the latest day on which the next place can be needed first: for the first load, or for what is bought.
func (p *planner) neededBound(handBack time.Time) (limit, bool) {
	l, ok := p.loadBound(handBack)
	if d := p.dates.delivery; !d.IsZero() && (!ok || d.Before(l.on)) {
		return limit{d, "what is bought is delivered then"}, true
	}
	return l, ok
}

// tripDays is on how many days of the calendar loads go at least: what goes one after the other into a day with the way
// back between two, by each vehicle and by each of the crew, and how many can go side by side.
func (p *planner) tripDays() (int, string) {
	room := min(p.to[here], p.to[there]) - max(p.from[here], p.from[there])
	length, large := make([]int, p.vehicles), make([]int, p.vehicles)
	trips, minutes, persons, hands := 0, 0, 0, p.terms.People
	row := 0 // minutes of all loads one after the other, with a way back after each
	for i := range p.jobs[:p.old] {
		j := &p.jobs[i]
		if j.kind != Load || !j.worked() {
			continue
		}
		trips++
		hands = min(hands, j.people)
		minutes += j.minutes
		row += j.minutes + p.terms.Travel
		persons += j.people * (j.minutes + p.terms.Travel)
		length[j.vehicle] += j.minutes + p.terms.Travel
		if 2*(j.minutes+p.terms.Travel) > room+p.terms.Travel {
			large[j.vehicle]++ // no two of these go on one day
		}
	}
	if trips == 0 {
		return 0, ""
	}
	days := max(ceil(persons, p.terms.People*(room+p.terms.Travel)), ceil(minutes, p.terms.People/hands*room))
	if p.terms.People < 2*hands { // somebody goes with any two of them
		days = max(days, ceil(row, room+p.terms.Travel))
	}
	for v := range length {
		days = max(days, large[v], ceil(length[v], room+p.terms.Travel))
	}
	return days, fmt.Sprintf("%s, with loading and unloading, take %s at least", count(trips, "load", "loads"), count(days, "day", "days"))
}

// emptyBound adds what has to follow the loads where making good waits for an empty place.
func (p *planner) emptyBound(done time.Time, l *limit) {
	for v := range p.vehicles {
		length := -p.terms.Travel
		for i := range p.jobs[:p.old] {
			if j := &p.jobs[i]; j.kind == Load && j.vehicle == v {
				length += j.minutes + p.terms.Travel
			}
		}
		if length > 0 {
			if on, host := p.afterBound(done, length); host != "" {
				l.lower(on, "the loads, and making good "+host+" after them")
			}
		}
	}
	work := 0
	for i := range p.jobs[:p.old] {
		if p.jobs[i].kind != TakeOut {
			work += p.jobs[i].people * p.jobs[i].minutes
		}
	}
	l.lower(p.back(done, ceil(work, p.terms.People)), "the loads and all making good, which follows them")
}

// startBound is the latest day on which taking out can begin, whatever the order.
func (p *planner) startBound(handBack time.Time) limit {
	done := p.doneBy(handBack)
	work := 0
	for i := range p.jobs[:p.old] {
		work += p.jobs[i].people * p.jobs[i].minutes
	}
	var l limit
	l.lower(p.back(done, ceil(work, p.terms.People)), fmt.Sprintf("all work at the old place, and the loads, shared by %s", count(p.terms.People, "person", "people")))
	if on, host := p.afterBound(done, p.bound.Minutes); host != "" {
		l.lower(on, "taking out, and making good "+host+" after it")
	} else if p.bound.Minutes > 0 {
		l.lower(p.back(done, p.bound.Minutes), "taking out: "+p.bound.Because)
	}
	return l
}

// afterBound is the latest day on which work of so many minutes can begin that repairs, their hardening and paint of each
// surface follow, and the surface that makes it so; "" where nothing is made good.
func (p *planner) afterBound(done time.Time, minutes int) (time.Time, string) {
	var l limit
	for i := range p.jobs[:p.old] {
		j := &p.jobs[i]
		switch j.kind {
		case Repair:
			l.lower(p.back(done.AddDate(0, 0, -j.cure), j.minutes+minutes), j.host)
		case Paint:
			if len(j.after) == 0 || p.jobs[j.after[0].job].kind != Repair {
				l.lower(p.back(done, j.minutes+minutes), j.host)
				continue
			}
			last := j.after[0]
			before := p.jobs[last.job].minutes + minutes
			if last.days == 0 {
				l.lower(p.back(done, j.minutes+before), j.host)
				continue
			}
			l.lower(p.back(p.back(done, j.minutes).AddDate(0, 0, -last.days), before), j.host)
		}
	}
	return l.on, l.because
}

// back is the latest day on which so many minutes of the clock at the old place can begin that have to be over by
// the close of a day.
func (p *planner) back(by time.Time, minutes int) time.Time {
	c := p.calendars[here]
	return c.LatestStart(by, ceil(minutes, p.full))
}

// bothBefore is the n-th last day up to one on which both places are worked.
func (p *planner) bothBefore(by time.Time, n int) time.Time {
	for range farthest {
		if p.calendars[here].Works(by) && p.calendars[there].Works(by) {
			if n--; n == 0 {
				return by
			}
		}
		by = by.AddDate(0, 0, -1)
	}
	return by
}

// farthest is how many days are looked through for one that both places work.
const farthest = 3 * 366

func ceil(a, b int) int { return (a + b - 1) / max(b, 1) }
