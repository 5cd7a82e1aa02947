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
	for _, word := range []string{"pieces held by", "person-hours", "not in this figure", "working days in all", "Holes in the landlord's fabric"} {
		if !strings.Contains(out, word) {
			t.Errorf("the summary does not say %q:\n%s", word, out)
		}
	}
	checkSchema(t, filepath.Join(dir, "plan.json"), "plan")
	checkSchema(t, filepath.Join(dir, "register.json"), "fit-out")
	checkSchema(t, filepath.Join(dir, "move.json"), "move")
	for _, name := range []string{"move.xlsx", "move-cuts.pdf", "first-order-cuts.pdf"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Error(err)
		}
	}
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

// One fault is one fault, and a file that is not there is said in words.
func TestPlainWords(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := filepath.Join(dir, "in.json")
	if err := os.WriteFile(file, []byte(`{"format": "unpick-fitout", "format_version": 1, "fit_out": {"code": "A", "name": "a", "premises": {}, "currency": "XYZ"}}`), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		args []string
		want string
	}{
		{"one fault", []string{"check", file}, "1 fault:\n"},
		{"no file to check", []string{"check", filepath.Join(dir, "none.json")}, "there is no file"},
		{"no file to plan", []string{"plan", filepath.Join(dir, "none.json"), "-out", dir}, "there is no file"},
		{"a folder", []string{"check", dir}, "is a folder"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if status, _, progress := unpick(t, tt.args...); status == 0 || !strings.Contains(progress, tt.want) || strings.Contains(progress, "stat ") {
				t.Errorf("exits with %d and says %q, want a refusal that says %q", status, progress, tt.want)
			}
		})
	}
}

// round is two loose blocks on a slab, each said to bear on the other.
const round = `{"format": "unpick-fitout", "format_version": 1, "fit_out": {"code": "ROUND", "name": "a", "premises": {}, "currency": "GBP"},
 "host_surfaces": [{"code": "SLAB", "name": "slab", "kind": "concrete-slab", "rule": "allowed", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": 1, "z": 0}, "u_mm": 5000, "v_mm": 5000}],
 "elements": [
  {"code": "A", "kind": "other", "material": "c16-cls-38x89", "length_mm": 500, "width_mm": 89, "thickness_mm": 38, "placement": {"origin": {"x": 100, "y": 100, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "across": {"x": 0, "y": 1, "z": 0}}},
  {"code": "B", "kind": "other", "material": "c16-cls-38x89", "length_mm": 500, "width_mm": 89, "thickness_mm": 38, "placement": {"origin": {"x": 2100, "y": 100, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "across": {"x": 0, "y": 1, "z": 0}}}],
 "relations": [{"code": "R1", "kind": "bears-on", "from": "A", "to": "B"}, {"code": "R2", "kind": "bears-on", "from": "B", "to": "A"}]}`

// A register that nobody could take out is refused as it comes in, with who waits for whom, and nothing is stored.
func TestRoundIsRefused(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	file := filepath.Join(t.TempDir(), "round.json")
	if err := os.WriteFile(file, []byte(round), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"check", file}, {"import", "-db", url, file}} {
		status, out, progress := unpick(t, args...)
		if status == 0 || !strings.Contains(progress, "wait for each other") || !strings.Contains(progress, "R1") {
			t.Errorf("%s of a round exits with %d: %s%s", args[0], status, out, progress)
		}
	}
	firm, err := d.Firm(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.FitOutByCode(t.Context(), firm, "ROUND"); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("after a refused import: %v, want nothing stored", err)
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
