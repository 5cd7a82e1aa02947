package reports

import (
	"bytes"
	"strings"
	"testing"

	"unpick/domain"
)

// TestStripOutSaysWhatNothingHolds: the posts of a floor went out of turn. The cover and the first crew sheet begin with the
// stop, and the replay is not said to find that everything stands; before, it is, and nothing is stopped.
func TestStripOutSaysWhatNothingHolds(t *testing.T) {
	t.Parallel()
	for _, out := range []bool{false, true} {
		r := readRegister(t, "mezzanine")
		posts := map[string]bool{}
		for i := range r.Elements {
			if e := &r.Elements[i]; out && (e.Kind == domain.Post || e.Kind == domain.Bracket) {
				e.State, posts[e.Code] = domain.TakenDown, true
			}
		}
		for i := range r.Fixings {
			if f := &r.Fixings[i]; posts[f.Holds] || posts[f.IntoElement] {
				f.State = domain.FixingUndone
			}
		}
		in := inputOf(t, r)
		if stands := len(in.Plan.Sequence.Unheld) == 0; stands == out {
			t.Fatalf("%d posts out, and unheld is %v", len(posts), in.Plan.Sequence.Unheld)
		}
		var pdf bytes.Buffer
		if err := CrewSheetsPDF(&pdf, in); err != nil {
			t.Fatal(err)
		}
		book := written(t, StripOut, in)
		said := func(sheet string, within int) string {
			rows, err := book.GetRows(sheet)
			if err != nil {
				t.Fatal(err)
			}
			var words strings.Builder
			for i, row := range rows {
				if i < within {
					words.WriteString(strings.Join(row, " ") + "\n")
				}
			}
			return words.String()
		}
		const stop = "STOP. Do not go on or under "
		if cover := said("Cover", 20); strings.Contains(cover, stop) != out || strings.Contains(cover, "at every step each piece still in place reaches") == out {
			t.Errorf("posts out: %v; the cover says\n%s", out, cover)
		}
		if day := said("Day 1", 2); strings.Contains(day, stop) != out {
			t.Errorf("posts out: %v; the first crew sheet begins\n%s", out, day)
		}
	}
}
