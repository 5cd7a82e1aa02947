package strip

import "unpick/domain"

// Day is one crew's working day: a sheet to print.
type Day struct {
	Number  int    `json:"day"`
	Work    []Part `json:"work"`
	Minutes int    `json:"minutes" jsonschema_description:"elapsed working minutes used"`
	Persons int    `json:"people" jsonschema_description:"most people that a step of the day asks for"`
}

// Part is the share of a step that falls on a day.
type Part struct {
	Step    int  `json:"step"`
	Starts  int  `json:"starts_at_minute"`
	Minutes int  `json:"minutes"`
	Goes    bool `json:"goes_on,omitempty" jsonschema_description:"the step goes on the next day"`
	Went    bool `json:"went_on,omitempty" jsonschema_description:"the step began on an earlier day"`
}

// leastPartMinutes is the shortest part of a step worth stopping for or starting with (common practice, no source).
const leastPartMinutes = 15

// Days lays the steps on working days one after the other, one crew at a time: a plain count, with no holidays
// and nothing in parallel.
//
// What stands overnight is stable: a day ends only between steps, or between two pieces of a step of many light ones.
// The order holds after every piece, so that each that is left is held, carried or propped, and every open edge is
// guarded. A lift, a prop set or struck, and a set laid down are never stopped half way: they wait for the next
// morning, save one that is longer than a whole day. No part is shorter than 15 minutes.
func Days(steps []Step, calendar domain.Calendar) []Day {
	full := calendar.MinutesADay()
	var days []Day
	for i := range steps {
		s := &steps[i]
		for left := s.DurationMinutes; left > 0; {
			if len(days) == 0 || days[len(days)-1].Minutes == full || today(s, left, full-days[len(days)-1].Minutes, full) == 0 {
				days = append(days, Day{Number: len(days) + 1})
			}
			d := &days[len(days)-1]
			share := today(s, left, full-d.Minutes, full)
			d.Work = append(d.Work, Part{s.Number, d.Minutes, share, share < left, left < s.DurationMinutes})
			d.Minutes += share
			d.Persons = max(d.Persons, s.People)
			left -= share
		}
	}
	return days
}

// today is how much of what is left of a step is done in the room left in a day; never 0 for a whole day.
func today(s *Step, left, room, full int) int {
	share := min(left, room)
	if share == left {
		return share
	}
	if s.InOneGo() && room < full {
		return 0
	}
	if left-share < leastPartMinutes {
		share = left - leastPartMinutes
	}
	if share < leastPartMinutes {
		if room < full {
			return 0
		}
		return min(left, room)
	}
	return share
}

// InOneGo reports whether a step must not be stopped half way.
func (s *Step) InOneGo() bool {
	return s.Kind == Prop || s.Kind == StrikeProp || s.Kind == MakeDead || s.Lift
}
