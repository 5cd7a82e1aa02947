package reports

import (
	"fmt"
	"math"
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
	row     int // last written
	first   int // first data row
	last    int // last row that the filter covers
}

// newTable starts a sheet. before is called for anything that must stand on the sheet ahead of the rows, such as a
// protection; the stream drops it without a word afterwards.
func (b *book) newTable(name string, columns []column, size int, rows int) *table {
	t := &table{book: b, sheet: b.sheet(name), columns: columns, first: 2}
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
	t.last = max(rows+1, 2)
	end, _ := excelize.ColumnNumberToName(len(columns))
	b.page(t.sheet, size, 1, "")
	b.keep(b.file.AutoFilter(t.sheet, fmt.Sprintf("A1:%s%d", end, t.last), nil))
	heads := make([]any, len(columns))
	for i, c := range columns {
		heads[i] = styled{c.head, head}
	}
	t.add(heads...)
	return t
}

// add writes one row. Text is always text: a cell that begins with an equals sign stays words.
func (t *table) add(cells ...any) {
	t.row++
	if t.book.err != nil {
		return
	}
	out := make([]any, len(cells))
	lines := 1
	for i, c := range cells {
		look := t.columns[i].style
		if s, ok := c.(styled); ok {
			c, look = s.value, s.style
		}
		cell := excelize.Cell{StyleID: t.book.styles[look]}
		switch v := c.(type) {
		case formula:
			cell.Formula, cell.Value = v.text, v.value
		case nil:
		case string:
			cell.Value = safe(v)
			lines = max(lines, linesOf(v, t.columns[i].width))
		default:
			cell.Value = v
		}
		out[i] = cell
	}
	t.book.keep(t.stream.SetRow(fmt.Sprintf("A%d", t.row), out, excelize.RowOpts{Height: math.Min(float64(lines)*15+1, 400)}))
}

// safe cuts text to what a cell holds and drops what the file format cannot hold.
func safe(s string) string {
	const most = 32767
	clean := make([]rune, 0, len(s))
	for _, c := range s {
		if c == '\t' || c == '\n' || c >= ' ' && c != utf8.RuneError && c != 0xFFFE && c != 0xFFFF {
			clean = append(clean, c)
		}
		if len(clean) == most {
			break
		}
	}
	return string(clean)
}

// linesOf is about how many lines a text takes in a column, so that a row is as high as its longest cell.
func linesOf(s string, width float64) int {
	lines, length := 1, 0.0
	for _, c := range s {
		length++
		if c == '\n' || length > width*1.05 {
			lines, length = lines+1, 0
		}
	}
	return lines
}

// end finishes the sheet.
func (t *table) end() {
	if t.book.err == nil {
		t.book.keep(t.stream.Flush())
	}
}

// rangeOf is a column's data rows as a reference: "J2:J40".
func (t *table) rangeOf(letter string, rows int) string {
	return fmt.Sprintf("%s%d:%s%d", letter, t.first, letter, t.first+max(rows, 1)-1)
}
