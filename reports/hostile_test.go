package reports

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
)

// hostile is a register whose every free text would do harm where text is not kept text.
func hostile(tb testing.TB) *domain.Register {
	tb.Helper()
	r := readRegister(tb, "wall-with-door")
	long := strings.Repeat("EVIL \U0001F528 ", 8000) // over 40,000 characters, some of two units in UTF-16
	r.FitOut.Name = "=EVIL()&[]*?:/\\'<>\"&P"
	r.FitOut.Tenant = "+EVIL|'/C calc'!A0"
	r.FitOut.Landlord = "-EVIL\x00\x01\x1f\ufffe_x0041_"
	r.FitOut.Firm = "@EVIL(1)"
	r.FitOut.Premises.Address = long
	r.FitOut.Tenancy.Clause = "\t=EVIL()"
	for i := range r.Assemblies {
		r.Assemblies[i].Name = "=EVIL(\"assembly\")"
	}
	for i := range r.Hosts {
		r.Hosts[i].Name = "@EVIL\xff\xfe " + long
		r.Hosts[i].Clause = "=1+EVIL"
	}
	for i := range r.Zones {
		r.Zones[i].Name = "-EVIL</v></c>"
	}
	for i := range r.Elements {
		r.Elements[i].Name = "=EVIL()"
	}
	return r
}

// TestTextStaysText: whatever people wrote, the file opens, nothing of it is a formula, and it is there to be read.
func TestTextStaysText(t *testing.T) {
	t.Parallel()
	in := inputOf(t, priced(t, hostile(t)))
	in.By, in.Revision = "=EVIL()", "&P\"EVIL"
	clean := inputOf(t, priced(t, readRegister(t, "wall-with-door")))
	for document, write := range documents() {
		t.Run(document, func(t *testing.T) {
			t.Parallel()
			f := written(t, write, in)
			seen, formulas, wanted := 0, 0, 0
			for _, c := range cellsOf(t, f) {
				if strings.Contains(c.formula, "EVIL") {
					t.Errorf("%s!%s is a formula out of text: %s", c.sheet, c.name, c.formula)
				}
				if c.formula != "" {
					formulas++
				}
				if strings.Contains(c.value, "EVIL") {
					seen++
				}
			}
			for _, c := range cellsOf(t, written(t, write, clean)) {
				if c.formula != "" {
					wanted++
				}
			}
			if formulas != wanted {
				t.Errorf("%d formulas, want %d as without the hostile words", formulas, wanted)
			}
			if seen == 0 {
				t.Error("the hostile words are nowhere: this test checked nothing")
			}
			if got, _ := f.GetCellValue("Cover", "A2"); got != in.Register.FitOut.Name {
				t.Errorf("name on the cover = %q, want %q", got, in.Register.FitOut.Name)
			}
		})
	}
}

// TestSafe holds text to what a cell takes.
func TestSafe(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ name, in, want string }{
		{"plain", "stud 38 x 89", "stud 38 x 89"},
		{"formula is words", "=1+1", "=1+1"},
		{"control characters go, tabs and lines stay", "a\x00\x01b\tc\nd\x7f", "ab\tc\nd"},
		{"broken bytes go", "a\xffb\ufffec", "abc"},
		{"cut at 32,767 units", strings.Repeat("x", 40000), strings.Repeat("x", 32767)},
		{"a letter of two units is not cut in half", strings.Repeat("x", 32766) + "\U0001F528", strings.Repeat("x", 32766)},
	} {
		if got := safe(tt.in); got != tt.want {
			t.Errorf("%s: safe gives %d bytes %.20q, want %d bytes %.20q", tt.name, len(got), got, len(tt.want), tt.want)
		}
	}
}

// TestEmptyRegister: a fit-out with nothing in it still gives workbooks that open and say so.
func TestEmptyRegister(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	in := inputOf(t, &domain.Register{FitOut: r.FitOut, Catalogue: r.Catalogue})
	for document, write := range documents() {
		var out bytes.Buffer
		if err := write(&out, in); err != nil {
			t.Errorf("%s: %v", document, err)
			continue
		}
		f, err := excelize.OpenReader(&out)
		if err != nil {
			t.Errorf("%s: %v", document, err)
			continue
		}
		if !strings.Contains(allText(t, f), "nothing to list") {
			t.Errorf("%s does not say that there is nothing to list", document)
		}
	}
}

func allText(tb testing.TB, f *excelize.File) string {
	tb.Helper()
	var all strings.Builder
	for _, c := range cellsOf(tb, f) {
		all.WriteString(c.value + "\n")
	}
	return all.String()
}
