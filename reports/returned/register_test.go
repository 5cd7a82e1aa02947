package returned

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/reports"
)

// TestRegisterComesBackAsItWent: the registers with answer keys, the examples and the demo, out as a workbook and in again,
// say nothing new; nor do they after a real spreadsheet program saved them.
func TestRegisterComesBackAsItWent(t *testing.T) {
	t.Parallel()
	var files []string
	for _, pattern := range []string{"../../testdata/keys/*.json", "../../testdata/examples/*.json", "../../testdata/*.json"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 10 {
		t.Fatalf("only %d registers found", len(files))
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			r := registerIn(t, name)
			says(t, r, registerBook(t, r))
		})
	}
}

func registerIn(tb testing.TB, name string) *domain.Register {
	tb.Helper()
	file, err := os.Open(name)
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func registerBook(tb testing.TB, r *domain.Register) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := reports.RegisterBook(&out, reports.Input{Register: r, Now: time.Date(2029, 1, 5, 9, 0, 0, 0, time.UTC), By: "A. Roe", Revision: "draft"}); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// says fails where a workbook says anything new.
func says(tb testing.TB, r *domain.Register, content []byte) {
	tb.Helper()
	b, err := Open(content)
	if err != nil {
		tb.Fatal(err)
	}
	defer b.Close()
	edits, err := b.Register(r)
	if err != nil {
		tb.Fatal(err)
	}
	if !edits.Nothing() {
		tb.Errorf("new %.300q, amended %.600q", edits.New, edits.Amended)
	}
}

// TestRegisterSurvivesLibreOffice: the demo's register saved by a real spreadsheet program says nothing new.
func TestRegisterSurvivesLibreOffice(t *testing.T) {
	t.Parallel()
	office, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not on the path: CI must have LibreOffice")
		}
		t.Skip("soffice is not on the path: install LibreOffice to check the round trip against it")
	}
	r := registerIn(t, "../../testdata/demo.json")
	folder, out := t.TempDir(), t.TempDir()
	went := registerBook(t, r)
	if err := os.WriteFile(filepath.Join(folder, "register.xlsx"), went, 0o600); err != nil {
		t.Fatal(err)
	}
	words, err := exec.CommandContext(t.Context(), office, "-env:UserInstallation=file://"+t.TempDir(), "--headless", "--convert-to", "xlsx", "--outdir", out, filepath.Join(folder, "register.xlsx")).CombinedOutput()
	if err != nil {
		t.Fatalf("saving with LibreOffice: %v\n%s", err, words)
	}
	back, err := os.ReadFile(filepath.Join(out, "register.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(went, back) {
		t.Fatal("LibreOffice did not save the file anew")
	}
	says(t, r, back)
}

// respoiled is a workbook, changed.
func respoiled(tb testing.TB, content []byte, with func(f *excelize.File) error) []byte {
	tb.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(content))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	var out bytes.Buffer
	if err := errors.Join(with(f), f.Write(&out)); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// TestRegisterRefusals: what is not this register's, or no longer, is refused at its cell.
func TestRegisterRefusals(t *testing.T) {
	t.Parallel()
	r := registerIn(t, "../../testdata/demo.json")
	for i := range r.Elements {
		r.Elements[i].Version = 1 // as storing gives it
	}
	went := registerBook(t, r)
	for _, tt := range []struct {
		name    string
		content []byte
		field   string
		says    string
	}{
		{"the workbook of another job", registerBook(t, registerIn(t, "../../testdata/examples/loose-shelf.json")), "Cover!B", "send it back there"},
		{"a sheet is missing", respoiled(t, went, func(f *excelize.File) error { return f.DeleteSheet("Holes") }), "Holes", "the sheet Holes is missing"},
		{"a sheet under another name", respoiled(t, went, func(f *excelize.File) error { return f.SetSheetName("Fixings", "Screws") }), "Fixings", "the sheet Fixings is missing"},
		{"a sheet is empty", respoiled(t, went, func(f *excelize.File) error {
			if err := f.DeleteSheet("Holes"); err != nil {
				return err
			}
			_, err := f.NewSheet("Holes")
			return err
		}), "Holes", "empty, its headings too"},
		{"no cover", respoiled(t, went, func(f *excelize.File) error { return f.DeleteSheet("Cover") }), "Cover", "missing"},
		{"a code typed over", respoiled(t, went, func(f *excelize.File) error { return f.SetCellStr("Pieces", "A3", "W9-S9") }), "Pieces!A3", "a code is not changed here"},
		{"an example's code typed over a record's", respoiled(t, went, func(f *excelize.File) error { return f.SetCellStr("Pieces", "A3", "EXAMPLE-2") }), "Pieces!A3", "a code is not changed here"},
		{"merged cells", respoiled(t, went, func(f *excelize.File) error { return f.MergeCell("Pieces", "C4", "C6") }), "Pieces!C4:C6", "merged"},
		{"a formula", respoiled(t, went, func(f *excelize.File) error { return f.SetCellFormula("Pieces", "E3", "E4") }), "Pieces!E3", "formula"},
		{"a column of one's own", respoiled(t, went, func(f *excelize.File) error { return f.SetCellStr("Zones", "Z1", "Mine") }), "Zones!Z1", "no column"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			b, err := Open(tt.content)
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			edits, err := b.Register(r)
			if err == nil {
				t.Fatalf("it was taken: new %.300q, amended %.300q", edits.New, edits.Amended)
			}
			first, ok := errors.AsType[*domain.Error](err)
			if !ok {
				t.Fatalf("an uncoded fault: %v", err)
			}
			if !strings.HasPrefix(first.Field, tt.field) || !strings.Contains(first.Text, tt.says) {
				t.Errorf("told at %s: %s; want at %s, with %q", first.Field, first.Text, tt.field, tt.says)
			}
		})
	}
}

// TestRegisterDropDowns: the catalogue's words can be picked in the file that goes out, and all of them.
func TestRegisterDropDowns(t *testing.T) {
	t.Parallel()
	r := registerIn(t, "../../testdata/demo.json")
	f, err := excelize.OpenReader(bytes.NewReader(registerBook(t, r)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, tt := range []struct {
		sheet, heading, list string
		words                int
	}{
		{"Surfaces", "Kind", "Host surfaces kind", len(r.Catalogue.HostKinds)}, {"Surfaces", "Known", "Known", 4},
		{"Pieces", "Kind", "Elements kind", len(domain.ElementKinds())}, {"Pieces", "Material", "Elements material", len(r.Catalogue.Materials)},
		{"Fixings", "Type", "Fixings type", len(r.Catalogue.FixingTypes)}, {"Holes", "State", "Holes state", 4},
	} {
		from := dropDown(t, f, tt.sheet, tt.heading)
		cells := listed(t, f, from)
		if heading := cells[0]; heading != tt.list || len(cells)-1 != tt.words || slices.Contains(cells, "") {
			t.Errorf("%s, %s: picked from %s, %q with %d words; want %q with %d", tt.sheet, tt.heading, from, heading, len(cells)-1, tt.list, tt.words)
		}
	}
}

// dropDown is the range that a column's second row is picked from.
func dropDown(tb testing.TB, f *excelize.File, sheet, heading string) string {
	tb.Helper()
	all, err := f.GetDataValidations(sheet)
	if err != nil {
		tb.Fatal(err)
	}
	for _, v := range all {
		head, err := f.GetCellValue(sheet, strings.Split(v.Sqref, "2:")[0]+"1")
		if err != nil {
			tb.Fatal(err)
		}
		if head == heading {
			return v.Formula1
		}
	}
	tb.Errorf("%s, %s: no drop-down", sheet, heading)
	return ""
}

// listed are the cells of a range in one column, under its heading.
func listed(tb testing.TB, f *excelize.File, from string) []string {
	tb.Helper()
	sheet, cells, _ := strings.Cut(strings.ReplaceAll(from, "$", ""), "!")
	start, end, ok := strings.Cut(cells, ":")
	if !ok {
		tb.Fatalf("%q is no range", from)
	}
	column, _, err := excelize.CellNameToCoordinates(start)
	if err != nil {
		tb.Fatal(err)
	}
	_, last, err := excelize.CellNameToCoordinates(end)
	if err != nil {
		tb.Fatal(err)
	}
	var out []string
	for row := 1; row <= last; row++ {
		name, err := excelize.CoordinatesToCellName(column, row)
		if err != nil {
			tb.Fatal(err)
		}
		v, err := f.GetCellValue(sheet, name)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}
