package makinggood

import "unpick/domain"

// Days is how long making good takes once everything is out, in whole working days of the crew. A repair that cures is
// filled on the first day; its surface is painted, or the place taken over, when the cure is over. A plain count: no
// holidays, and every day of a cure is taken as a working day.
type Days struct {
	People       int  `json:"people"`
	DayMinutes   int  `json:"minutes_a_day"`
	FillMinutes  int  `json:"repair_minutes" jsonschema_description:"person-minutes"`
	PaintMinutes int  `json:"redecoration_minutes" jsonschema_description:"person-minutes"`
	WorkDays     int  `json:"days_of_work" jsonschema_description:"the labour alone, spread over the crew"`
	CureHours    int  `json:"longest_cure_hours"`
	Days         int  `json:"working_days" jsonschema_description:"work and curing together"`
	CureRules    bool `json:"curing_rules" jsonschema_description:"true where the cure and not the work sets the days"`
}

func days(f domain.FitOut, rows []Row, planes []Plane) Days {
	d := Days{People: f.Crew.Size(), DayMinutes: f.Calendar.MinutesADay()}
	cures, paints := map[string]int{}, map[string]int{}
	for _, row := range rows {
		if !row.Charged {
			continue
		}
		d.FillMinutes += row.Minutes
		d.CureHours = max(d.CureHours, row.CureHours)
		cures[row.Host] = max(cures[row.Host], row.CureHours)
	}
	for _, p := range planes {
		d.PaintMinutes += p.Minutes
		paints[p.Host] = p.Minutes
	}
	d.WorkDays = d.wholeDays(d.FillMinutes + d.PaintMinutes)
	d.Days = d.WorkDays
	for host, hours := range cures {
		if hours > 0 {
			d.Days = max(d.Days, 1+ceiling(hours, 24)+d.wholeDays(paints[host]))
		}
	}
	d.CureRules = d.Days > d.WorkDays
	return d
}

// wholeDays is how many days of the crew so many person-minutes are.
func (d Days) wholeDays(personMinutes int) int {
	return ceiling(personMinutes, max(d.People*d.DayMinutes, 1))
}

func ceiling(a, b int) int { return (a + b - 1) / b }
