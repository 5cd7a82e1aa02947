package reports

import (
	"fmt"
	"time"

	"unpick/domain"
	"unpick/domain/schedule"
)

// figures reckons the schedule up to what has to be paid: contingency and tax on top, today and at the break or
// the end of the term, each line by formula from the line above.
func (b *book) figures(s schedule.Schedule) {
	f, terms := s.Figures, b.in.Register.FitOut.Terms
	currency, digits := b.in.Register.FitOut.Currency, domain.MinorDigits(b.in.Register.FitOut.Currency)
	columns := []column{{"What", 34, strong}, {"Per cent", 9, thousand}, {headOn("At prices of ", f.Now.On, currency), 27, money}, {"How it is reckoned", 58, plain}}
	later := f.AtEnd
	if later != nil {
		columns = []column{columns[0], columns[1], columns[2], {capital(later.When()) + " (" + currency + ")", 32, money}, columns[3]}
	}
	t := b.newTable("What it comes to", columns, a4, 7)
	last := max(len(s.Items), 1) + 1
	column := func(letter string) string { return fmt.Sprintf("Schedule!$%s$2:$%s$%d", letter, letter, last) }
	works := fmt.Sprintf(`IF(COUNTIF(%s,"no rate")>0,"no total: "&COUNTIF(%s,"no rate")&" without a rate",SUM(%s)-SUMIFS(%s,%s,"%s"))`,
		column("K"), column("K"), column("L"), column("L"), column("B"), schedule.ProvisionalSums)
	sums := fmt.Sprintf(`IF(ISNUMBER(C2),SUMIFS(%s,%s,"%s"),"")`, column("L"), column("B"), schedule.ProvisionalSums)
	row := func(what string, percent any, how string, now any, end any) {
		cells := []any{what, percent, now}
		if later != nil {
			cells = append(cells, end)
		}
		t.add(append(cells, how)...)
	}
	cell := func(text string, whole func(schedule.Figure) int64) (now, end any) {
		at := func(letter string, figure schedule.Figure) any {
			value := any("")
			if f.Whole {
				value = b.major(whole(figure))
			}
			return formula{fmt.Sprintf(`IF(ISNUMBER(%s2),`+text+`,"")`, letter, letter), value}
		}
		now = at("C", f.Now)
		if later != nil {
			end = at("D", *later)
		}
		return now, end
	}
	worth := any(fmt.Sprintf("no total: %d without a rate", s.Total.WithoutRate))
	set := any("")
	if f.Whole {
		worth, set = b.major(f.Now.Works), b.major(f.Now.Sums)
	}
	row("Works", nil, "sum of the schedule without its provisional sums", formula{works, worth}, formula{"C2", worth})
	row("Provisional sums", nil, "set aside for what cannot be measured yet", formula{sums, set}, formula{"C3", set})
	days := daysBetween(f.Now.On, later)
	rise, risen := any(nil), any(nil)
	if later != nil {
		_, risen = cell(fmt.Sprintf("ROUND((%%[2]s2+%%[2]s3)*((1+$B4/100)^(%d/365)-1),%d)", days, digits), func(x schedule.Figure) int64 { return x.Rise })
	}
	row("Dearer by then", some(terms.YearlyPercent), riseWords(f, days), rise, risen)
	now, end := cell(fmt.Sprintf("ROUND($B5/100*SUM(%%[2]s2:%%[2]s4),%d)", digits), func(x schedule.Figure) int64 { return x.Contingency })
	row("Contingency", terms.ContingencyPercent, "of all above", now, end)
	now, end = cell("SUM(%[2]s2:%[2]s5)", func(x schedule.Figure) int64 { return x.Net })
	row("Net", nil, "works, sums and contingency", now, end)
	now, end = cell(fmt.Sprintf("ROUND($B7/100*%%[2]s6,%d)", digits), func(x schedule.Figure) int64 { return x.Tax })
	row(taxName(terms), terms.TaxPercent, "of the net figure", now, end)
	now, end = cell("%[2]s6+%[2]s7", func(x schedule.Figure) int64 { return x.Gross })
	row("To pay", nil, "each line is rounded once, halves up, to the smallest coin", now, end)
	t.end()
}

func headOn(words, on, currency string) string {
	if on == "" {
		return "At the prices of the list (" + currency + ")"
	}
	return words + on + " (" + currency + ")"
}

func taxName(t domain.Terms) string {
	if t.TaxName == "" {
		return "Tax: none given"
	}
	return t.TaxName
}

// riseWords says how the later figure was reckoned, or why it was not.
func riseWords(f schedule.Figures, days int) string {
	if f.AtEnd == nil {
		return "no later figure: " + f.NoEnd
	}
	return fmt.Sprintf("%d days at so much a year, compounded, a year taken as 365 days", days)
}

func daysBetween(from string, later *schedule.Figure) int {
	if later == nil {
		return 0
	}
	a, err := time.Parse(time.DateOnly, from)
	b, other := time.Parse(time.DateOnly, later.On)
	if err != nil || other != nil { // the figure was made from dates that parse
		return 0
	}
	return int(b.Sub(a).Hours() / 24)
}
