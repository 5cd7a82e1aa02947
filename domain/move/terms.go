package move

import "unpick/domain"

// Terms are what a person sets. The zero value works: see Ready.
type Terms struct {
	KerfMm        int     `json:"kerf_mm,omitempty" jsonschema_description:"width of one saw cut in timber and sheets; 0 reads as 3"`
	FixingPercent int     `json:"fixings_margin_percent,omitempty" jsonschema_description:"fixings bought over those needed; 0 reads as 10"`
	Vehicle       Vehicle `json:"vehicle,omitzero"`
	Rounds        int     `json:"rounds,omitempty" jsonschema_description:"of search for each section; 0 reads as 400"`
}

// Vehicle is what one load goes on. The figures are the hirer's; the defaults are a long-wheelbase van (common practice,
// no source): look at the plate of the one that comes.
type Vehicle struct {
	Name         string `json:"name,omitempty"`
	PayloadKg    int    `json:"payload_kg,omitempty" jsonschema_description:"0 reads as 1000"`
	BedLengthMm  int    `json:"bed_length_mm,omitempty" jsonschema_description:"0 reads as 4300"`
	BedWidthMm   int    `json:"bed_width_mm,omitempty" jsonschema_description:"0 reads as 1700"`
	BedHeightMm  int    `json:"bed_height_mm,omitempty" jsonschema_description:"to which it is stacked; 0 reads as 1200"`
	PricePerTrip int64  `json:"price_per_trip_minor,omitempty" jsonschema_description:"0 is no price"`
}

// Ready is t with its defaults. Invalid: a figure below 0 or absurd, by its place.
func (t Terms) Ready() (Terms, error) {
	var es domain.Errors
	check := func(at string, value, most int) {
		if value < 0 || value > most {
			es.Addf(domain.Invalid, at, "%d: give 0 to %d", value, most)
		}
	}
	check("/kerf_mm", t.KerfMm, 20)
	check("/fixings_margin_percent", t.FixingPercent, 200)
	check("/rounds", t.Rounds, 1_000_000)
	check("/vehicle/payload_kg", t.Vehicle.PayloadKg, 50_000)
	check("/vehicle/bed_length_mm", t.Vehicle.BedLengthMm, 20_000)
	check("/vehicle/bed_width_mm", t.Vehicle.BedWidthMm, 4_000)
	check("/vehicle/bed_height_mm", t.Vehicle.BedHeightMm, 4_000)
	if t.Vehicle.PricePerTrip < 0 {
		es.Addf(domain.Invalid, "/vehicle/price_per_trip_minor", "%d: give 0 or more", t.Vehicle.PricePerTrip)
	}
	if len(es) > 0 {
		return t, es
	}
	orElse(&t.KerfMm, 3)
	orElse(&t.FixingPercent, 10)
	orElse(&t.Rounds, 400)
	orElse(&t.Vehicle.PayloadKg, 1000)
	orElse(&t.Vehicle.BedLengthMm, 4300)
	orElse(&t.Vehicle.BedWidthMm, 1700)
	orElse(&t.Vehicle.BedHeightMm, 1200)
	if t.Vehicle.Name == "" {
		t.Vehicle.Name = "van"
	}
	return t, nil
}

func orElse(value *int, other int) {
	if *value == 0 {
		*value = other
	}
}
