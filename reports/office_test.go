package reports

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestOfficeComesToTheSame lets LibreOffice calculate the workbooks anew, from files whose formulas carry no value,
// and compares every formula cell with what we wrote.
func TestOfficeComesToTheSame(t *testing.T) {
	t.Parallel()
	office, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not on the path: CI must have LibreOffice")
		}
		t.Skip("soffice is not on the path: install LibreOffice to check the workbooks against it")
	}
	in := inputOf(t, priced(t, readRegister(t, "mezzanine")))
	bare, out := t.TempDir(), t.TempDir()
	args := []string{"-env:UserInstallation=file://" + t.TempDir(), "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", out}
	carried := map[string][]cell{}
	for document, write := range documents() {
		f := written(t, write, in)
		for _, c := range cellsOf(t, f) {
			if c.formula != "" {
				carried[document] = append(carried[document], c)
			}
		}
		if err := f.UpdateLinkedValue(); err != nil { // drops what the formulas carry
			t.Fatal(err)
		}
		file := filepath.Join(bare, document+".xlsx")
		if err := f.SaveAs(file); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	if words, err := exec.CommandContext(t.Context(), office, args...).CombinedOutput(); err != nil {
		t.Fatalf("converting with LibreOffice: %v\n%s", err, words)
	}
	for document, cells := range carried {
		f, err := excelize.OpenFile(filepath.Join(out, document+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range cells {
			got, err := f.GetCellValue(c.sheet, c.name, excelize.Options{RawCellValue: true})
			if err != nil || !sameValue(got, c.value) {
				t.Errorf("%s %s!%s = %s: LibreOffice says %q (%v), we carry %q", document, c.sheet, c.name, c.formula, got, err, c.value)
			}
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
}
