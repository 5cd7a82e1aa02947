package reports

import (
	"fmt"
	"strings"
	"time"

	"unpick/domain"
	"unpick/domain/schedule"
)

// reckoning is one column of what the schedule comes to: as scheduled or as agreed so far, at one day.
type reckoning struct {
	head         string
	wide         float64
	figure       schedule.Figure
	whole, later bool
	without      int    // items that it has no figure for
	works, sums  string // formulas of a first column; those of a later day point at it
	worksAt      string // the column that a later day takes works and sums from
}

// figures reckons the schedule up to what has to be paid: contingency and tax on top, today and at the break or
// the end of the term, as scheduled and as agreed so far, each line by formula from the line above.
func (b *book) figures(s schedule.Schedule) {
	f, terms := s.Figures, b.in.Register.FitOut.Terms
	digits := domain.MinorDigits(b.in.Register.FitOut.Currency)
	all := b.reckonings(s)
	columns := []column{{"What", 34, strong}, {"Per cent", 9, thousand}}
	for _, r := range all {
		columns = append(columns, column{r.head, r.wide, money})
	}
	t := b.newTable("What it comes to", append(columns, column{"How it is reckoned", 58, plain}), a4, 7)
	row := func(what string, percent any, how, text string, of func(schedule.Figure) int64) {
		cells := []any{what, percent}
		for n, r := range all {
			letter := string(rune('C' + n))
			value := any("")
			if r.whole {
				value = b.major(of(r.figure))
			}
			cells = append(cells, formula{fmt.Sprintf(`IF(ISNUMBER(%s2),%s,"")`, letter, strings.ReplaceAll(text, "@", letter)), value})
		}
		t.add(append(cells, how)...)
	}
	worth, sums, dearer := []any{"Works", nil}, []any{"Provisional sums", nil}, []any{"Dearer by then", some(terms.YearlyPercent)}
	days := daysBetween(f.Now.On, f.AtEnd)
	for n, r := range all {
		letter := string(rune('C' + n))
		total, set, rise := any(noTotal(r.without)), any(""), any("")
		if r.whole {
			total, set, rise = b.major(r.figure.Works), b.major(r.figure.Sums), b.major(r.figure.Rise)
		}
		if !r.later {
			worth, sums, dearer = append(worth, formula{r.works, total}), append(sums, formula{fmt.Sprintf(`IF(ISNUMBER(%s2),%s,"")`, letter, r.sums), set}), append(dearer, nil)
			continue
		}
		worth, sums = append(worth, formula{r.worksAt + "2", total}), append(sums, formula{r.worksAt + "3", set})
		dearer = append(dearer, formula{fmt.Sprintf(`IF(ISNUMBER(%[1]s2),ROUND((%[1]s2+%[1]s3)*((1+$B4/100)^(%[2]d/365)-1),%[3]d),"")`, letter, days, digits), rise})
	}
	t.add(append(worth, "sum of the schedule without its provisional sums"+insteadWords(s))...)
	t.add(append(sums, "set aside for what cannot be measured yet")...)
	t.add(append(dearer, riseWords(f, days))...)
	row("Contingency", terms.ContingencyPercent, "of all above", fmt.Sprintf("ROUND($B5/100*SUM(@2:@4),%d)", digits), func(x schedule.Figure) int64 { return x.Contingency })
	row("Net", nil, "works, sums and contingency", "SUM(@2:@5)", func(x schedule.Figure) int64 { return x.Net })
	row(taxName(terms), terms.TaxPercent, "of the net figure", fmt.Sprintf("ROUND($B7/100*@6,%d)", digits), func(x schedule.Figure) int64 { return x.Tax })
	row("To pay", nil, "each line is rounded once, halves up, to the smallest coin", "@6+@7", func(x schedule.Figure) int64 { return x.Gross })
	t.end()
}

func noTotal(without int) string { return fmt.Sprintf("no total: %d without a rate", without) }

// reckonings are the columns: as scheduled on each day that there is a figure for, then the same as agreed so far.
func (b *book) reckonings(s schedule.Schedule) []reckoning {
	currency := b.in.Register.FitOut.Currency
	last := max(len(s.Items), 1) + 1
	column := func(letter string) string { return fmt.Sprintf("Schedule!$%s$2:$%s$%d", letter, letter, last) }
	works := fmt.Sprintf(`SUM(%s)-SUMIFS(%s,%s,"%s")`, column("L"), column("L"), column("B"), schedule.ProvisionalSums)
	sums := fmt.Sprintf(`SUMIFS(%s,%s,"%s")`, column("L"), column("B"), schedule.ProvisionalSums)
	without := fmt.Sprintf(`COUNTIF(%s,"no rate")`, column("K"))
	total := func(without, works string) string {
		return fmt.Sprintf(`IF(%s>0,"no total: "&(%s)&" without a rate",%s)`, without, without, works)
	}
	var out []reckoning
	add := func(words string, f schedule.Figures, missing int, works, sums string) {
		at := string(rune('C' + len(out)))
		out = append(out, reckoning{head: words + headOn("At prices of ", f.Now.On, currency), wide: 27, figure: f.Now, whole: f.Whole, without: missing, works: works, sums: sums})
		if f.AtEnd != nil {
			out = append(out, reckoning{head: words + capital(f.AtEnd.When()) + " (" + currency + ")", wide: 32, figure: *f.AtEnd, whole: f.Whole, without: missing, later: true, worksAt: at})
		}
	}
	add("", s.Figures, s.Total.WithoutRate, total(without, works), sums)
	if a := s.AsAgreed; a != nil {
		agreed := func(letter string) string {
			return fmt.Sprintf("'%s'!$%s$2:$%s$%d", agreedSheet, letter, letter, len(a.Items)+1)
		}
		differs := func(how string) string {
			return fmt.Sprintf(`SUMIFS(%s,%s,"%s%s")`, agreed("F"), agreed("B"), how, schedule.ProvisionalSums)
		}
		add("As agreed so far. ", a.Figures, a.WithoutRate, total(fmt.Sprintf(`%s-COUNTIF(%s,"no rate")`, without, agreed("D")), works+"+"+differs("<>")), sums+"+"+differs(""))
	}
	return out
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
