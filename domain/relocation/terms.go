package relocation

import (
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
)

// Terms are what a person sets, from Usual on. What is left empty is as the two fit-outs have it. Dates are ISO 8601.
type Terms struct {
	NotBefore  string `json:"not_before,omitempty" jsonschema_description:"first day on which anybody may begin; empty is today"`
	HandBack   string `json:"hand_back,omitempty" jsonschema_description:"day by whose close the old place is given back; empty is as its lease says"`
	Entry      string `json:"entry,omitempty" jsonschema_description:"first day in the next place; empty is the start of its tenancy"`
	Delivery   string `json:"delivery,omitempty" jsonschema_description:"day on which bought stock comes to the next place; empty is the first day in it"`
	People     int    `json:"people,omitempty" jsonschema_description:"on the one crew; 0 is the crew of the old place"`
	Saturdays  bool   `json:"saturdays,omitempty" jsonschema_description:"worked in both places"`
	Travel     int    `json:"travel_minutes" jsonschema_description:"driving from one place to the other, one way: a trip has it there and back, and who works at both places on one day has it between them; 30 where nothing is said"`
	EmptyFirst bool   `json:"making_good_once_empty,omitempty" jsonschema_description:"repairs and painting begin when the last load has gone"`
	Soonest    bool   `json:"as_soon_as_can_be,omitempty" jsonschema_description:"show the soonest programme, not the latest safe one"`
	RentHere   int64  `json:"rent_here_minor_a_month,omitempty" jsonschema_description:"of the old place; 0 is not given"`
	RentThere  int64  `json:"rent_there_minor_a_month,omitempty" jsonschema_description:"of the next place; 0 is not given"`
}

// The limits of what can be asked.
const (
	mostPeople = 40
	mostTravel = 240 // minutes
	mostRent   = 100_000_000_000
)

// Usual are the terms where nobody says other: half an hour from one place to the other (common practice, no source).
func Usual() Terms { return Terms{Travel: 30} }

// Halved is the way of a trip whose driving there and back is known: terms once had that instead, and older addresses, files
// and requests still do.
func Halved(tripMinutes int) int { return min((tripMinutes+1)/2, mostTravel) }

// Check refuses what is no date or absurd, each by its place.
func (t Terms) Check() error {
	var es domain.Errors
	for _, d := range []struct{ at, words string }{{"/not_before", t.NotBefore}, {"/hand_back", t.HandBack}, {"/entry", t.Entry}, {"/delivery", t.Delivery}} {
		if day, ok := calendar.Day(d.words); d.words != "" && (!ok || day.Year() < 1950 || day.Year() > 2200) {
			es.Addf(domain.Invalid, d.at, "%.40q is no day: write year-month-day, like 2026-03-31", d.words)
		}
	}
	figure := func(at string, value, most int64) {
		if value < 0 || value > most {
			es.Addf(domain.Invalid, at, "%d: give 0 to %d", value, most)
		}
	}
	figure("/people", int64(t.People), mostPeople)
	figure("/travel_minutes", int64(t.Travel), mostTravel)
	figure("/rent_here_minor_a_month", t.RentHere, mostRent)
	figure("/rent_there_minor_a_month", t.RentThere, mostRent)
	if t.Entry != "" && t.Delivery != "" && t.Delivery < t.Entry {
		es.Addf(domain.Invalid, "/delivery", "%s is before the day of entry, %s: nobody is there to take it in", t.Delivery, t.Entry)
	}
	return es.OrNil()
}

// day is the date that checked words name; the zero time where there is none.
func day(words string) time.Time {
	t, _ := calendar.Day(words)
	return t
}
