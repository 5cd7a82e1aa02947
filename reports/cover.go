package reports

import (
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/advice"
)

// fact is one line of a cover.
type fact struct{ name, value string }

// cover writes the first sheet: who, what, when, what it rests on, and what to be careful of.
func (b *book) cover(purpose string, facts []fact) {
	s := b.sheet("Cover")
	f := b.in.Register.FitOut
	row := 1
	set := func(column string, value string, look style) {
		cell := fmt.Sprintf("%s%d", column, row)
		b.keep(b.file.SetCellStr(s, cell, safe(value)))
		b.keep(b.file.SetCellStyle(s, cell, cell, b.styles[look]))
	}
	b.keep(b.file.SetColWidth(s, "A", "A", 26))
	b.keep(b.file.SetColWidth(s, "B", "B", 95))
	name := b.title
	if b.in.Issue == nil {
		name = "DRAFT: " + name
	}
	set("A", name, title)
	b.keep(b.file.SetRowHeight(s, row, 28))
	row++
	set("A", f.Name, strong)
	set("B", purpose, plain)
	b.keep(b.file.SetRowHeight(s, row, heightOf(max(linesOf(purpose, 95, false), linesOf(f.Name, 26, true)))))
	row += 2
	for _, l := range append(b.in.parties(), facts...) {
		if l.value == "" {
			continue
		}
		set("A", l.name, strong)
		set("B", l.value, plain)
		b.keep(b.file.SetRowHeight(s, row, heightOf(max(linesOf(l.value, 95, false), linesOf(l.name, 26, true)))))
		row++
	}
	for _, group := range []struct {
		name  string
		lines []string
	}{{"What it rests on", b.in.assumptions()}, {"Take care", append(slices.Clone(b.care), b.in.cautions()...)}} {
		row++
		set("A", group.name, strong)
		for _, line := range group.lines {
			set("B", line, caution)
			b.keep(b.file.SetRowHeight(s, row, heightOf(linesOf(line, 95, false))))
			row++
		}
	}
	b.page(s, a4, "")
	one := 1 // the cover is one page, whatever it has to say
	b.keep(b.file.SetPageLayout(s, &excelize.PageLayoutOptions{FitToHeight: &one}))
	b.printed(s, 0, fmt.Sprintf("$A$1:$B$%d", row-1))
}

// parties says whose document this is, of when, under which terms, and which copy: the head of every cover and of the
// printed schedule.
func (in Input) parties() []fact {
	f, t := in.Register.FitOut, in.Register.FitOut.Tenancy
	return append([]fact{{"Premises", f.Premises.Address}, {"Tenant", f.Tenant}, {"Landlord", f.Landlord}, {"Contractor", f.Firm},
		{"Prepared by", in.By}, {"Prepared on", in.Now.Format("2 January 2006, 15:04")}, {"Revision", in.Revision},
		{"Licence to alter", join(t.Licence, t.LicenceDate)}, {"Reinstatement clause", t.Clause}, {"Standard asked for", t.Standard},
		{"Break date", breakDate(t)}, {"Expiry", t.Expiry}}, in.issued()...)
}

func join(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

func breakDate(t domain.Tenancy) string {
	if t.BreakDate != "" && t.BreakVacant {
		return t.BreakDate + "; needs vacant possession: everything, demountable partitions included, must be out by that day"
	}
	return t.BreakDate
}

// assumptions says what the document takes as given.
func (in Input) assumptions() []string {
	if in.Plan == nil { // a document of the register alone
		return []string{"Lengths in millimetres, masses in kilograms."}
	}
	s := in.Plan.Summary
	stands := fmt.Sprintf("The register as it stands: %s, %s, %s.", countOf(s.Pieces, "piece", "pieces"), countOf(s.Fixings, "fixing", "fixings"), countOf(s.Holes, "hole face to make good", "hole faces to make good"))
	if in.Register.FitOut.NotBuilt { // nothing of it is drilled, and nothing is given back
		stands = fmt.Sprintf("The layout as it is described: %s, %s, %s to drill.", countOf(s.Pieces, "piece", "pieces"), countOf(s.Fixings, "fixing", "fixings"), countOf(s.Holes, "hole face", "hole faces"))
	}
	out := []string{
		stands,
		"Lengths in millimetres, masses in kilograms from mean densities, times in minutes for one person unless said otherwise.",
		"Work rates are common practice with no published source, unless the Sources say otherwise; prices are the firm's own.",
	}
	if own := len(in.Register.FitOut.Crew.Rates); own > 0 {
		out = append(out, fmt.Sprintf("%s by the crew's own minutes instead.", countOf(own, "job goes", "jobs go")))
	}
	if s.Provisional {
		out = append(out, "Provisional figures of pieces, holes, hours and money: "+s.Basis.Says()+", and marked.")
	}
	if !s.CostKnown && !in.Register.FitOut.NotBuilt {
		out = append(out, fmt.Sprintf("Giving the place back: %s no rate, so no total is given for it.", countOf(s.WithoutRate, "item has", "items have")))
	}
	return out
}

// cautions are what is known of asbestos here, and then the usual ones.
func (in Input) cautions() []string {
	var out []string
	for _, a := range advice.AsbestosIn(in.Register) {
		out = append(out, a.Text+". "+a.Mend+".")
	}
	return append(out, cautions...)
}

// cautions are the usual ones, in plain words; every document carries them.
var cautions = []string{
	"Asbestos: no work that disturbs the fabric before a refurbishment and demolition survey of the area has been seen, in any building of an age to have it.",
	"Services: isolated, locked off and proved dead by a licensed person before anything that holds them is touched.",
	"Structure: the sizes here are inputs, not a design. Temporary support is designed and checked by a competent person.",
	"Work at height: guard rails stay until nobody has to be up there; nobody below; exclusion zone under open edges.",
	"Drilling, cutting and breaking masonry makes silica dust: extract, vacuum, mask.",
	"Lifting: the guideline figures are a filter that asks for an assessment, not a limit in law.",
	"Local law, the landlord's consent and licensed practice come before anything written here. This is no legal or structural advice.",
}

// howLong says taking out, making good, and the two together.
func (in Input) howLong() string {
	s, d := in.Plan.Summary, in.Plan.MakingGood.Days
	words := fmt.Sprintf("taking out %s (%.1f person-hours), then making good and redecoration %s (%.1f person-hours, %s): %s in all",
		days(s.Days), s.PersonHours, days(s.MakingDays), s.MakingHours, countOf(d.People, "person", "people"), days(s.AllDays))
	if d.CureRules {
		words += fmt.Sprintf(". Curing sets the making good, up to %d h", d.CureHours)
	}
	return words
}

// notInFigure lists, a line each, what giving the place back also costs; "" where nothing is left out.
func (in Input) notInFigure() string { return strings.Join(in.Plan.Summary.NotInCost, "\n") }

// countOf is a number with its word.
func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
