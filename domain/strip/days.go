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

// Days lays the steps on working days one after the other, one crew at a time: a plain count, with no holidays
// and nothing in parallel.
func Days(steps []Step, calendar domain.Calendar) []Day {
	full := calendar.MinutesADay()
	var days []Day
	for _, s := range steps {
		for left := s.DurationMinutes; left > 0; {
			if len(days) == 0 || days[len(days)-1].Minutes == full {
				days = append(days, Day{Number: len(days) + 1})
			}
			d := &days[len(days)-1]
			share := min(left, full-d.Minutes)
			d.Work = append(d.Work, Part{s.Number, d.Minutes, share, share < left, left < s.DurationMinutes})
			d.Minutes += share
			d.Persons = max(d.Persons, s.People)
			left -= share
		}
	}
	return days
}
