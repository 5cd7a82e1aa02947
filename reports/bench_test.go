package reports

import (
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// BenchmarkWorkbook50000 writes a making-good workbook of 50,000 rows, and in the same run the bare library writing the
// same cells of its long sheet, in the same looks and heights. The metric is how many times as long the whole workbook
// takes, all other sheets with it, by the best of each: 1.5 is the reach. What else runs on the machine only ever slows
// a run down.
func BenchmarkWorkbook50000(b *testing.B) {
	const rows = 50_000
	in := inputOf(b, priced(b, readRegister(b, "wall-with-door")))
	good := in.Plan.MakingGood
	some := good.Rows
	good.Rows = nil
	for i := range rows {
		row := some[i%len(some)]
		row.Number = i + 1
		good.Rows = append(good.Rows, row)
	}
	in.Plan.MakingGood = good
	same := sheetCells(b, in)
	if len(same.rows) != rows+2 {
		b.Fatalf("%d rows to write, want %d", len(same.rows), rows+2)
	}
	var ours, bare []time.Duration
	for b.Loop() {
		runtime.GC() // neither pays for what the other left
		start := time.Now()
		if err := MakingGood(io.Discard, in); err != nil {
			b.Fatal(err)
		}
		ours = append(ours, time.Since(start))
		runtime.GC()
		start = time.Now()
		writeBare(b, same, io.Discard)
		bare = append(bare, time.Since(start))
	}
	o, w := slices.Min(ours), slices.Min(bare)
	b.ReportMetric(o.Seconds()/w.Seconds(), "times-bare")
	b.ReportMetric(float64(o.Milliseconds()), "ours-ms")
	b.ReportMetric(float64(w.Milliseconds()), "bare-ms")
	b.ReportMetric(0, "ns/op")
}

// bareSheet is a sheet as plain calls of the library write it.
type bareSheet struct {
	styles  []*excelize.Style // by number, from 1 on
	heights []float64
	rows    [][]any // of *excelize.Cell
}

// sheetCells is the long sheet, read back once from what we write.
func sheetCells(b *testing.B, in Input) bareSheet {
	b.Helper()
	f := written(b, MakingGood, in)
	const sheet = "Making good"
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		b.Fatal(err)
	}
	var out bareSheet
	for id := 1; ; id++ {
		s, err := f.GetStyle(id)
		if err != nil {
			break // the last one is passed
		}
		out.styles = append(out.styles, s)
	}
	for y, row := range rows {
		height, err := f.GetRowHeight(sheet, y+1)
		if err != nil {
			b.Fatal(err)
		}
		out.heights = append(out.heights, height)
		cells := make([]any, len(rows[0])) // a row that ends in empty cells is read back short
		for x := range cells {
			value := ""
			if x < len(row) {
				value = row[x]
			}
			cells[x] = cellAt(b, f, sheet, x, y, value)
		}
		out.rows = append(out.rows, cells)
	}
	return out
}

func cellAt(b *testing.B, f *excelize.File, sheet string, x, y int, value string) *excelize.Cell {
	b.Helper()
	name, err := excelize.CoordinatesToCellName(x+1, y+1)
	if err != nil {
		b.Fatal(err)
	}
	c := excelize.Cell{Value: value}
	if c.Formula, err = f.GetCellFormula(sheet, name); err != nil {
		b.Fatal(err)
	}
	if c.StyleID, err = f.GetCellStyle(sheet, name); err != nil {
		b.Fatal(err)
	}
	if kind, _ := f.GetCellType(sheet, name); kind == excelize.CellTypeNumber || kind == excelize.CellTypeUnset {
		var number float64
		if _, err := fmt.Sscan(value, &number); err == nil && !math.IsNaN(number) {
			c.Value = number
		}
	}
	if value == "" {
		c.Value = nil
	}
	return &c
}

func writeBare(tb testing.TB, s bareSheet, to io.Writer) {
	tb.Helper()
	f := excelize.NewFile()
	for i, style := range s.styles {
		if id, err := f.NewStyle(style); err != nil || id != i+1 {
			tb.Fatalf("style %d is %d (%v)", i+1, id, err)
		}
	}
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		tb.Fatal(err)
	}
	for y, row := range s.rows {
		if err := w.SetRow("A"+strconv.Itoa(y+1), row, excelize.RowOpts{Height: s.heights[y]}); err != nil {
			tb.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		tb.Fatal(err)
	}
	if err := f.Write(to); err != nil {
		tb.Fatal(err)
	}
}
