package move

import (
	"errors"

	"unpick/domain"
	"unpick/domain/relocation"
)

// Terms are what a person sets. Start from Usual: what is nobody's saying stays as it is there.
type Terms struct {
	KerfMm        int     `json:"kerf_mm" jsonschema_description:"width of one saw cut in timber and sheets; 3 where nothing is said, 0 for what is scored and snapped"`
	FixingPercent int     `json:"fixings_margin_percent" jsonschema_description:"fixings bought over those needed; 10 where nothing is said"`
	SalePercent   int     `json:"sale_percent_of_new,omitempty" jsonschema_description:"what is paid for what is fit for use and not needed, of its price new; 0 is no sale price, and no money is credited"`
	Vehicle       Vehicle `json:"vehicle"`
	Rounds        int     `json:"rounds" jsonschema_description:"of search for each section; 400 where nothing is said"`
	Seed          uint64  `json:"seed" jsonschema_description:"of the search: the same seed and rounds cut the same everywhere; 1 where nothing is said"`
	Nearby        *Nearby `json:"nearby,omitempty" jsonschema_description:"asks for sizes near those of the layout that buy less, as other_sizes; left out, none are tried"`

	Programme relocation.Terms `json:"programme,omitzero" jsonschema_description:"of the programme of both ends"`
}

// Vehicle is what one load goes on. The figures are the hirer's: look at the plate of the one that comes.
type Vehicle struct {
	Name         string `json:"name,omitempty"`
	PayloadKg    int    `json:"payload_kg" jsonschema_description:"from its plate; 1000 where nothing is said"`
	RidersKg     int    `json:"crew_and_tools_kg" jsonschema_description:"of the payload, for who rides along and their tools; 150 where nothing is said"`
	BedLengthMm  int    `json:"bed_length_mm" jsonschema_description:"4300 where nothing is said"`
	BedWidthMm   int    `json:"bed_width_mm" jsonschema_description:"1700 where nothing is said"`
	BedHeightMm  int    `json:"bed_height_mm" jsonschema_description:"to which it is stacked; 1200 where nothing is said"`
	PricePerTrip int64  `json:"price_per_trip_minor,omitempty" jsonschema_description:"0 is no price, and a move with trips then has no total"`
}

// Usual are the terms where nobody says other: a long-wheelbase van with a mate and a tool chest aboard, a circular saw
// (common practice, no source).
func Usual() Terms {
	return Terms{KerfMm: 3, FixingPercent: 10, Rounds: 400, Seed: 1,
		Vehicle:   Vehicle{Name: "van", PayloadKg: 1000, RidersKg: 150, BedLengthMm: 4300, BedWidthMm: 1700, BedHeightMm: 1200},
		Programme: relocation.Usual()}
}

// Check refuses figures that are absurd, each by its place.
func (t Terms) Check() error {
	var es domain.Errors
	check := func(at string, value, least, most int) {
		if value < least || value > most {
			es.Addf(domain.Invalid, at, "%d: give %d to %d", value, least, most)
		}
	}
	check("/kerf_mm", t.KerfMm, 0, 20)
	check("/fixings_margin_percent", t.FixingPercent, 0, 200)
	check("/sale_percent_of_new", t.SalePercent, 0, 100)
	check("/rounds", t.Rounds, 1, 1_000_000)
	check("/vehicle/payload_kg", t.Vehicle.PayloadKg, 1, 50_000)
	check("/vehicle/bed_length_mm", t.Vehicle.BedLengthMm, 1, 20_000)
	check("/vehicle/bed_width_mm", t.Vehicle.BedWidthMm, 1, 4_000)
	check("/vehicle/bed_height_mm", t.Vehicle.BedHeightMm, 1, 4_000)
	if t.Vehicle.RidersKg < 0 || t.Vehicle.RidersKg >= t.Vehicle.PayloadKg {
		es.Addf(domain.Invalid, "/vehicle/crew_and_tools_kg", "%d of a payload of %d kg: give 0 or more, and leave something to load", t.Vehicle.RidersKg, t.Vehicle.PayloadKg)
	}
	if t.Vehicle.PricePerTrip < 0 {
		es.Addf(domain.Invalid, "/vehicle/price_per_trip_minor", "%d: give 0 or more", t.Vehicle.PricePerTrip)
	}
	if t.Nearby != nil {
		_, err := t.Nearby.Ready()
		if all, ok := errors.AsType[domain.Errors](err); ok {
			es = append(es, all...)
		} else if err != nil {
			return err
		}
	}
	if faults, ok := errors.AsType[domain.Errors](t.Programme.Check()); ok {
		for _, f := range faults {
			es.Addf(f.Code, "/programme"+f.Field, "%s", f.Text)
		}
	}
	return es.OrNil()
}
