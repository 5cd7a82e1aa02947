package paper_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"unpick/reports/paper"
)

// tool is an outside program; a laptop without it skips, CI does not.
func tool(tb testing.TB, name, of string) string {
	tb.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatalf("%s is not on the path: CI must have %s", name, of)
		}
		tb.Skipf("%s is not on the path: install %s to check PDF files with it", name, of)
	}
	return path
}

func saved(tb testing.TB, d *paper.Document) string {
	tb.Helper()
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		tb.Fatal(err)
	}
	file := filepath.Join(tb.TempDir(), "out.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		tb.Fatal(err)
	}
	return file
}

func run(tb testing.TB, name string, args ...string) string {
	tb.Helper()
	out, err := exec.CommandContext(tb.Context(), name, args...).Output()
	if err != nil {
		tb.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

func about() paper.About {
	return paper.About{Title: "Test", Author: "Jo", Made: time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC), Foot: "Test, P1"}
}

// TestLettersAndFonts: the letters of Europe and its money come back from the file, and every font is in it, checked by
// another PDF library (poppler).
func TestLettersAndFonts(t *testing.T) {
	t.Parallel()
	text, fonts := tool(t, "pdftotext", "poppler-utils"), tool(t, "pdffonts", "poppler-utils")
	want := "Größe Türöffnung Ærø Łódź žluťoučký £1,234.50 €99 ½ × 2 m² – naïve Ωμ"
	d := paper.New(about())
	d.Page(paper.A4)
	d.Words(20, 30, want, 4, false)
	d.Words(20, 40, want, 4, true)
	file := saved(t, d)
	if got := run(t, text, "-layout", file, "-"); strings.Count(got, want) != 2 {
		t.Errorf("poppler reads %q, want %q twice", got, want)
	}
	lines := strings.Split(strings.TrimSpace(run(t, fonts, file)), "\n")[2:]
	if len(lines) != 2 {
		t.Errorf("%d fonts, want the upright and the bold one", len(lines))
	}
	for _, line := range lines {
		if fields := strings.Fields(line); !slices.Contains(fields, "yes") || fields[len(fields)-5] != "yes" {
			t.Errorf("a font is not in the file: %s", line)
		}
	}
}

// TestSameBytes: the same input gives the same file.
func TestSameBytes(t *testing.T) {
	t.Parallel()
	write := func() []byte {
		d := paper.New(about())
		d.Page(paper.A4)
		d.Words(20, 30, "upright", 4, false)
		d.Words(20, 40, "bold", 4, true)
		d.QR(20, 50, 30, "W1-S4")
		var out bytes.Buffer
		if err := d.Write(&out); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	if first := write(); !bytes.Equal(first, write()) {
		t.Error("two files of the same pages differ")
	}
}

// TestTableRunsOver: every row of a long table is on a page once, the heading stands on every page, a row taller than a
// page goes on on the next, and nothing runs into the foot.
func TestTableRunsOver(t *testing.T) {
	t.Parallel()
	text, box := tool(t, "pdftotext", "poppler-utils"), tool(t, "pdfinfo", "poppler-utils")
	table := paper.Table{Columns: []paper.Column{{Title: "Headword", WideMm: 40}, {Title: "Words", WideMm: 90}}, Totals: []string{"Endword", ""}}
	for i := range 80 {
		table.Rows = append(table.Rows, []string{"row" + string(rune('A'+i/26)) + string(rune('a'+i%26)) + ".", strings.Repeat("some words ", 1+i%7)})
	}
	table.Rows = append(table.Rows, []string{"tall.", strings.Repeat("brick ", 3000) + "last-of-tall"})
	d := paper.New(about())
	d.Page(paper.A4)
	d.Table(paper.MarginMm, table, nil)
	file := saved(t, d)
	got := run(t, text, "-layout", file, "-")
	for _, row := range table.Rows {
		if n := strings.Count(got, row[0]); n != 1 {
			t.Errorf("%s stands %d times, want once", row[0], n)
		}
	}
	for word, want := range map[string]int{"brick": 3000, "last-of-tall": 1, "Endword": 1, "Headword": strings.Count(got, "Page ")} {
		if n := strings.Count(got, word); n != want {
			t.Errorf("%s stands %d times, want %d", word, n, want)
		}
	}
	pages := strings.Fields(run(t, box, file)[strings.Index(run(t, box, file), "Pages:"):])[1]
	if !strings.Contains(got, "Page "+pages+" of "+pages) {
		t.Errorf("the last of %s pages is not numbered so", pages)
	}
}

// TestQRReads: codes of each length read back from a print at 200 dots to the inch, by zbar. One that would be too fine
// is not drawn, and says how fine it would be.
func TestQRReads(t *testing.T) {
	t.Parallel()
	image, reader := tool(t, "pdftoppm", "poppler-utils"), tool(t, "zbarimg", "zbar-tools")
	for _, tt := range []struct {
		name, content string
		sideMm        float64
	}{
		{"a code alone, small", "W1-S4", 12},
		{"a link", "https://register.example/f/WREN-PRESS/pieces/W1-S12", 18},
		{"a long link, escaped", "https://register.example.org/register/of/the/firm/f/A%2FB%20C/pieces/W1%2FS-12", 22},
		{"letters beyond ASCII, escaped as a link has them", "https://register.example/f/Gr%C3%B6%C3%9Fe/pieces/T%C3%BCr-1", 20},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			about := about()
			about.Foot = ""
			d := paper.New(about)
			d.Page(paper.Size{WideMm: 60, HighMm: 40})
			if module := d.QR(5.3, 4.7, tt.sideMm, tt.content); module < paper.LeastModuleMm {
				t.Fatalf("modules of %.3f mm", module)
			}
			file := saved(t, d)
			run(t, image, "-r", "200", "-gray", file, file)
			if got := strings.TrimSpace(run(t, reader, "--nodbus", "-q", "--raw", file+"-1.pgm")); got != tt.content {
				t.Errorf("zbar reads %q, want %q", got, tt.content)
			}
		})
	}
	d := paper.New(about())
	d.Page(paper.A4)
	if module := d.QR(10, 10, 10, strings.Repeat("x", 200)); module >= paper.LeastModuleMm {
		t.Errorf("200 letters on 10 mm have modules of %.3f mm", module)
	}
}
