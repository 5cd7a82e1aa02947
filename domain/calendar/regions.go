package calendar

import (
	"slices"
	"strings"
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/au"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/us"
)

// Region is a country, or a part of one, with public holidays of its own.
type Region struct {
	Code string // ISO 3166: GB-SCT, DE-BY, IE
	Name string
}

type region struct {
	Region
	holidays []*cal.Holiday
}

// Regions are the regions whose public holidays are known, in order of country and name.
func Regions() []Region {
	list := regions()
	out := make([]Region, len(list))
	for i := range list {
		out[i] = list[i].Region
	}
	return out
}

// regionOf is the region of a code, nil where it is not in the list.
func regionOf(code string) *region {
	list := regions()
	if i := slices.IndexFunc(list, func(r region) bool { return strings.EqualFold(r.Code, strings.TrimSpace(code)) }); i >= 0 {
		return &list[i]
	}
	return nil
}

// holiday is the name of the public holiday on a day, "" where there is none. A holiday whose observance moves is off on
// both days: nobody who works weekends works on Christmas Day.
func (r *region) holiday(day time.Time) string {
	if r == nil {
		return ""
	}
	years := []int{day.Year()}
	if day.Month() == time.December { // a New Year's Day on a Saturday may be kept the day before
		years = append(years, day.Year()+1)
	}
	for _, year := range years {
		for _, h := range r.holidays {
			actual, observed := h.Calc(year)
			if same(actual, day) || same(observed, day) {
				return h.Name
			}
		}
	}
	return ""
}

func same(a, b time.Time) bool {
	return a.Year() == b.Year() && a.YearDay() == b.YearDay()
}

// How a holiday at a weekend moves.
var (
	toMonday  = []cal.AltDay{{Day: time.Saturday, Offset: 2}, {Day: time.Sunday, Offset: 1}}
	toTuesday = []cal.AltDay{{Day: time.Saturday, Offset: 2}, {Day: time.Sunday, Offset: 2}, {Day: time.Monday, Offset: 1}}
)

func fixed(name string, month time.Month, day int, moves []cal.AltDay) *cal.Holiday {
	return &cal.Holiday{Name: name, Type: cal.ObservanceBank, Month: month, Day: day, Observed: moves, Func: cal.CalcDayOfMonth}
}

func inYears(h *cal.Holiday, from, to int) *cal.Holiday {
	return h.Clone(&cal.Holiday{StartYear: from, EndYear: to})
}

// scotland is what the Banking and Financial Dealings Act 1971, schedule 1, and the St Andrew's Day Bank Holiday
// (Scotland) Act 2007 give (from memory): 2 January, no Easter Monday, the first Monday in August in place of the last,
// St Andrew's Day; and one day proclaimed for the World Cup of 2026 (from memory).
func scotland() []*cal.Holiday {
	out := slices.DeleteFunc(slices.Clone(gb.Holidays), func(h *cal.Holiday) bool { return h == gb.EasterMonday || h == gb.SummerHoliday })
	return append(out, fixed("2 January", time.January, 2, toTuesday), gb.SummerHolidayScotland, fixed("St Andrew's Day", time.November, 30, toMonday),
		inYears(fixed("World Cup holiday", time.June, 15, nil), 2026, 2026))
}

// northernIreland is England's with St Patrick's Day and the Battle of the Boyne, each moved from a weekend.
func northernIreland() []*cal.Holiday {
	return append(slices.Clone(gb.Holidays), fixed("St Patrick's Day", time.March, 17, toMonday), fixed("Battle of the Boyne", time.July, 12, toMonday))
}

// newSouthWales has the Monday after an Anzac Day at a weekend in 2026 and 2027 only (from memory).
func newSouthWales() []*cal.Holiday {
	return append(slices.Clone(au.HolidaysNSW), inYears(fixed("Monday after Anzac Day", time.April, 25, toMonday), 2026, 2027))
}

// mecklenburg has Women's Day since 2023 (state law, from memory), which the library does not know yet.
func mecklenburg() []*cal.Holiday {
	return append(slices.Clone(de.HolidaysMV), inYears(de.Frauentag, 2023, 0))
}

// australia is what every state and territory keeps.
func australia() []*cal.Holiday {
	return []*cal.Holiday{au.NewYear, au.AustraliaDay, au.GoodFriday, au.EasterMonday, au.AnzacDay, au.ChristmasDay, au.BoxingDay}
}

func regions() []region {
	return []region{
		{Region{"GB-ENG", "England"}, gb.Holidays},
		{Region{"GB-WLS", "Wales"}, gb.Holidays},
		{Region{"GB-SCT", "Scotland"}, scotland()},
		{Region{"GB-NIR", "Northern Ireland"}, northernIreland()},
		{Region{"IE", "Ireland"}, ie.Holidays},
		{Region{"NL", "the Netherlands"}, nl.Holidays},
		{Region{"US", "the USA (federal)"}, us.Holidays},
		{Region{"DE", "Germany (all states)"}, de.Holidays},
		{Region{"DE-BW", "Baden-Württemberg"}, de.HolidaysBW},
		{Region{"DE-BY", "Bavaria"}, de.HolidaysBY},
		{Region{"DE-BE", "Berlin"}, de.HolidaysBE},
		{Region{"DE-BB", "Brandenburg"}, de.HolidaysBB},
		{Region{"DE-HB", "Bremen"}, de.HolidaysHB},
		{Region{"DE-HH", "Hamburg"}, de.HolidaysHH},
		{Region{"DE-HE", "Hesse"}, de.HolidaysHE},
		{Region{"DE-NI", "Lower Saxony"}, de.HolidaysNI},
		{Region{"DE-MV", "Mecklenburg-Vorpommern"}, mecklenburg()},
		{Region{"DE-NW", "North Rhine-Westphalia"}, de.HolidaysNW},
		{Region{"DE-RP", "Rhineland-Palatinate"}, de.HolidaysRP},
		{Region{"DE-SL", "Saarland"}, de.HolidaysSL},
		{Region{"DE-SN", "Saxony"}, de.HolidaysSN},
		{Region{"DE-ST", "Saxony-Anhalt"}, de.HolidaysST},
		{Region{"DE-SH", "Schleswig-Holstein"}, de.HolidaysSH},
		{Region{"DE-TH", "Thuringia"}, de.HolidaysTH},
		{Region{"AU", "Australia (all states)"}, australia()},
		{Region{"AU-ACT", "Australian Capital Territory"}, au.HolidaysACT},
		{Region{"AU-NSW", "New South Wales"}, newSouthWales()},
		{Region{"AU-NT", "Northern Territory"}, au.HolidaysNT},
		{Region{"AU-QLD", "Queensland"}, au.HolidaysQLD},
		{Region{"AU-SA", "South Australia"}, au.HolidaysSA},
		{Region{"AU-TAS", "Tasmania"}, au.HolidaysTAS},
		{Region{"AU-VIC", "Victoria"}, au.HolidaysVIC},
		{Region{"AU-WA", "Western Australia"}, au.HolidaysWA},
	}
}
