package reports

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/recipe"
	"unpick/domain/release"
	"unpick/domain/relocation"
	"unpick/testdata"
)

// plannedMove is the demo's move, what its documents are made from, and the layout.
func plannedMove(tb testing.TB, terms move.Terms) (*move.Plan, Input, *domain.Register) {
	tb.Helper()
	read := func(text []byte) *domain.Register {
		r, err := fitoutfile.Read(bytes.NewReader(text), catalogue.Default(), recipe.Expand)
		if err != nil {
			tb.Fatal(err)
		}
		return r
	}
	r, next := read(testdata.Demo), read(testdata.Next)
	made := makePlan(tb, r)
	p, err := move.Make(move.Source{Register: r, Inventory: made.Salvage, Owed: move.OwedBy(made.Schedule, made.MakingGood), NotStaying: "not asked here"}, next, terms)
	if err != nil {
		tb.Fatal(err)
	}
	here := relocation.Here{Register: r, Graph: release.Build(r.Leaving()), Steps: made.Sequence.Steps, MakingGood: made.MakingGood}
	if err := p.Lay(here, time.Date(2028, 11, 1, 0, 0, 0, 0, time.UTC)); err != nil {
		tb.Fatal(err)
	}
	return p, Input{Register: r, Plan: made, By: "A. Carpenter", Revision: "P1"}, next
}

// moved is the demo's move, as a workbook read back.
func moved(tb testing.TB, terms move.Terms) (*move.Plan, *excelize.File) {
	tb.Helper()
	p, in, _ := plannedMove(tb, terms)
	return p, written(tb, func(w io.Writer, in Input) error { return Move(w, in, p) }, in)
}

// TestMoveBook: every formula comes to what it carries, the buying list to the plan's total, and the cut list names every
// piece of stock once.
func TestMoveBook(t *testing.T) {
	t.Parallel()
	p, f := moved(t, func() move.Terms {
		t := move.Usual()
		t.FixingPercent, t.Nearby = 7, &move.Nearby{Rounds: 3000}
		t.Programme.RentHere = 145_050
		return t
	}())
	for _, c := range cellsOf(t, f) {
		if c.formula == "" {
			continue
		}
		got, err := f.CalcCellValue(c.sheet, c.name, excelize.Options{RawCellValue: true})
		if err != nil || !sameValue(got, c.value) {
			t.Errorf("%s!%s = %s calculates to %q (%v), carries %q", c.sheet, c.name, c.formula, got, err, c.value)
		}
	}
	for sheet, want := range map[string]int{"Cut list": stockRows(p), "To buy": len(p.Buying) + 1, "Fixings": len(p.Fixings) + 1, "Left over": len(p.Left), "Ways": 4, "Over the cutting": len(p.Allowed), "Ways, parts": partsOf(p), "Putting up": len(p.Build) + 1, "Dates": 3, "What would help": 4, "Both places": len(p.Programme.Work), "Cannot be made": max(len(p.Cannot), 1), "Other sizes": 1 + len(p.Sizes.Better) + len(p.Sizes.Pairs) + len(p.Sizes.Fixed) + len(p.Sizes.Refused)} {
		rows, err := f.GetRows(sheet)
		if err != nil || len(rows) != want+1 {
			t.Errorf("%s has %d rows (%v), want %d and its heading", sheet, len(rows), err, want)
		}
	}
}

// TestMoveBookWithoutPrices: a list of which some lines have no price has no total, and says how many.
func TestMoveBookWithoutPrices(t *testing.T) {
	t.Parallel()
	p, in, _ := plannedMove(t, move.Usual())
	for i := range 2 {
		p.Buying[i].Known, p.Buying[i].PriceMinor, p.Buying[i].AmountMinor = false, 0, 0
		if f := &p.Fixings[i]; f.Buy == 0 {
			t.Fatalf("%s is not bought: the test needs one that is", f.Name)
		} else {
			f.Known, f.PriceMinor, f.AmountMinor = false, 0, 0
		}
	}
	f := written(t, func(w io.Writer, in Input) error { return Move(w, in, p) }, in)
	for sheet, cell := range map[string]string{"To buy": fmt.Sprintf("J%d", len(p.Buying)+2), "Fixings": fmt.Sprintf("M%d", len(p.Fixings)+2)} {
		carries, err := f.GetCellValue(sheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		counts, err := f.CalcCellValue(sheet, cell)
		if err != nil || carries != counts || carries != "no total: 2 without a rate" {
			t.Errorf("%s!%s carries %q and calculates to %q (%v)", sheet, cell, carries, counts, err)
		}
	}
}

// TestFirstOrderIsOfALayout: nothing of a layout is drilled or given back, and its order's cover says neither.
func TestFirstOrderIsOfALayout(t *testing.T) {
	t.Parallel()
	next, err := fitoutfile.Read(bytes.NewReader(testdata.Next), catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	p, err := move.Make(move.Source{}, next, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	f := written(t, func(w io.Writer, in Input) error { return FirstOrder(w, in, p) }, Input{Register: next, Plan: makePlan(t, next), By: "A. Carpenter", Revision: "P1"})
	cover := sheetText(t, f, "Cover")
	if !strings.Contains(cover, "The layout as it is described: 381 pieces") || strings.Contains(cover, "to make good") || strings.Contains(cover, "Giving the place back") {
		t.Errorf("the cover of a layout's first order:\n%s", cover)
	}
}

func partsOf(p *move.Plan) (n int) {
	for _, w := range p.Ways {
		n += len(w.Parts) + len(w.LeftOut)
	}
	return n
}

// TestMoveBookSaysWhere: the buying list has a factor and its source in each row, a fire door's carbon is not known, and a
// way without a total says why.
func TestMoveBookSaysWhere(t *testing.T) {
	t.Parallel()
	p, f := moved(t, move.Usual())
	rows, err := f.GetRows("To buy")
	if err != nil {
		t.Fatal(err)
	}
	unknown := 0
	for i, b := range p.Buying {
		row := rows[i+1]
		if row[13] == "" || b.GwpPerKg > 0 && row[11] == "not known" {
			t.Errorf("%s has factor %q and source %q", row[0], row[11], row[13])
		}
		if row[12] == "not known" {
			unknown++
		}
	}
	if unknown != 1 || len(p.Total.NoCarbon) != 1 {
		t.Errorf("%d rows of unknown carbon, want the fire door alone: %v", unknown, p.Total.NoCarbon)
	}
	for n, w := range p.Ways {
		if all, err := f.GetCellValue("Ways", fmt.Sprintf("C%d", n+2)); err != nil || strings.HasPrefix(all, "no total") == w.Known {
			t.Errorf("%s: %q (%v), known %v", w.Name, all, err, w.Known)
		}
	}
}

// TestLoadsSheet: every salvaged piece in use has one row with its size and mass from the register, also where no load of the
// vehicle brings it, and the masses of a load's rows are those of the load.
func TestLoadsSheet(t *testing.T) {
	t.Parallel()
	terms := move.Usual()
	terms.Vehicle.BedLengthMm = 3000
	p, f := moved(t, terms)
	if len(p.Stranded()) == 0 {
		t.Fatal("everything goes on a bed of 3 m: the test needs what does not")
	}
	rows, err := f.GetRows("Loads", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, title := range rows[0] {
		at[title] = i
	}
	seen, kg := map[string]string{}, map[string]float64{}
	for _, row := range rows[1:] {
		code, load := row[at["Piece"]], row[at["Load"]]
		if seen[code] != "" {
			t.Errorf("%s has two rows", code)
		}
		seen[code] = load
		var mass float64
		if _, err := fmt.Sscan(row[at["kg"]], &mass); err != nil {
			t.Errorf("%s: mass %q", code, row[at["kg"]])
		}
		kg[load] += mass
		if row[at["What it is"]] == "" || row[at["Length (mm)"]] == "" || !strings.HasPrefix(row[at["Goes up"]], "Up ") {
			t.Errorf("%s does not say what it is and where it goes up: %q", code, row)
		}
	}
	for _, l := range p.Loads {
		if got := kg[fmt.Sprint(l.Number)]; got < l.MassKg-1 || got > l.MassKg+1 {
			t.Errorf("load %d: rows come to %.1f kg, the load to %.1f", l.Number, got, l.MassKg)
		}
	}
	for _, code := range p.Stranded() {
		if seen[code] != "other" {
			t.Errorf("%s needs another vehicle, and its row says load %q", code, seen[code])
		}
	}
	if len(seen) != p.Total.SalvagedUsed {
		t.Errorf("%d rows for %d salvaged pieces in use", len(seen), p.Total.SalvagedUsed)
	}
}
