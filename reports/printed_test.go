package reports

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/salvage"
	"unpick/reports/drawing"
)

// outside is an outside program; a laptop without it skips, CI does not.
func outside(tb testing.TB, name, of string) string {
	tb.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatalf("%s is not on the path: CI must have %s", name, of)
		}
		tb.Skipf("%s is not on the path: install %s to check printed documents with it", name, of)
	}
	return path
}

// onDisk writes a document into a file and answers its name.
func onDisk(tb testing.TB, write func(io.Writer) error) string {
	tb.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		tb.Fatal(err)
	}
	file := filepath.Join(tb.TempDir(), "out.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		tb.Fatal(err)
	}
	return file
}

func runs(tb testing.TB, name string, args ...string) string {
	tb.Helper()
	out, err := exec.CommandContext(tb.Context(), name, args...).Output()
	if err != nil {
		tb.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// TestLabelsRead: on every usual sheet each kept piece has one label, and zbar reads its code back from a print at 200
// dots to the inch: the piece's page, or its code alone.
func TestLabelsRead(t *testing.T) {
	t.Parallel()
	image, reader := outside(t, "pdftoppm", "poppler-utils"), outside(t, "zbarimg", "zbar-tools")
	for _, base := range []string{"", "https://register.example.org"} {
		for _, sheet := range LabelSheets() {
			t.Run(sheet.Name+base, func(t *testing.T) {
				t.Parallel()
				in := inputOf(t, readRegister(t, "wall-with-door"))
				in.Register.FitOut.LinkBase = base
				var want []string
				for i := range in.Plan.Salvage.Pieces {
					if p := &in.Plan.Salvage.Pieces[i]; p.Kept() {
						want = append(want, p.Code)
					}
				}
				choice := LabelChoice{Sheet: sheet, Codes: slices.Clone(want), First: min(3, max(sheet.Columns*sheet.Rows, 1))}
				file := onDisk(t, func(w io.Writer) error { return LabelsPDF(w, in, choice) })
				runs(t, image, "-r", "200", "-gray", file, file)
				pages, err := filepath.Glob(file + "-*.pgm")
				if err != nil || len(pages) == 0 {
					t.Fatalf("no pages (%v)", err)
				}
				got := strings.Fields(runs(t, reader, append([]string{"--nodbus", "-q", "--raw"}, pages...)...))
				for i, code := range want {
					want[i] = PieceLink(in.Register.FitOut, code)
				}
				slices.Sort(got)
				slices.Sort(want)
				if !slices.Equal(got, want) {
					t.Errorf("zbar reads %v, want %v", got, want)
				}
			})
		}
	}
}

// TestLabelsLieOnTheirSheet: no usual label runs off A4 or over its neighbour, and every page has its own size.
func TestLabelsLieOnTheirSheet(t *testing.T) {
	t.Parallel()
	for _, s := range LabelSheets() {
		if s.Single() {
			continue
		}
		if err := s.check(); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
		if !strings.HasSuffix(s.Name, fmt.Sprint("-", s.Columns*s.Rows)) {
			t.Errorf("%s has %d labels", s.Name, s.Columns*s.Rows)
		}
	}
	own, err := LabelSheetOf("63.5x38.1-3x7+7.25+15.15+66+38.1")
	if err != nil || own.Columns != 3 || own.DownMm != 38.1 {
		t.Errorf("a sheet as measured is %+v (%v)", own, err)
	}
	in := inputOf(t, readRegister(t, "wall-with-door"))
	in.Register.FitOut.LinkBase = "https://" + strings.Repeat("x", 80) + ".example"
	small, err := LabelSheetOf("30x18")
	if err != nil {
		t.Fatal(err)
	}
	if err := LabelsPDF(io.Discard, in, LabelChoice{Sheet: small}); domain.CodeOf(err) != domain.Refused {
		t.Errorf("a code too fine to read: %v, want it refused", err)
	}
}

// TestScaleBarMeasures: the bar of every drawing is as long on paper as it says at the scale that stands on it, measured
// in dots of the page as poppler prints it.
func TestScaleBarMeasures(t *testing.T) {
	t.Parallel()
	image, text := outside(t, "pdftoppm", "poppler-utils"), outside(t, "pdftotext", "poppler-utils")
	const dotsPerMm = 10
	for _, name := range []string{"mezzanine", "wall-with-door"} {
		in := inputOf(t, readRegister(t, name))
		file := onDisk(t, func(w io.Writer) error { return DrawingsPDF(w, in) })
		runs(t, image, "-r", fmt.Sprint(dotsPerMm*25.4), "-gray", file, file)
		pages, err := filepath.Glob(file + "-*.pgm")
		if err != nil || len(pages) < 3 {
			t.Fatalf("%d pages (%v)", len(pages), err)
		}
		for i, page := range pages {
			words := runs(t, text, "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), file, "-")
			scale := regexp.MustCompile(`1:(\d+) at full size`).FindStringSubmatch(strings.ReplaceAll(words, "\n", " "))
			says := regexp.MustCompile(`(?m)^(\d+) mm$`).FindStringSubmatch(words)
			if scale == nil || says == nil {
				t.Fatalf("%s, page %d says no scale or no length: %s", name, i+1, words)
			}
			var of, length float64
			fmt.Sscan(scale[1], &of)
			fmt.Sscan(says[1], &length)
			got := barDots(t, page)
			if want := length / of * dotsPerMm; got < want-2 || got > want+4 { // the outline is a hair wider than the bar
				t.Errorf("%s, page %d at 1:%v: the bar says %v mm and is %.1f mm on paper, want %.1f", name, i+1, of, length, got/dotsPerMm, want/dotsPerMm)
			}
		}
	}
}

// barDots finds the scale bar, five parts dark and light by turns in one row, and answers how long it is in dots.
func barDots(tb testing.TB, page string) float64 {
	tb.Helper()
	f, err := os.Open(page)
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	in := bufio.NewReader(f)
	var wide, high, most int
	if _, err := fmt.Fscanf(in, "P5\n%d %d\n%d\n", &wide, &high, &most); err != nil {
		tb.Fatal(err)
	}
	row := make([]byte, wide)
	for range high {
		if _, err := io.ReadFull(in, row); err != nil {
			tb.Fatal(err)
		}
		if n := barIn(row); n > 0 {
			return float64(n)
		}
	}
	tb.Fatalf("there is no scale bar on %s", page)
	return 0
}

// barIn is the length of a bar in a row of dots: dark, light, dark, light, dark, of one length each within two dots.
func barIn(row []byte) int {
	dark := func(i int) bool { return row[i] < 0x60 }
	for from := 0; from < len(row); from++ {
		if !dark(from) || from > 0 && dark(from-1) {
			continue
		}
		at, parts := from, 0
		for part := 0; part < 5 && at < len(row); part++ {
			n := at
			for n < len(row) && dark(n) == (part%2 == 0) {
				n++
			}
			if n-at < 70 || n-at > 90 { // 8 mm a part
				break
			}
			parts, at = parts+1, n
		}
		if parts == 5 {
			return at - from
		}
	}
	return 0
}

// TestEveryDrawingReadsBack: what this program draws it reads back with every word and nothing left out, whatever stands
// out on it.
func TestEveryDrawingReadsBack(t *testing.T) {
	t.Parallel()
	for _, name := range keyRegisters(t) {
		r := readRegister(t, name)
		state := drawing.State{Highlight: map[string]drawing.Emphasis{}, Dim: true}
		for i, how := range []drawing.Emphasis{drawing.Chosen, drawing.Out, drawing.Falls, drawing.PutBack, drawing.Added} {
			state.Highlight[r.Elements[i%len(r.Elements)].Code] = how
		}
		for _, v := range drawing.Views(r) {
			for _, o := range []drawing.Options{{}, {State: state}, {Scale: 100}} {
				var svg bytes.Buffer
				if err := drawing.Draw(&svg, r, v, o); err != nil {
					t.Fatal(err)
				}
				f, err := drawing.Read(svg.Bytes())
				if err != nil {
					t.Errorf("%s, %s: %v", name, v.Title, err)
					continue
				}
				words := 0
				for _, s := range f.Shapes {
					if s.Words != "" {
						words++
					}
				}
				if want := strings.Count(svg.String(), "<text "); words != want {
					t.Errorf("%s, %s: %d words read back of %d", name, v.Title, words, want)
				}
			}
		}
	}
}

// TestPrintedSaysWhatThePlanSays: schedule, crew sheets and waste note hold every item, step and code of the plan.
func TestPrintedSaysWhatThePlanSays(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	in := inputOf(t, priced(t, readRegister(t, "wall-with-door")))
	schedule := runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return ReinstatementPDF(w, in) }), "-")
	for _, i := range in.Plan.Schedule.Items {
		if !regexp.MustCompile(fmt.Sprintf(`(?m)^\s*%d\s.*%s`, i.Number, regexp.QuoteMeta(figure(i.AmountMinor, in.Register.FitOut.Currency)))).MatchString(schedule) {
			t.Errorf("item %d with its amount is not on the schedule", i.Number)
		}
	}
	if total := figure(in.Plan.Schedule.Total.PricedMinor, in.Register.FitOut.Currency); !strings.Contains(schedule, total) {
		t.Errorf("the total %s is not on the schedule", total)
	}
	crew := runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return CrewSheetsPDF(w, in) }), "-")
	for _, d := range in.Plan.Days {
		if !strings.Contains(crew, fmt.Sprintf("Day %d of %d", d.Number, len(in.Plan.Days))) {
			t.Errorf("day %d has no sheet", d.Number)
		}
	}
	for _, s := range in.Plan.Sequence.Steps {
		if !regexp.MustCompile(fmt.Sprintf(`(?m)^\s*\d\d:\d\d\s+%d\s`, s.Number)).MatchString(crew) {
			t.Errorf("step %d is on no crew sheet", s.Number)
		}
	}
	note := runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return WasteNotePDF(w, in) }), "-")
	for _, l := range in.Plan.Salvage.Waste {
		if !strings.Contains(note, l.Code) {
			t.Errorf("%s is not on the waste note", l.Code)
		}
	}
}

// TestPrintedScheduleIsLevel: what the workbook's cover and schedule say of dates, percentages, and of what both sides said
// stands in the printed schedule too, of an issue with its anchor and what changed.
func TestPrintedScheduleIsLevel(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	r := priced(t, readRegister(t, "wall-with-door"))
	r.FitOut.Tenancy.BreakDate, r.FitOut.Tenancy.Expiry = "2029-03-24", "2031-03-24"
	r.FitOut.Terms = domain.Terms{PricedOn: "2026-09-01", TaxName: "VAT", TaxPercent: 17.5, ContingencyPercent: 6.25, YearlyPercent: 3.5}
	in := inputOf(t, r)
	first, second := in.Plan.Schedule.Items[0], in.Plan.Schedule.Items[1]
	theirs, ours := int64(7654321), int64(123456)
	in.Issue = &issue.Issue{Document: issue.Reinstatement, Number: 3, At: "2026-09-02T08:00:00Z", To: []string{"Harbour Estates"}, Head: strings.Repeat("ab", 32), HeadEntry: 41}
	in.Revision, in.Before = "Issue 3", 2
	in.Changes = []issue.Change{{Kind: issue.Changed, Key: first.Key, Number: first.Number, What: first.AsBuilt, DeltaMinor: 4321, Fields: []issue.FieldChange{{Field: "quantity", Was: "77 hole", Is: "78 hole"}}}}
	in.Positions = map[int]answer.Position{
		first.Number:  {State: answer.Disputed, Tenant: answer.Side{Remarks: "photographed", FigureMinor: &ours}, Landlord: answer.Side{Remarks: "unseen", FigureMinor: &theirs}},
		second.Number: {State: answer.Agreed},
	}
	printed := runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return ReinstatementPDF(w, in) }), "-")
	words := strings.Join(strings.Fields(printed), " ")
	for _, want := range []string{"Prepared on 2 March 2026", "Break date 2029-03-24", "Expiry 2031-03-24", "Issued on 2026-09-02", "Sent to Harbour Estates", in.Issue.Head, "entry 41", "Since issue 2 0 added, 0 gone, 1 changed",
		"At prices of 2026-09-01", "At the break, 2029-03-24", "3.5", "6.25", "17.5", "of the net figure", "Changes since issue 2", "77 hole", "78 hole", "43.21",
		"photographed", "1,234.56", "unseen", "76,543.21", "disputed", "agreed", "Summary"} {
		if !strings.Contains(words, want) {
			t.Errorf("the printed schedule does not say %q", want)
		}
	}
	if strings.Contains(words, "DRAFT") {
		t.Error("an issue is called a draft")
	}
	in.Plan.Schedule.Figures.Whole = false
	words = runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return ReinstatementPDF(w, in) }), "-")
	if gross := figure(in.Plan.Schedule.Figures.Now.Gross, "GBP"); strings.Contains(words, gross) {
		t.Errorf("a part stands for the whole: %s", gross)
	}
}

// TestLongOpeningRunsOn: however much is said before the first table, no word on any page stands below the rule over the
// foot, the foot itself apart, as poppler finds them.
func TestLongOpeningRunsOn(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	const rule = (210 - 11.5) / 25.4 * 72 // of A4 on its side, in points from above
	for _, letter := range []string{"", strings.Repeat("word for word as the landlord's letter has it, ", 25), strings.Repeat("word for word as the landlord's letter has it, ", 400)} {
		in := inputOf(t, priced(t, readRegister(t, "wall-with-door")))
		in.Register.FitOut.Tenancy.LeaveByConsent = letter
		file := onDisk(t, func(w io.Writer) error { return ReinstatementPDF(w, in) })
		for page, words := range strings.Split(runs(t, text, "-bbox", file, "-"), "<page ")[1:] {
			low := map[string]int{} // words below the rule, by where they begin
			for _, m := range regexp.MustCompile(`yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)"`).FindAllStringSubmatch(words, -1) {
				var end float64
				fmt.Sscan(m[2], &end)
				if end > rule {
					low[m[1]]++
				}
			}
			if len(low) != 1 {
				t.Errorf("a letter of %d letters, page %d: words below the rule at %v, want one line, the foot", len(letter), page+1, low)
			}
		}
	}
}

// TestNoCodeBeforeItIsSettled: treated wood goes under no code on any document until somebody has settled which of the
// mirror entries of Decision 2000/532/EC it is; a hazardous one never goes on the plain note.
func TestNoCodeBeforeItIsSettled(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	r := readRegister(t, "wall-with-door")
	stud := ""
	for i := range r.Elements {
		e := &r.Elements[i]
		if e.Kind == domain.Stud && stud == "" {
			stud, e.Treated, e.State, e.LengthMm = e.Code, true, domain.TakenDown, 200 // too short to keep
		} else {
			e.State = domain.Struck
		}
	}
	r.Fixings, r.Holes, r.Relations = nil, nil, nil
	note := func(signed ...domain.SignOff) (string, []salvage.WasteLine) {
		r.SignOffs = signed
		in := inputOf(t, r)
		return runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return WasteNotePDF(w, in) }), "-"), in.Plan.Salvage.Waste
	}
	if words, lines := note(); len(lines) != 1 || lines[0].Code != "" || !strings.Contains(words, "ask first") || !strings.Contains(words, "Not on this note") || strings.Contains(words, "\nOn this note") {
		t.Errorf("before anybody has settled it the note has %+v:\n%s", lines, words)
	}
	settled := domain.SignOff{Code: "S-1", Kind: domain.WasteAssessed, What: "assessed", About: []string{stud}, By: "Jo", On: "2026-03-01", Note: "invoice 12", WasteCode: "17 02 01"}
	if words, lines := note(settled); lines[0].Code != "17 02 01" || strings.Contains(words, "ask first") || strings.Contains(words, "Not on this note") || lines[0].OutKg == 0 {
		t.Errorf("settled as wood the note has %+v:\n%s", lines, words)
	}
	settled.WasteCode = "17 02 04*"
	if words, lines := note(settled); lines[0].Code != "17 02 04*" || !lines[0].Hazardous || !strings.Contains(words, "Not on this note") || strings.Contains(words, "\nOn this note") {
		t.Errorf("settled as hazardous the note has %+v:\n%s", lines, words)
	}
}

// TestPrintedTakesAnyWords: words with markup, control letters, signs of other scripts and no spaces reach the page
// without harm.
func TestPrintedTakesAnyWords(t *testing.T) {
	t.Parallel()
	in := inputOf(t, priced(t, readRegister(t, "wall-with-door")))
	in.Register.FitOut.Name = "A\x00<b>&amp;\u202e" + strings.Repeat("x", 400) + "\U0001F600\xff {pages}"
	for name, write := range map[string]func(io.Writer) error{
		"schedule": func(w io.Writer) error { return ReinstatementPDF(w, in) }, "crew": func(w io.Writer) error { return CrewSheetsPDF(w, in) },
		"note": func(w io.Writer) error { return WasteNotePDF(w, in) }, "labels": func(w io.Writer) error { return LabelsPDF(w, in, LabelChoice{}) },
		"drawings": func(w io.Writer) error { return DrawingsPDF(w, in) }, "setting out": func(w io.Writer) error { return SettingOutPDF(w, in) },
	} {
		if err := write(io.Discard); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
