// Package timetable lays the programme of a strip-out on the days of a calendar, and says in words what it is worth.
//
// The idea: package programme schedules in minutes of work; here each start and end becomes a day and a time of day.
// A lift is never left half done over a night: where one would be, it waits for the next morning and other work goes on
// meanwhile. The search for the programme knows the nights.
//
// Looking for
//
//   - making one, and what it holds: timetable.go
//   - how it stands to today and the lease: standing.go
//   - what more of something would save: beside.go
//   - the sentences: words.go
package timetable

import (
	"cmp"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/programme"
	"unpick/domain/progress"
	"unpick/domain/release"
	"unpick/domain/strip"
)

// WhatIf is what there might be more of than the register says.
type WhatIf struct {
	People    int  `json:"more_people"`
	Towers    int  `json:"more_towers"`
	Saturdays bool `json:"saturdays"`
}

// Entry is one step on its days.
type Entry struct {
	Step        int          `json:"step"`
	Title       string       `json:"title"`
	Zone        string       `json:"zone,omitempty"`
	People      int          `json:"people"`
	Access      strip.Access `json:"access"`
	Lift        bool         `json:"lift,omitempty"`
	StartMinute int          `json:"start_minute"` // of work from the beginning
	EndMinute   int          `json:"end_minute"`
	Starts      string       `json:"starts"` // ISO 8601
	StartsAt    string       `json:"starts_at"`
	Ends        string       `json:"ends"`
	EndsAt      string       `json:"ends_at"`
}

// Timetable is a strip-out on its days.
type Timetable struct {
	Steps        []Entry              `json:"steps"`
	Starts       string               `json:"starts,omitempty"`
	Ends         string               `json:"ends,omitempty"`
	Days         int                  `json:"working_days"`
	DayMinutes   int                  `json:"day_minutes"`
	Minutes      int                  `json:"minutes"`
	AloneMinutes int                  `json:"one_after_the_other_minutes"`
	BoundMinutes int                  `json:"bound_minutes"`
	Bound        string               `json:"bound"`
	Proven       bool                 `json:"proven"`
	People       int                  `json:"people"`
	Towers       int                  `json:"towers"`
	WhatIf       WhatIf               `json:"what_if"`
	Short        []programme.Shortage `json:"short"`
	Words        []string             `json:"words"`
	DayNames     []string             `json:"days"` // every working day from the first to the last, ISO 8601

	Warnings    []domain.Advice `json:"warnings"`               // what is wrong with its days: see Stand
	OutBy       string          `json:"out_by,omitempty"`       // the last working day on which it may end in time; "" where the lease has no end
	LatestStart string          `json:"latest_start,omitempty"` // the last day on which this programme may begin; "" where the lease has no end
	BeginOn     string          `json:"begin_on,omitempty"`     // the first day that mends the warnings, "" where none does
	Beside      []Beside        `json:"beside"`                 // what more of something would save: see Compare
}

// How long the search goes on: a fixed amount of work, so that the same register gives the same programme everywhere.
// Many steps cost more a round, and get fewer.
const (
	searchWork = 60_000
	mostRounds = 120
	searchSeed = 1
)

// Make schedules steps, which must be the whole sequence of the graph, from a day on. A step of no minutes is one that is
// done: others wait for it no longer, and it is not in the answer. The others take what they will at the pace of what was ticked off,
// so that the programme and the last safe day count the same minutes.
func Make(g *release.Graph, steps []strip.Step, r *domain.Register, what WhatIf, from time.Time) (*Timetable, error) {
	return MakeBeside(nil, g, steps, r, what, from)
}

// MakeBeside is Make with more of something than base, which is the programme of the same steps with what there is. It is never
// the longer one: whatever can be done can be done with more people and towers too. Saturdays change no minute of it.
func MakeBeside(base *Timetable, g *release.Graph, steps []strip.Step, r *domain.Register, what WhatIf, from time.Time) (*Timetable, error) {
	days := calendar.New(r.FitOut.Calendar)
	if what.Saturdays {
		days = days.WithSaturdays()
	}
	means := programme.MeansOf(r)
	means.People = r.FitOut.Crew.Size() + what.People
	means.Towers = max(means.Towers, 1) + what.Towers
	pace := progress.PaceOf(r)
	steps = pace.Of(steps)
	_, short := means.Raised(steps)
	t := &Timetable{Steps: []Entry{}, DayNames: []string{}, Warnings: []domain.Advice{}, Beside: []Beside{}, DayMinutes: days.MinutesADay(), People: means.People, Towers: means.Towers, WhatIf: what, Short: append([]programme.Shortage{}, short...)}
	var starts []int
	if base != nil && what.People == 0 && what.Towers == 0 {
		t.BoundMinutes, t.Bound, starts = base.BoundMinutes, base.Bound, base.starts(steps)
	} else {
		problem, err := programme.FromSteps(g, means.Within(steps), means)
		if err != nil {
			return nil, err
		}
		problem.DayMinutes = days.MinutesADay()
		rounds := min(max(searchWork/(1+len(steps)*len(steps)), 1), mostRounds)
		found, err := programme.Solve(problem, programme.Limits{Seed: searchSeed, Rounds: rounds})
		if err != nil {
			return nil, err
		}
		t.BoundMinutes, t.Bound, starts = found.Bound.Minutes, found.Bound.Because, found.Starts
		if base != nil && ends(steps, starts) > base.Minutes {
			starts = base.starts(steps)
		}
	}
	for i := range steps {
		if s := &steps[i]; s.DurationMinutes > 0 {
			t.Steps = append(t.Steps, Entry{Step: s.Number, Title: s.Title, Zone: s.Zone, People: s.People, Access: s.Access, Lift: s.InOneGo(),
				StartMinute: starts[i], EndMinute: starts[i] + s.DurationMinutes})
			t.AloneMinutes += s.DurationMinutes
		}
	}
	slices.SortStableFunc(t.Steps, func(a, b Entry) int { return cmp.Compare(a.StartMinute, b.StartMinute) })
	t.lay(days, from)
	t.Proven = t.Minutes <= t.BoundMinutes
	t.Words = append(t.words(days), t.otherTowers(strip.TowerOf(r.Catalogue))...)
	if words := pace.Words(); words != "" && len(t.Steps) > 0 {
		t.Words = append(t.Words, "All minutes here are at the pace so far: "+words+".")
	}
	return t, nil
}

// starts are the minutes at which steps begin in t; of one that is done, 0.
func (t *Timetable) starts(steps []strip.Step) []int {
	at := make(map[int]int, len(t.Steps))
	for _, e := range t.Steps {
		at[e.Step] = e.StartMinute
	}
	out := make([]int, len(steps))
	for i := range steps {
		out[i] = at[steps[i].Number]
	}
	return out
}

// ends is the minute at which the last of the steps that are left ends.
func ends(steps []strip.Step, starts []int) int {
	last := 0
	for i := range steps {
		if steps[i].DurationMinutes > 0 {
			last = max(last, starts[i]+steps[i].DurationMinutes)
		}
	}
	return last
}

// lay turns minutes into days and times of day.
func (t *Timetable) lay(days calendar.Calendar, from time.Time) {
	laid := days.From(from)
	for i := range t.Steps {
		e := &t.Steps[i]
		starts, ends := laid.Starts(e.StartMinute), laid.Ends(e.EndMinute)
		e.Starts, e.StartsAt, e.Ends, e.EndsAt = starts.Date(), days.Clock(starts), ends.Date(), days.ClockEnd(ends)
		t.Minutes = max(t.Minutes, e.EndMinute)
	}
	t.Days = days.Days(t.Minutes)
	for d := range t.Days {
		t.DayNames = append(t.DayNames, laid.Starts(d*t.DayMinutes).Date())
	}
	if t.Days > 0 {
		t.Starts, t.Ends = t.DayNames[0], t.DayNames[t.Days-1]
	}
}
