package calendar

import (
	"fmt"
	"time"
)

// Moment is a minute of a working day.
type Moment struct {
	Day    time.Time
	Minute int // of work since the day began
}

// Date is the moment's day in ISO 8601.
func (m Moment) Date() string { return m.Day.Format(time.DateOnly) }

// Days is how many working days so many minutes of work take, at least one where there is any work.
func (c Calendar) Days(minutes int) int {
	if minutes <= 0 {
		return 0
	}
	return (minutes + c.minutes - 1) / c.minutes
}

// Laid is a run of working days from the first on, made longer as it is asked for. It lays minutes of work on days.
type Laid struct {
	calendar Calendar
	days     []time.Time
}

// From is the working days from a day on; the first is the day itself where it is worked, else the next that is.
func (c Calendar) From(day time.Time) *Laid {
	return &Laid{c, []time.Time{c.OnOrAfter(day)}}
}

func (l *Laid) day(n int) time.Time {
	for len(l.days) <= n {
		l.days = append(l.days, l.calendar.After(l.days[len(l.days)-1], 1))
	}
	return l.days[n]
}

// Starts is when work begins that begins after so many minutes of work: at the end of a day, the next morning.
func (l *Laid) Starts(minutes int) Moment {
	full := l.calendar.minutes
	return Moment{l.day(minutes / full), minutes % full}
}

// Ends is when work ends that ends after so many minutes of work: at the end of a day, not the next morning.
func (l *Laid) Ends(minutes int) Moment {
	if minutes <= 0 {
		return l.Starts(0)
	}
	full := l.calendar.minutes
	return Moment{l.day((minutes - 1) / full), (minutes-1)%full + 1}
}

// LatestStart is the last working day on which work of so many working days may begin that must be done by the close of
// the last working day up to a day. Work of no days may begin on that day.
func (c Calendar) LatestStart(by time.Time, days int) time.Time {
	last := c.OnOrBefore(by)
	return c.Before(last, max(days-1, 0))
}

// Clock is the time of day at which work begins at a moment: "08:00"; after a break that begins then.
func (c Calendar) Clock(m Moment) string { return c.clock(m.Minute, 0) }

// ClockEnd is the time of day at which work ends at a moment; before a break that begins then.
func (c Calendar) ClockEnd(m Moment) string { return c.clock(m.Minute, 1) }

// clock is a time of day in words.
func (c Calendar) clock(minute, ending int) string {
	at := c.at(minute, ending) % (24 * 60)
	return fmt.Sprintf("%02d:%02d", at/60, at%60)
}

// at is so many minutes of work after the start as minutes after midnight; work that ends is within its last minute.
func (c Calendar) at(minute, ending int) int {
	at := c.starts + minute
	for _, b := range c.breaks {
		if at-ending < b.from {
			break
		}
		at += b.to - b.from
	}
	return at
}
