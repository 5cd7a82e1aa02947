package reports

import (
	"fmt"
	"io"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/plan"
)

// Input is what a document is made of. Now is the moment it is made, By who makes it, Revision its mark.
type Input struct {
	Register *domain.Register
	Plan     *plan.Plan
	Now      time.Time
	By       string
	Revision string
}

// book is a workbook being written. The first fault is kept, and the rest of the writing does nothing.
type book struct {
	file   *excelize.File
	in     Input
	title  string
	styles map[style]int
	err    error
	sheets int
}

// style names how a cell looks.
type style string

// The styles. Text wraps and sits at the top, so that long words never run over their neighbours.
const (
	plain    style = "plain"
	head     style = "head"
	strong   style = "strong"
	whole    style = "whole"    // 1,234
	tenths   style = "tenths"   // 1,234.5
	thousand style = "thousand" // 1,234.567
	money    style = "money"
	toFill   style = "to-fill" // for a person to write in
	fillCash style = "to-fill-money"
	title    style = "title"
	caution  style = "caution"
	total    style = "total"
	totalSum style = "total-money"
)

func newBook(in Input, name string) *book {
	b := &book{file: excelize.NewFile(), in: in, title: name, styles: map[style]int{}}
	cash := "#,##0"
	if digits := domain.MinorDigits(in.Register.FitOut.Currency); digits > 0 {
		cash += "." + "0000"[:digits]
	}
	top := &excelize.Alignment{Vertical: "top", WrapText: true}
	line := []excelize.Border{{Type: "bottom", Style: 1, Color: "BFBFBF"}}
	box := []excelize.Border{{Type: "bottom", Style: 1, Color: "7F7F7F"}, {Type: "top", Style: 1, Color: "7F7F7F"}, {Type: "left", Style: 1, Color: "7F7F7F"}, {Type: "right", Style: 1, Color: "7F7F7F"}}
	open := &excelize.Protection{Locked: false}
	three, one, zero := "#,##0.###", "#,##0.0", "#,##0"
	for name, s := range map[style]excelize.Style{
		plain:    {Alignment: top, Border: line},
		head:     {Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{Vertical: "bottom", WrapText: true}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E7E6E6"}}, Border: []excelize.Border{{Type: "bottom", Style: 2, Color: "404040"}}},
		strong:   {Font: &excelize.Font{Bold: true}, Alignment: top, Border: line},
		whole:    {CustomNumFmt: &zero, Alignment: &excelize.Alignment{Vertical: "top"}, Border: line},
		tenths:   {CustomNumFmt: &one, Alignment: &excelize.Alignment{Vertical: "top"}, Border: line},
		thousand: {CustomNumFmt: &three, Alignment: &excelize.Alignment{Vertical: "top"}, Border: line},
		money:    {CustomNumFmt: &cash, Alignment: &excelize.Alignment{Vertical: "top", Horizontal: "right", WrapText: true}, Border: line},
		toFill:   {Alignment: top, Border: box, Protection: open},
		fillCash: {CustomNumFmt: &cash, Alignment: &excelize.Alignment{Vertical: "top"}, Border: box, Protection: open},
		title:    {Font: &excelize.Font{Bold: true, Size: 18}},
		caution:  {Alignment: top, Border: []excelize.Border{{Type: "left", Style: 5, Color: "404040"}}},
		total:    {Font: &excelize.Font{Bold: true}, Alignment: top, Border: []excelize.Border{{Type: "top", Style: 2, Color: "404040"}}},
		totalSum: {Font: &excelize.Font{Bold: true}, CustomNumFmt: &cash, Alignment: &excelize.Alignment{Vertical: "top", Horizontal: "right", WrapText: true}, Border: []excelize.Border{{Type: "top", Style: 2, Color: "404040"}}},
	} {
		id, err := b.file.NewStyle(&s)
		b.keep(err)
		b.styles[name] = id
	}
	f := in.Register.FitOut
	b.keep(b.file.SetDocProps(&excelize.DocProperties{Title: name + ": " + f.Name, Creator: in.By, Created: in.Now.UTC().Format(time.RFC3339)}))
	return b
}

func (b *book) keep(err error) {
	if b.err == nil && err != nil {
		b.err = err
	}
}

// sheet adds a sheet; the first one takes the place of the one that a new file has.
func (b *book) sheet(name string) string {
	b.sheets++
	if b.sheets == 1 {
		b.keep(b.file.SetSheetName("Sheet1", name))
		return name
	}
	_, err := b.file.NewSheet(name)
	b.keep(err)
	return name
}

// paper sizes, by their numbers in the file format.
const (
	a4 = 9
	a3 = 8
)

// page sets a sheet up to print: landscape, one page wide, titles repeated, numbered.
func (b *book) page(sheet string, size int, titleRow int, area string) {
	landscape, wide, any, fit := "landscape", 1, 0, true
	b.keep(b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &size, Orientation: &landscape, FitToWidth: &wide, FitToHeight: &any}))
	b.keep(b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	left, right, top, bottom := 0.4, 0.4, 0.5, 0.6
	b.keep(b.file.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &left, Right: &right, Top: &top, Bottom: &bottom}))
	f := b.in.Register.FitOut
	b.keep(b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: fmt.Sprintf("&L%s, %s&CPage &P of &N&R%s %s", footer(b.title), footer(f.Name), footer(b.in.Revision), b.in.Now.Format("2006-01-02"))}))
	if titleRow > 0 {
		b.keep(b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", sheet, titleRow, titleRow), Scope: sheet}))
	}
	if area != "" {
		b.keep(b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("'%s'!%s", sheet, area), Scope: sheet}))
	}
}

// footer keeps a name from being read as a code of the footer, and within what the format allows.
func footer(s string) string {
	out := ""
	for _, c := range s {
		if c == '&' {
			out += "&&"
			continue
		}
		out += string(c)
	}
	if len(out) > 60 {
		out = out[:60]
	}
	return out
}

// write finishes the workbook.
func (b *book) write(w io.Writer) error {
	if b.err != nil {
		return fmt.Errorf("writing %s: %w", b.title, b.err)
	}
	b.file.SetActiveSheet(0)
	if err := b.file.Write(w); err != nil {
		return fmt.Errorf("writing %s: %w", b.title, err)
	}
	return b.file.Close()
}

// major is an amount in minor units as a cell holds it.
func (b *book) major(minor int64) float64 {
	out := float64(minor)
	for range domain.MinorDigits(b.in.Register.FitOut.Currency) {
		out /= 10
	}
	return out
}
