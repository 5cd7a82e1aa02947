package progress

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/strip"
)

// Pace compares the real minutes of the work that is done with those that the plan gave it.
type Pace struct {
	Steps          int // ticked off with both figures
	RealMinutes    int
	PlannedMinutes int
}

// PaceOf is the pace so far. Work without a real or a planned figure says nothing about it.
func PaceOf(r *domain.Register) Pace {
	var p Pace
	for _, o := range r.Signed(domain.WorkDone) {
		if o.Minutes > 0 && o.PlannedMinutes > 0 {
			p.Steps++
			p.RealMinutes += o.Minutes
			p.PlannedMinutes += o.PlannedMinutes
		}
	}
	return p
}

// leastForecast is how many planned minutes must be behind us before the pace is believed (common practice, no source):
// a first screw that sticks says nothing about a week.
const leastForecast = 60

// Forecast is what planned minutes will really take at this pace; the plan's own figure while too little is done.
func (p Pace) Forecast(plannedMinutes int) int {
	if p.PlannedMinutes < leastForecast {
		return plannedMinutes
	}
	return (plannedMinutes*p.RealMinutes + p.PlannedMinutes/2) / p.PlannedMinutes
}

// Of is the steps with the minutes that they will really take at this pace. They are rounded so that their sum is the forecast of
// the sum; a step that has minutes keeps one at least, since one of none is taken for done.
func (p Pace) Of(steps []strip.Step) []strip.Step {
	out := slices.Clone(steps)
	planned, forecast := 0, 0
	for i := range out {
		s := &out[i]
		if s.DurationMinutes > 0 {
			planned += s.DurationMinutes
			s.DurationMinutes = max(p.Forecast(planned)-forecast, 1)
			forecast += s.DurationMinutes
		}
	}
	return out
}

// Words say how the pace compares with the plan, "" while it is not believed or is the plan's own.
func (p Pace) Words() string {
	if p.PlannedMinutes < leastForecast || p.RealMinutes == p.PlannedMinutes {
		return ""
	}
	return fmt.Sprintf("what is ticked off took %d minutes, and the plan gave it %d", p.RealMinutes, p.PlannedMinutes)
}
