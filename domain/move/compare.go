package move

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/salvage"
	"unpick/domain/schedule"
)

// Way is one way of getting the next premises built and this one given back. It is the sum of its parts, and every way
// has all that it causes at both ends. Money is before contingency and tax. Where a part has no price there is no total,
// and money is what is known of it.
type Way struct {
	Key       string   `json:"key"`
	Name      string   `json:"name"`
	Money     int64    `json:"money_minor" jsonschema_description:"sum of the parts, before contingency and tax; only what is known of it where known is false"`
	Known     bool     `json:"known"`
	Hours     float64  `json:"person_hours" jsonschema_description:"of the firm's own people; of making good too, whose hours are paid in the rates of its items"`
	CarbonKg  float64  `json:"embodied_kg_co2e" jsonschema_description:"of what is bought new and has a factor; fixings and transport are not in it"`
	NoCarbon  []string `json:"without_carbon_factor,omitempty" jsonschema_description:"what is bought in it and has no factor: not known"`
	Loads     int      `json:"van_loads" jsonschema_description:"trips of the vehicle with what goes up again"`
	Delivered int      `json:"delivered_loads" jsonschema_description:"what is bought, as loads of the same vehicle: the merchant brings it"`
	Fetched   int      `json:"fetched_loads" jsonschema_description:"what is sold, as loads of the same vehicle: who buys it fetches it"`
	Because   string   `json:"what_is_in_it"`
	Parts     []Part   `json:"parts"`
	NoTotal   []string `json:"no_total_because,omitempty"`
	LeftOut   []string `json:"in_no_figure,omitempty" jsonschema_description:"what it also causes and nobody has a figure for"`
}

// Part is one line of a way, with what it is made of.
type Part struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Money   int64  `json:"money_minor" jsonschema_description:"below 0 is what is paid for what is sold"`
	Known   bool   `json:"known"`
	Minutes int    `json:"person_minutes"`
	Made    string `json:"made_of"`
}

// Hours are the minutes of a part, to a tenth.
func (p Part) Hours() float64 { return tenth(float64(p.Minutes) / 60) }

// LoadWords says whose loads are which: "2 trips, 1 delivered".
func (w Way) LoadWords() string {
	var out []string
	if w.Loads > 0 {
		out = append(out, counted(w.Loads, "trip", "trips"))
	}
	if w.Delivered > 0 {
		out = append(out, fmt.Sprintf("%d delivered", w.Delivered))
	}
	if w.Fetched > 0 {
		out = append(out, fmt.Sprintf("%d fetched", w.Fetched))
	}
	return strings.Join(out, ", ")
}

// comparison is what all ways are made from.
type comparison struct {
	from     Source
	plan     *Plan // the move, or the first order, whose putting up all ways share
	to       *domain.Register
	terms    Terms
	labour   domain.Price
	hasRate  bool
	currency string
	misfits  bool // the layout does not fit as it is described
	prices   map[string]domain.Price
}

// ways puts the move beside buying all new, leaving this fit-out to the landlord, and selling what comes out.
func ways(p *Plan, from Source, to *domain.Register, terms Terms) ([]Way, error) {
	c := comparison{from: from, plan: p, to: to, terms: terms, currency: p.Currency, misfits: len(p.Misfits) > 0, prices: from.pricesFor(to)}
	c.labour, c.hasRate = c.prices["labour-hour"]
	if from.Register == nil {
		w := Way{Key: "new", Name: "Buy all of it new", Because: "new stock and fixings with their allowance, carrying in, cutting and putting up"}
		c.builds(&w, p)
		return []Way{c.summed(w, p)}, nil
	}
	all, err := assign(Source{Prices: c.prices}, to, terms, newSaw(terms.Seed, terms.Rounds, from.Stop))
	if err != nil {
		return nil, err
	}
	all.build(to)
	p.Total.StripMinutes = from.Owed.takingOutMinutes()
	return []Way{c.move(p), c.new(all), c.leave(all), c.sell(all)}, nil
}

// move uses again what it can, and sells what is left over like any other way that sells.
func (c comparison) move(p *Plan) Way {
	w := Way{Key: "move", Name: "Move and use again", Loads: len(p.Loads), Because: "giving this place back, trips with what goes up again, new stock and fixings that are still needed, and putting up"}
	c.givesBack(&w)
	c.trips(&w, p)
	c.builds(&w, p)
	used := p.used()
	c.sells(&w, func(q *salvage.Piece) bool { _, is := used[q.Code]; return !is })
	return c.summed(w, p)
}

// new throws away what comes out, as waste at the firm's prices.
func (c comparison) new(all *Plan) Way {
	w := Way{Key: "new", Name: "Give back, and buy all new", Because: "giving this place back, everything new, and putting up; what is fit for use goes as waste"}
	c.givesBack(&w)
	c.builds(&w, all)
	c.throwsAway(&w)
	return c.summed(w, all)
}

// throwsAway adds what is fit for use as waste.
func (c comparison) throwsAway(w *Way) {
	p, leftOut := disposed(c.from.Register.Catalogue, c.kept(func(*salvage.Piece) bool { return true }), c.prices, c.currency)
	if w.LeftOut = append(w.LeftOut, leftOut...); p.Made != "" {
		w.Parts = append(w.Parts, p)
	}
}

// leave takes nothing out, and owes what the schedule still owes where everything stays.
func (c comparison) leave(all *Plan) Way {
	w := Way{Key: "leave", Name: "Leave it here by agreement, and buy all new", Because: "what the schedule still owes where everything stays, everything new, and putting up: only where the landlord agrees in writing, and a break that needs vacant possession may be lost"}
	if c.from.OwedStaying == nil {
		w.NoTotal = append(w.NoTotal, "what is still owed where everything stays: "+c.from.NotStaying)
	} else {
		w.Parts = append(w.Parts, c.from.OwedStaying.parts(c.currency, false)...)
		w.LeftOut = append(w.LeftOut, c.from.OwedStaying.leftOut()...)
	}
	c.builds(&w, all)
	return c.summed(w, all)
}

// sell hands on all that is fit for use.
func (c comparison) sell(all *Plan) Way {
	w := Way{Key: "sell", Name: "Give back and sell what comes out, and buy all new", Because: "giving this place back, everything new, and putting up, less what is paid for all that is fit for use"}
	c.givesBack(&w)
	c.builds(&w, all)
	c.sells(&w, func(*salvage.Piece) bool { return true })
	return c.summed(w, all)
}

// givesBack adds what the schedule owes, and carrying what comes out to a vehicle.
func (c comparison) givesBack(w *Way) {
	w.Parts = append(w.Parts, c.from.Owed.parts(c.currency, true)...)
	w.LeftOut = append(w.LeftOut, c.from.Owed.leftOut()...)
	minutes, made := carriedOut(c.from.Register.Catalogue, c.from.Inventory)
	w.Parts = append(w.Parts, c.work("carrying-out", "Here: carrying out and loading", minutes, made))
	if minutes, made = towerWork(c.from.Register.Catalogue, c.from.Steps); minutes > 0 {
		w.Parts = append(w.Parts, c.work("tower-here", "Here: building, moving and striking a tower", minutes, made))
	}
}

// trips adds the vehicle's hire and its driver.
func (c comparison) trips(w *Way, p *Plan) {
	if n := len(p.Stranded()); n > 0 {
		w.NoTotal = append(w.NoTotal, fmt.Sprintf("%s another vehicle, whose price nobody has given", counted(n, "piece needs", "pieces need")))
	}
	n, v := len(p.Loads), c.terms.Vehicle
	if n == 0 {
		return
	}
	hire := Part{Key: "trips", Name: "Trips", Money: int64(n) * v.PricePerTrip, Known: v.PricePerTrip > 0, Made: counted(n, "trip has", "trips have") + " no price: give the price of a trip"}
	if hire.Known {
		hire.Made = fmt.Sprintf("%s at %s, the price of a trip as asked", counted(n, "trip", "trips"), domain.FormatMoney(v.PricePerTrip, c.currency))
	}
	w.Parts = append(w.Parts, hire)
	way := c.terms.Programme.Travel
	w.Parts = append(w.Parts, c.work("driving", "Driving", 2*n*way, fmt.Sprintf("%s of one driver, there and back, %d min from one place to the other, as asked", counted(n, "trip", "trips"), way)))
}

// builds adds what is bought, carrying in, cutting and putting up.
func (c comparison) builds(w *Way, p *Plan) {
	t, list := p.Total, "the first order of "+p.To
	if p.From != "" {
		list = "the lists of this move"
	}
	stock := Part{Key: "stock", Name: "New stock", Money: t.NewMinor, Known: p.StockKnown(), Made: fmt.Sprintf("%s, To buy: %s", list, counted(len(p.Buying), "line", "lines"))}
	if t.WasteNewMinor > 0 {
		stock.Made = joined(stock.Made, fmt.Sprintf("%s of it bought over the cutting", domain.FormatMoney(t.WasteNewMinor, c.currency)))
	}
	fixings := Part{Key: "fixings", Name: "Fixings to buy", Money: t.FixingsMinor, Known: p.FixingsKnown(), Made: fmt.Sprintf("%s, Fixings: %d %% over those needed", list, c.terms.FixingPercent)}
	w.Parts = append(w.Parts, stock, fixings)
	cat := c.to.Catalogue
	minutes, made := byWeight(cat, p.usedKg()+t.NewKg, unloadingRates)
	w.Parts = append(w.Parts, c.work("carrying-in", "There: unloading and carrying in", minutes, "what is moved and what is bought, without fixings: "+made))
	minutes, made = p.sawing(cat)
	w.Parts = append(w.Parts, c.work("cutting", "There: cutting", minutes, made))
	w.Parts = append(w.Parts, c.work("putting-up", "There: putting up", t.BuildMinutes, fmt.Sprintf("the list Putting up: %s handled at the catalogue's rates of taking down, taken for putting up too, and fixings driven (common practice, no source)", counted(t.Pieces, "piece", "pieces"))))
	c.hires(w)
	w.CarbonKg, w.NoCarbon = t.NewCarbonKg, t.NoCarbon
	w.Delivered = c.terms.Vehicle.loadsOf(t.NewKg, p.newM3())
}

// sells credits pieces at the sale price that was asked, alike in every way; without one no money is credited.
func (c comparison) sells(w *Way, which func(*salvage.Piece) bool) {
	pieces := c.kept(which)
	if len(pieces) == 0 {
		return
	}
	worth, unpriced := int64(0), 0
	for _, q := range pieces {
		worth += q.ValueMinor
		if !q.ValueKnown {
			unpriced++
		}
	}
	w.Fetched = c.terms.Vehicle.loadsOf(roomOf(pieces))
	p := Part{Key: "sold", Name: "Sold: what is fit for use and not needed", Known: true}
	if p.Money = -schedule.Amount(float64(c.terms.SalePercent)/100, worth); c.terms.SalePercent == 0 {
		p.Made = fmt.Sprintf("%s that the salvage list has at %s new: no sale price was given, so no money is credited", counted(len(pieces), "piece", "pieces"), domain.FormatMoney(worth, c.currency))
	} else {
		p.Made = fmt.Sprintf("%s at %d %%, as asked, of the %s that the salvage list has them at, if somebody takes them at that", counted(len(pieces), "piece", "pieces"), c.terms.SalePercent, domain.FormatMoney(worth, c.currency))
	}
	if unpriced > 0 {
		p.Made = joined(p.Made, fmt.Sprintf("%s of them have no price and are credited with nothing", counted(unpriced, "piece", "pieces")))
	}
	w.Parts = append(w.Parts, p)
}

// kept are the tenant's pieces that are fit for use, and chosen.
func (c comparison) kept(which func(*salvage.Piece) bool) []*salvage.Piece {
	var out []*salvage.Piece
	for i := range c.from.Inventory.Pieces {
		if q := &c.from.Inventory.Pieces[i]; q.Kept() && q.Goes != salvage.Return && which(q) {
			out = append(out, q)
		}
	}
	return out
}

// work is a part that is all labour, at the firm's rate an hour, its hours to three decimals like the schedule's.
func (c comparison) work(key, name string, minutes int, made string) Part {
	p := Part{Key: key, Name: name, Minutes: minutes, Known: c.hasRate || minutes == 0, Made: made}
	if hours := math.Round(float64(minutes)/60*1000) / 1000; c.hasRate {
		p.Money = schedule.Amount(hours, c.labour.Amount)
		p.Made = joined(made, fmt.Sprintf("%.3f h at %s", hours, domain.FormatMoney(c.labour.Amount, c.currency)))
	}
	return p
}

// summed adds the parts up, and says why where they are no total.
func (c comparison) summed(w Way, p *Plan) Way {
	minutes := 0
	for _, x := range w.Parts {
		w.Money += x.Money
		minutes += x.Minutes
		if !x.Known && x.Key != "stock" && x.Key != "fixings" { // those say it thing by thing, below
			w.NoTotal = append(w.NoTotal, noPrice(x, c.hasRate))
		}
	}
	if c.misfits {
		w.NoTotal = append(w.NoTotal, "the layout does not fit as it is described")
	}
	slices.Sort(w.NoTotal)
	w.NoTotal = append(slices.Compact(w.NoTotal), p.NoTotal...)
	w.Hours, w.Known = tenth(float64(minutes)/60), len(w.NoTotal) == 0
	return w
}

func noPrice(x Part, hasRate bool) string {
	if x.Minutes > 0 && !hasRate {
		return "labour: no price for labour-hour"
	}
	return strings.ToLower(x.Name[:1]) + x.Name[1:] + ": " + x.Made
}

// whole says what keeps the money from being all of it: what has no price, and pieces that nothing can make.
func (p *Plan) whole() {
	if n := len(p.Unpriced); n > 0 {
		p.NoTotal = append(p.NoTotal, "no price for "+strings.Join(p.Unpriced, ", "))
	}
	if n := len(p.Cannot); n > 0 {
		p.NoTotal = append(p.NoTotal, fmt.Sprintf("%s cannot be made, and what is done instead is in no figure", counted(n, "piece", "pieces")))
	}
	p.Total.Known = len(p.NoTotal) == 0
}

// StockKnown reports whether the money for new stock is all of it: every line has a price, and every piece can be made.
func (p *Plan) StockKnown() bool { return !p.unpriced("material:") && len(p.Cannot) == 0 }

// FixingsKnown reports whether every fixing to buy has a price.
func (p *Plan) FixingsKnown() bool { return !p.unpriced("fixing:") }

func (p *Plan) unpriced(prefix string) bool {
	return slices.ContainsFunc(p.Unpriced, func(key string) bool { return strings.HasPrefix(key, prefix) })
}

// loadsOf is how many loads of the vehicle so much mass and room are, at least.
func (v Vehicle) loadsOf(kg, m3 float64) int {
	room := float64(v.BedLengthMm) * float64(v.BedWidthMm) * float64(v.BedHeightMm) / 1e9
	return int(math.Ceil(max(kg/v.mayLoadKg(), m3/room) - 1e-9))
}

// usedKg is the mass of the salvaged pieces that go up again.
func (p *Plan) usedKg() float64 {
	used, kg := p.used(), 0.0
	for i := range p.inventory.Pieces {
		if q := &p.inventory.Pieces[i]; used[q.Code].Salvaged {
			kg += q.MassKg
		}
	}
	return kg
}
