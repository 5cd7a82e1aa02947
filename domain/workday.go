package domain

import (
	"strings"
	"time"
)

// Calendar is when work is done.
type Calendar struct {
	Region      string   `json:"region,omitempty" jsonschema_description:"whose public holidays: GB-ENG, GB-SCT, IE, DE, ..."`
	WorkingDays []string `json:"working_days,omitempty" jsonschema_description:"mon, tue, ...; empty is mon to fri"`
	StartsAt    string   `json:"starts_at,omitempty" jsonschema:"pattern=^([01][0-9]|2[0-3]):[0-5][0-9]$"`
	DayMinutes  int      `json:"day_minutes,omitempty" jsonschema:"minimum=0,maximum=1440" jsonschema_description:"working minutes in a day, breaks taken off; 0 reads as 450"`
	Breaks      []string `json:"breaks,omitempty" jsonschema_description:"breaks of each day, in order: 12:30/13:00; they are not among day_minutes"`
	DaysOff     []string `json:"days_off,omitempty" jsonschema_description:"days on which nobody works beside public holidays: 2026-12-23, or 2026-12-23/2027-01-03 from one to another"`
}

// mostDaysOff is the longest run of days off that one entry may give.
const mostDaysOff = 366

// DaysOf is the first and last day of an entry of days off, or false for one that is no date, runs backwards or is
// longer than a year.
func DaysOf(words string) (from, to time.Time, ok bool) {
	first, last, several := strings.Cut(words, "/")
	if !several {
		last = first
	}
	from, err := time.Parse(time.DateOnly, first)
	if err != nil {
		return from, to, false
	}
	to, err = time.Parse(time.DateOnly, last)
	return from, to, err == nil && !to.Before(from) && to.Before(from.AddDate(0, 0, mostDaysOff))
}

// MinutesADay is the working day, 450 minutes where nothing is said.
func (c Calendar) MinutesADay() int {
	if c.DayMinutes == 0 {
		return 450
	}
	return c.DayMinutes
}

// StartMinute is when work starts, in minutes after midnight: eight o'clock where nothing is said (common practice, no source).
func (c Calendar) StartMinute() int {
	if at, ok := minuteOf(c.StartsAt); ok {
		return at
	}
	return 8 * 60
}

// BreakOf is when a break like 12:30/13:00 begins and ends, in minutes after midnight, or false for one that is none.
func BreakOf(words string) (from, to int, ok bool) {
	begins, ends, _ := strings.Cut(words, "/")
	from, begun := minuteOf(begins)
	to, ended := minuteOf(ends)
	return from, to, begun && ended && from < to
}

// minuteOf is a time of day like 07:30 in minutes after midnight.
func minuteOf(words string) (int, bool) {
	at, err := time.Parse("15:04", words)
	return at.Hour()*60 + at.Minute(), err == nil && len(words) == len("15:04")
}
