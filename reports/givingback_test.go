package reports

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/domain/walkround"
)

// workshop is the demo, with an answer of either party about the first two holes of the level slab.
func workshop(tb testing.TB) *domain.Register {
	tb.Helper()
	file, err := os.Open("../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	for _, a := range []walkround.Answer{
		{Host: "SLAB2", Number: 1, Party: domain.TenantSide, Agrees: true, By: "W. Lane", On: "2029-03-20"},
		{Host: "SLAB2", Number: 1, Party: domain.LandlordSide, Agrees: true, By: "P. Court", On: "2029-03-20"},
		{Host: "SLAB2", Number: 2, Party: domain.LandlordSide, Note: "=1+1", By: "P. Court", On: "2029-03-20"},
	} {
		c, err := walkround.Say(r, a)
		if err != nil {
			tb.Fatal(err)
		}
		r = r.With(c.Add)
	}
	return r
}

// column is the cells of a sheet under a heading.
func columnOf(tb testing.TB, f *excelize.File, sheet, heading string) []string {
	tb.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		tb.Fatal(err)
	}
	for i, head := range rows[0] {
		if head != heading {
			continue
		}
		var out []string
		for _, row := range rows[1:] {
			cell := ""
			if i < len(row) {
				cell = row[i]
			}
			out = append(out, cell)
		}
		return out
	}
	tb.Fatalf("sheet %s has no column %q: %q", sheet, heading, rows[0])
	return nil
}

// TestGivingBackSheets: what is not licensed comes before what is, start stands beside end, a hole in a defect is shown and
// not charged, and every hole has its row with what both parties say, words and never formulas.
func TestGivingBackSheets(t *testing.T) {
	t.Parallel()
	in := inputOf(t, workshop(t))
	f := written(t, MakingGood, in)
	list := f.GetSheetList()
	if at := strings.Join(list[:4], ", "); at != "Cover, Beyond the licence, Agreed and built, Licence items" {
		t.Errorf("the sheets begin %s", at)
	}
	if what := columnOf(t, f, "Beyond the licence", "What"); len(what) != len(in.Plan.Licence.Beyond) || !strings.HasPrefix(what[0], "L1 ") {
		t.Errorf("beyond the licence: %q, want the lining first", what)
	}
	defects, charged, holes := columnOf(t, f, "Condition", "Defect"), columnOf(t, f, "Condition", "Charged"), columnOf(t, f, "Condition", "Holes in it")
	found := false
	for i, d := range defects {
		found = found || d == "BLK-LOW D2" && charged[i] == "holes in it are not charged" && holes[i] == "22"
	}
	if !found {
		t.Errorf("the old repair with its hole is not in the sheet: %q", defects)
	}
	start, end := columnOf(t, f, "Condition", "At the start"), columnOf(t, f, "Condition", "At the end")
	if len(start) != len(end) || !strings.Contains(strings.Join(start, "\n"), "Power-trowelled") {
		t.Errorf("the start does not stand beside the end: %q", start)
	}
	holeByHole(t, f, in.Register)
	notes := 0
	for i, why := range columnOf(t, f, "Making good", "Charged") {
		if why == "no: in a defect of the start" {
			notes++
			if amount := columnOf(t, f, "Making good", "Amount (GBP)")[i]; amount != "" && amount != "0.00" {
				t.Errorf("a hole in a defect costs %s", amount)
			}
		}
	}
	if notes != in.Plan.MakingGood.Balance.AtDefects {
		t.Errorf("%d rows in defects, want %d", notes, in.Plan.MakingGood.Balance.AtDefects)
	}
}

func holeByHole(t *testing.T, f *excelize.File, r *domain.Register) {
	t.Helper()
	want := 0
	for _, s := range walkround.Of(r) {
		want += len(s.Holes)
	}
	surface, number, state, surveyor := columnOf(t, f, "Hole by hole", "Surface"), columnOf(t, f, "Hole by hole", "Hole"), columnOf(t, f, "Hole by hole", "State"), columnOf(t, f, "Hole by hole", "Landlord's surveyor")
	if len(number) != want {
		t.Errorf("%d holes in the sheet, %d in the register", len(number), want)
	}
	seen := map[string]string{}
	for i := range number {
		key := surface[i] + " " + number[i]
		if _, twice := seen[key]; twice {
			t.Errorf("hole %s has two rows", key)
		}
		seen[key] = fmt.Sprint(state[i], "; ", surveyor[i])
	}
	for key, says := range map[string]string{"SLAB2 1": "agreed; agrees (P. Court, 2029-03-20)", "SLAB2 2": "disputed; disputes: =1+1 (P. Court, 2029-03-20)", "SLAB2 3": "open; "} {
		if seen[key] != says {
			t.Errorf("hole %s: %q, want %q", key, seen[key], says)
		}
	}
}
