package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// column is one column of a table: its heading with the unit in it, its width in characters, and how it looks.
type column struct {
	head  string
	width float64
	style style
}

// formula is a cell that calculates; value is what it comes to now, so that a reader without a calculator sees it.
type formula struct {
	text  string
	value any
}

// styled is a cell that looks other than its column.
type styled struct {
	value any
	style style
}

// table is a sheet being written row by row: one heading row, frozen and repeated, a filter, then the rows.
type table struct {
	book    *book
	sheet   string
	columns []column
	stream  *excelize.StreamWriter
	rows    int // of data; totals stand below them, outside the filter
	row     int // last written
	cells   []excelize.Cell
	written []any // pointers to cells: the same for each row, which the stream does not keep
}

// first is the row of the first data.
const first = 2

// newTable starts a sheet for so many rows of data. header is a line at the head of every printed page.
func (b *book) newTable(name string, columns []column, size int, rows int, header ...string) *table {
	t := &table{book: b, sheet: b.sheet(name), columns: columns, rows: rows, cells: make([]excelize.Cell, len(columns)), written: make([]any, len(columns))}
	for i := range t.cells {
		t.written[i] = &t.cells[i]
	}
	b.page(t.sheet, size, strings.Join(header, ""))
	stream, err := b.file.NewStreamWriter(t.sheet)
	b.keep(err)
	t.stream = stream
	if b.err != nil {
		return t
	}
	for i, c := range columns {
		b.keep(stream.SetColWidth(i+1, i+1, c.width))
	}
	b.keep(stream.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	b.keep(b.file.AutoFilter(t.sheet, fmt.Sprintf("A1:%s%d", t.letter(len(columns)-1), max(rows, 1)+1), nil))
	heads := make([]any, len(columns))
	for i, c := range columns {
		heads[i] = styled{c.head, c.style.heading()}
	}
	t.add(heads...)
	if rows == 0 {
		t.add("nothing to list")
		b.keep(stream.MergeCell("A2", t.letter(min(len(columns)-1, 4))+"2"))
	}
	return t
}

// letter names a column.
func (t *table) letter(i int) string {
	name, err := excelize.ColumnNumberToName(i + 1)
	t.book.keep(err)
	return name
}

// add writes one row. Text is always text: a cell that begins with an equals sign stays words.
func (t *table) add(cells ...any) {
	t.row++
	if t.book.err != nil {
		return
	}
	lines := 1
	for i, c := range cells {
		look := t.columns[i].style
		if s, ok := c.(styled); ok {
			c, look = s.value, s.style
		}
		cell := &t.cells[i]
		*cell = excelize.Cell{StyleID: t.book.styles[look]}
		switch v := c.(type) {
		case formula:
			cell.Formula, cell.Value = v.text, v.value
		case nil:
		case string:
			if v == "" {
				break // an empty cell, not one that holds no words
			}
			v = safe(v)
			cell.Value = v
			lines = max(lines, linesOf(v, t.columns[i].width, look == head || look == headRight || look == strong || look == total))
		default:
			cell.Value = v
		}
	}
	t.book.keep(t.stream.SetRow("A"+strconv.Itoa(t.row), t.written[:len(cells)], excelize.RowOpts{Height: heightOf(lines)}))
}

// sum is a total under a column: what it comes to now and, where it is not the plain sum of the column, how.
type sum struct {
	letter string
	value  any
	how    string
}

// total writes the row below the data: a label, and a live sum under each column that has one.
func (t *table) total(label string, labelAt string, sums ...sum) {
	cells := make([]any, len(t.columns))
	for i, c := range t.columns {
		cells[i] = styled{"", total}
		letter := t.letter(i)
		if letter == labelAt {
			cells[i] = styled{label, total}
		}
		for _, s := range sums {
			if s.letter != letter {
				continue
			}
			if s.how == "" {
				s.how = "SUM(" + t.rangeOf(letter) + ")"
			}
			cells[i] = styled{formula{s.how, s.value}, c.style.totalled()}
		}
	}
	t.add(cells...)
}

// safe cuts text to what a cell holds and drops what the file format cannot hold.
func safe(s string) string {
	const most = 32767 // counted in UTF-16, as the format does
	plainText := len(s) <= most
	for i := 0; plainText && i < len(s); i++ {
		plainText = s[i] >= ' ' && s[i] < utf8.RuneSelf
	}
	if plainText {
		return s
	}
	var clean strings.Builder
	units := 0
	for _, c := range s {
		if c != '\t' && c != '\n' && c < ' ' || c == 0x7F || c == utf8.RuneError || c == 0xFFFE || c == 0xFFFF {
			continue
		}
		if units += utf16.RuneLen(c); units > most {
			break
		}
		clean.WriteRune(c)
	}
	return clean.String()
}

// narrow is the width under which a line holds too few words to count on the mean letter.
const narrow = 24

// linesOf is about how many lines a text takes in a column, broken between words, so that a row is as high as its
// longest cell. A column's width counts digits; words run a little narrower, bold ones a little wider.
func linesOf(s string, width float64, bold bool) int {
	width-- // the indent
	room := int(width * 1.22)
	if bold || width < narrow {
		room = int(width * 1.1) // few words share out their odd letters in a short line
	}
	room = max(room, 1)
	if len(s) <= room && strings.IndexByte(s, '\n') < 0 {
		return 1
	}
	lines, used, word := 1, 0, 0
	for i := 0; i <= len(s); i++ {
		if i < len(s) && s[i] != ' ' && s[i] != '\n' {
			if s[i]&0xC0 != 0x80 { // not the tail of a letter
				word++
			}
			continue
		}
		if used > 0 && used+word > room {
			lines, used = lines+1, 0
		}
		lines += max(word-1, 0) / room
		used += min(word, room) + 1
		word = 0
		if i < len(s) && s[i] == '\n' {
			lines, used = lines+1, 0
		}
	}
	return lines
}

// capital is words as a heading begins: with a capital letter.
func capital(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// heightOf is a row's height in points; the format takes no row over 409.
func heightOf(lines int) float64 { return math.Min(float64(lines)*12.8+3, 400) }

// end finishes the sheet. Only what was written is printed.
func (t *table) end() { t.endPrinting(t.row) }

// endUnprinted finishes a sheet of which only the head is printed.
func (t *table) endUnprinted() { t.endPrinting(1) }

func (t *table) endPrinting(rows int) {
	if t.book.err != nil {
		return
	}
	t.book.printed(t.sheet, 1, fmt.Sprintf("$A$1:$%s$%d", t.letter(len(t.columns)-1), rows))
	t.book.keep(t.stream.Flush())
}

// choices lets a column of data be picked from a list.
func (t *table) choices(letter string, from []string) {
	if t.book.err != nil {
		return
	}
	v := excelize.NewDataValidation(true)
	v.Sqref = t.rangeOf(letter)
	t.book.keep(v.SetDropList(from))
	t.book.keep(t.book.file.AddDataValidation(t.sheet, v))
}

// rangeOf is a column's data rows as a reference: "J2:J40".
func (t *table) rangeOf(letter string) string {
	return fmt.Sprintf("%s%d:%s%d", letter, first, letter, first+max(t.rows, 1)-1)
}
