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

// opening writes a heading and lines below it, on as many pages as they need, and answers where they end. A name and what
// stands for it are set in two columns; what has no value is left out.
func opening(d *paper.Document, wideMm float64, heading, purpose string, facts []fact) float64 {
	y := d.Paragraph(paper.MarginMm, paper.MarginMm, wideMm-2*paper.MarginMm, heading, headingMm, true)
	y = d.Paragraph(paper.MarginMm, y+1, wideMm-2*paper.MarginMm, purpose, wordsMm, false) + 2
	const names, together = 42, 12 // mm of what stands for a name are kept with it
	for _, f := range facts {
		if f.value == "" {
			continue
		}
		room := wideMm - 2*paper.MarginMm - names
		y = d.Break(y, min(together, d.Height(f.value, room, wordsMm, false)))
		named := d.Paragraph(paper.MarginMm, y, names, f.name, wordsMm, true)
		if y = d.Flow(paper.MarginMm+names, y, room, f.value, wordsMm, false); y < named && named-y < together {
			y = named // a long name beside few words
		}
		y += .6
	}
	return y + 2
}

// takeCare writes cautions from y down, on a new page where they do not fit.
func takeCare(d *paper.Document, y float64, size paper.Size, lines []string) float64 {
	wide := size.WideMm - 2*paper.MarginMm - 3
	high := wordsMm * 2.0
	for _, line := range lines {
		high += d.Height(line, wide, wordsMm, false) + .3
	}
	y = d.Break(y, min(high, size.HighMm/2))
	y = d.Paragraph(paper.MarginMm, y, wide+3, "Take care", wordsMm, true)
	for _, line := range lines {
		y = d.Flow(paper.MarginMm+3, y, wide, line, wordsMm, false) + .3
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
	return fmt.Sprintf("%s, head of the log %.12s", in.Revision, in.Issue.Head)
}
