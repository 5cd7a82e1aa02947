package reports

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/condition"
	"unpick/domain/walkround"
	"unpick/reports/drawing"
	"unpick/reports/paper"
)

// condition lays the records of each surface side by side, start beside end, its defects below with the holes in them.
func (b *book) condition() {
	report := condition.Of(b.in.Register)
	rows := 0
	for _, s := range report.Surfaces {
		rows += 1 + len(s.Defects)
	}
	t := b.newTable("Condition", []column{{"Surface", 12, strong}, {"Name", 24, plain}, {"At the start", 44, plain}, {"While in", 30, plain}, {"At the end", 44, plain}, {"Defect", 14, strong}, {"What", 24, plain},
		{"Where and size (mm)", 24, plain}, {"Found", 10, plain}, {"Holes in it", 12, plain}, {"Charged", 22, plain}}, a3, rows)
	for _, s := range report.Surfaces {
		t.add(s.Host, s.Name, recordWords(s.Start), recordWords(s.During), recordWords(s.End))
		for _, d := range s.Defects {
			charged := "excuses no hole"
			if d.OwedBefore {
				charged = "holes in it are not charged"
			}
			what := condition.KindWords(d.Kind)
			if d.Text != "" {
				what += ": " + d.Text
			}
			t.add(s.Host, "", "", "", "", d.Name, what, fmt.Sprintf("%d along, %d up; %s", d.UMm, d.VMm, d.Size), string(d.Stage), domain.NumberRuns(d.Holes), charged)
		}
	}
	t.end()
}

// enteredWords say what the days of the condition records rest on, and how many of the start were entered late.
func (in Input) enteredWords() string {
	records, flagged := 0, 0
	for _, s := range condition.Of(in.Register).Surfaces {
		records += len(s.Start) + len(s.During) + len(s.End)
		for _, r := range s.Start {
			if r.Flagged {
				flagged++
			}
		}
	}
	switch {
	case records == 0:
		return ""
	case in.Register.Entered == nil:
		return "made from a file without its log: on which day each record was entered is not known"
	case flagged > 0:
		return countOf(flagged, "record of the start was", "records of the start were") + " entered after holes were logged in the surface or an issue went out: marked where the records are listed"
	}
	return "each with the day on which it was entered by the log, wherever that is another than it gives"
}

// enteredTable are, in print, the condition records that were entered on another day than they give, or late.
func (in Input) enteredTable() paper.Table {
	t := paper.Table{Columns: []paper.Column{{Title: "Surface", WideMm: 24, Strong: true}, {Title: "Record", WideMm: 16, Figure: true}, {Title: "Dated", WideMm: 24}, {Title: "When it was entered, by the log", WideMm: 83}, {Title: "What it says", WideMm: 130}}}
	for _, s := range condition.Of(in.Register).Surfaces {
		for _, r := range slices.Concat(s.Start, s.During, s.End) {
			if r.Entered != "" {
				t.Rows = append(t.Rows, []string{s.Host, fmt.Sprint(r.Number), r.On, r.Entered, r.Text})
			}
		}
	}
	return t
}

// recordWords are the records of one stage, each with its date and, for each photo, how its sum begins: enough to find it.
func recordWords(records []condition.Record) string {
	var lines []string
	for _, r := range records {
		line := r.On + ": " + r.Text
		if r.By != "" {
			line += " (" + r.By + ")"
		}
		if r.Entered != "" {
			line += "; " + r.Entered
		}
		for _, photo := range r.Photos {
			line += "; photo " + photo[:min(12, len(photo))]
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// walkedWords says how far the parties agree.
func (b *book) walkedWords() string {
	agreed, disputed, open := 0, 0, 0
	for _, s := range walkround.Of(b.in.Register) {
		agreed, disputed, open = agreed+s.Agreed, disputed+s.Disputed, open+s.Open
	}
	if agreed+disputed+open == 0 {
		return ""
	}
	return fmt.Sprintf("%d holes agreed by both, %d disputed, %d open: %s", agreed, disputed, open, b.in.Register.Leaving().TallyHoles().Says())
}

// holeByHole lists each hole by its number on the map, with what tenant and surveyor said of it.
func (b *book) holeByHole() {
	surfaces := walkround.Of(b.in.Register)
	rows := 0
	for _, s := range surfaces {
		rows += len(s.Holes)
	}
	t := b.newTable("Hole by hole", []column{{"Surface", 12, strong}, {"Hole", 7, number}, {"Set", 14, plain}, {"What", 34, plain}, {"Along (mm)", 9, whole}, {"Up (mm)", 9, whole},
		{"Tenant", 30, plain}, {"Landlord's surveyor", 30, plain}, {"State", 10, strong}}, a4, rows)
	for _, s := range surfaces {
		for _, h := range s.Holes {
			along, up := any(nil), any(nil)
			if h.Placed {
				along, up = int(h.UMm+.5), int(h.VMm+.5)
			}
			t.add(s.Host, h.Number, h.Set, walkround.Words(h), along, up, answerWords(h.Tenant), answerWords(h.Surveyor), string(h.State))
		}
	}
	t.end()
}

func answerWords(o *domain.SignOff) string {
	switch {
	case o == nil:
		return ""
	case o.Kind == domain.HoleDisputed:
		return fmt.Sprintf("disputes: %s (%s, %s)", o.Note, o.By, o.On)
	}
	return fmt.Sprintf("agrees (%s, %s)", o.By, o.On)
}

// holeMaps places the numbered map of each surface that has holes, one to a page.
func (b *book) holeMaps() {
	var all []picture
	for _, s := range walkround.Of(b.in.Register) {
		all = append(all, picture{strings.TrimSpace(s.Host + " " + s.Name), drawing.HoleMapScale(b.in.Register, s.Host), func(w io.Writer) error {
			return drawing.HoleMap(w, b.in.Register, s.Host, drawing.Around{}, drawing.Options{})
		}})
	}
	b.pictures("Hole maps", all)
}
