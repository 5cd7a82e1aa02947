package relocation

import (
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
)

// place is one of the two ends.
type place int8

const (
	here place = iota
	there
)

// oneDay is a day of the calendar: at which ends it is worked, and from which minute of the crew's day to which.
type oneDay struct {
	open     [2]bool
	from, to [2]int
}

// axis is days of the calendar one after the other, each as long as the crew's working day. A time on it is minutes from
// its beginning: the close of one day is the opening of the next.
type axis struct {
	first time.Time
	days  []oneDay
	full  int // minutes of the crew's day
}

// sites are the calendars of both ends. The crew keeps the hours of the old place; at the next it works while
// that is open too.
type sites struct {
	calendars [2]calendar.Calendar
	from, to  [2]int // the hours of each end in the crew's day
	full      int
}

// sitesOf reads the calendars. Refused where the hours of the two places never meet.
func sitesOf(hereOf, thereOf domain.FitOut, saturdays bool) (*sites, error) {
	next := thereOf.Calendar
	if len(next.Breaks) == 0 {
		next.Breaks = hereOf.Calendar.Breaks // the crew's breaks, where the place has none of its own
	}
	s := &sites{calendars: [2]calendar.Calendar{calendar.New(hereOf.Calendar), calendar.New(next)}}
	if saturdays {
		for i := range s.calendars {
			s.calendars[i] = s.calendars[i].WithSaturdays()
		}
	}
	s.full = s.calendars[here].MinutesADay()
	s.to[here] = s.full
	s.from[there], s.to[there] = s.calendars[here].Within(s.calendars[there])
	if s.to[there] == 0 {
		return nil, domain.Errorf(domain.Refused, "the working hours of %s and of %s do not meet: one crew cannot work in both; give both the same hours in their settings", hereOf.Name, thereOf.Name)
	}
	return s, nil
}

// axis is so many days from one on.
func (s *sites) axis(first time.Time, n int) *axis {
	a := &axis{first: first, days: make([]oneDay, n), full: s.full}
	for i := range a.days {
		date := first.AddDate(0, 0, i)
		a.days[i] = oneDay{from: s.from, to: s.to}
		for p, c := range s.calendars {
			a.days[i].open[p] = c.Works(date)
		}
	}
	return a
}

// mirrored is the same days seen from the end: what is laid on it as early as can be is laid as late as can be.
func (a *axis) mirrored() *axis {
	m := &axis{first: a.first, days: make([]oneDay, len(a.days)), full: a.full}
	for i, d := range a.days {
		e := oneDay{open: d.open}
		for p := range d.from {
			e.from[p], e.to[p] = a.full-d.to[p], a.full-d.from[p]
		}
		m.days[len(a.days)-1-i] = e
	}
	return m
}

// index is the place of a date on the axis.
func (a *axis) index(date time.Time) int { return int(date.Sub(a.first).Hours() / 24) }

// date is the day at a place on the axis.
func (a *axis) date(i int) time.Time { return a.first.AddDate(0, 0, i) }

// dayOfEnd is the day on which something ends at a time: not the next morning.
func (a *axis) dayOfEnd(t int) int { return max(t-1, 0) / a.full }
