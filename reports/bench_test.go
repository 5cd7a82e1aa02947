package reports

import (
	"fmt"
	"io"
	"math"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// BenchmarkWorkbook50000 writes a making-good workbook of 50,000 rows, and in the same run the bare library writing
// the same cells of the same sheet. The metric is how many times as long the whole workbook takes: 1.5 is the reach.
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
	cells := sheetCells(b, in)
	if len(cells) != rows+2 {
		b.Fatalf("%d rows to write, want %d", len(cells), rows+2)
	}
	var ours, bare time.Duration
	for b.Loop() {
		start := time.Now()
		if err := MakingGood(io.Discard, in); err != nil {
			b.Fatal(err)
		}
		ours += time.Since(start)
		start = time.Now()
		writeBare(b, cells)
		bare += time.Since(start)
	}
	b.ReportMetric(ours.Seconds()/bare.Seconds(), "times-bare")
	b.ReportMetric(float64(ours.Milliseconds())/float64(b.N), "ours-ms")
	b.ReportMetric(float64(bare.Milliseconds())/float64(b.N), "bare-ms")
	b.ReportMetric(0, "ns/op")
}

// sheetCells are the cells of the long sheet, read back once from what we write.
func sheetCells(b *testing.B, in Input) [][]any {
	b.Helper()
	f := written(b, MakingGood, in)
	const sheet = "Making good"
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		b.Fatal(err)
	}
	out := make([][]any, len(rows))
	for y, row := range rows {
		for x := range rows[0] { // a row that ends in empty cells is read back short
			value := ""
			if x < len(row) {
				value = row[x]
			}
			name, err := excelize.CoordinatesToCellName(x+1, y+1)
			if err != nil {
				b.Fatal(err)
			}
			c := excelize.Cell{Value: value}
			if c.Formula, err = f.GetCellFormula(sheet, name); err != nil {
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
			out[y] = append(out[y], &c)
		}
	}
	return out
}

func writeBare(b *testing.B, cells [][]any) {
	b.Helper()
	f := excelize.NewFile()
	style, err := f.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true}})
	if err != nil {
		b.Fatal(err)
	}
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	for y, row := range cells {
		for x := range row {
			row[x].(*excelize.Cell).StyleID = style
		}
		if err := w.SetRow(fmt.Sprintf("A%d", y+1), row, excelize.RowOpts{Height: 30}); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := f.Write(io.Discard); err != nil {
		b.Fatal(err)
	}
}
