package reports

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/plan"
	"unpick/domain/schedule"
	"unpick/domain/timetable"
)

// Input is what a document is made of. Now is the moment it is made, By who makes it, Revision its mark.
type Input struct {
	Register *domain.Register
	Plan     *plan.Plan
	// Timetable is the programme on its days, for the strip-out workbook; without one the workbook has no such sheet.
	Timetable *timetable.Timetable
	Now       time.Time
	By        string
	Revision  string
	Scope     schedule.Scope // of what the plan is; the zero value is what the register says
	// Issue is the issue that this copy is, with its lines and the head of the log; nil is a draft, and says so.
	Issue *issue.Issue
	// Before is the issue before this one, 0 for none, and Changes what changed since it.
	Before  int
	Changes []issue.Change
	Still   []issue.Agreed // what went out as it was agreed
	// Positions are where the items of the schedule stand, by item number: what was said is carried into the next issue.
	Positions map[int]answer.Position
}

// book is a workbook being written. The first fault is kept, and the rest of the writing does nothing.
type book struct {
	file   *excelize.File
	in     Input
	title  string
	styles map[style]int
	err    error
	sheets int
	rated  int      // rows of the sheet of rates
	care   []string // what to be careful of in this document, before the usual
}

// style names how a cell looks.
type style string

// The styles. Text wraps and sits at the top, so that long words never run over their neighbours.
const (
	plain     style = "plain"
	head      style = "head"
	headRight style = "head-right"  // over figures
	headMid   style = "head-middle" // over numbers that name a row
	strong    style = "strong"
	whole     style = "whole"    // 1,234
	tenths    style = "tenths"   // 1,234.5
	thousand  style = "thousand" // a quantity to three decimals, shown with those it has
	money     style = "money"
	toFill    style = "to-fill" // for a person to write in
	fillCash  style = "to-fill-money"
	fillShare style = "to-fill-share" // whole percent
	title     style = "title"
	caption   style = "caption" // over a drawing; runs on over empty cells
	caution   style = "caution"
	number    style = "number" // names a row: centred, so that it does not run into the words beside it
	total     style = "total"
)

// heading is how the heading over a column looks.
func (s style) heading() style {
	switch s {
	case whole, tenths, thousand, money, fillCash, fillShare:
		return headRight
	case number:
		return headMid
	}
	return head
}

// totalled is how the total under a column looks.
func (s style) totalled() style {
	switch s {
	case whole, tenths, thousand, money:
		return "total-" + s
	}
	return total
}

func newBook(in Input, name string) *book {
	b := &book{file: excelize.NewFile(), in: in, title: name, styles: map[style]int{}}
	b.keep(b.file.SetDefaultFont(fontName))
	b.makeStyles()
	f := in.Register.FitOut
	b.keep(b.file.SetDocProps(&excelize.DocProperties{Title: name + ": " + f.Name, Creator: in.By, Created: in.Now.UTC().Format(time.RFC3339)}))
	return b
}

// fontName is on nearly every machine, and the free fonts that stand in for it have its widths, so that rows keep
// the height they were given.
const fontName, fontPoints = "Arial", 10

// makeStyles makes every style of the workbook. Greys only, so that a black-and-white print loses nothing.
func (b *book) makeStyles() {
	cash := "#,##0"
	if digits := domain.MinorDigits(b.in.Register.FitOut.Currency); digits > 0 {
		cash += "." + "0000"[:digits]
	}
	type border = []excelize.Border
	words := func() *excelize.Alignment {
		return &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1, WrapText: true}
	}
	right := func() *excelize.Alignment {
		return &excelize.Alignment{Vertical: "top", Horizontal: "right", Indent: 1, WrapText: true}
	}
	line := border{{Type: "bottom", Style: 1, Color: "BFBFBF"}}
	over := border{{Type: "top", Style: 2, Color: "404040"}}
	under := border{{Type: "bottom", Style: 2, Color: "404040"}}
	box := border{{Type: "bottom", Style: 1, Color: "7F7F7F"}, {Type: "top", Style: 1, Color: "7F7F7F"}, {Type: "left", Style: 1, Color: "7F7F7F"}, {Type: "right", Style: 1, Color: "7F7F7F"}}
	grey := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E7E6E6"}}
	all := map[style]excelize.Style{
		plain:     {Alignment: words(), Border: line},
		number:    {Alignment: &excelize.Alignment{Vertical: "top", Horizontal: "center"}, Border: line},
		head:      {Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{Vertical: "bottom", Horizontal: "left", Indent: 1, WrapText: true}, Fill: grey, Border: under},
		headRight: {Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{Vertical: "bottom", Horizontal: "right", Indent: 1, WrapText: true}, Fill: grey, Border: under},
		headMid:   {Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{Vertical: "bottom", Horizontal: "center", WrapText: true}, Fill: grey, Border: under},
		strong:    {Font: &excelize.Font{Bold: true}, Alignment: words(), Border: line},
		toFill:    {Alignment: words(), Border: box},
		fillCash:  {CustomNumFmt: &cash, Alignment: right(), Border: box},
		fillShare: {Alignment: right(), Border: box},
		title:     {Font: &excelize.Font{Bold: true, Size: 18}},
		caption:   {Font: &excelize.Font{Bold: true, Size: 12}},
		caution:   {Alignment: words(), Border: border{{Type: "left", Style: 5, Color: "404040"}}},
		total:     {Font: &excelize.Font{Bold: true}, Alignment: words(), Border: over},
	}
	for name, format := range map[style]string{whole: "#,##0", tenths: "#,##0.0", thousand: "General", money: cash} {
		all[name] = excelize.Style{CustomNumFmt: &format, Alignment: right(), Border: line}
		all[name.totalled()] = excelize.Style{Font: &excelize.Font{Bold: true}, CustomNumFmt: &format, Alignment: right(), Border: over}
	}
	for name, s := range all {
		if s.Font == nil {
			s.Font = &excelize.Font{}
		}
		s.Font.Family = fontName
		if s.Font.Size == 0 {
			s.Font.Size = fontPoints
		}
		id, err := b.file.NewStyle(&s)
		b.keep(err)
		b.styles[name] = id
	}
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

// page sets a sheet up to print: landscape, one page wide, numbered, with a line at the head where header is not
// empty. It must come before the sheet's stream starts, which takes no properties of the sheet afterwards.
func (b *book) page(sheet string, size int, header string) {
	landscape, wide, any, fit := "landscape", 1, 0, true
	b.keep(b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &size, Orientation: &landscape, FitToWidth: &wide, FitToHeight: &any}))
	b.keep(b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	left, right, top, bottom, edge := 0.4, 0.4, 0.5, 0.6, 0.3
	if b.in.Issue == nil && !strings.Contains(header, "&C") {
		header += "&C" + draftWords
	}
	if header != "" {
		top = 0.8
	}
	b.keep(b.file.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &left, Right: &right, Top: &top, Bottom: &bottom, Header: &edge, Footer: &edge}))
	f := b.in.Register.FitOut
	b.keep(b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddHeader: header, OddFooter: fmt.Sprintf("&L&8 %s, %s&R&8 Page &P of &N, %s %s", footer(b.title), footer(f.Name), footer(b.in.Revision), b.in.Now.Format("2006-01-02"))}))
}

// printed names what of a sheet is printed, and the row that heads every page, 0 for none.
func (b *book) printed(sheet string, titleRow int, area string) {
	if titleRow > 0 {
		b.keep(b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", sheet, titleRow, titleRow), Scope: sheet}))
	}
	b.keep(b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("'%s'!%s", sheet, area), Scope: sheet}))
}

// footer keeps a name from being read as a code of the footer, and within what the format allows.
func footer(s string) string {
	const most = 50
	letters := []rune(safe(strings.ReplaceAll(s, "\n", " ")))
	return strings.ReplaceAll(string(letters[:min(len(letters), most)]), "&", "&&")
}

// write finishes the workbook.
func (b *book) write(w io.Writer) error {
	b.changes()
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
	return float64(minor) / math.Pow10(domain.MinorDigits(b.in.Register.FitOut.Currency))
}
