package move

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Way is one way of getting the next premises built and this one given back. Every figure is of the same things, and
// Because says what is in it; money that has no price is not in it, and Known says so.
type Way struct {
	Key      string  `json:"key"`
	Name     string  `json:"name"`
	Money    int64   `json:"money_minor" jsonschema_description:"new stock, fixings, labour at the firm's hourly rate, and trips; less what is sold"`
	Known    bool    `json:"known"`
	Hours    float64 `json:"person_hours"`
	CarbonKg float64 `json:"embodied_kg_co2e" jsonschema_description:"of what is bought new; transport is not in it"`
	Loads    int     `json:"van_loads"`
	Because  string  `json:"what_is_in_it"`
}

// ways puts the move beside buying all new, leaving this fit-out to the landlord, and selling what comes out.
func ways(p *Plan, from Source, to *domain.Register, terms Terms) ([]Way, error) {
	all := p
	if from.Register != nil {
		var err error
		if all, err = assign(Source{Prices: from.pricesFor(to)}, to, terms, newSaw(terms.Seed, terms.Rounds, from.Stop)); err != nil {
			return nil, err
		}
		all.build(to)
	}
	labour, hasRate := from.pricesFor(to)["labour-hour"]
	way := func(key, name string, x *Plan, stripMinutes, loads int, sold int64, because string) Way {
		w := Way{Key: key, Name: name, Known: x.Total.Known && hasRate, Loads: loads, CarbonKg: x.Total.NewCarbonKg, Because: because}
		minutes := x.Total.BuildMinutes + stripMinutes
		w.Hours = tenth(float64(minutes) / 60)
		w.Money = x.Total.NewMinor + x.Total.FixingsMinor + labour.Amount*int64(minutes)/60 + int64(loads)*terms.Vehicle.PricePerTrip - sold
		if loads > 0 && terms.Vehicle.PricePerTrip == 0 {
			w.Because += "; the trips are not in the money, for they have no price yet"
		}
		return w
	}
	if from.Register == nil {
		return []Way{way("new", "Buy all of it new", p, 0, 0, 0, "new stock and fixings with their allowance, and the putting up")}, nil
	}
	p.Total.StripMinutes = from.StripMinutes
	value, known := worth(from.Inventory)
	out := []Way{
		way("move", "Move and use again", p, from.StripMinutes, len(p.Loads), 0, "taking out, trips, new stock and fixings that are still needed, and the putting up"),
		way("new", "Give back, and buy all new", all, from.StripMinutes, 0, 0, "taking out, everything new, and the putting up; what comes out is given away or thrown away"),
		way("leave", "Leave it here by agreement, and buy all new", all, 0, 0, 0, "everything new, and the putting up; nothing is taken out: only where the landlord agrees in writing, and a break that needs vacant possession may be lost"),
		way("sell", "Give back and sell what comes out, and buy all new", all, from.StripMinutes, 0, value, fmt.Sprintf("as giving back and buying new, less %s: what the pieces are worth by the firm's own list, if somebody takes them at that", domain.FormatMoney(value, to.FitOut.Currency))),
	}
	out[3].Known = out[3].Known && known
	if len(p.Misfits) > 0 {
		for i := range out {
			out[i].Known = false
			out[i].Because += "; but the layout does not fit as it is described, so that no total is given"
		}
	}
	if n := len(p.stranded()); n > 0 {
		out[0].Known = false
		out[0].Because += fmt.Sprintf("; but %d of the pieces need another vehicle, whose price nobody has given", n)
	}
	return out, nil
}

// worth is what everything that is kept is worth, by the firm's own prices.
func worth(inv salvage.Inventory) (minor int64, known bool) {
	known = true
	for i := range inv.Pieces {
		if q := &inv.Pieces[i]; q.Kept() && q.Goes != salvage.Return {
			minor += q.ValueMinor
			known = known && q.ValueKnown
		}
	}
	return minor, known
}
