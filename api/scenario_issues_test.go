package api

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"unpick/api/spec"
	"unpick/reports/returned"
)

const xlsx = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// filledIn opens a workbook, lets it be filled in, and saves it.
func filledIn(tb testing.TB, content []byte, with func(set func(cell string, value any), f *excelize.File)) []byte {
	tb.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(content))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	with(func(cell string, value any) {
		if err := f.SetCellValue("Schedule", cell, value); err != nil {
			tb.Fatal(err)
		}
	}, f)
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// issuing sends documents, reads a workbook back, answers, and makes links.
func (s *site) issuing(f string) {
	s.tb.Helper()
	schedule := "reinstatement.xlsx"
	s.want(422, post, f+"/issues", object{"document": schedule, "to": []string{" "}})
	s.want(404, post, f+"/issues", object{"document": "nothing.xlsx", "to": []string{"Harbour Estates"}})
	s.want(409, post, f+"/issues", object{"document": "register.json", "to": []string{"Harbour Estates"}})
	if alone := s.want(409, post, f+"/issues", object{"document": "reinstatement.pdf", "to": []string{"Harbour Estates"}}); !strings.Contains(string(alone.body), "issue reinstatement.xlsx") {
		s.tb.Errorf("a print alone: %.300s", alone.body)
	}
	var one, two spec.IssueDetail
	made := s.want(201, post, f+"/issues", object{"document": schedule, "to": []string{"Harbour Estates", "J. Roe"}, "note": "first"})
	made.into(s.tb, &one)
	s.want(200, get, made.header.Get("Location"), nil)
	file := s.want(200, get, made.header.Get("Location")+"/file", nil)
	if got := sumOf(file.body); got != one.Sha256 || one.Number != 1 || one.Before != 0 {
		s.tb.Errorf("issue %d has the hash %s, its file %s", one.Number, one.Sha256, got)
	}
	s.printed(made.header.Get("Location"), one)
	s.anchored(f, one)
	s.want(201, post, f+"/records", object{"records": object{"prices": []object{{"key": "labour-hour", "amount_minor": 5000, "unit": "hour", "since": "2026-02-01"}}}})
	s.want(201, post, f+"/issues", object{"document": schedule, "to": []string{"Harbour Estates"}}).into(s.tb, &two)
	s.kept(one, two)
	for _, other := range []string{"stripout.xlsx", "making-good.xlsx", "salvage.xlsx", "setting-out-W1.svg"} {
		var is spec.IssueDetail
		at := s.want(201, post, f+"/issues", object{"document": other, "to": []string{"the crew"}})
		at.into(s.tb, &is)
		if is.Number != 1 || len(*is.Lines) == 0 {
			s.tb.Errorf("%s went out as issue %d with %d lines", other, is.Number, len(*is.Lines))
		}
		s.want(404, get, at.header.Get("Location")+"/answers", nil)
		s.want(404, get, at.header.Get("Location")+"/print", nil)
	}
	var list spec.IssueList
	s.want(200, get, f+"/issues", nil).into(s.tb, &list)
	if len(list.Items) != 6 {
		s.tb.Errorf("%d issues are listed, want 6", len(list.Items))
	}
	s.want(409, post, f+"/issues", object{"document": "salvage.xlsx", "to": []string{"the crew"}, "only": []string{"W1"}})
	s.want(404, post, f+"/issues", object{"document": schedule, "to": []string{"the crew"}, "only": []string{"NOBODY"}})
	var part spec.IssueDetail
	s.want(201, post, f+"/issues", object{"document": schedule, "to": []string{"Harbour Estates"}, "only": []string{"W1"}}).into(s.tb, &part)
	if part.Number != 3 || part.Scope == nil || *part.Scope != "partial: W1 alone" || len(*part.Lines) == 0 {
		s.tb.Errorf("a schedule of a part went out as %+v", part)
	}
	numbers := map[string]int{}
	for _, l := range *two.Lines {
		numbers[l.Key] = *l.Item
	}
	for _, l := range *part.Lines {
		if n, ok := numbers[l.Key]; ok && n != *l.Item {
			s.tb.Errorf("%s is item %d, and item %d in a schedule of a part", l.Key, n, *l.Item)
		}
	}
	s.roundTrip(f+"/issues/"+schedule, two)
	s.links(f + "/issues/" + schedule + "/2")
}

// anchored: the head printed on an issue is a log entry's hash, and the entry behind it holds the hash of the issue.
func (s *site) anchored(f string, is spec.IssueDetail) {
	s.tb.Helper()
	var page spec.LogEntryPage
	s.want(200, get, f+"/log?limit=500", nil).into(s.tb, &page)
	entries := page.Items
	if entries[is.LogHeadEntry-1].Hash != is.LogHead || is.LogEntry != is.LogHeadEntry+1 {
		s.tb.Errorf("the head on the issue is %s, entry %d of the log has %s", is.LogHead, is.LogHeadEntry, entries[is.LogHeadEntry-1].Hash)
	}
	if text := string(entries[is.LogEntry-1].Change); !strings.Contains(text, is.Sha256) || !strings.Contains(text, is.Print.Sha256) {
		s.tb.Errorf("entry %d does not hold the hashes of the issue and its print: %s", is.LogEntry, text)
	}
}

// printed: the schedule went out in print too, with the hash that the issue gives, its number, and the head of the log.
func (s *site) printed(at string, is spec.IssueDetail) {
	s.tb.Helper()
	content := s.want(200, get, at+"/print", nil)
	if got := sumOf(content.body); is.Print == nil || got != is.Print.Sha256 || len(content.body) != is.Print.Bytes || is.Print.Document != "reinstatement.pdf" {
		s.tb.Fatalf("the print has the hash %s, and the issue says %+v", got, is.Print)
	}
	if got := content.header.Get("Content-Disposition"); !strings.Contains(got, "issue-1-reinstatement.pdf") {
		s.tb.Errorf("the print comes as %s", got)
	}
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			s.tb.Fatal("pdftotext is not on the path: CI must have poppler-utils")
		}
		s.tb.Log("pdftotext is not on the path: what the print says is not read back")
		return
	}
	read := exec.CommandContext(s.tb.Context(), tool, "-layout", "-", "-")
	read.Stdin = bytes.NewReader(content.body)
	words, err := read.Output()
	if err != nil {
		s.tb.Fatal(err)
	}
	for _, want := range []string{is.LogHead, "Issue 1, head of the log " + is.LogHead[:12], "Harbour Estates; J. Roe"} {
		if !strings.Contains(string(words), want) {
			s.tb.Errorf("the print does not say %q", want)
		}
	}
}

// kept: items keep their numbers, and the second issue says what changed.
func (s *site) kept(one, two spec.IssueDetail) {
	s.tb.Helper()
	numbers := func(is spec.IssueDetail) map[string]int {
		out := map[string]int{}
		for _, l := range *is.Lines {
			out[l.Key] = *l.Item
		}
		return out
	}
	if diff := cmp.Diff(numbers(one), numbers(two)); diff != "" {
		s.tb.Errorf("item numbers (-first +second):\n%s", diff)
	}
	if two.Before != 1 || len(two.Changes) == 0 || two.Changes[0].Kind != "changed" {
		s.tb.Errorf("a rate changed, and the second issue says %+v", two.Changes)
	}
}

// roundTrip fills the second issue in and reads it back.
func (s *site) roundTrip(issues string, two spec.IssueDetail) {
	s.tb.Helper()
	back := issues + "/2/returned"
	file := s.want(200, get, issues+"/2/file", nil).body
	send := func(status int, at string, content []byte) reply {
		s.tb.Helper()
		return s.want(status, post, at, content, "Content-Type", xlsx)
	}
	good := filledIn(s.tb, file, func(set func(string, any), f *excelize.File) {
		set("P2", "to match the rest")
		set("Q2", 123.45)
		set("R2", "disputed")
		set("R3", "agreed")
		set("R4", "agreed") // beside a figure that is not ours
		set("Q4", 98765)
	})
	send(422, back, filledIn(s.tb, file, func(_ func(string, any), f *excelize.File) { _ = f.SetCellFormula("Schedule", "Q2", "1+1") }))
	send(409, back, s.want(200, get, issues+"/1/file", nil).body)
	send(413, back, make([]byte, returned.MostBytes+1))
	send(404, issues+"/9/returned", good)
	var standing spec.Standing
	s.want(200, get, issues+"/2/answers", nil).into(s.tb, &standing)
	if len(standing.Received) != 0 || standing.Summary.Proposed != standing.Summary.Items {
		s.tb.Errorf("nothing was taken, and it stands at %+v with %d workbooks", standing.Summary, len(standing.Received))
	}
	var read spec.Reading
	at := send(201, back, good)
	at.into(s.tb, &read)
	third := *(*two.Lines)[2].Item
	if len(read.ToAsk) != 1 || read.ToAsk[0].Item != third || *read.ToAsk[0].At != "Schedule!R4" || !strings.Contains(read.ToAsk[0].Says, "taken as an offer of GBP 98,765.00, not as agreement") || !strings.HasPrefix(read.Meanings[2], "offers GBP 98,765.00; ") {
		s.tb.Errorf("agreed beside another figure is not asked about: %+v, %q", read.ToAsk, read.Meanings)
	}
	if len(read.Statements) != 3 || len(read.Differences)+len(read.NotMatched)+len(read.MissingItems) != 0 {
		s.tb.Errorf("the workbook reads %+v", read)
	}
	take := at.header.Get("Location")
	s.want(412, post, take, object{"party": "landlord", "seen": read.Seen + 1})
	refused := s.want(409, post, take, object{"party": "landlord", "seen": read.Seen})
	if !strings.Contains(string(refused.body), "Schedule!R4") {
		s.tb.Errorf("it was taken unasked: %s", refused.body)
	}
	strayed := send(201, back, filledIn(s.tb, file, func(set func(string, any), _ *excelize.File) {
		set("A2", 999)
		set("R2", "disputed")
		set("R3", "agreed")
	}))
	refused = s.want(409, post, strayed.header.Get("Location"), object{"party": "landlord", "seen": read.Seen})
	if !strings.Contains(string(refused.body), "no item 999") {
		s.tb.Errorf("a row of no item was left behind unasked: %s", refused.body)
	}
	s.want(201, post, take, object{"party": "landlord", "seen": read.Seen, "asked": true}).into(s.tb, &standing)
	if p := standing.Positions[2]; p.State != "answered" || *p.Landlord.FigureMinor != 9876500 || standing.ToAsk == nil || len(*standing.ToAsk) != 1 {
		s.tb.Errorf("agreed beside another figure was taken as %+v, asked %v", p, standing.ToAsk)
	}
	first := standing.Positions[0]
	if first.State != "disputed" || *first.Landlord.FigureMinor != 12345 || *first.Landlord.Remarks != "to match the rest" || standing.Positions[1].State != "agreed" || len(*first.History) != 1 {
		s.tb.Errorf("after it was taken item 1 stands at %+v", first)
	}
	s.want(409, post, take, object{"party": "landlord", "seen": standing.Seen, "asked": true}) // nothing new in it
	s.want(404, post, back+"/"+strings.Repeat("0", 64), object{"party": "landlord", "seen": 0})
	s.want(404, post, take, object{"party": "tenant", "seen": standing.Seen}) // it was received as the landlord's
	key := "one-key"
	s.want(201, post, issues+"/2/answers", object{"party": "landlord", "statements": []object{{"item": 1, "remarks": "again"}}}, "Idempotency-Key", key)
	s.want(422, post, take, object{"party": "landlord", "seen": 0}, "Idempotency-Key", key)
	s.answers(issues+"/2/answers", *two.Lines)
	var plan struct {
		Schedule struct {
			AsAgreed *struct {
				Difference int64 `json:"difference_minor"`
				Total      int64 `json:"total_minor"`
			} `json:"as_agreed"`
			Items []struct {
				Item  int    `json:"item"`
				State string `json:"state"`
			} `json:"items"`
		} `json:"schedule"`
	}
	s.want(200, get, strings.TrimSuffix(issues, "/issues/reinstatement.xlsx")+"/plan", nil).into(s.tb, &plan)
	if first := plan.Schedule.Items[0]; first.Item != *(*two.Lines)[0].Item || first.State != "agreed" {
		s.tb.Errorf("the plan's first item is %+v, want agreed as in the issue", first)
	}
	s.want(200, get, issues+"/2/answers", nil).into(s.tb, &standing)
	if a, want := plan.Schedule.AsAgreed, 12345-(*two.Lines)[0].AmountMinor; a == nil || a.Difference != want || standing.AsAgreed == nil || standing.AsAgreed.TotalMinor != a.Total || standing.Summary.AsAgreedMinor != a.Total {
		s.tb.Errorf("as agreed the plan has %+v, want a difference of %d; the answers have %+v", a, want, standing.AsAgreed)
	}
	page := string(s.want(200, get, strings.Replace(issues, "/api/v1/fit-outs/", "/f/", 1)+"/2/answers", nil).body)
	for _, want := range []string{"As agreed so far", "Total as scheduled", "All others, as scheduled"} {
		if !strings.Contains(page, want) {
			s.tb.Errorf("the page of the answers does not say %q", want)
		}
	}
	draft, err := excelize.OpenReader(bytes.NewReader(s.want(200, get, strings.TrimSuffix(issues, "/issues/reinstatement.xlsx")+"/documents/reinstatement.xlsx", nil).body))
	if err != nil {
		s.tb.Fatal(err)
	}
	defer draft.Close()
	for cell, want := range map[string]string{"N2": "", "O2": "123.45", "P2": "again", "Q2": "123.45", "R2": "agreed"} {
		got, err := draft.GetCellValue("Schedule", cell)
		if err != nil || got != want {
			s.tb.Errorf("a draft says %q in %s (%v), want %q: what was said to the item is on it too", got, cell, err, want)
		}
	}
	var later spec.Standing
	s.want(200, get, issues+"/1/answers", nil).into(s.tb, &later)
	if later.Summary.Proposed != later.Summary.Items {
		s.tb.Errorf("what was said to issue 2 stands in issue 1: %+v", later.Summary)
	}
}

func (s *site) answers(at string, lines []spec.IssueLine) {
	s.tb.Helper()
	say := func(item int, more ...object) object {
		o := object{"item": item}
		for _, m := range more {
			for k, v := range m {
				o[k] = v
			}
		}
		return o
	}
	third := *lines[2].Item
	s.want(409, post, at, object{"party": "landlord", "statements": []object{say(third, object{"verdict": "done"})}})
	s.want(422, post, at, object{"party": "landlord", "statements": []object{say(third, object{"remarks": "fine"}), say(9999, object{"remarks": "no"})}})
	var now spec.Standing
	s.want(200, get, at, nil).into(s.tb, &now)
	if now.Positions[2].State != "answered" { // as the workbook had it
		s.tb.Errorf("half of an answer was taken: item %d is %s", third, now.Positions[2].State)
	}
	s.want(409, post, at, object{"party": "landlord", "statements": []object{say(third, object{"verdict": "agreed", "agreed_to_minor": lines[2].AmountMinor + 1})}})
	s.want(201, post, at, object{"party": "landlord", "statements": []object{say(third, object{"verdict": "agreed", "figure_minor": lines[2].AmountMinor + 500})}}).into(s.tb, &now)
	if p := now.Positions[2]; p.State != "answered" || now.ToAsk == nil || len(*now.ToAsk) != 1 || (*now.ToAsk)[0].Item != third || !strings.Contains((*now.ToAsk)[0].Says, "taken as an offer") {
		s.tb.Errorf("agreed beside another figure was taken as %s, asked %v", p.State, now.ToAsk)
	}
	now = spec.Standing{} // what was to be asked is not told again
	s.want(201, post, at, object{"party": "landlord", "statements": []object{say(third, object{"verdict": "agreed", "agreed_to_minor": lines[2].AmountMinor})}}).into(s.tb, &now)
	if p := now.Positions[2]; p.State != "agreed" || p.AgreedMinor != lines[2].AmountMinor || now.ToAsk != nil {
		s.tb.Errorf("agreed to the tenant's figure, after an offer: %s at %d", p.State, p.AgreedMinor)
	}
	s.want(201, post, at, object{"party": "tenant", "statements": []object{say(1, object{"verdict": "agreed"})}}).into(s.tb, &now)
	if p := now.Positions[0]; p.State != "agreed" || p.AgreedMinor != 12345 {
		s.tb.Errorf("the tenant took the landlord's figure, and item 1 is %s at %d", p.State, p.AgreedMinor)
	}
}

func (s *site) links(is string) {
	s.tb.Helper()
	s.want(422, post, is+"/links", object{"made_for": "", "days": 400})
	s.want(404, post, strings.Replace(is, "/2", "/9", 1)+"/links", object{"made_for": "J. Roe", "days": 14})
	var made spec.LinkMade
	s.want(201, post, is+"/links", object{"made_for": "J. Roe, Harbour Estates", "days": 14}).into(s.tb, &made)
	s.want(200, get, made.Path, nil)
	s.want(200, post, is+"/links/"+fmt.Sprint(made.Link.Link)+"/revoke", nil)
	s.want(404, post, is+"/links/999999/revoke", nil)
	s.want(404, get, made.Path, nil)
	var list spec.LinkList
	s.want(200, get, is+"/links", nil).into(s.tb, &list)
	var did []string
	for _, v := range list.Items[0].Visits {
		did = append(did, v.Did)
	}
	if diff := cmp.Diff([]string{"read", "refused"}, did); diff != "" || !list.Items[0].Revoked {
		s.tb.Errorf("visits (-want +got):\n%s", diff)
	}
}
