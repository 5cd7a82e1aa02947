package reports_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/lease"
	"unpick/domain/plan"
	"unpick/domain/salvage"
	"unpick/domain/timetable"
	"unpick/reports"
)

// TestProgrammeSheet: every step has its row with its days, and its hours under the day on which it starts; without a
// timetable there is no such sheet.
func TestProgrammeSheet(t *testing.T) {
	t.Parallel()
	r, p := demo(t)
	g, sequence, err := plan.StripOut(r.Link(), salvage.Take(r))
	if err != nil {
		t.Fatal(err)
	}
	in := reports.Input{Register: r, Plan: p, Now: stamp, By: "Jo", Revision: "draft"}
	if in.Timetable, err = timetable.Make(g, sequence.Steps, r, timetable.WhatIf{}, stamp); err != nil {
		t.Fatal(err)
	}
	rows := sheet(t, in, "Programme")
	if len(rows) != len(in.Timetable.Steps)+1 {
		t.Fatalf("%d rows for %d steps", len(rows)-1, len(in.Timetable.Steps))
	}
	for i, e := range in.Timetable.Steps {
		day := 9 + slices.Index(in.Timetable.DayNames, e.Starts)
		want := e.StartsAt + " – " + e.EndsAt
		if e.Starts != e.Ends {
			want = e.StartsAt + " →"
		}
		if row := rows[i+1]; row[1] != e.Title || row[5] != e.StartsAt || len(row) <= day || row[day] != want {
			t.Errorf("step %d: %q, want %q in column %d", e.Step, row, want, day)
		}
	}
	in.Timetable.Stand(lease.Forecast{Today: "2026-12-01"}, r.FitOut.Calendar)
	cover := fmt.Sprint(sheet(t, in, "Cover"))
	if !strings.Contains(cover, "STOP. It begins on Wed 25 Nov 2026, which is past") || !strings.Contains(cover, "begin on Tue 1 Dec 2026, today") {
		t.Errorf("the cover does not say that the programme begins in the past: %s", cover)
	}
	c, err := lease.Give(r, lease.Notice{Notice: domain.BreakNotice, On: "2026-11-20", How: "by hand", By: "A. Wren"}, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	in.Register = r.With(c.Add)
	if cover := fmt.Sprint(sheet(t, in, "Cover")); !strings.Contains(cover, "served on Fri 20 Nov 2026, by hand, by A. Wren. Served in time by the count here") {
		t.Errorf("the cover does not say that notice was served: %s", cover)
	}
	if want := "the breaks are in them: 10:00 to 10:15, 12:30 to 13:00"; !strings.Contains(cover, want) {
		t.Errorf("the cover does not say %q", want)
	}
	if strings.Contains(cover, "by the plan's minutes") {
		t.Errorf("nothing is ticked off, and the cover speaks of a pace: %s", cover)
	}
	r.FitOut.Calendar.Breaks = nil
	r.SignOffs = append(r.SignOffs, domain.SignOff{Code: "S-900", Kind: domain.WorkDone, Minutes: 300, PlannedMinutes: 100})
	in.Register, in.Timetable = r, nil
	if cover := fmt.Sprint(sheet(t, in, "Cover")); !strings.Contains(cover, "by the plan's minutes, and what is ticked off took 300 minutes, and the plan gave it 100") {
		t.Errorf("at a third of the pace the cover gives the plan's days alone: %s", cover)
	}
	if cover := fmt.Sprint(sheet(t, in, "Cover")); !strings.Contains(cover, "no breaks are set, so none are in them") {
		t.Errorf("without breaks the cover does not say so: %s", cover)
	}
	if rows := sheet(t, in, "Programme"); rows != nil {
		t.Error("without a timetable there is a sheet of it")
	}
}

// sheet is the rows of one sheet of the strip-out workbook, nil where there is none.
func sheet(tb testing.TB, in reports.Input, name string) [][]string {
	tb.Helper()
	var out bytes.Buffer
	if err := reports.StripOut(&out, in); err != nil {
		tb.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	if !slices.Contains(f.GetSheetList(), name) {
		return nil
	}
	rows, err := f.GetRows(name)
	if err != nil {
		tb.Fatal(err)
	}
	return rows
}
