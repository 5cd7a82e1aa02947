package reports

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestSheetsPrint: every sheet is A4 or A3 landscape with page numbers and a print area that covers all of it; every
// table has its head frozen, repeated and filtered, fits one page in width, and names units over figures.
func TestSheetsPrint(t *testing.T) {
	t.Parallel()
	in := inputOf(t, priced(t, readRegister(t, "mezzanine")))
	notTables := []string{"Cover", "Plan", "Elevations", "Hole maps"}
	for document, write := range documents() {
		t.Run(document, func(t *testing.T) {
			t.Parallel()
			f := written(t, write, in)
			if got := f.GetSheetList()[0]; got != "Cover" {
				t.Errorf("the first sheet is %s, want Cover", got)
			}
			names := map[string]string{}
			for _, d := range f.GetDefinedName() {
				names[d.Scope+" "+d.Name] = d.RefersTo
			}
			for _, sheet := range f.GetSheetList() {
				checkPaper(t, f, sheet, names)
				if !slices.Contains(notTables, sheet) {
					checkTable(t, f, sheet, names)
				}
			}
		})
	}
}

func checkPaper(t *testing.T, f *excelize.File, sheet string, names map[string]string) {
	t.Helper()
	layout, err := f.GetPageLayout(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if layout.Size == nil || *layout.Size != a4 && *layout.Size != a3 || layout.Orientation == nil || *layout.Orientation != "landscape" {
		t.Errorf("%s: page %+v, want A4 or A3 landscape", sheet, layout)
	}
	marks, err := f.GetHeaderFooter(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if marks == nil || !strings.Contains(marks.OddFooter, "Page &P of &N") || !strings.Contains(marks.OddFooter, "P1") {
		t.Errorf("%s: footer %+v, want page numbers and the revision", sheet, marks)
	}
	if !strings.Contains(names[sheet+" _xlnm.Print_Area"], "$A$1:") {
		t.Errorf("%s: print area %q, want one from A1", sheet, names[sheet+" _xlnm.Print_Area"])
	}
}

func checkTable(t *testing.T, f *excelize.File, sheet string, names map[string]string) {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Errorf("%s has no row under its heading, not even \"nothing to list\"", sheet)
	}
	printed := len(rows)
	if sheet == everyReason { // for the screen
		printed = 1
	}
	end, err := excelize.ColumnNumberToName(len(rows[0]))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := names[sheet+" _xlnm.Print_Titles"], fmt.Sprintf("'%s'!$1:$1", sheet); got != want {
		t.Errorf("%s: print titles %q, want %q", sheet, got, want)
	}
	if got, want := names[sheet+" _xlnm.Print_Area"], fmt.Sprintf("'%s'!$A$1:$%s$%d", sheet, end, printed); got != want {
		t.Errorf("%s: print area %q, want %q", sheet, got, want)
	}
	if !strings.Contains(names[sheet+" _xlnm._FilterDatabase"], "$A$1:$"+end) {
		t.Errorf("%s: filter over %q, want A1 to %s", sheet, names[sheet+" _xlnm._FilterDatabase"], end)
	}
	panes, err := f.GetPanes(sheet)
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("%s: panes %+v (%v), want row 1 frozen", sheet, panes, err)
	}
	props, err := f.GetSheetProps(sheet)
	if err != nil || props.FitToPage == nil || !*props.FitToPage {
		t.Errorf("%s does not fit its page in width (%v)", sheet, err)
	}
}

// TestDayHasASheet: each working day of the plan has a crew sheet, with a line for each part of a step.
func TestDayHasASheet(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "mezzanine")
	r.FitOut.Calendar.DayMinutes = 45 // short days, so that there are several
	in := inputOf(t, r)
	if len(in.Plan.Days) < 3 {
		t.Fatalf("%d days: too few to check anything", len(in.Plan.Days))
	}
	f := written(t, StripOut, in)
	for _, d := range in.Plan.Days {
		sheet := fmt.Sprintf("Day %d", d.Number)
		if got := totalIn(t, f, sheet, "C", "Day", "H"); got != fmt.Sprint(d.Minutes) {
			t.Errorf("%s: planned minutes %s, want %d", sheet, got, d.Minutes)
		}
		rows, err := f.GetRows(sheet)
		if err != nil || len(rows) != len(d.Work)+2 {
			t.Errorf("%s: %d rows (%v), want %d", sheet, len(rows), err, len(d.Work)+2)
		}
	}
}

// TestDrawingsArePlaced: the strip-out has the plan, the isometric view and one elevation for each framed assembly, the
// schedule the plan and the isometric view.
func TestDrawingsArePlaced(t *testing.T) {
	t.Parallel()
	in := inputOf(t, readRegister(t, "half-height-frames"))
	strip, schedule := written(t, StripOut, in), written(t, Reinstatement, in)
	for _, tt := range []struct {
		f     *excelize.File
		sheet string
		want  int
	}{{strip, "Plan", 2}, {strip, "Elevations", 2}, {schedule, "Plan", 2}} {
		cells, err := tt.f.GetPictureCells(tt.sheet)
		if err != nil || len(cells) != tt.want {
			t.Errorf("%s: pictures at %v (%v), want %d", tt.sheet, cells, err, tt.want)
		}
		for _, c := range cells {
			pictures, err := tt.f.GetPictures(tt.sheet, c)
			if err != nil || len(pictures) != 1 || !strings.HasPrefix(string(pictures[0].File), "<svg") {
				t.Errorf("%s!%s: %d pictures (%v), want one SVG", tt.sheet, c, len(pictures), err)
			}
		}
	}
}
