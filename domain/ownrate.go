package domain

import (
	"fmt"
	"maps"
	"strconv"
)

// mostRateMinutes is the longest that one of anything may take: three weeks of days of eight hours.
const mostRateMinutes = 10_000

// WithRates is a copy of c with a crew's own minutes for some of its work rates. The job, the unit and the source stay;
// confirmed says that the figure is the firm's, and what it stands in for. A key that c does not have changes nothing: Check
// faults it by its place.
func (c *Catalogue) WithRates(own []OwnRate) *Catalogue {
	if len(own) == 0 {
		return c
	}
	out := *c
	out.WorkRates = maps.Clone(c.WorkRates)
	for _, o := range own {
		if w, ok := c.WorkRates[o.Key]; ok {
			w.Confirmed = fmt.Sprintf("the firm's own figure, for %s", strconv.FormatFloat(w.Minutes, 'g', -1, 64))
			w.Minutes = o.Minutes
			out.WorkRates[o.Key] = w
		}
	}
	return &out
}

// ownRates holds a crew's own minutes to jobs that the catalogue has, each once.
func (c *checker) ownRates(s spot, own []OwnRate) {
	had := map[string]bool{}
	for i, o := range own {
		at := "crew/work_rates/" + strconv.Itoa(i) + "/"
		if _, ok := c.r.Catalogue.WorkRates[o.Key]; !ok {
			c.fault(s, at+"key", "names %.60q, and the catalogue has no such work rate: its keys are on the workbooks' sheet of rates", o.Key)
		}
		if had[o.Key] {
			c.fault(s, at+"key", "gives minutes for %q a second time: leave one", o.Key)
		}
		had[o.Key] = true
		if !(o.Minutes > 0 && o.Minutes <= mostRateMinutes) {
			c.fault(s, at+"minutes", "is %v: give more than 0 minutes, to %d", o.Minutes, mostRateMinutes)
		}
	}
}
