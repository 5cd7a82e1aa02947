package returned

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

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
