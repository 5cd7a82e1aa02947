package domain

import (
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

func (c *checker) fitOut() {
	f := &c.r.FitOut
	s := spot{fitOutNoun, 0, f.Code}
	c.needText(s, "name", f.Name)
	c.text(s, "tenant", f.Tenant)
	c.text(s, "landlord", f.Landlord)
	c.text(s, "firm", f.Firm)
	c.text(s, "premises/address", f.Premises.Address)
	c.text(s, "premises/asbestos_survey", f.Premises.Survey)
	c.whole(s, "premises/built_year", f.Premises.BuiltYear, 0, 3000)
	if !IsCurrency(f.Currency) {
		c.fault(s, "currency", "has currency %.60q: use the three capital letters of ISO 4217, like GBP or EUR", f.Currency)
	}
	c.whole(s, "crew/people", f.Crew.People, 0, 1000)
	for i, access := range f.Crew.Access {
		c.needText(s, "crew/access/"+strconv.Itoa(i), access)
	}
	c.ownRates(s, f.Crew.Rates)
	c.whole(s, "version", f.Version, 0, 1<<31-1)
	c.linkBase(s, f.LinkBase)
	c.calendar(s, f.Calendar)
	c.tenancy(s, f.Tenancy)
	c.terms(s, f.Terms)
	c.exits()
}

// linkBase holds the address on labels to one that a phone opens, short enough for a small code.
func (c *checker) linkBase(s spot, base string) {
	const most = 100
	if base == "" {
		return
	}
	u, err := url.Parse(base)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.RawQuery != "" || u.Fragment != "" || u.User != nil || len(base) > most || strings.IndexFunc(base, func(c rune) bool { return c <= ' ' || c > '~' }) >= 0 {
		c.fault(s, "link_base", "is %.120q: give an address of at most %d plain letters that begins with http:// or https://, as https://register.example", base, most)
	}
}

// share holds the one figure of the price list that is no money.
func (c *checker) share(s spot, p Price) {
	switch {
	case p.Key != ShareDowngraded:
		c.fault(s, "key", "has %.60q, and the only share is %q", p.Key, ShareDowngraded)
	case p.Unit != "percent" || p.Amount > 100:
		c.fault(s, "unit", "for %s is %d %s: give 0 to 100, and percent as its unit", p.Key, p.Amount, p.Unit)
	}
}

// IsCurrency reports whether ISO 4217 lists the code as money. XXX (no currency) and XTS (for tests) are listed and
// buy nothing.
func IsCurrency(code string) bool {
	_, err := currency.ParseISO(code)
	return err == nil && code == strings.ToUpper(code) && code != "XXX" && code != "XTS"
}

func (c *checker) calendar(s spot, cal Calendar) {
	c.text(s, "calendar/region", cal.Region)
	c.whole(s, "calendar/day_minutes", cal.DayMinutes, 0, 24*60)
	if cal.StartsAt != "" && !regexp.MustCompile(`^([01][0-9]|2[0-3]):[0-5][0-9]$`).MatchString(cal.StartsAt) {
		c.fault(s, "calendar/starts_at", "starts work at %.60q: write hours and minutes, like 07:30", cal.StartsAt)
	}
	c.breaks(s, cal)
	seen := map[string]bool{}
	for i, day := range cal.WorkingDays {
		field := "calendar/working_days/" + strconv.Itoa(i)
		oneOf(c, s, field, day, "mon", "tue", "wed", "thu", "fri", "sat", "sun")
		if seen[day] {
			c.fault(s, field, "gives the working day %.60q twice: once is enough", day)
		}
		seen[day] = true
	}
	for i, off := range cal.DaysOff {
		if _, _, ok := DaysOf(off); !ok {
			c.fault(s, "calendar/days_off/"+strconv.Itoa(i), "has days off %.60q: write a date like 2026-12-23, or 2026-12-23/2027-01-03 from one day to another, at most a year apart", off)
		}
	}
}

// breaks holds breaks to the working day: each begins while work goes on, after the one before it.
func (c *checker) breaks(s spot, cal Calendar) {
	before, ends := cal.StartMinute(), cal.StartMinute()+cal.MinutesADay()
	for i, words := range cal.Breaks {
		field := "calendar/breaks/" + strconv.Itoa(i)
		from, to, ok := BreakOf(words)
		switch {
		case !ok:
			c.fault(s, field, "has a break %.60q: write when it begins and ends, like 12:30/13:00", words)
			return
		case from <= before || from >= ends:
			c.fault(s, field, "has a break %s that is not within work, which goes on from %s to %s there: mend the break, the start or the minutes of the day",
				words, clockWords(before), clockWords(ends))
			return
		}
		before, ends = to, ends+to-from
	}
}

func clockWords(minute int) string { return fmt.Sprintf("%02d:%02d", minute/60%24, minute%60) }

// tenancy holds the lease's dates to their order: it starts, may be broken, and ends.
func (c *checker) tenancy(s spot, t Tenancy) {
	start, started := c.date(s, "tenancy/start", t.Start)
	breaks, broken := c.date(s, "tenancy/break_date", t.BreakDate)
	expiry, ends := c.date(s, "tenancy/expiry", t.Expiry)
	c.date(s, "tenancy/licence_date", t.LicenceDate)
	if started && broken && !start.Before(breaks) {
		c.fault(s, "tenancy/break_date", "may be broken on %s, not after it starts on %s: mend one of the dates", t.BreakDate, t.Start)
	}
	if started && ends && !start.Before(expiry) {
		c.fault(s, "tenancy/expiry", "expires on %s, not after it starts on %s: mend one of the dates", t.Expiry, t.Start)
	}
	if broken && ends && expiry.Before(breaks) {
		c.fault(s, "tenancy/break_date", "may be broken on %s, after it expires on %s: mend one of the dates", t.BreakDate, t.Expiry)
	}
	c.whole(s, "tenancy/notice_months", t.NoticeMonths, 0, 120)
	c.whole(s, "tenancy/contingency_working_days", t.ContingencyDays, 0, 250)
	c.text(s, "tenancy/licence", t.Licence)
	c.text(s, "tenancy/reinstatement_clause", t.Clause)
	c.text(s, "tenancy/reinstatement_standard", t.Standard)
	c.text(s, "tenancy/leave_by_consent", t.LeaveByConsent)
	c.licence(s, t)
}

func (c *checker) exits() {
	for i, x := range c.r.FitOut.Exits {
		s := spot{exitNoun, i, x.Code}
		c.needText(s, "name", x.Name)
		c.whole(s, "width_mm", x.WidthMm, 1, 100_000)
		c.whole(s, "height_mm", x.HeightMm, 1, 100_000)
		c.whole(s, "reach_mm", x.ReachMm, 0, farthestMm)
	}
}

func (c *checker) zones() {
	for i, z := range c.r.Zones {
		s := spot{zoneNoun, i, z.Code}
		c.needText(s, "name", z.Name)
		if n := len(z.Outline); n > 0 && n < 3 {
			c.fault(s, "outline", "has an outline of %d corners: give three at least, or none", n)
		}
		for k, p := range z.Outline {
			c.point(s, "outline/"+strconv.Itoa(k), p)
		}
		c.whole(s, "level_mm", z.LevelMm, -farthestMm, farthestMm)
		c.whole(s, "capacity", z.Capacity, 0, 1000)
		c.whole(s, "version", z.Version, 0, 1<<31-1)
	}
}

// pricedSize holds the size behind the stroke of a material's price to one that is sold, where the catalogue knows them.
func (c *checker) pricedSize(s spot, key, size string, m Material) {
	if sheet := regexp.MustCompile(`^[1-9][0-9]{1,4}x[1-9][0-9]{1,4}$`); sheet.MatchString(size) {
		return
	}
	n, err := strconv.Atoi(size)
	switch {
	case err != nil || n < 1 || strconv.Itoa(n) != size:
		c.fault(s, "key", "has %.60q: write a length in mm behind the stroke, like material:c16-cls-38x89/2400, or length and width of a sheet, like 2397x1197", key)
	case len(m.StockLengthsMm) > 0 && !slices.Contains(m.StockLengthsMm, n):
		c.fault(s, "key", "has %.60q, and %s is not sold in that length: its lengths are %v", key, m.Code, m.StockLengthsMm)
	}
}

// priceKinds are what a price is for, before the colon of its key.
var priceKinds = []string{"labour-hour", "repair", "material", "fixing", "waste", "prelim", "share"}

// priceUnit holds a price to the unit in which what it prices is counted.
func (c *checker) priceUnit(s spot, p Price) {
	want := PriceUnit(c.r.Catalogue, p.Key)
	if unit := strings.TrimSpace(p.Unit); want == "" || unit == "" || unit == want || want == "hour" && unit == "h" {
		return
	}
	c.fault(s, "unit", "for %.60q is %.20q, and it is counted by the %s: give the price of one %s", p.Key, p.Unit, want, want)
}

// prices holds each price to what it prices: a figure for a repair or a material that the catalogue does not
// have would never be used, and nobody would notice.
func (c *checker) prices() {
	for i, p := range c.r.Prices {
		s := spot{priceNoun, i, ""}
		c.needText(s, "key", p.Key)
		c.needText(s, "unit", p.Unit)
		c.text(s, "note", p.Note)
		c.date(s, "since", p.Since)
		if p.Amount < 0 || p.Amount > 1_000_000_000 {
			c.fault(s, "amount_minor", "for %.60q is %d: give 0 to 1000000000 minor units", p.Key, p.Amount)
		}
		of, slug, _ := strings.Cut(p.Key, ":")
		c.priceUnit(s, p)
		switch cat := c.r.Catalogue; of {
		case "repair":
			listed(c, s, "key", of, slug, cat.Repairs)
		case "material":
			code, size, sized := strings.Cut(slug, "/")
			listed(c, s, "key", of, code, cat.Materials)
			if sized {
				c.pricedSize(s, p.Key, size, cat.Materials[code])
			}
		case "fixing":
			slug, size, sized := strings.Cut(slug, "/")
			listed(c, s, "key", of, slug, cat.FixingTypes)
			if n, err := strconv.Atoi(size); sized && (err != nil || n < 1 || n > 10000 || strconv.Itoa(n) != size) {
				c.fault(s, "key", "has %.60q: write the length of one in mm behind the stroke, like fixing:wood-screw-5/80", p.Key)
			}
		case "waste":
			listed(c, s, "key", of, slug, cat.WasteCodes)
		case "share":
			c.share(s, p)
		default:
			if p.Key != "" && !slices.Contains(priceKinds, of) {
				c.fault(s, "key", "has %.60q, which prices nothing: begin it with %s", p.Key, strings.Join(priceKinds, ", "))
			}
		}
	}
}
