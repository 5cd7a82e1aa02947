package reports_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain/strip"
	"unpick/reports"
)

// TestCrewSheetsSayWhatAStepWaitsFor: the sheet of the day on which joists come out names the step that props their beam, by the
// number that the same step has.
func TestCrewSheetsSayWhatAStepWaitsFor(t *testing.T) {
	t.Parallel()
	r, p := demo(t)
	in := reports.Input{Register: r, Plan: p, Now: time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)}
	prop := slices.IndexFunc(in.Plan.Sequence.Steps, func(s strip.Step) bool { return s.Kind == strip.Prop && s.Elements[0] == "M1-BM1" })
	joists := slices.IndexFunc(in.Plan.Sequence.Steps, func(s strip.Step) bool {
		return s.Kind == strip.Remove && slices.Contains(s.Elements, "M1-J11")
	})
	if prop < 0 || joists < prop {
		t.Fatalf("step %d props the beam, step %d takes the joists out", prop, joists)
	}
	want := fmt.Sprintf("step %d: M1-BM1 supported, signed", in.Plan.Sequence.Steps[prop].Number)
	var written bytes.Buffer
	if err := reports.StripOut(&written, in); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&written)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	found := false
	for _, day := range in.Plan.Days {
		rows, err := book.GetRows(fmt.Sprintf("Day %d", day.Number))
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			if len(row) > 1 && row[1] == fmt.Sprint(in.Plan.Sequence.Steps[joists].Number) {
				found = found || strings.Contains(strings.Join(row, " "), want)
			}
		}
	}
	if !found {
		t.Errorf("no crew sheet says %q beside step %d", want, in.Plan.Sequence.Steps[joists].Number)
	}
}
