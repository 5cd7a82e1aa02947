package returned_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/reports/returned"
)

// TestRefusals: whatever is wrong is told with its sheet and cell, and nothing of the file is used.
func TestRefusals(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	for _, tt := range []struct {
		name  string
		spoil func(*excelize.File)
		field string // of the first fault
		says  string
	}{
		{"a formula where a figure belongs", func(f *excelize.File) { must(t, f.SetCellFormula("Schedule", "Q3", "L3*2")) }, "Schedule!Q3", "formula"},
		{"a formula where remarks belong", func(f *excelize.File) { must(t, f.SetCellFormula("Schedule", "P2", `"x"&"y"`)) }, "Schedule!P2", "formula"},
		{"a formula for an item number", func(f *excelize.File) { must(t, f.SetCellFormula("Schedule", "A4", "A3+1")) }, "Schedule!A4", "typed, not calculated"},
		{"words where a figure belongs", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "Q2", "1.250,00")) }, "Schedule!Q2", "no figure"},
		{"a currency sign in a figure", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "Q2", "£12")) }, "Schedule!Q2", "no figure"},
		{"yes where a figure belongs", func(f *excelize.File) { must(t, f.SetCellBool("Schedule", "Q2", true)) }, "Schedule!Q2", "no figure"},
		{"a tenth of a penny", func(f *excelize.File) { must(t, f.SetCellFloat("Schedule", "Q2", 10.005, 3, 64)) }, "Schedule!Q2", "more decimals"},
		{"a negative figure", func(f *excelize.File) { must(t, f.SetCellInt("Schedule", "Q2", -5)) }, "Schedule!Q2", "negative"},
		{"a date where a figure belongs", func(f *excelize.File) {
			style, err := f.NewStyle(&excelize.Style{NumFmt: 14})
			must(t, err)
			must(t, f.SetCellInt("Schedule", "Q2", 45000))
			must(t, f.SetCellStyle("Schedule", "Q2", "Q2", style))
		}, "Schedule!Q2", "a date"},
		{"a state of one's own", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "R2", "maybe")) }, "Schedule!R2", "no state"},
		{"done before agreed", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "R2", "done")) }, "Schedule!R2", "after it is agreed"},
		{"merged cells", func(f *excelize.File) { must(t, f.MergeCell("Schedule", "P2", "P4")) }, "Schedule!P2:P4", "merged"},
		{"an item twice", func(f *excelize.File) { must(t, f.SetCellInt("Schedule", "A3", 1)) }, "Schedule!A3", "item 1 is here and in Schedule!A2"},
		{"the sheet is missing", func(f *excelize.File) { must(t, f.DeleteSheet("Schedule")) }, "Schedule", "missing"},
		{"the cover is missing", func(f *excelize.File) { must(t, f.DeleteSheet("Cover")) }, "Cover", "missing"},
		{"a heading is gone", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "P1", "Notes")) }, "Schedule", `"landlord's remarks" is missing`},
		{"a heading is there twice", func(f *excelize.File) { must(t, f.SetCellStr("Schedule", "M1", "Landlord's remarks")) }, "Schedule!P1", "twice"},
		{"another workbook", func(f *excelize.File) { must(t, f.SetCellStr("Cover", "A1", "x")); must(t, f.RemoveCol("Cover", "A")) }, "Cover", "no copy of an issue"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := s.read(edit(t, s.content, tt.spoil))
			refusedWith(t, err, tt.field, tt.says)
		})
	}
}

func refusedWith(t *testing.T, err error, field, says string) {
	t.Helper()
	var first *domain.Error
	switch e := err.(type) {
	case domain.Errors:
		first = e[0]
	case *domain.Error:
		first = e
	default:
		t.Fatalf("read: %v, want a refusal", err)
	}
	if first.Field != field || !strings.Contains(first.Text, says) {
		t.Errorf("refused with %q, want the place %q and %q", first.Error(), field, says)
	}
}

// What is not ours is never taken: a changed amount, a rate typed over and a landlord's change of our words are shown.
func TestOursIsShownNotTaken(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	back := edit(t, s.content, func(f *excelize.File) {
		must(t, f.SetCellFloat("Schedule", "L2", 12.34, 2, 64))
		must(t, f.SetCellStr("Schedule", "F3", "nothing to do"))
		must(t, f.SetCellStr("Schedule", "N4", "we agree to everything")) // the tenant's column
		must(t, f.SetCellInt("Schedule", "A5", 99))                       // an item that there is not
		must(t, f.SetCellStr("Schedule", "P5", "who am I"))
		must(t, f.SetCellStr("Schedule", "P60", "a note under the table"))
	})
	got, err := s.read(back)
	must(t, err)
	if len(got.Statements) != 0 {
		t.Errorf("taken: %+v", got.Statements)
	}
	var at []string
	for _, d := range got.Differences {
		at = append(at, d.At)
	}
	if fmt.Sprint(at) != "[Schedule!L2 Schedule!F3 Schedule!N4]" || got.Differences[0].Back != "GBP 12.34" {
		t.Errorf("differences = %+v", got.Differences)
	}
	at = nil
	for _, x := range got.Strays {
		at = append(at, x.At)
	}
	if fmt.Sprint(at) != "[Schedule!P5 Schedule!A5 Schedule!P60]" || got.Strays[1].Says != "there is no item 99 in this issue; the row says proposed" {
		t.Errorf("not matched = %+v", got.Strays)
	}
	if fmt.Sprint(got.Missing) != "[4]" {
		t.Errorf("missing = %v, want item 4", got.Missing)
	}
}

// zipped is a workbook with parts put in or in the place of others; nil takes one out.
func zipped(tb testing.TB, content []byte, parts map[string]func(io.Writer)) []byte {
	tb.Helper()
	from, err := zip.NewReader(bytes.NewReader(content), int64(len(content)))
	must(tb, err)
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	for _, f := range from.File {
		if _, ok := parts[f.Name]; !ok {
			must(tb, to.Copy(f))
		}
	}
	for name, write := range parts {
		if write != nil {
			w, err := to.Create(name)
			must(tb, err)
			write(w)
		}
	}
	must(tb, to.Close())
	return out.Bytes()
}

func text(s string) func(io.Writer) { return func(w io.Writer) { _, _ = io.WriteString(w, s) } }

// sheetPart is where the sheet Schedule lies in a workbook as it goes out.
const sheetPart = "xl/worksheets/sheet2.xml"

func rowsOf(n int, row func(i int) string) func(io.Writer) {
	return func(w io.Writer) {
		_, _ = io.WriteString(w, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
		for i := 1; i <= n; i++ {
			_, _ = io.WriteString(w, row(i))
		}
		_, _ = io.WriteString(w, `</sheetData></worksheet>`)
	}
}

// TestHostileFiles: what is no workbook, what would run something, and what would fill the memory.
func TestHostileFiles(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	lying := zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(20_000, func(i int) string { return fmt.Sprintf(`<row r="%d"><c r="A%d"><v>1</v></c></row>`, i, i) })})
	for _, tt := range []struct {
		name    string
		content []byte
		code    domain.Code
		says    string
	}{
		{"nothing", nil, domain.Invalid, "empty"},
		{"a picture renamed", []byte("\x89PNG\r\n\x1a\n not a workbook"), domain.Invalid, "no workbook"},
		{"an old workbook, or one with a password", append([]byte{0xD0, 0xCF, 0x11, 0xE0}, make([]byte, 600)...), domain.Invalid, "password"},
		{"a zip of something else", zipped(t, emptyZip(t), map[string]func(io.Writer){"mimetype": text("application/vnd.oasis.opendocument.spreadsheet")}), domain.Invalid, "no workbook"},
		{"macros", zipped(t, s.content, map[string]func(io.Writer){"xl/vbaProject.bin": text("x")}), domain.Refused, "macros"},
		{"links to other files", zipped(t, s.content, map[string]func(io.Writer){"xl/externalLinks/externalLink1.xml": text("<x/>")}), domain.Refused, "links to other files"},
		{"an embedded object", zipped(t, s.content, map[string]func(io.Writer){"xl/embeddings/oleObject1.bin": text("x")}), domain.Refused, "embedded"},
		{"a part twice, by case", zipped(t, s.content, map[string]func(io.Writer){"XL/Workbook.xml": text("<x/>")}), domain.Invalid, "twice"},
		{"a bomb", zipped(t, s.content, map[string]func(io.Writer){sheetPart: func(w io.Writer) { _, _ = w.Write(make([]byte, 65<<20)) }}), domain.TooLarge, "unpacks to more"},
		{"a file too large", make([]byte, returned.MostBytes+1), domain.TooLarge, "larger than"},
		{"ten million rows", zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(10_000_000, func(int) string { return `<row/>` })}), domain.TooLarge, "more than 200000 rows"},
		{"more rows than a schedule has", zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(20_001, func(i int) string { return fmt.Sprintf(`<row r="%d"><c r="A%d"><v>1</v></c></row>`, i, i) })}), domain.TooLarge, "more than 20000 rows"},
		{"a row beyond the format", zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(1, func(int) string { return `<row r="10000000"><c r="A10000000"><v>1</v></c></row>` })}), domain.Invalid, "cannot be read"},
		{"a size that lies", lyingAbout(t, lying, sheetPart), domain.Invalid, "cannot be read"},
		{"no rows at all", zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(0, nil)}), domain.Invalid, "headings are missing"},
		{"broken XML", zipped(t, s.content, map[string]func(io.Writer){sheetPart: text("<worksheet><sheetData><row r='1'><c")}), domain.Invalid, "cannot be read"},
		{"a sheet without its part", zipped(t, s.content, map[string]func(io.Writer){sheetPart: nil}), domain.Invalid, "part of the file is missing"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := s.read(tt.content)
			if domain.CodeOf(err) != tt.code || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("read: %v (code %q), want code %q and %q", err, domain.CodeOf(err), tt.code, tt.says)
			}
		})
	}
}

func emptyZip(tb testing.TB) []byte {
	tb.Helper()
	var out bytes.Buffer
	must(tb, zip.NewWriter(&out).Close())
	return out.Bytes()
}

// lyingAbout says in the zip's directory that a part is a hundred bytes.
func lyingAbout(tb testing.TB, content []byte, name string) []byte {
	tb.Helper()
	out := bytes.Clone(content)
	at := bytes.LastIndex(out, []byte(name)) // the directory is at the end
	header := at - 46
	if header < 0 || !bytes.Equal(out[header:header+4], []byte("PK\x01\x02")) {
		tb.Fatal("the directory's entry is not where it should be")
	}
	copy(out[header+24:header+28], []byte{100, 0, 0, 0})
	return out
}

// A sheet whose only cell lies in the last column of the last row costs no memory and says what is wrong.
func TestFarCellCostsNothing(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	far := zipped(t, s.content, map[string]func(io.Writer){sheetPart: rowsOf(1, func(int) string { return `<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>` })})
	if _, err := s.read(far); domain.CodeOf(err) != domain.Invalid || !strings.Contains(err.Error(), "headings are missing") {
		t.Errorf("read: %v", err)
	}
}

// A copy without a number cannot be answered.
func TestDraftIsNotAnswered(t *testing.T) {
	t.Parallel()
	s := send(t, "wall-with-door", "GBP")
	_, err := s.read(edit(t, s.content, func(f *excelize.File) {
		rows, err := f.GetRows("Cover")
		must(t, err)
		for i, row := range rows {
			if len(row) > 1 && row[0] == "Issue" {
				must(t, f.SetCellStr("Cover", fmt.Sprint("B", i+1), "DRAFT, not issued"))
			}
		}
	}))
	if domain.CodeOf(err) != domain.Refused || !strings.Contains(err.Error(), "draft") {
		t.Errorf("read: %v", err)
	}
}

// FuzzOpen: no bytes make the reader fall over.
func FuzzOpen(f *testing.F) {
	s := send(f, "wall-with-door", "GBP")
	f.Add(s.content)
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, content []byte) {
		_, _ = s.read(content)
	})
}
