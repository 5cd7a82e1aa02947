package returned_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/catalogue"
	"unpick/domain/issue"
	"unpick/domain/plan"
	"unpick/reports"
	"unpick/reports/returned"
)

// sent is an issue of the schedule of one of the registers with an answer key, priced oddly.
type sent struct {
	issue   issue.Issue
	content []byte
}

func send(tb testing.TB, register, currency string) sent {
	tb.Helper()
	raw, err := os.ReadFile(filepath.Join("../../testdata/keys", register+".json"))
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatal(err)
	}
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: catalogue.Default()}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	r.FitOut.Code, r.FitOut.Currency = "A/B & Co", currency
	p, err := plan.Make(r)
	if err != nil {
		tb.Fatal(err)
	}
	for i, item := range p.Schedule.Items {
		if i != 1 { // one stays without a rate
			r.Prices = append(r.Prices, domain.Price{Key: item.RateKey, Amount: int64(333 + 37*i), Unit: item.Unit, Since: "2026-01-05"})
		}
	}
	if p, err = plan.Make(r); err != nil {
		tb.Fatal(err)
	}
	issue.Number(p, nil, nil)
	is := issue.Issue{Document: issue.Reinstatement, Number: 1, Title: "Schedule", Head: strings.Repeat("ab", 32), HeadEntry: 6, Entry: 7, At: "2026-03-02T09:30:00.000000Z",
		By: "A. Carpenter", To: []string{"Harbour Estates"}, Currency: currency, Lines: issue.ScheduleLines(p)}
	var out bytes.Buffer
	if err := reports.Reinstatement(&out, reports.Input{Register: r, Plan: p, Now: time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC), By: is.By, Revision: "Issue 1", Issue: &is}); err != nil {
		tb.Fatal(err)
	}
	return sent{is, out.Bytes()}
}

// edit opens a workbook, lets it be filled in, and saves it.
func edit(tb testing.TB, content []byte, with func(*excelize.File)) []byte {
	tb.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(content))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	with(f)
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// read reads a workbook back as the landlord's.
func (s sent) read(content []byte) (answer.Reading, error) {
	book, err := returned.Open(content)
	if err != nil {
		return answer.Reading{}, err
	}
	defer book.Close()
	id, err := book.Identity()
	if err != nil {
		return answer.Reading{}, err
	}
	if want := (returned.Identity{FitOut: "A/B & Co", Document: s.issue.Document, Issue: s.issue.Number, Head: s.issue.Head}); id != want {
		return answer.Reading{}, fmt.Errorf("identity = %+v, want %+v", id, want)
	}
	rows, err := book.Schedule(s.issue.Currency)
	if err != nil {
		return answer.Reading{}, err
	}
	now := answer.Standing([]issue.Issue{s.issue}, nil)
	return answer.Match(rows, answer.Landlord, now, now, s.issue.Currency)
}

// The columns of the schedule that the landlord fills in, as they go out.
const remarksAt, figureAt, stateAt = "P", "Q", "R"

func must(tb testing.TB, err error) {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
}

// A workbook that nobody touched says nothing, differs in nothing and misses nothing.
func TestUntouchedSaysNothing(t *testing.T) {
	t.Parallel()
	for _, currency := range []string{"GBP", "JPY", "KWD"} { // 2, 0 and 3 digits by ISO 4217
		s := send(t, "mezzanine", currency)
		got, err := s.read(s.content)
		must(t, err)
		if got.Total != len(s.issue.Lines) || len(got.Statements)+len(got.Differences)+len(got.Strays)+len(got.Missing) > 0 || got.Total == 0 {
			t.Errorf("%s: %+v of %d items", currency, got, len(s.issue.Lines))
		}
	}
}

// TestSurvivesLibreOffice fills the landlord's columns in, has LibreOffice save the file, and reads it back: remarks and
// figures are on their items, nothing of ours differs, and the total is the issue's to the penny.
func TestSurvivesLibreOffice(t *testing.T) {
	t.Parallel()
	office, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not on the path: CI must have LibreOffice")
		}
		t.Skip("soffice is not on the path: install LibreOffice to check the round trip against it")
	}
	for _, by := range [][]string{{"xlsx:Calc MS Excel 2007 XML"}, {"ods", "xlsx:Calc MS Excel 2007 XML"}} { // some keep it in their own format between
		t.Run(by[0], func(t *testing.T) {
			t.Parallel()
			survives(t, office, by)
		})
	}
}

func survives(t *testing.T, office string, by []string) {
	t.Helper()
	s := send(t, "mezzanine", "GBP")
	var want []answer.Statement
	filled := edit(t, s.content, func(f *excelize.File) {
		for i, l := range s.issue.Lines {
			row := fmt.Sprint(i + 2)
			st := answer.Statement{Item: l.Number}
			switch i % 3 {
			case 0:
				minor := l.AmountMinor + 110 // 1.10 more: a figure that binary cannot hold
				st.FigureMinor, st.Remarks, st.Verdict = &minor, "=too low & <not> “flush”\nsecond line", answer.Dispute
				must(t, f.SetCellFloat("Schedule", figureAt+row, float64(minor)/100, 2, 64))
				must(t, f.SetCellStr("Schedule", remarksAt+row, st.Remarks))
				must(t, f.SetCellStr("Schedule", stateAt+row, "Disputed"))
			case 1:
				if !l.RateKnown {
					continue
				}
				st.Verdict = answer.Agree
				must(t, f.SetCellStr("Schedule", stateAt+row, "agreed"))
			default:
				continue
			}
			want = append(want, st)
		}
		must(t, f.SetRowVisible("Schedule", 3, false))
		must(t, f.SetColWidth("Schedule", "A", "Z", 40))
		must(t, f.InsertCols("Schedule", "A", 2)) // somebody's own columns before ours
		must(t, f.SetCellStr("Schedule", "A1", "Our ref"))
		must(t, f.SetColVisible("Schedule", "E:F", false))
	})
	file := filepath.Join(t.TempDir(), "back.xlsx")
	must(t, os.WriteFile(file, filled, 0o600))
	profile := "-env:UserInstallation=file://" + t.TempDir()
	for _, format := range by {
		out := t.TempDir()
		words, err := exec.CommandContext(t.Context(), office, profile, "--headless", "--convert-to", format, "--outdir", out, file).CombinedOutput()
		if err != nil {
			t.Fatalf("saving with LibreOffice: %v\n%s", err, words)
		}
		ending, _, _ := strings.Cut(format, ":")
		file = filepath.Join(out, "back."+ending)
	}
	saved, err := os.ReadFile(file)
	must(t, err)
	if bytes.Equal(saved, filled) {
		t.Fatal("LibreOffice did not save the file anew")
	}
	got, err := s.read(saved)
	must(t, err)
	if diff := cmp.Diff(want, got.Statements); diff != "" {
		t.Errorf("statements (-want +got):\n%s", diff)
	}
	if len(got.Differences)+len(got.Strays)+len(got.Missing) > 0 {
		t.Errorf("LibreOffice changed what is ours: %+v", got)
	}
	f, err := excelize.OpenReader(bytes.NewReader(saved))
	must(t, err)
	defer f.Close()
	var total, sum int64
	for _, l := range s.issue.Lines {
		total += l.AmountMinor
	}
	for i := range s.issue.Lines {
		cell, err := f.GetCellValue("Schedule", fmt.Sprint("N", i+2), excelize.Options{RawCellValue: true})
		must(t, err)
		if cell == "" {
			continue
		}
		var amount float64
		fmt.Sscan(cell, &amount)
		sum += int64(amount*100 + .5)
	}
	if sum != total || total == 0 {
		t.Errorf("amounts saved by LibreOffice come to %d, the issue's to %d", sum, total)
	}
}

// TestAnyOrder: however rows are sorted and hidden, columns moved and widened, and whatever is remarked, the same remarks
// land on the same items.
func TestAnyOrder(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	base, err := excelize.OpenReader(bytes.NewReader(s.content))
	must(t, err)
	defer base.Close()
	rows, err := base.GetRows("Schedule", excelize.Options{RawCellValue: true})
	must(t, err)
	n := len(s.issue.Lines)
	rapid.Check(t, func(rt *rapid.T) {
		var want []answer.Statement
		order := rapid.Permutation(indexes(n)).Draw(rt, "rows")
		columns := rapid.Permutation(indexes(len(rows[0]))).Draw(rt, "columns")
		said := map[int]answer.Statement{}
		for i, l := range s.issue.Lines {
			st := answer.Statement{Item: l.Number, Remarks: strings.TrimSpace(rapid.StringMatching(`[=+@a-zé"<& ]{0,12}`).Draw(rt, "remark"))}
			if rapid.Bool().Draw(rt, "figure") {
				minor := rapid.Int64Range(0, 100_000_000).Draw(rt, "minor")
				st.FigureMinor = &minor
			}
			if rapid.Bool().Draw(rt, "disputed") {
				st.Verdict = answer.Dispute
			}
			said[i] = st
		}
		back := edit(t, s.content, func(f *excelize.File) {
			must(t, f.DeleteDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: "Schedule"}))
			must(t, f.DeleteSheet("Schedule"))
			_, err := f.NewSheet("Schedule")
			must(t, err)
			put := func(row int, from []string, st answer.Statement, data bool) {
				for at, column := range columns {
					cell, err := excelize.CoordinatesToCellName(at+1, row)
					must(t, err)
					value := any("")
					if column < len(from) {
						value = from[column]
						if data && (column == 0 || column == 7 || column == 10 || column == 11) { // figures of ours
							var v float64
							if _, err := fmt.Sscan(from[column], &v); err == nil {
								value = v
							}
						}
					}
					if data && column == 15 {
						value = st.Remarks
					}
					if data && column == 16 && st.FigureMinor != nil {
						value = float64(*st.FigureMinor) / 100
					}
					if data && column == 17 && st.Verdict != "" {
						value = string(st.Verdict)
					}
					must(t, f.SetCellValue("Schedule", cell, value))
				}
			}
			put(1, rows[0], answer.Statement{}, false)
			for at, i := range order {
				put(at+2, rows[i+1], said[i], true)
				if rapid.Bool().Draw(rt, "hidden") {
					must(t, f.SetRowVisible("Schedule", at+2, false))
				}
				if !said[i].IsNothing() {
					want = append(want, said[i])
				}
			}
		})
		got, err := s.read(back)
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(want, append([]answer.Statement(nil), got.Statements...)); diff != "" {
			rt.Fatalf("statements (-want +got):\n%s", diff)
		}
		if len(got.Differences)+len(got.Strays)+len(got.Missing) > 0 {
			rt.Fatalf("differences out of nowhere: %+v", got)
		}
	})
}

func indexes(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
