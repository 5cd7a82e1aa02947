package fitoutfile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

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
		{"a spreadsheet of the older sort", "\xD0\xCF\x11\xE0....", "spreadsheet"},
		{"UTF-16 without a mark", "{\x00\"\x00", "UTF-16"},
		{"not UTF-8, with its byte and line", head + ",\n\"zones\": [{\"code\": \"" + "\xFF" + "\"}]}", "line 2"},
		{"a list", "[]", "braces"},
		{"a text", `"abc"`, "braces"},
		{"a comma too many", head + ",\n}", "line 2, column 1"},
		{"a depth bomb", head + `, "zones": ` + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000) + "}", "deep"},
		{"deep groups", head + `, "zones": ` + strings.Repeat("[", 60) + strings.Repeat("]", 60) + "}", "40 deep"},
		{"a number bomb", head + `, "prices": [{"key": "labour-hour", "unit": "hour", "amount_minor": 1e999999999}]}`, "/prices/0/amount_minor"},
		{"half a character", head + `, "zones": [{"code": "Z", "name": "\ud800"}]}`, "half a character"},
		{"a NUL", head + `, "zones": [{"code": "Z", "name": "a\u0000"}]}`, "NUL"},
		{"a doubled name, escaped once", head + `, "zones": [{"code": "Z", "name": "z", "n\u0061me": "y"}]}`, "/zones/0"},
		{"a unit", head + `, "host_surfaces": [{"code": "S", "u_cm": 400}]}`, "did you mean \"u_mm\", in whole millimetres?"},
		{"a fraction of a millimetre", strings.Replace(head, `"premises": {}`, `"premises": {"built_year": 1980.5}`, 1) + "}", "whole number"},
		{"an exponent", strings.Replace(head, `"premises": {}`, `"premises": {"built_year": 1.98e3}`, 1) + "}", "/fit_out/premises/built_year"},
		{"a negative size", head + `, "zones": [{"code": "Z", "name": "z", "capacity": -1}]}`, "/zones/0/capacity: line 1: is -1: give 0 or more"},
		{"a code", head + `, "zones": [{"code": "Z 1", "name": "z"}]}`, "plain letters"},
		{"a name in capitals", head + `, "zones": [{"code": "Z", "Name": "z"}]}`, "/zones/0/Name"},
		{"null", head + `, "zones": [{"code": "Z", "name": null}]}`, "leave the field out"},
		{"a missing field", head + `, "zones": [{"code": "Z"}]}`, `"name" is missing`},
		{"the same code twice", head + `, "zones": [{"code": "Z", "name": "z"}, {"code": "Z", "name": "y"}]}`, "/zones/1/code: line 1"},
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

// Every fault of a file is told at once, in the order of the text, each with its line; of very many, the first.
func TestReadTellsAll(t *testing.T) {
	t.Parallel()
	_, err := read(head + ",\n\"zones\": [\n{\"code\": 5, \"name\": \"z\"},\n{\"code\": \"Z\"}]}")
	want := "/zones/0/code: line 3: a number stands where a text in double quotes belongs\n/zones/1/name: line 4: \"name\" is missing: give it"
	if err == nil || err.Error() != want {
		t.Errorf("Read = %v\nwant %s", err, want)
	}
	_, err = read(head + `, "zones": [` + strings.Repeat(`{"code": 5, "name": "z"},`, 999) + `{"code": 5, "name": "z"}]}`)
	if faults, _ := errors.AsType[domain.Errors](err); len(faults) != 51 || !strings.Contains(faults[50].Text, "more faults") {
		t.Errorf("Read of a thousand faults tells %d, want 50 and a word that there are more", len(faults))
	}
}

// A record that a recipe made has no place in the file: the assembly is told, and its line.
func TestReadBlamesTheRecipe(t *testing.T) {
	t.Parallel()
	makesTwins := func(_ *domain.Register, a domain.Assembly) (domain.Records, error) {
		return domain.Records{Elements: []domain.Element{{Code: "bad code", Assembly: a.Code}}}, nil
	}
	text := head + ",\n\"assemblies\": [\n{\"code\": \"W\", \"name\": \"w\", \"recipe\": \"twins\"}]}"
	_, err := fitoutfile.Read(strings.NewReader(text), catalogue.Default(), makesTwins)
	if err == nil || !strings.HasPrefix(err.Error(), "/assemblies/0: line 3: the recipe of assembly W makes") {
		t.Errorf("Read = %v, want the assembly at line 3 named", err)
	}
}

// The byte order mark that some editors write says nothing and harms nothing.
// A wall that cannot be built leaves the wall on it without studs to meet: that is one fault, not two. What is wrong
// with the second wall itself is told.
func TestReadTellsNoFollowers(t *testing.T) {
	t.Parallel()
	corner, err := os.ReadFile("../../testdata/examples/corner.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, bad string // in the second wall
		want      []string
	}{
		{"only the first wall is wrong", "", []string{"/assemblies/0/params/face_a/board"}},
		{"the second has a fault of its own", `"code": "NORT"`, []string{"/assemblies/0/params/face_a/board", "/assemblies/1/params/end/code"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			text := strings.Replace(string(corner), `"osb3-11-metric"`, `"osb3-11-metrc"`, 1)
			if tt.bad != "" {
				at := strings.LastIndex(text, `"code": "NORTH"`)
				text = text[:at] + tt.bad + text[at+len(`"code": "NORTH"`):]
			}
			_, err := fitoutfile.Read(strings.NewReader(text), catalogue.Default(), recipe.Expand)
			faults, _ := errors.AsType[domain.Errors](err)
			var got []string
			for _, f := range faults {
				got = append(got, f.Field)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("faults (-want +got):\n%s%v", diff, err)
			}
		})
	}
}

func TestReadTakesAMark(t *testing.T) {
	t.Parallel()
	if _, err := read("\xEF\xBB\xBF" + head + "}"); err != nil {
		t.Errorf("Read with a byte order mark: %v", err)
	}
}

// The published schema is a schema, and takes what Write writes.
func TestSchema(t *testing.T) {
	t.Parallel()
	text, err := fitoutfile.Schema(recipe.Params())
	if err != nil {
		t.Fatal(err)
	}
	tree, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	meta := jsonschema.NewCompiler()
	draft, err := meta.Compile("https://json-schema.org/draft/2020-12/schema")
	if err != nil {
		t.Fatal(err)
	}
	if err := draft.Validate(tree); err != nil {
		t.Errorf("the schema breaks the metaschema of 2020-12: %v", err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(fitoutfile.SchemaID, tree); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(fitoutfile.SchemaID)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]bool{
		head + `}`:             true,
		head + `, "extra": 1}`: false,
		head + `, "assemblies": [{"code": "W", "name": "w", "recipe": "stud-wall", "params": {"lenght_mm": 3}}]}`: false,
	} {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if got := schema.Validate(value); (got == nil) != want {
			t.Errorf("the schema on %s: %v, want taken: %v", text, got, want)
		}
	}
}

// Any register that holds to the rules is written and read back as it was, text and all.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[ -~éß€\n"<>&\\\\]{0,20}`)
		point := rapid.Custom(func(t *rapid.T) domain.Point {
			n := rapid.IntRange(-9999, 9999)
			return domain.Point{X: n.Draw(t, "x"), Y: n.Draw(t, "y"), Z: n.Draw(t, "z")}
		})
		r := &domain.Register{Catalogue: catalogue.Default(), FitOut: domain.FitOut{Code: "F", Name: "f", Currency: "EUR", Tenant: text.Draw(t, "tenant")}}
		r.Assemblies = []domain.Assembly{{Code: "W", Name: "w", Note: text.Draw(t, "note")}}
		for i := range rapid.IntRange(0, 5).Draw(t, "pieces") {
			r.Elements = append(r.Elements, domain.Element{Code: fmt.Sprint("E", i), Kind: rapid.SampledFrom(domain.ElementKinds()).Draw(t, "kind"),
				Material: "c16-cls-38x89", LengthMm: rapid.IntRange(1, 100_000).Draw(t, "length"), WidthMm: 89, ThicknessMm: 38, Assembly: "W",
				Placement: domain.Placement{Origin: point.Draw(t, "origin"), Along: domain.Direction{X: 1000, Z: 105}, Across: domain.Direction{Y: -1}},
				MassKg:    rapid.Float64Range(0, 100_000).Draw(t, "mass"), EndCutDeg: rapid.Float64Range(-89, 89).Draw(t, "cut"), Note: text.Draw(t, "note")})
		}
		var out bytes.Buffer
		if err := fitoutfile.Write(&out, r); err != nil {
			t.Fatal(err)
		}
		again, err := read(out.String())
		if err != nil {
			t.Fatalf("Read of what was written: %v\n%s", err, out.String())
		}
		if diff := cmp.Diff(r, again, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(domain.Register{}, "Catalogue")); diff != "" {
			t.Fatalf("what was written reads otherwise (-want +got):\n%s", diff)
		}
	})
}

// The peer is the bare JSON reader on the same bytes.
func BenchmarkRead(b *testing.B) {
	r := &domain.Register{FitOut: domain.FitOut{Code: "F", Name: "f", Currency: "EUR"}}
	for i := range 20_000 {
		r.Elements = append(r.Elements, domain.Element{Code: fmt.Sprint("E", i), Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38,
			Placement: domain.Placement{Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}})
	}
	var text bytes.Buffer
	if err := fitoutfile.Write(&text, r); err != nil {
		b.Fatal(err)
	}
	cat := catalogue.Default()
	b.Run("read", func(b *testing.B) {
		b.SetBytes(int64(text.Len()))
		for b.Loop() {
			if _, err := fitoutfile.Read(bytes.NewReader(text.Bytes()), cat, recipe.Expand); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.SetBytes(int64(text.Len()))
		for b.Loop() {
			var f fitoutfile.File
			if err := json.Unmarshal(text.Bytes(), &f); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(head + "}"))
	f.Add([]byte(head + `, "zones": [{"code": "Z", "name": "z"}]}`))
	f.Add([]byte(head + `, "assemblies": [{"code": "W", "name": "w", "recipe": "stud-wall", "params": {"length_mm": 4200}}]}`))
	f.Add([]byte(head + `, "elements": [{"code": "E", "kind": "stud", "material": "c16-cls-38x89", "length_mm": 1e3, "width_mm": 89, "thickness_mm": 38, "placement": {"origin": {"x": 0, "y": 0, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "across": {"x": 0, "y": 1, "z": 0}}}]}`))
	f.Add([]byte(head + `, "relations": [{"code": "R", "kind": "hides", "from": "X\ud83d\ude00", "to": "Y"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := fitoutfile.Read(bytes.NewReader(data), catalogue.Default(), recipe.Expand)
		if (r == nil) == (err == nil) {
			t.Errorf("Read gave register %v and error %v", r != nil, err)
		}
	})
}
