package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"unpick/api/service"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/testdata"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }

func unpick(tb testing.TB, args ...string) (status int, out, progress string) {
	tb.Helper()
	var o, p bytes.Buffer
	status = run(context.Background(), args, streams{&o, &p})
	return status, o.String(), p.String()
}

// The newcomer's first command, without the serving: every document is there, the plan follows its own schema, and
// what was exported is what a file read again says.
func TestDemo(t *testing.T) {
	t.Parallel()
	_, url := dbtest.NewURL(t, db.Config{})
	dir := t.TempDir()
	status, out, progress := unpick(t, "demo", "-exit", "-db", url, "-out", dir)
	if status != 0 {
		t.Fatalf("demo exits with %d:\n%s", status, progress)
	}
	for _, name := range []string{"stripout.xlsx", "making-good.xlsx", "reinstatement.xlsx", "salvage.xlsx", "register.json", "plan.json", "plan.svg", "elevation-W1.svg"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s is missing or empty: %v", name, err)
		}
	}
	for _, word := range []string{"pieces held by", "person-hours", "Holes in the landlord's fabric"} {
		if !strings.Contains(out, word) {
			t.Errorf("the summary does not say %q:\n%s", word, out)
		}
	}
	checkSchema(t, filepath.Join(dir, "plan.json"), "plan")
	checkSchema(t, filepath.Join(dir, "register.json"), "fit-out")
	if status, _, progress := unpick(t, "demo", "-exit", "-db", url, "-out", dir); status != 0 || !strings.Contains(progress, "loaded before") {
		t.Errorf("a second demo exits with %d and does not say that it was loaded before: %s", status, progress)
	}
	if status, _, progress := unpick(t, "check", filepath.Join(dir, "register.json")); status != 0 {
		t.Errorf("the exported register does not check: %s", progress)
	}
}

// A demo stored by another version of the program is neither shown as this one nor touched.
func TestDemoBesideAnOlderOne(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	shipped, err := service.ReadFile(bytes.NewReader(testdata.Demo))
	if err != nil {
		t.Fatal(err)
	}
	older := *shipped
	older.Prices = older.Prices[:1]
	firm, err := d.Firm(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Import(t.Context(), firm, domain.Actor{Name: "an older version"}, &older); err != nil {
		t.Fatal(err)
	}
	status, _, progress := unpick(t, "demo", "-exit", "-db", url, "-out", t.TempDir())
	if status != 0 || !strings.Contains(progress, "is left alone") {
		t.Fatalf("demo beside an older one exits with %d: %s", status, progress)
	}
	f, err := d.FitOutByCode(t.Context(), firm, shipped.FitOut.Code+"-2")
	if err != nil {
		t.Fatal(err)
	}
	r, err := d.Register(t.Context(), firm, f.ID)
	if err != nil || len(r.Prices) != len(shipped.Prices) || len(r.Elements) != len(shipped.Elements) {
		t.Errorf("stored beside it: %d prices and %d pieces (%v), want %d and %d", len(r.Prices), len(r.Elements), err, len(shipped.Prices), len(shipped.Elements))
	}
}

func checkSchema(t *testing.T, file, of string) {
	t.Helper()
	status, text, progress := unpick(t, "schema", of)
	if status != 0 {
		t.Fatalf("schema %s: %s", of, progress)
	}
	schema, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", schema); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("schema.json")
	if err != nil {
		t.Fatalf("the schema of %s does not compile: %v", of, err)
	}
	raw, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer raw.Close()
	value, err := jsonschema.UnmarshalJSON(raw)
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(value); err != nil {
		t.Errorf("%s does not follow its schema: %.2000v", file, err)
	}
}

// Bad input: a clear error that names the place, exit status not 0.
func TestCheckRefuses(t *testing.T) {
	t.Parallel()
	good := map[string]any{"format": "unpick-fitout", "format_version": 1, "fit_out": map[string]any{"code": "A", "name": "a", "premises": map[string]any{}, "currency": "GBP"}}
	with := func(key string, value any) []byte {
		file := map[string]any{}
		for k, v := range good {
			file[k] = v
		}
		file[key] = value
		text, err := json.Marshal(file)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	for _, tt := range []struct {
		name string
		text []byte
		want string
	}{
		{"wrong field", with("zoness", []any{}), "zoness"},
		{"wrong version", with("format_version", 9), "version"},
		{"dangling reference", with("relations", []any{map[string]any{"code": "R", "kind": "hides", "from": "X", "to": "Y"}}), "/relations/0"},
		{"negative size", with("elements", []any{map[string]any{"code": "E", "kind": "stud", "material": "c16-cls-38x89", "length_mm": -5, "width_mm": 89, "thickness_mm": 38,
			"placement": map[string]any{"origin": map[string]any{"x": 0, "y": 0, "z": 0}, "along": map[string]any{"x": 1, "y": 0, "z": 0}, "across": map[string]any{"x": 0, "y": 1, "z": 0}}}}), "/elements/0/length_mm"},
		{"not JSON at all", []byte("PK\x03\x04 spreadsheet"), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(t.TempDir(), "in.json")
			if err := os.WriteFile(file, tt.text, 0o600); err != nil {
				t.Fatal(err)
			}
			status, _, progress := unpick(t, "check", file)
			if status == 0 || !strings.Contains(progress, tt.want) {
				t.Errorf("check exits with %d and says %q, want a refusal that names %q", status, progress, tt.want)
			}
		})
	}
}

func TestServeRefusesOtherAddresses(t *testing.T) {
	t.Parallel()
	_, url := dbtest.NewURL(t, db.Config{})
	status, _, progress := unpick(t, "serve", "-db", url, "-addr", "0.0.0.0:0")
	if status == 0 || !strings.Contains(progress, "127.0.0.1 only") {
		t.Errorf("serve on 0.0.0.0 exits with %d: %s", status, progress)
	}
}
