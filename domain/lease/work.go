package lease

import (
	"fmt"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// Work is what is left to do before a place can be given back.
type Work struct {
	StripOutMinutes   int  `json:"strip_out_minutes"` // one step after the other, at the pace so far
	StripOutDays      int  `json:"strip_out_working_days"`
	MakingGoodMinutes int  `json:"making_good_minutes"` // of one person
	MakingGoodDays    int  `json:"making_good_working_days"`
	CuringDays        int  `json:"curing_days"` // calendar days, where curing is longer than the work; 0 where it goes on beside it
	ContingencyDays   int  `json:"contingency_working_days"`
	Begun             bool `json:"begun"` // something has been ticked off
	Paced             bool `json:"paced"` // the real minutes have changed the figure
}

// WorkOf is what a plan leaves to do. Taking out counts one step after the other, so that nothing rests on the order, at
// the pace of the minutes that were ticked off; making good is as long as its own count, its cure in days of the calendar.
func WorkOf(r *domain.Register, p *plan.Plan) Work {
	c := calendar.New(r.FitOut.Calendar)
	w := Work{ContingencyDays: r.FitOut.Tenancy.ContingencyDays, Begun: len(r.Signed(domain.WorkDone)) > 0}
	var left []strip.Step
	planned := 0
	for _, s := range progress.States(r, p) {
		if !s.Done {
			left = append(left, s.Step)
			planned += s.Step.DurationMinutes
		}
	}
	w.StripOutMinutes = progress.PaceOf(r).Forecast(planned)
	w.Paced = w.StripOutMinutes != planned
	w.StripOutDays = len(strip.Days(left, r.FitOut.Calendar)) + c.Days(w.StripOutMinutes) - c.Days(planned)
	w.makingGood(p.MakingGood.Days)
	return w
}

func (w *Work) makingGood(d makinggood.Days) {
	w.MakingGoodMinutes, w.MakingGoodDays = d.FillMinutes+d.PaintMinutes, d.Days
	if d.CureRules {
		w.CuringDays = (d.CureHours + 23) / 24
		w.MakingGoodDays = max(d.WorkDays, d.Days-w.CuringDays)
	}
}

// Of is the forecast of a register and its plan on a day.
func Of(r *domain.Register, p *plan.Plan, today time.Time) Forecast {
	return Backwards(r.FitOut.Tenancy, calendar.New(r.FitOut.Calendar), WorkOf(r, p), today, r.Signed(domain.NoticeGiven)...)
}

func (w Work) lastSafe() string {
	if w.Begun {
		return "Last safe day to go on with taking out"
	}
	return "Last safe day to start taking out"
}

func (w Work) because(e end) string {
	left := count(w.StripOutDays, "working day", "working days") + " to take everything out, one step after the other"
	if w.Begun {
		left = count(w.StripOutDays, "working day", "working days") + " to take out what is left, one step after the other"
	}
	if w.Paced {
		left += " at the pace so far"
	}
	if w.MakingGoodDays > 0 {
		left += fmt.Sprintf(", %s to make good", count(w.MakingGoodDays, "working day", "working days"))
	}
	if w.CuringDays > 0 {
		left += fmt.Sprintf(", %s for repairs to cure", count(w.CuringDays, "day", "days"))
	}
	if w.ContingencyDays > 0 {
		left += ", " + count(w.ContingencyDays, "working day", "working days") + " in hand"
	} else {
		left += ", none in hand"
	}
	if e.vacant {
		return left + ", before the break on " + words(e.on)
	}
	return left + ", by the " + e.words() + " on " + words(e.on)
}

// afterwards is what comes between the end of making good and handing back.
func (w Work) afterwards() string {
	inHand := "no working day in hand before handing back"
	if w.ContingencyDays > 0 {
		inHand = count(w.ContingencyDays, "working day", "working days") + " in hand before handing back"
	}
	if w.CuringDays == 0 {
		return inHand
	}
	return count(w.CuringDays, "day", "days") + " for repairs to cure, then " + inHand
}
