package reports

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
)

// documents are the four workbooks.
func documents() map[string]func(io.Writer, Input) error {
	return map[string]func(io.Writer, Input) error{
		"stripout": StripOut, "making-good": MakingGood, "reinstatement": Reinstatement, "salvage": Salvage, "waste-note": WasteNote,
	}
}

// keyRegisters are the names of the registers that have an answer key.
func keyRegisters(tb testing.TB) []string {
	tb.Helper()
	files, err := filepath.Glob("../testdata/keys/*.json")
	if err != nil || len(files) == 0 {
		tb.Fatalf("no registers found (%v)", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".json")
	}
	return files
}

func readRegister(tb testing.TB, name string) *domain.Register {
	tb.Helper()
	raw, err := os.ReadFile(filepath.Join("../testdata/keys", name+".json"))
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: catalogue.Default()}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}

// priced adds a price for everything that the register's plan asks one for, each another odd figure, so that a sum
// over the wrong cells shows.
func priced(tb testing.TB, r *domain.Register) *domain.Register {
	tb.Helper()
	p := makePlan(tb, r)
	amount := int64(333)
	add := func(key, unit string) {
		amount += 37
		r.Prices = append(r.Prices, domain.Price{Key: key, Amount: amount, Unit: unit, Since: "2026-01-05"})
	}
	for _, i := range p.Schedule.Items {
		add(i.RateKey, i.Unit)
	}
	for _, row := range p.MakingGood.Rows {
		if row.NeedsDecision {
			add("decision:"+row.Host, row.Unit)
		}
	}
	for _, e := range r.Elements {
		add("material:"+e.Material, "m")
	}
	for i, o := range p.Schedule.NotInTotal {
		if i > 0 { // one stays without a price, and is named
			add(o.Key, o.Unit)
		}
	}
	r.Prices = append(r.Prices, domain.Price{Key: domain.ShareDowngraded, Amount: 35, Unit: "percent"})
	return r
}

func makePlan(tb testing.TB, r *domain.Register) *plan.Plan {
	tb.Helper()
	p, err := plan.Make(r)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func inputOf(tb testing.TB, r *domain.Register) Input {
	tb.Helper()
	return Input{Register: r, Plan: makePlan(tb, r), Now: time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC), By: "A. Carpenter", Revision: "P1"}
}

// written writes a document and reads it back.
func written(tb testing.TB, write func(io.Writer, Input) error, in Input) *excelize.File {
	tb.Helper()
	var out bytes.Buffer
	if err := write(&out, in); err != nil {
		tb.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		tb.Fatalf("reading the workbook back: %v", err)
	}
	tb.Cleanup(func() { _ = f.Close() })
	return f
}

// cell is one cell read back.
type cell struct{ sheet, name, formula, value string }

// cellsOf are all cells of a workbook that hold something.
func cellsOf(tb testing.TB, f *excelize.File) []cell {
	tb.Helper()
	var out []cell
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			tb.Fatal(err)
		}
		for y, row := range rows {
			for x := range row {
				name, err := excelize.CoordinatesToCellName(x+1, y+1)
				if err != nil {
					tb.Fatal(err)
				}
				formula, err := f.GetCellFormula(sheet, name)
				if err != nil {
					tb.Fatal(err)
				}
				out = append(out, cell{sheet, name, formula, row[x]})
			}
		}
	}
	return out
}
