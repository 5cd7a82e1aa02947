package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
)

// TestFormulasComeToWhatTheyCarry calculates every formula of every workbook, with prices and without: it must come
// to the value that the cell carries for readers without a calculator.
func TestFormulasComeToWhatTheyCarry(t *testing.T) {
	t.Parallel()
	for _, name := range keyRegisters(t) {
		for _, withPrices := range []bool{false, true} {
			r := readRegister(t, name)
			if withPrices {
				r = priced(t, r)
			}
			in := inputOf(t, r)
			for document, write := range documents() {
				t.Run(fmt.Sprintf("%s/%s/prices=%t", name, document, withPrices), func(t *testing.T) {
					t.Parallel()
					f := written(t, write, in)
					formulas := 0
					for _, c := range cellsOf(t, f) {
						if c.formula == "" {
							continue
						}
						formulas++
						got, err := f.CalcCellValue(c.sheet, c.name, excelize.Options{RawCellValue: true})
						if err != nil {
							t.Fatalf("%s!%s = %s: %v", c.sheet, c.name, c.formula, err)
						}
						if !sameValue(got, c.value) {
							t.Errorf("%s!%s = %s calculates to %q, carries %q", c.sheet, c.name, c.formula, got, c.value)
						}
					}
					if formulas == 0 {
						t.Error("no formulas at all")
					}
				})
			}
		}
	}
}

// sameValue compares numbers as numbers, so that 0.1+0.2 is 0.3, and the rest as it stands.
func sameValue(a, b string) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	if errX == nil && errY == nil {
		return math.Abs(x-y) < 1e-6
	}
	return a == b
}

// totalIn finds the one row of a sheet whose label column starts with a word, and calculates one of its cells.
func totalIn(t *testing.T, f *excelize.File, sheet, labelColumn, label, column string) string {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for n := len(rows); n > 0; n-- {
		if words, _ := f.GetCellValue(sheet, fmt.Sprint(labelColumn, n)); words == label {
			got, err := f.CalcCellValue(sheet, fmt.Sprint(column, n), excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			return got
		}
	}
	t.Fatalf("%s has no row %q", sheet, label)
	return ""
}

// TestTotalsAreThePlans compares the calculated totals with the plan's own figures, to the minor unit.
func TestTotalsAreThePlans(t *testing.T) {
	t.Parallel()
	for _, currency := range []string{"GBP", "JPY", "KWD"} { // 2, 0 and 3 digits by ISO 4217
		t.Run(currency, func(t *testing.T) {
			t.Parallel()
			r := readRegister(t, "wall-with-door")
			r.FitOut.Currency = currency
			in := inputOf(t, priced(t, r))
			p := in.Plan
			major := func(minor int64) string {
				return strconv.FormatFloat(float64(minor)/math.Pow10(domain.MinorDigits(currency)), 'f', domain.MinorDigits(currency), 64)
			}
			rows, filler := int64(0), 0.0
			for _, row := range p.MakingGood.Rows {
				rows += row.AmountMinor
				filler += row.MaterialMl
			}
			if !p.Schedule.Total.Known || p.Schedule.Total.PricedMinor == 0 || rows == 0 {
				t.Fatal("the register is not priced: this test would check nothing")
			}
			good, schedule, strip, salvage := written(t, MakingGood, in), written(t, Reinstatement, in), written(t, StripOut, in), written(t, Salvage, in)
			for _, tt := range []struct {
				name                       string
				f                          *excelize.File
				sheet, label, what, column string
				want                       string
			}{
				{"making good", good, "Making good", "B", "Total", "Q", major(rows)},
				{"balance: owed", good, "Balance", "A", "Hole faces in the register that are owed", "B", fmt.Sprint(p.MakingGood.Balance.Register)},
				{"balance: rows", good, "Balance", "A", "Hole faces in repair rows", "B", fmt.Sprint(p.MakingGood.Balance.Repaired)},
				{"balance: priced", good, "Balance", "A", "Hole faces priced, or shown as without a rate", "B", fmt.Sprint(p.MakingGood.Balance.Priced)},
				{"balance: agrees", good, "Balance", "A", "Do the first three agree?", "B", "yes"},
				{"schedule", schedule, "Schedule", "B", "Total", "L", major(p.Schedule.Total.PricedMinor)},
				{"schedule by group", schedule, "Summary", "A", "All", "D", major(p.Schedule.Total.PricedMinor)},
				{"strip-out work", strip, "Steps", "B", "Total", "K", fmt.Sprint(p.Sequence.PersonMinutes)},
				{"salvage value", salvage, "Pieces", "A", "All", "O", major(p.Salvage.Totals.ValueMinor + p.Salvage.Totals.DowngradedMinor)},
				{"comes apart, all", salvage, "Comes apart by assembly", "A", "All", "E", fmt.Sprint(p.ComesApart.Whole.ByMass)},
				{"comes apart, first assembly", salvage, "Comes apart by assembly", "A", p.ComesApart.Assemblies[0].Code, "E", fmt.Sprint(p.ComesApart.Assemblies[0].ByMass)},
				{"filler", good, "Filler", "B", "All", "I", fmt.Sprint(filler)},
			} {
				if got := totalIn(t, tt.f, tt.sheet, tt.label, tt.what, tt.column); !sameValue(got, tt.want) {
					t.Errorf("%s: %s!%s = %q, want %q", tt.name, tt.sheet, tt.column, got, tt.want)
				}
			}
		})
	}
}

// TestRatesFeedAmounts changes one figure on the sheet of rates: every amount that hangs on it, and the total, follow.
func TestRatesFeedAmounts(t *testing.T) {
	t.Parallel()
	in := inputOf(t, priced(t, readRegister(t, "wall-with-door")))
	f := written(t, Reinstatement, in)
	key, err := f.GetCellValue("Rates", "A2")
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellFloat("Rates", "D2", 100, 2, 64); err != nil {
		t.Fatal(err)
	}
	want := 0.0
	hung := 0
	for _, i := range in.Plan.Schedule.Items {
		if i.RateKey == key {
			want += math.Round(i.Quantity*100*100) / 100
			hung++
		} else {
			want += float64(i.AmountMinor) / 100
		}
	}
	if hung == 0 {
		t.Fatalf("no item hangs on %s", key)
	}
	if got := totalIn(t, f, "Schedule", "B", "Total", "L"); !sameValue(got, strconv.FormatFloat(want, 'f', 2, 64)) {
		t.Errorf("total with %s at 100.00 = %s, want %.2f", key, got, want)
	}
	if err := f.SetCellValue("Rates", "D2", nil); err != nil {
		t.Fatal(err)
	}
	if got, want := totalIn(t, f, "Schedule", "B", "Total", "L"), fmt.Sprintf("no total: %d without a rate", hung); got != want {
		t.Errorf("total with %s emptied = %q, want %q", key, got, want)
	}
}

// TestNoRateIsSaid: without prices each rate reads "no rate", no amount is given, and no part stands for the whole.
func TestNoRateIsSaid(t *testing.T) {
	t.Parallel()
	in := inputOf(t, readRegister(t, "wall-with-door"))
	f := written(t, Reinstatement, in)
	for n := range in.Plan.Schedule.Items {
		rate, _ := f.GetCellValue("Schedule", fmt.Sprint("K", n+2))
		amount, _ := f.GetCellValue("Schedule", fmt.Sprint("L", n+2))
		if rate != "no rate" || amount != "" {
			t.Errorf("item %d: rate %q and amount %q, want \"no rate\" and nothing", n+1, rate, amount)
		}
	}
	for name, got := range map[string]string{
		"schedule":    totalIn(t, f, "Schedule", "B", "Total", "L"),
		"making good": totalIn(t, written(t, MakingGood, in), "Making good", "B", "Total", "Q"),
	} {
		if !strings.HasPrefix(got, "no total: ") {
			t.Errorf("%s total = %q, want \"no total: ...\"", name, got)
		}
	}
}
