package api

import (
	"bytes"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/api/spec"
	"unpick/reports/returned"
)

// edited opens the register's workbook, lets it be changed, and saves it.
func edited(tb testing.TB, content []byte, with func(f *excelize.File)) []byte {
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

// put writes a cell by the heading of its column and the code of its row; a row that there is not comes below the last.
func put(tb testing.TB, f *excelize.File, sheet, code, heading string, value any) {
	tb.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		tb.Fatal(err)
	}
	column, line := 0, len(rows)+1
	for i, h := range rows[0] {
		if h == heading {
			column = i + 1
		}
	}
	for i, r := range rows {
		if len(r) > 0 && r[0] == code {
			line = i + 1
		}
	}
	name, err := excelize.CoordinatesToCellName(column, line)
	if err == nil {
		err = f.SetCellValue(sheet, name, value)
	}
	if err != nil {
		tb.Fatalf("%s, %s: %v", sheet, heading, err)
	}
}

// workbooked takes the register out as a workbook and back: unchanged, edited, wrong, and older than the register.
func (s *site) workbooked(f string) {
	s.tb.Helper()
	book := s.want(200, get, f+"/documents/register.xlsx", nil).body
	send := func(status int, content []byte, more ...string) reply {
		s.tb.Helper()
		return s.want(status, post, f+"/register-workbook", content, append([]string{"Content-Type", xlsx}, more...)...)
	}
	var none, edits spec.WorkbookEdits
	send(200, book).into(s.tb, &none)
	if len(none.New)+len(none.Amended) != 0 {
		s.tb.Errorf("a workbook as it was taken says %+v", none)
	}
	changed := edited(s.tb, book, func(x *excelize.File) {
		put(s.tb, x, "Pieces", "W1-S2", "Note", "a knot at 900")
		put(s.tb, x, "Zones", "Z-NEW", "Code", "Z-NEW")
		put(s.tb, x, "Zones", "Z-NEW", "Name", "Yard")
	})
	dry := s.want(200, post, f+"/register-workbook?dry_run=true", changed, "Content-Type", xlsx)
	dry.into(s.tb, &edits)
	if len(edits.New) != 1 || len(edits.Amended) != 1 || !strings.Contains(edits.Amended[0], "a knot at 900") {
		s.tb.Errorf("an edited workbook says %+v", edits)
	}
	s.want(404, get, f+"/zones/Z-NEW", nil)
	send(200, changed)
	s.want(200, get, f+"/zones/Z-NEW", nil)
	send(412, edited(s.tb, book, func(x *excelize.File) { put(s.tb, x, "Pieces", "W1-S2", "Note", "another") }))
	far := edited(s.tb, s.want(200, get, f+"/documents/register.xlsx", nil).body, func(x *excelize.File) { put(s.tb, x, "Pieces", "W1-S2", "Placement origin x", 900_000) })
	var advised spec.WorkbookEdits
	s.want(200, post, f+"/register-workbook?dry_run=true", far, "Content-Type", xlsx).into(s.tb, &advised)
	if advised.Advice == nil || len(*advised.Advice) == 0 {
		s.tb.Error("a piece moved away in a workbook is read without advice")
	}
	send(409, far)
	wrong := send(422, edited(s.tb, s.want(200, get, f+"/documents/register.xlsx", nil).body, func(x *excelize.File) {
		put(s.tb, x, "Pieces", "W1-S2", "Length (mm)", -5)
		put(s.tb, x, "Pieces", "W1-S3", "Material", "cheese")
	})).problem(s.tb)
	told := ""
	for _, e := range *wrong.Errors {
		told += *e.Field + " "
	}
	if !strings.Contains(told, "Pieces!E") || !strings.Contains(told, "Pieces!D") {
		s.tb.Errorf("faults at %s, want the cells of the length and of the material", told)
	}
	send(422, []byte("no workbook"))
	send(422, make([]byte, 2*mostBody)) // read as far as a page reads it, and no workbook
	send(413, make([]byte, returned.MostBytes+1))
	s.want(415, post, f+"/register-workbook", "{}", "Content-Type", "application/json")
	s.want(428, post, f+"/register-workbook", book, "Content-Type", xlsx, "Idempotency-Key", "")
	s.want(404, post, base+"/NOWHERE/register-workbook", book, "Content-Type", xlsx)
	s.want(400, post, f+"/register-workbook?dry_run=perhaps", book, "Content-Type", xlsx)
}

// TestRegisterBookPage: shown first, stored with the tick, refused by cell; and the demo's whole register says nothing new.
func TestRegisterBookPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at, api := s.demo(), base+"/WREN-PRESS"
	page := at + "/register/workbook"
	s.want(200, get, page, nil)
	book := s.want(200, get, api+"/documents/register.xlsx", nil).body
	file := func(content []byte) *sentFile { return &sentFile{"register.xlsx", xlsx, content} }
	if text := s.ok(200, "as it was", s.upload(page, url.Values{"/store": {"yes"}}, file(book))); !strings.Contains(text, "says nothing that is not so already") {
		t.Error("a workbook as it was taken is said to change something")
	}
	changed := edited(t, book, func(x *excelize.File) { put(t, x, "Fixings", "W1-F27", "Note", "two heads painted over") })
	if text := s.ok(200, "shown", s.upload(page, url.Values{}, file(changed))); !strings.Contains(text, "Nothing is stored yet") || !strings.Contains(text, "two heads painted over") {
		t.Error("what would change is not shown")
	}
	if text := s.ok(200, "stored", s.upload(page, url.Values{"/store": {"yes"}}, file(changed))); !strings.Contains(text, "Stored.") {
		t.Error("it is not said that it was stored")
	}
	far := edited(t, s.want(200, get, api+"/documents/register.xlsx", nil).body, func(x *excelize.File) { put(t, x, "Pieces", "W1-S2", "Placement origin x", 900_000) })
	if text := s.ok(200, "a piece moved away, shown", s.upload(page, url.Values{}, file(far))); !strings.Contains(text, "lies outside the unit") || !strings.Contains(text, "log it all the same") {
		t.Error("the advice on a workbook is not shown before it is taken")
	}
	asked := s.ok(422, "a piece moved away, stored without an answer", s.upload(page, url.Values{"/store": {"yes"}}, file(far)))
	seen := regexp.MustCompile(`name="/seen"[^>]*value="([0-9a-f]+)"`).FindStringSubmatch(asked)
	if seen == nil {
		t.Fatal("the page does not ask about the advice")
	}
	s.ok(422, "other advice was seen", s.upload(page, url.Values{"/store": {"yes"}, "/accept": {"yes"}, "/seen": {"0000"}}, file(far)))
	if text := s.ok(200, "all the same", s.upload(page, url.Values{"/store": {"yes"}, "/accept": {"yes"}, "/seen": {seen[1]}, "/why": {"stored in the yard"}}, file(far))); !strings.Contains(text, "Stored.") {
		t.Error("it is not said that it was stored")
	}
	if log := s.ok(200, "the log", s.send(get, at+"/register/log", nil)); !strings.Contains(log, "stored in the yard") {
		t.Error("the log does not say why the advice was not followed")
	}
	if text := s.ok(422, "a formula", s.upload(page, url.Values{"/store": {"yes"}}, file(edited(t, book, func(x *excelize.File) {
		if err := x.SetCellFormula("Pieces", "E3", "=1+1"); err != nil {
			t.Fatal(err)
		}
	})))); !strings.Contains(text, "Pieces!E3") || !strings.Contains(text, "formula") {
		t.Error("a formula where a length belongs is not named with its cell")
	}
	s.ok(422, "no file", s.upload(page, url.Values{}, nil))
	empty := s.want(200, get, api+"/documents/register-empty.xlsx", nil).body
	if text := s.ok(200, "an empty one", s.upload(page, url.Values{}, file(empty))); !strings.Contains(text, "says nothing that is not so already") {
		t.Error("an empty workbook's example is read")
	}
	if returned.MostBytes < len(book)*4 {
		t.Errorf("the demo's workbook has %d bytes, too near to the %d that are taken", len(book), returned.MostBytes)
	}
}
