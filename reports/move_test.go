package reports

import (
	"bytes"
	"io"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/recipe"
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
	p, err := move.Make(move.Source{Register: r, Inventory: made.Salvage, StripMinutes: made.Sequence.PersonMinutes}, next, terms)
	if err != nil {
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
	for sheet, want := range map[string]int{"Cut list": stockRows(p), "To buy": len(p.Buying) + 1, "Fixings": len(p.Fixings) + 1, "Left over": len(p.Left), "Ways": 4, "Putting up": len(p.Build) + 1, "Cannot be made": len(p.Cannot), "Other sizes": len(p.Sizes.Better) + len(p.Sizes.Fixed) + len(p.Sizes.Refused)} {
		rows, err := f.GetRows(sheet)
		if err != nil || len(rows) != want+1 {
			t.Errorf("%s has %d rows (%v), want %d and its heading", sheet, len(rows), err, want)
		}
	}
}
