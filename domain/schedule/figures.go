package schedule

import (
	"cmp"
	"math"
	"strings"
	"time"

	"unpick/domain"
)

// Figures are what the items come to in the end: contingency on top of the works, then the tax, at the day of the
// prices and at the break or the end of the term. All in minor units, each line rounded once, halves up, from the exact line above
// it that is shown: so anybody can add up what is printed. Whole is false while an item has no rate: then every figure
// is a part, and says so.
type Figures struct {
	Whole   bool    `json:"whole" jsonschema_description:"false while any item has no rate: the figures are then of the priced items only"`
	Now     Figure  `json:"at_the_day_of_the_prices"`
	AtEnd   *Figure `json:"at_the_end_of_the_lease,omitempty" jsonschema_description:"at the break where at_the_break is true, else at the end of the term"`
	NoEnd   string  `json:"no_end_because,omitempty" jsonschema_description:"why there is no figure for the break or the end of the term"`
	TaxName string  `json:"tax_name,omitempty"`
}

// Figure is one reckoning.
type Figure struct {
	On          string `json:"on,omitempty" jsonschema:"format=date"`
	Break       bool   `json:"at_the_break,omitempty" jsonschema_description:"the day is the break date, not the end of the term"`
	Works       int64  `json:"works_minor" jsonschema_description:"sum of the items that are no provisional sum"`
	Sums        int64  `json:"provisional_sums_minor"`
	Rise        int64  `json:"rise_minor,omitempty" jsonschema_description:"how much dearer works and sums are by that day"`
	Contingency int64  `json:"contingency_minor"`
	Net         int64  `json:"net_minor"`
	Tax         int64  `json:"tax_minor"`
	Gross       int64  `json:"gross_minor"`
}

// When says which day of the lease a later figure is for: "at the break, 2029-03-24". Tenant and landlord read two
// different things into an "end" that may be either.
func (f Figure) When() string {
	if f.Break {
		return "at the break, " + f.On
	}
	return "at the end of the term, " + f.On
}

// Added names what comes on top of works and sums until it is paid: "contingency and VAT". It is "" where nothing does.
func (f Figures) Added() string {
	var on []string
	if f.Now.Contingency != 0 {
		on = append(on, "contingency")
	}
	if f.Now.Tax != 0 {
		on = append(on, cmp.Or(f.TaxName, "tax"))
	}
	return strings.Join(on, " and ")
}

// FiguresOf reckons the items up under the terms of the fit-out.
func FiguresOf(items []Item, f domain.FitOut) Figures {
	t := f.Terms
	out := Figures{Whole: true, TaxName: t.TaxName}
	for _, i := range items {
		out.Whole = out.Whole && (i.RateKnown || i.Free)
		if i.Group == ProvisionalSums {
			out.Now.Sums += i.AmountMinor
		} else {
			out.Now.Works += i.AmountMinor
		}
	}
	out.Now.On = t.PricedOn
	out.Now.reckon(t)
	end, atBreak, why := endOf(f)
	if why != "" {
		out.NoEnd = why
		return out
	}
	later := Figure{On: end, Break: atBreak, Works: out.Now.Works, Sums: out.Now.Sums}
	later.Rise = rise(later.Works+later.Sums, t.YearlyPercent, t.PricedOn, end)
	later.reckon(t)
	out.AtEnd = &later
	return out
}

func (f *Figure) reckon(t domain.Terms) {
	base := f.Works + f.Sums + f.Rise
	f.Contingency = Amount(t.ContingencyPercent/100, base)
	f.Net = base + f.Contingency
	f.Tax = Amount(t.TaxPercent/100, f.Net)
	f.Gross = f.Net + f.Tax
}

// endOf is the day on which the place goes back: the break date where there is one that is not over by the day of the
// prices, else the expiry.
func endOf(f domain.FitOut) (on string, atBreak bool, why string) {
	t, day := f.Tenancy, f.Terms.PricedOn
	end := t.Expiry
	if t.BreakDate != "" && (t.BreakDate >= day || end == "") {
		end, atBreak = t.BreakDate, true
	}
	switch {
	case end == "":
		return "", false, "the lease has neither a break date nor an expiry yet"
	case day == "":
		return "", false, "the day of the prices is not given"
	case f.Terms.YearlyPercent == 0:
		return "", false, "no yearly rise of prices is given"
	case end < day && atBreak:
		return "", false, "the break, " + end + ", is before the day of the prices"
	case end < day:
		return "", false, "the term ends, " + end + ", before the day of the prices"
	}
	return end, atBreak, ""
}

// rise is what compounding a yearly percentage adds between two days, a year taken as 365 days. Halves go up.
func rise(minor int64, percent float64, from, to string) int64 {
	a, err := time.Parse(time.DateOnly, from)
	b, other := time.Parse(time.DateOnly, to)
	if err != nil || other != nil { // dates of a checked register parse
		return 0
	}
	years := b.Sub(a).Hours() / 24 / 365
	return int64(math.Floor(float64(minor)*(math.Pow(1+percent/100, years)-1) + 0.5 + 1e-9))
}
