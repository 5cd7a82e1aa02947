package fitoutfile_test

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

func read(text string) (*domain.Register, error) {
	return fitoutfile.Read(strings.NewReader(text), catalogue.Default(), recipe.Expand)
}

const head = `{"format": "unpick-fitout", "format_version": 1, "fit_out": {"code": "A", "name": "a", "premises": {}, "currency": "GBP"}`

// Every refusal is told to a person: it has a code, and names the place or the mend.
func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "  \n", "empty"},
		{"a spreadsheet renamed", "PK\x03\x04xxxx", "spreadsheet"},
		{"UTF-16", "\xFF\xFE{\x00", "UTF-16"},
		{"not UTF-8", head + `, "zones": [{"code": "` + "\xC3\x28" + `", "name": "z"}]}`, "not UTF-8"},
		{"cut off", head + `, "zones": [`, "line 1"},
		{"another program's JSON", `{"version": 2}`, "/format"},
		{"another version", strings.Replace(head, `"format_version": 1`, `"format_version": 7`, 1) + "}", "/format_version"},
		{"unknown field", head + `, "zonez": []}`, "zonez"},
		{"doubled key", head + `, "format": "unpick-fitout"}`, `"format" stands twice`},
		{"wrong type", head + `, "zones": [{"code": 5, "name": "z"}]}`, "/zones"},
		{"something after the end", head + "}\n{}", "line 2"},
		{"no such recipe", head + `, "assemblies": [{"code": "W", "name": "w", "recipe": "castle", "params": {}}]}`, "/assemblies/0/recipe"},
		{"a wrong parameter", head + `, "assemblies": [{"code": "W", "name": "w", "recipe": "stud-wall", "params": {"lenght_mm": 3}}]}`, "/assemblies/0/params"},
		{"a broken rule", head + `, "relations": [{"code": "R", "kind": "hides", "from": "X", "to": "Y"}]}`, "/relations/0"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := read(tt.text)
			if domain.CodeOf(err) == "" || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("Read = %v (code %q), want a refusal that names %q", err, domain.CodeOf(err), tt.want)
			}
		})
	}
}

// 200 MB are refused after the limit, without being held.
func TestReadRefusesTooMuch(t *testing.T) {
	t.Parallel()
	endless := io.LimitReader(blanks{}, 200<<20)
	if _, err := fitoutfile.Read(endless, catalogue.Default(), recipe.Expand); domain.CodeOf(err) != domain.TooLarge {
		t.Errorf("Read of 200 MB = %v, want %s", err, domain.TooLarge)
	}
}

type blanks struct{}

func (blanks) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	return len(p), nil
}

// What is written reads back as the same register, recipes expanded once and not again.
func TestWrittenFilesReadBack(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob("../../testdata/keys/*.json")
	for _, file := range append(files, "../../testdata/demo.json") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			raw, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			first, err := read(string(raw))
			if err != nil {
				t.Fatalf("Read(%s): %v", file, err)
			}
			var text bytes.Buffer
			if err := fitoutfile.Write(&text, first); err != nil {
				t.Fatal(err)
			}
			again, err := read(text.String())
			if err != nil {
				t.Fatalf("Read of what was written: %v", err)
			}
			if diff := cmp.Diff(first.Records(), again.Records(), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("what was written reads otherwise (-want +got):\n%.3000s", diff)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(head + "}"))
	f.Add([]byte(head + `, "zones": [{"code": "Z", "name": "z"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := fitoutfile.Read(bytes.NewReader(data), catalogue.Default(), recipe.Expand)
		if (r == nil) == (err == nil) {
			t.Errorf("Read gave register %v and error %v", r != nil, err)
		}
	})
}
