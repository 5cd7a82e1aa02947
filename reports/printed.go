package reports

import (
	"fmt"
	"strings"

	"unpick/reports/paper"
)

// about is what a printed document says of itself.
func (in Input) about(title string) paper.About {
	f := in.Register.FitOut
	return paper.About{Title: title + ": " + f.Name, Author: in.By, Made: in.Now,
		Foot: strings.Join([]string{title, f.Name, printedMark(in), in.Now.Format("2006-01-02")}, ", ")}
}

// Heights of letters on a page.
const (
	headingMm = 5
	wordsMm   = 2.8
)

// opening writes a heading and lines below it, and answers where they end. A name and what stands for it are set in two
// columns; what has no value is left out.
func opening(d *paper.Document, wideMm float64, heading, purpose string, facts []fact) float64 {
	y := d.Paragraph(paper.MarginMm, paper.MarginMm, wideMm-2*paper.MarginMm, heading, headingMm, true)
	y = d.Paragraph(paper.MarginMm, y+1, wideMm-2*paper.MarginMm, purpose, wordsMm, false) + 2
	const names = 42
	for _, f := range facts {
		if f.value == "" {
			continue
		}
		d.Paragraph(paper.MarginMm, y, names, f.name, wordsMm, true)
		y = d.Paragraph(paper.MarginMm+names, y, wideMm-2*paper.MarginMm-names, f.value, wordsMm, false) + .6
	}
	return y + 2
}

// takeCare writes cautions from y down, on a new page where they do not fit.
func takeCare(d *paper.Document, y float64, size paper.Size, lines []string) float64 {
	high := wordsMm * 2.0
	for _, line := range lines {
		high += d.Height(line, size.WideMm-2*paper.MarginMm-3, wordsMm, false) + .3
	}
	if y+high > size.HighMm-12 {
		d.Page(size)
		y = paper.MarginMm
	}
	y = d.Paragraph(paper.MarginMm, y, size.WideMm-2*paper.MarginMm, "Take care", wordsMm, true)
	for _, line := range lines {
		y = d.Paragraph(paper.MarginMm+3, y, size.WideMm-2*paper.MarginMm-3, line, wordsMm, false) + .3
	}
	return y
}

// decimals writes a figure with so many places, thousands parted.
func decimals(v float64, places int) string {
	words := fmt.Sprintf("%.*f", places, v)
	whole, rest, _ := strings.Cut(words, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		rest = "." + rest
	}
	return sign + whole + rest
}

// printedMark says on every printed page which copy it is.
func printedMark(in Input) string {
	if in.Issue == nil {
		return draftWords
	}
	return in.Revision
}
