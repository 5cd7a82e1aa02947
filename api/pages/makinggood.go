package pages

import (
	"strconv"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
)

// planPage is a page made of the plan: tables, downloads, or why there is no plan.
type planPage struct {
	FitOut    domain.FitOut
	Plan      *plan.Plan
	Tables    []table
	Files     []string // names of the documents that say the same on paper
	Unplanned string
	Scope     scopePage // for the schedule: which of the works it is for
	Left      string    // of the schedule of a part: what it leaves out, in words
	Hours     string    // and what the part takes by itself
}

// planned draws a page of the plan. What the page shows is filled in where there is a plan.
func (p *Pages) planned(c echo.Context, name, title, here string, fill func(*planPage)) error {
	return p.plannedPart(c, name, title, here, scopePage{}, fill)
}

// plannedPart is planned for a part of the works.
func (p *Pages) plannedPart(c echo.Context, name, title, here string, part scopePage, fill func(*planPage)) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, here); answered || err != nil {
		return err
	}
	page := planPage{FitOut: f, Scope: part}
	every := part.Scope
	every.Clause = ""
	page.Plan, err = p.jobs.Scoped(c.Request().Context(), f.Code, every)
	clauseless := false
	if err == nil { // of what is asked for: a clause without an item in it has no schedule to offer
		page.Scope.Clauses = page.Plan.Schedule.Clauses()
		page.Plan, err = page.Plan.Under(part.Scope.Clause)
		clauseless = domain.CodeOf(err) == domain.NotFound
	}
	switch {
	case clauseless, domain.Unplannable(err), domain.CodeOf(err) == domain.Invalid:
		page.Unplanned = err.Error()
	case err != nil:
		return err
	default:
		fill(&page)
	}
	return p.show(c, screen{Name: name, Title: title + " of " + f.Name, FitOut: &f, Here: here, Data: page})
}

// MakingGood shows one repair for every hole, the redecoration, what was agreed, and that the totals agree.
func (p *Pages) MakingGood(c echo.Context) error {
	return p.planned(c, "makinggood", "Making good", "making-good", func(page *planPage) {
		list := page.Plan.MakingGood
		page.Files = []string{"making-good.xlsx"}
		page.Tables = []table{repairs(c, page.FitOut, list), redecoration(c, page.FitOut, list), buying(c, list), agreedAndMade(c, list)}
	})
}

func repairs(c echo.Context, f domain.FitOut, list makinggood.List) table {
	rows := make([][]cell, len(list.Rows))
	for i, r := range list.Rows {
		amount, owed := priced(r.AmountMinor, r.RateKnown, f.Currency), "yes"
		if !r.Charged {
			amount, owed = plain("nothing to pay"), "no: "+r.NotOwed
			if r.Done != "" {
				owed += " (" + r.Done + ")"
			}
		}
		number := count(r.Number)
		number.Link = repairAddress(f.Code, aboutOf(r))
		rows[i] = []cell{number, plain(r.HostName), plain(r.Says()), plain(r.Where), plain(r.Leaves), plain(r.Steps), plain(r.Caution), count(r.Minutes), plain(owed), amount}
	}
	return newTable(c, "repairs", "Repairs, one for every set of holes", []column{
		{Key: "no", Title: "No.", Figure: true}, {Key: "surface", Title: "Surface"}, {Key: "what", Title: "What"}, {Key: "where", Title: "Where, mm", Rest: true},
		{Key: "left", Title: "Stays in it", Rest: true}, {Key: "repair", Title: "Repair"}, {Key: "care", Title: "Take care", Rest: true},
		{Key: "minutes", Title: "Minutes", Figure: true, Rest: true, Sum: sumCount}, {Key: "owed", Title: "Charged"}, {Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(f.Currency)},
	}, rows)
}

func redecoration(c echo.Context, f domain.FitOut, list makinggood.List) table {
	rows := make([][]cell, len(list.Planes))
	for i, r := range list.Planes {
		amount, owed := priced(r.AmountMinor, r.RateKnown, f.Currency), "yes"
		if r.Done != "" {
			amount, owed = plain("nothing to pay"), "no: "+makinggood.MadeGood+" ("+r.Done+")"
		}
		rows[i] = []cell{linked(r.HostName, repairAddress(f.Code, r.Host)), measured(r.AreaM2, 2), count(r.Places), plain(r.Finish), plain(r.Steps), count(r.Minutes), plain(owed), amount}
	}
	return newTable(c, "redecoration", "Redecoration, once for each surface to its nearest natural break", []column{
		{Key: "surface", Title: "Surface"}, {Key: "area", Title: "Area m²", Figure: true, Sum: func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }},
		{Key: "places", Title: "Repaired places", Figure: true, Sum: sumCount}, {Key: "finish", Title: "Finish", Rest: true}, {Key: "how", Title: "How", Rest: true},
		{Key: "minutes", Title: "Minutes", Figure: true, Sum: sumCount}, {Key: "owed", Title: "Charged"}, {Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(f.Currency)},
	}, rows)
}

func agreedAndMade(c echo.Context, list makinggood.List) table {
	rows := make([][]cell, len(list.Licence))
	for i, l := range list.Licence {
		says := plain(l.Says)
		says.Flag = l.Unlicensed > 0
		rows[i] = []cell{plain(l.HostName), plain(ruleWords(l.Rule)), plain(l.Clause), count(l.Agreed), count(l.Built), count(l.Inherited), count(l.AtDefects), says}
	}
	return newTable(c, "licence", "What was agreed, and what was made", []column{
		{Key: "surface", Title: "Surface"}, {Key: "rule", Title: "May be fixed to", Rest: true}, {Key: "clause", Title: "Clause", Rest: true},
		{Key: "agreed", Title: "Agreed", Figure: true, Sum: sumCount}, {Key: "made", Title: "Made", Figure: true, Sum: sumCount},
		{Key: "before", Title: "There before", Figure: true, Rest: true, Sum: sumCount}, {Key: "defects", Title: "In defects of the start", Figure: true, Rest: true, Sum: sumCount}, {Key: "says", Title: "In words"},
	}, rows)
}

// buying is the list for the merchant, in whole packs.
func buying(c echo.Context, list makinggood.List) table {
	rows := make([][]cell, len(list.Buying))
	for i, b := range list.Buying {
		rows[i] = []cell{plain(b.Material), measured(b.Ml, 1), count(b.PackMl), count(b.Packs)}
	}
	return newTable(c, "buying", "To buy, waste in it; the rates include it", []column{
		{Key: "material", Title: "Material"}, {Key: "ml", Title: "To buy, ml", Figure: true}, {Key: "pack", Title: "Pack, ml", Figure: true}, {Key: "packs", Title: "Packs", Figure: true},
	}, rows)
}
