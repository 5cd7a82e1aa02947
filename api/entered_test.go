package api

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/api/service"
	"unpick/api/spec"
)

// sheetWords is everything that a workbook says, sheet by sheet.
func sheetWords(tb testing.TB, content []byte) map[string]string {
	tb.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(content))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	out := map[string]string{}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			tb.Fatal(err)
		}
		for _, row := range rows {
			out[sheet] += strings.Join(row, " | ") + "\n"
		}
	}
	return out
}

// printedWords is what a PDF says, with every gap as one space; "" where the machine cannot read one.
func printedWords(tb testing.TB, content []byte) string {
	tb.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatal("pdftotext is not on the path: CI must have poppler-utils")
		}
		tb.Log("pdftotext is not on the path: what the print says is not read back")
		return ""
	}
	read := exec.CommandContext(tb.Context(), tool, "-", "-")
	read.Stdin = bytes.NewReader(content)
	words, err := read.Output()
	if err != nil {
		tb.Fatal(err)
	}
	return strings.Join(strings.Fields(string(words)), " ")
}

// TestEnteredLate: a record of the start that is entered after holes were logged, or after an issue went out, says so
// wherever the other party reads it; what it frees says it too, with what was agreed; what stays agreed is listed.
func TestEnteredLate(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "E"))
	f, schedule := base+"/E", base+"/E/issues/reinstatement.xlsx"
	old := object{"on": "2026-01-05", "by": "A. Surveyor", "stage": "start", "text": "whole"}
	s.want(201, post, f+"/host-surfaces/EAST/conditions", old)
	recordOf := func(host string, n int) spec.ConditionRecord {
		t.Helper()
		var report spec.ConditionReport
		s.want(200, get, f+"/condition", nil).into(t, &report)
		for _, surface := range report.Surfaces {
			if surface.Host == host {
				return surface.Start[n]
			}
		}
		t.Fatalf("there is no surface %s", host)
		return spec.ConditionRecord{}
	}
	if r := recordOf("EAST", 0); r.Flagged == nil || !strings.HasSuffix(*r.Entered, ", after holes were logged in it") || *r.EnteredOn <= r.On {
		t.Errorf("a record entered after holes were logged is %+v", r)
	}
	var one spec.IssueDetail
	s.want(201, post, f+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}}).into(t, &one)
	s.want(201, post, f+"/issues", object{"document": "making-good.xlsx", "to": []string{"Harbour Estates"}})
	s.agreeAll(schedule+"/1/answers", *one.Lines, 9300)
	if page := s.ok(200, "the form", s.send(get, "/f/E/condition/EAST", nil)); !strings.Contains(page, "A record of the start that is entered now is marked here") || !strings.Contains(page, "after holes were logged in it and after issue 1 went out") {
		t.Error("the form does not say that a record of the start will be marked")
	}
	// A patch of the whole wall is no place to fill and frees none; half a metre each, side by side, they free every hole.
	patches := []object{}
	for u := 250; u < 3000; u += 250 {
		for v := 250; v < 2700; v += 250 {
			patches = append(patches, object{"kind": "patch", "u_mm": u, "v_mm": v, "width_mm": 500, "height_mm": 500})
		}
	}
	s.want(201, post, f+"/host-surfaces/EAST/conditions", object{"on": "2026-01-06", "stage": "start", "text": "rendered over",
		"defects": patches})
	late := "after holes were logged in it and after issue 1 went out"
	if r := recordOf("EAST", 1); r.Flagged == nil || !strings.HasSuffix(*r.Entered, late) {
		t.Errorf("a record entered after an issue is %+v", r)
	}
	if page := s.ok(200, "condition", s.send(get, "/f/E/condition", nil)); !strings.Contains(page, late+"</strong>") {
		t.Error("the page does not mark the record")
	}
	var two spec.IssueDetail
	s.want(201, post, f+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}}).into(t, &two)
	freed := ""
	for _, c := range two.Changes {
		if strings.HasPrefix(c.Key, "repair:EAST:") {
			freed = c.Key
			if c.Kind != "gone" || c.WasAgreedMinor == nil || *c.WasAgreedMinor != 9300 || c.Because == nil || !strings.Contains(*c.Because, "condition record 2 of EAST, dated 6 Jan 2026, was entered ") {
				t.Errorf("what the record freed is told as %+v", c)
			}
		} else if c.Because != nil && !strings.HasPrefix(c.Key, "finish:EAST") {
			t.Errorf("%s is told to be freed: %s", c.Key, *c.Because)
		}
	}
	if freed == "" || len(two.StillAgreed)+len(two.Changes) != len(*one.Lines) || len(two.StillAgreed) == 0 {
		t.Errorf("of %d agreed items %d changed and %d stay agreed", len(*one.Lines), len(two.Changes), len(two.StillAgreed))
	}
	// The making-good list went out between the two: the schedule cites its items by it.
	if e := *(*one.Lines)[len(*one.Lines)-2].Evidence; !strings.Contains(e, "making-good list, not issued, item") {
		t.Errorf("before the making-good list went out it is cited as %q", e)
	}
	cited := 0
	for _, l := range *two.Lines {
		if l.Evidence != nil && strings.Contains(*l.Evidence, "; making-good list, issue 1, item") {
			cited++
		}
	}
	if cited == 0 {
		t.Error("no item of the schedule cites the making-good list by its issue")
	}
	var again spec.IssueDetail
	s.want(200, get, schedule+"/2", nil).into(t, &again)
	if len(again.Changes) != len(two.Changes) || *again.Changes[0].WasAgreedMinor != 9300 || again.Changes[0].Because == nil {
		t.Errorf("read later the changes are %+v", again.Changes)
	}
	book := sheetWords(t, s.want(200, get, schedule+"/2/file", nil).body)
	print := printedWords(t, s.want(200, get, schedule+"/2/print", nil).body)
	page := s.ok(200, "the issue", s.send(get, "/f/E/issues/reinstatement.xlsx/2", nil))
	for where, words := range map[string]string{"the sheet Changes": book["Changes"], "the sheet Condition": book["Condition"], "the print": print, "the page": page} {
		if words == "" {
			continue
		}
		for _, want := range []string{"as agreed at GBP 93.00", "holes in its defects are not charged: condition record 2 of EAST", "stays so"} {
			if where == "the sheet Condition" || where == "the page" && want == "stays so" {
				continue
			}
			if !strings.Contains(words, want) {
				t.Errorf("%s does not say %q", where, want)
			}
		}
		if !strings.Contains(words, late) {
			t.Errorf("%s does not say that the record was entered late", where)
		}
	}
	// A set of which some holes are excused is two rows with two numbers.
	var list spec.IssueDetail
	s.want(201, post, f+"/issues", object{"document": "making-good.xlsx", "to": []string{"Harbour Estates"}}).into(t, &list)
	for _, c := range list.Changes {
		if c.Because == nil && strings.HasSuffix(c.Key, ":at-defects") {
			t.Errorf("the making-good list does not say why %s is there", c.Key)
		}
	}
}

// TestIssueKeepsItsTerms: the page of an issue reckons with the contingency and tax that it went out with, whatever they are
// by now, and says that they changed.
func TestIssueKeepsItsTerms(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "K"))
	f, schedule := base+"/K", base+"/K/issues/reinstatement.xlsx"
	pricing := func(contingency, tax float64) {
		t.Helper()
		now := s.want(200, get, f, nil).header.Get("ETag")
		s.want(200, patch, f, object{"pricing": object{"contingency_percent": contingency, "tax_percent": tax, "tax_name": "VAT"}}, "If-Match", now)
	}
	pricing(10, 20)
	var one spec.IssueDetail
	s.want(201, post, f+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}}).into(t, &one)
	s.agreeAll(schedule+"/1/answers", *one.Lines, 10000)
	gross := func(number string) (int64, bool) {
		t.Helper()
		var now service.Standing
		s.want(200, get, schedule+"/"+number+"/answers", nil).into(t, &now)
		return now.AsAgreed.Figures.Now.Gross, now.TermsChanged
	}
	n := int64(len(*one.Lines))
	// 100.00 an item, 10 % contingency and 20 % tax on that.
	if got, changed := gross("1"); got != n*13200 || changed {
		t.Errorf("issue 1 comes to %d, changed: %t; want %d", got, changed, n*13200)
	}
	pricing(0, 25)
	if got, changed := gross("1"); got != n*13200 || !changed {
		t.Errorf("once the terms changed issue 1 comes to %d, changed: %t; want %d as issued", got, changed, n*13200)
	}
	if page := s.ok(200, "the issue", s.send(get, "/f/K/issues/reinstatement.xlsx/1", nil)); !strings.Contains(page, "They are others by now") {
		t.Error("the page does not say that the terms changed since")
	}
	s.want(201, post, f+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}})
	if got, changed := gross("2"); got != n*12500 || changed {
		t.Errorf("issue 2 comes to %d, changed: %t; want %d", got, changed, n*12500)
	}
}

// agreeAll has the landlord give every item one figure and the tenant agree to it.
func (s *site) agreeAll(answers string, lines []spec.IssueLine, figureMinor int) {
	s.tb.Helper()
	var offers, agrees []object
	for _, l := range lines {
		offers = append(offers, object{"item": *l.Item, "figure_minor": figureMinor})
		agrees = append(agrees, object{"item": *l.Item, "verdict": "agreed"})
	}
	s.want(201, post, answers, object{"party": "landlord", "statements": offers})
	s.want(201, post, answers, object{"party": "tenant", "statements": agrees})
}
