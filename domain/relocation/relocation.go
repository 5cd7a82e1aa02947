package relocation

import (
	"time"

	"unpick/domain"
	"unpick/domain/programme"
)

// Programme is both ends of a move on one calendar.
type Programme struct {
	Refused    string               `json:"cannot_be_laid,omitempty" jsonschema_description:"why there is no programme, with the mend; all else is empty then"`
	Terms      Terms                `json:"terms"`
	People     int                  `json:"people"`
	DayMinutes int                  `json:"day_minutes" jsonschema_description:"of the crew: the hours of the old place"`
	HandBack   string               `json:"hand_back,omitempty" jsonschema_description:"day by whose close the old place is given back"`
	BackSince  string               `json:"hand_back_because,omitempty"`
	RentEnds   string               `json:"rent_here_ends,omitempty"`
	Entry      string               `json:"entry,omitempty" jsonschema_description:"first day in the next place, where there is one; without one it is needed as late as can be"`
	EntrySince string               `json:"entry_because,omitempty"`
	NotBefore  string               `json:"not_before,omitempty"`
	Fits       bool                 `json:"fits" jsonschema_description:"everything can be done between the dates"`
	LateDays   int                  `json:"late_by_days,omitempty" jsonschema_description:"of the calendar, that the place is given back after its day at the soonest"`
	Mends      []string             `json:"what_would_help,omitempty" jsonschema_description:"where the dates do not fit"`
	AsAgreed   *Overlap             `json:"both_rents_as_agreed,omitempty" jsonschema_description:"from the day of entry to the end of the old rent, as the dates are"`
	Latest     *Outcome             `json:"latest,omitempty" jsonschema_description:"counted backwards from the day of giving back"`
	Soonest    *Outcome             `json:"soonest,omitempty" jsonschema_description:"as soon as it can be done, not before the first day and the day of entry"`
	Shown      string               `json:"shown,omitempty" jsonschema_description:"latest or soonest: which of the two the work below is"`
	Work       []Entry              `json:"work"`
	Days       []Day                `json:"days" jsonschema_description:"every day of the calendar from the first of the work shown to the last"`
	WhatIf     []WhatIf             `json:"what_if"`
	Short      []programme.Shortage `json:"short,omitempty" jsonschema_description:"steps that ask for more people than there are: they are laid with all there are, and who is short comes in for them"`
	Words      []string             `json:"words"`
}

// Overlap is how long both rents run, and what that costs.
type Overlap struct {
	From string `json:"from"`
	To   string `json:"to"`
	Days int    `json:"days" jsonschema_description:"of the calendar, both ends counted; 0 where they do not meet"`
	Rent Rent   `json:"rent"`
}

// Outcome is the dates of one programme. Days of the calendar, both ends counted.
type Outcome struct {
	Starts     string  `json:"starts,omitempty" jsonschema_description:"work at the old place begins"`
	Needed     string  `json:"next_needed,omitempty" jsonschema_description:"first day on which the next place is needed for this work"`
	WorkDone   string  `json:"work_done,omitempty" jsonschema_description:"last work at the old place"`
	HandBack   string  `json:"hand_back"`
	Ready      string  `json:"ready,omitempty" jsonschema_description:"everything is up"`
	Both       Overlap `json:"both_rents" jsonschema_description:"from the day on which the next place is needed to the end of the old rent"`
	Least      int     `json:"both_rents_least_days" jsonschema_description:"no programme needs both for fewer days, with this day of giving back"`
	Limit      string  `json:"limited_by,omitempty"`
	StartBound string  `json:"starts_no_later_than,omitempty" jsonschema_description:"no programme can begin later, with this day of giving back"`
	StartLimit string  `json:"start_limited_by,omitempty"`
	Proven     bool    `json:"proven" jsonschema_description:"both rents run for no more days than the least"`
}

// Day is one day of the calendar and why a place is closed on it: "" where it is worked.
type Day struct {
	On       string `json:"on"`
	OffHere  string `json:"closed_here,omitempty"`
	OffThere string `json:"closed_there,omitempty"`
}

// Entry is one piece of work on its days.
type Entry struct {
	Kind     Kind     `json:"kind"`
	Code     string   `json:"code"`
	Title    string   `json:"title"`
	Group    string   `json:"group,omitempty" jsonschema_description:"room, or assembly that goes up"`
	There    bool     `json:"at_the_next_place,omitempty" jsonschema_description:"a load begins at the old place and ends at the next"`
	Step     int      `json:"step,omitempty" jsonschema_description:"of the strip-out"`
	Host     string   `json:"host,omitempty" jsonschema_description:"surface that is made good"`
	Pieces   []string `json:"pieces,omitempty" jsonschema_description:"that come out, are loaded, or go up"`
	People   []int    `json:"people" jsonschema_description:"who of the crew, from 1 on"`
	Parts    []Part   `json:"parts" jsonschema_description:"day by day"`
	Starts   string   `json:"starts"`
	StartsAt string   `json:"starts_at"`
	Ends     string   `json:"ends"`
	EndsAt   string   `json:"ends_at"`
	LeavesAt string   `json:"leaves_at,omitempty" jsonschema_description:"of a load"`
	ThereAt  string   `json:"arrives_at,omitempty" jsonschema_description:"of a load"`
}

// Part is the share of a piece of work on one day, in minutes of the crew's working day.
type Part struct {
	On   string `json:"on"`
	From int    `json:"from_minute"`
	To   int    `json:"to_minute"`
}

// WhatIf is the same move with one more person, or Saturdays.
type WhatIf struct {
	People      int    `json:"people"`
	Saturdays   bool   `json:"saturdays"`
	LatestStart string `json:"latest_start,omitempty"`
	Needed      string `json:"next_needed,omitempty"`
	Both        int    `json:"both_rents_days,omitempty"`
	Soonest     string `json:"soonest_hand_back,omitempty"`
	Ready       string `json:"ready,omitempty" jsonschema_description:"of the programme that would be shown"`
	LateDays    int    `json:"late_by_days,omitempty"`
	Fits        bool   `json:"fits"`
}

// The two ways of counting.
const (
	Latest  = "latest"
	Soonest = "soonest"
)

// Make lays both ends on one calendar as it stands on a day. What cannot be laid is said in the answer, under Refused;
// errors are what Terms.Check refuses, and faults of the program.
func Make(h Here, t There, terms Terms, today time.Time) (*Programme, error) {
	if err := terms.Check(); err != nil {
		return nil, err
	}
	m := &maker{here: h, there: t, today: today}
	p, err := m.programme(terms)
	if err != nil && domain.CodeOf(err) != "" && domain.CodeOf(err) != domain.Unclean {
		return &Programme{Refused: err.Error(), Terms: terms, Work: []Entry{}, Days: []Day{}, WhatIf: []WhatIf{}, Words: []string{}}, nil
	}
	return p, err
}
