// Package calendar says which days are worked and lays work on them: weekdays, public holidays, days off of the firm's
// own, working minutes in a day.
//
// The idea: a day is a date, at midnight UTC, and nothing else; work is counted in minutes of working time from the
// beginning of a working day. Public holidays come from a well-kept library; what it lacks for a region is in
// regions.go with its source. A region that is not in the list has no public holidays here, and says so: see Known.
//
// Looking for
//
//   - which days are worked, the days before and after one: calendar.go
//   - minutes of work as days, forwards and backwards: lay.go
//   - months by the corresponding date: months.go
//   - the regions and their public holidays: regions.go
package calendar

import (
	"fmt"
	"strings"
	"time"

	"unpick/domain"
)

// Calendar is which days are worked and how long. The zero value works no day: use New.
type Calendar struct {
	region   *region // nil where the region is not known
	asked    string  // the region as it was set
	weekdays [7]bool
	starts   int       // minutes after midnight
	minutes  int       // of work in a day
	breaks   []stretch // in order
	off      []span
}

// stretch is a break, in minutes after midnight.
type stretch struct{ from, to int }

// span is days off of the firm's own, both ends among them.
type span struct{ from, to time.Time }

var weekdayNames = [7]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// New is the calendar of a fit-out that passes domain.Check: Monday to Friday and eight o'clock where nothing is said.
func New(c domain.Calendar) Calendar {
	out := Calendar{region: regionOf(c.Region), asked: c.Region, starts: c.StartMinute(), minutes: c.MinutesADay()}
	for _, words := range c.Breaks {
		if from, to, ok := domain.BreakOf(words); ok {
			out.breaks = append(out.breaks, stretch{from, to})
		}
	}
	for i, name := range weekdayNames {
		if len(c.WorkingDays) == 0 {
			out.weekdays[i] = i >= int(time.Monday) && i <= int(time.Friday)
		}
		for _, worked := range c.WorkingDays {
			out.weekdays[i] = out.weekdays[i] || worked == name
		}
	}
	for _, words := range c.DaysOff {
		if from, to, ok := domain.DaysOf(words); ok {
			out.off = append(out.off, span{from, to})
		}
	}
	return out
}

// WithSaturdays is the same calendar with Saturdays worked too.
func (c Calendar) WithSaturdays() Calendar {
	c.weekdays[time.Saturday] = true
	return c
}

// Office is the same calendar with Monday to Friday worked, whatever days a crew works: who is written to is there on them.
func (c Calendar) Office() Calendar {
	for day := range c.weekdays {
		c.weekdays[day] = day >= int(time.Monday) && day <= int(time.Friday)
	}
	return c
}

// Known reports whether the region's public holidays are known.
func (c Calendar) Known() bool { return c.region != nil }

// Unknown says that no public holidays are left out, and the mend; "" where they are.
func (c Calendar) Unknown() string {
	switch {
	case c.Known():
		return ""
	case c.asked == "":
		return "Whose public holidays count is not set, so none are left out: choose the region in the settings."
	}
	return fmt.Sprintf("The public holidays of %q are not known here, so none are left out: choose another region in the settings, or give the holidays as days off.", c.asked)
}

// Region names the region in words: "Scotland". "" where it is not known.
func (c Calendar) Region() string {
	if c.region == nil {
		return ""
	}
	return c.region.Name
}

// MinutesADay is how long a working day is.
func (c Calendar) MinutesADay() int { return c.minutes }

// Hours are when the working day begins and ends, in minutes after midnight; a shift over midnight ends after 1440.
func (c Calendar) Hours() (opens, closes int) { return c.starts, c.at(c.minutes, 1) }

// Within are the minutes of work of a day that lie within another calendar's hours: from one to another, both 0 where
// none do.
func (c Calendar) Within(other Calendar) (from, to int) {
	opens, closes := other.Hours()
	for from < c.minutes && c.at(from, 0) < opens {
		from++
	}
	for to = c.minutes; to > from && c.at(to, 1) > closes; {
		to--
	}
	if to <= from {
		return 0, 0
	}
	return from, to
}

// Day is the date that words name, or false.
func Day(words string) (time.Time, bool) {
	t, err := time.Parse(time.DateOnly, words)
	return t, err == nil
}

// DayOf is the date of a moment, where it was taken.
func DayOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Off is why nobody works on a day, "" where people do.
func (c Calendar) Off(day time.Time) string {
	if name := c.region.holiday(day); name != "" {
		return name
	}
	for _, s := range c.off {
		if !day.Before(s.from) && !day.After(s.to) {
			return "a day off"
		}
	}
	if !c.weekdays[day.Weekday()] {
		return "a " + day.Weekday().String()
	}
	return ""
}

// Works reports whether a day is worked.
func (c Calendar) Works(day time.Time) bool { return c.Off(day) == "" }

// farthestDays is how far the nearest working day may lie: a calendar that works none within it is taken to work
// every day, so that no count runs for ever.
const farthestDays = 3 * 366

// OnOrAfter is the first working day from a day on.
func (c Calendar) OnOrAfter(day time.Time) time.Time { return c.nearest(day, 1) }

// OnOrBefore is the last working day up to a day.
func (c Calendar) OnOrBefore(day time.Time) time.Time { return c.nearest(day, -1) }

func (c Calendar) nearest(day time.Time, way int) time.Time {
	for i := range farthestDays {
		if at := day.AddDate(0, 0, way*i); c.Works(at) {
			return at
		}
	}
	return day
}

// After is the n-th working day after a day, which itself does not count. 0 is the day itself, worked or not; a count
// below 0 goes back.
func (c Calendar) After(day time.Time, n int) time.Time {
	for ; n > 0; n-- {
		day = c.OnOrAfter(day.AddDate(0, 0, 1))
	}
	for ; n < 0; n++ {
		day = c.OnOrBefore(day.AddDate(0, 0, -1))
	}
	return day
}

// Before is the n-th working day before a day.
func (c Calendar) Before(day time.Time, n int) time.Time { return c.After(day, -n) }

// Between counts the working days from a day on to the day before another; below 0 where the other is earlier.
func (c Calendar) Between(from, to time.Time) int {
	if to.Before(from) {
		return -c.Between(to, from)
	}
	n := 0
	for day := from; day.Before(to); day = day.AddDate(0, 0, 1) {
		if c.Works(day) {
			n++
		}
	}
	return n
}

// Holidays are the public holidays of a year that fall on days that would be worked, in order: "2026-12-28 Boxing Day".
func (c Calendar) Holidays(year int) []string {
	var out []string
	for day := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == year; day = day.AddDate(0, 0, 1) {
		if name := c.region.holiday(day); name != "" && c.weekdays[day.Weekday()] {
			out = append(out, day.Format(time.DateOnly)+" "+strings.TrimSpace(name))
		}
	}
	return out
}
