package timetable

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain/calendar"
	"unpick/domain/strip"
)

// words says what a foreman wants to know: how long, with whom, and whether a better order would help.
func (t *Timetable) words(days calendar.Calendar) []string {
	if len(t.Steps) == 0 {
		return []string{"Nothing is left to take out."}
	}
	out := []string{fmt.Sprintf("%s of work on %s, from %s to %s, with %s and %s.", t.Long(t.Minutes), count(t.Days, "working day", "working days"),
		dayWords(t.Starts), dayWords(t.Ends), count(t.People, "person", "people"), count(t.Towers, "tower", "towers"))}
	if saved := t.AloneMinutes - t.Minutes; saved > 0 {
		out = append(out, fmt.Sprintf("One step after the other it would be %s: some steps go on side by side.", t.Long(t.AloneMinutes)))
	}
	if t.Proven {
		out = append(out, "No other order is shorter with these people and this equipment.")
	} else {
		out = append(out, fmt.Sprintf("No order can be shorter than %s (%s), so at most %s could still be gained.", t.Long(t.BoundMinutes), t.Bound, t.Long(t.Minutes-t.BoundMinutes)))
	}
	out = append(out, t.shortWords()...)
	if why := days.Unknown(); why != "" {
		out = append(out, why)
	}
	return out
}

// otherTowers says what the minutes leave out where there are several towers: steps bring the building of one with them.
func (t *Timetable) otherTowers(tower strip.Tower) []string {
	if t.Towers < 2 || !slices.ContainsFunc(t.Steps, func(e Entry) bool { return e.Access == strip.FromTower }) {
		return nil
	}
	return []string{fmt.Sprintf("One tower is built and taken down in these minutes. Each of the others takes another %d person-minutes, which are not in them.", tower.Build.PersonMinutes+tower.Down.PersonMinutes)}
}

// mostNumbers is how many steps a sentence names one by one.
const mostNumbers = 12

// shortWords names the steps that ask for more people than there are, those that ask for as many together; of very many it says how many.
func (t *Timetable) shortWords() []string {
	var out []string
	said := map[[2]int]bool{}
	for _, s := range t.Short {
		ask := [2]int{s.Needs, s.Have}
		if said[ask] {
			continue
		}
		said[ask] = true
		var numbers []string
		for _, other := range t.Short {
			if other.Needs == s.Needs && other.Have == s.Have {
				numbers = append(numbers, fmt.Sprint(other.Step))
			}
		}
		steps := "Steps " + strings.Join(numbers, ", ") + " ask"
		switch n := len(numbers); {
		case n == 1:
			steps = "Step " + numbers[0] + " asks"
		case n > mostNumbers:
			steps = fmt.Sprintf("%d of the %d steps ask", n, len(t.Steps))
		}
		out = append(out, fmt.Sprintf("%s for %s, and there is crew or room for %d: find somebody for that time and see that there is room, or use a lifter.", steps, count(s.Needs, "person", "people"), s.Have))
	}
	return out
}

// Long writes minutes of work as days and hours of this calendar: "3 days 2 h 30 min".
func (t *Timetable) Long(minutes int) string {
	var parts []string
	if d := minutes / max(t.DayMinutes, 1); d > 0 {
		parts = append(parts, count(d, "day", "days"))
		minutes -= d * t.DayMinutes
	}
	if h := minutes / 60; h > 0 {
		parts = append(parts, fmt.Sprintf("%d h", h))
	}
	if m := minutes % 60; m > 0 || len(parts) == 0 {
		parts = append(parts, fmt.Sprintf("%d min", m))
	}
	return strings.Join(parts, " ")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// dayWords is an ISO 8601 date as people say it: "Mon 14 Mar 2026".
func dayWords(date string) string {
	t, ok := calendar.Day(date)
	if !ok {
		return date
	}
	return t.Format("Mon 2 Jan 2006")
}
