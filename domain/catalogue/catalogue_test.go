package catalogue

import (
	"bytes"
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

func TestDefault(t *testing.T) {
	t.Parallel()
	c, err := Parse(tables())
	if err != nil {
		t.Fatalf("Parse of the embedded tables: %v", err)
	}
	if diff := cmp.Diff(c, Default()); diff != "" {
		t.Errorf("Default() is not what Parse gives (-parsed +default):\n%s", diff)
	}
	if first, second := Default(), Default(); first != second {
		t.Error("Default() parses again")
	}
}

// sourcesOf calls f with every row of every table.
func sourcesOf(c *domain.Catalogue, f func(table, key string, s domain.Sourced)) {
	for k, v := range c.FixingTypes {
		f("fixing types", k, v.Sourced)
	}
	for k, v := range c.Materials {
		f("materials", k, v.Sourced)
	}
	for k, v := range c.HostKinds {
		f("host kinds", k, v.Sourced)
	}
	for k, v := range c.Repairs {
		f("repairs", k, v.Sourced)
	}
	for k, v := range c.WasteCodes {
		f("waste codes", k, v.Sourced)
	}
	for k, v := range c.Handling {
		f("handling", k, v.Sourced)
	}
	for k, v := range c.WorkRates {
		f("work rates", k, v.Sourced)
	}
	for _, v := range HoleSizes() {
		f("holes", v.Size, v.Sourced)
	}
	for k, v := range wastages() {
		f("wastage", k, v.Sourced)
	}
}

func TestEveryRowIsSourced(t *testing.T) {
	t.Parallel()
	// How far a source was confirmed opens with one of these words, so that a reader may sort by it.
	confirmed := regexp.MustCompile(`^(confirmed|part confirmed|memory|common practice|computed|the firm)`)
	sourcesOf(Default(), func(table, key string, s domain.Sourced) {
		if s.Source == "" || !confirmed.MatchString(s.Confirmed) {
			t.Errorf("%s %s: source %q, confirmed %q", table, key, s.Source, s.Confirmed)
		}
		// Where there is no standard, the whole phrase says so.
		if strings.Contains(strings.ReplaceAll(s.Source, "common practice, no source", ""), "common practice") {
			t.Errorf("%s %s: source %q stops half way", table, key, s.Source)
		}
	})
}

// The tables are read by people far from the notes they were made from: no numbers of a list of addresses, and no
// addresses, travel with them.
func TestNothingPointsOutside(t *testing.T) {
	t.Parallel()
	outside := regexp.MustCompile(`\bS[0-9]{2}\b|https?:|www\.|\.csv|\.md\b`)
	err := fs.WalkDir(tables(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(tables(), path)
		for i, line := range bytes.Split(data, []byte("\n")) {
			if found := outside.Find(line); found != nil {
				t.Errorf("%s:%d holds %q", path, i+1, found)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// with is the embedded tables with one text in one of them changed.
func with(tb testing.TB, file, old, put string) fstest.MapFS {
	tb.Helper()
	out := fstest.MapFS{}
	paths, err := fs.Glob(tables(), "*.csv")
	if err != nil {
		tb.Fatal(err)
	}
	for _, path := range paths {
		data, err := fs.ReadFile(tables(), path)
		if err != nil {
			tb.Fatal(err)
		}
		if path == file {
			if !bytes.Contains(data, []byte(old)) {
				tb.Fatalf("%s does not hold %q", file, old)
			}
			data = bytes.Replace(data, []byte(old), []byte(put), 1)
		}
		out[path] = &fstest.MapFile{Data: data}
	}
	return out
}

func TestParseFaults(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, file, old, put string
		want                 []string
	}{
		{"a word for a number", "fixing_types.csv", "concrete-screw-6,\"Unplugged concrete screw, 6 mm drill-named class\",masonry,6,6,8,",
			"concrete-screw-6,Screw,masonry,six,6,-8,", []string{"fixing_types.csv:3: nominal_mm: \"six\"", "fixing_types.csv:3: hole_in_fixture_mm: \"-8\""}},
		{"not a number", "materials.csv", "softwood-c16,\"Softwood, strength class C16\",timber,370", "softwood-c16,Softwood,timber,NaN",
			[]string{"materials.csv:2: density_kg_m3: \"NaN\""}},
		{"a rule that is none", "host_kinds.csv", ",ask,consent in", ",perhaps,consent in", []string{"host_kinds.csv:2: rule: \"perhaps\""}},
		{"a repair that is none", "host_kinds.csv", ",50,concrete-fill-small,", ",50,concrete-fil,", []string{"host_kinds.csv: concrete-slab", "\"concrete-fil\""}},
		{"a column that is missing", "work_rates.csv", "key,job,minutes,unit,people", "key,job,minutes,unit,persons", []string{"work_rates.csv:1: the columns are"}},
		{"the same key twice", "work_rates.csv", "take-down-stud,", "take-down-board,", []string{"work_rates.csv:", "key: \"take-down-board\" comes twice"}},
		{"no source", "work_rates.csv", "stack, fixings already out\",0.8,m,1,\"common practice, no source\"", "stack\",0.8,m,1,",
			[]string{"work_rates.csv:2: source: is empty"}},
		{"another table's file is not looked at", "wastage.csv", "stuff,", "staff,", nil},
		{"too few cells", "waste_codes.csv", "17 01 01,Concrete,", "17 01 01,", []string{"waste_codes.csv: record on line 2"}},
		{"a mirror that is none", "waste_codes.csv", "mirror-nonhazardous,17 01 06*,yes,cored", "mirror-nonhazardous,17 01 66*,yes,cored",
			[]string{"waste_codes.csv: 17 01 01: mirror_of: there is no \"17 01 66*\""}},
		{"a range upside down", "repairs.csv", "concrete-fill-medium,concrete-slab,8,14,", "concrete-fill-medium,concrete-slab,8,7,",
			[]string{"repairs.csv:3: to_mm: 7 is not over from_mm, 8"}},
		{"a residue that is none", "repairs.csv", "0,8,clean|plug|sleeve,", "0,8,clean|glove,", []string{"repairs.csv:2: residues: \"glove\""}},
		{"lengths out of order", "materials.csv", "2400|3000|3600", "3000|2400|3600", []string{"stock_lengths_mm", "ascending"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := Parse(with(t, tt.file, tt.old, tt.put))
			if tt.want == nil {
				if err != nil {
					t.Errorf("Parse = %v, want no fault", err)
				}
				return
			}
			if err == nil {
				t.Fatalf("Parse found no fault, want %q", tt.want)
			}
			for _, want := range tt.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("Parse = %v, want %q in it", err, want)
				}
			}
		})
	}
}

func TestParseWithoutAFile(t *testing.T) {
	t.Parallel()
	files := with(t, "repairs.csv", "slug", "slug")
	delete(files, "repairs.csv")
	if _, err := Parse(files); err == nil || !strings.Contains(err.Error(), "repairs.csv") {
		t.Errorf("Parse without repairs.csv = %v, want an error that names it", err)
	}
}

// FuzzTable reads any bytes as the table of repairs: it gives a fault or rows, and every row is sound.
func FuzzTable(f *testing.F) {
	f.Add([]byte(repairColumns + "\nfill,slab,0,8,clean|plug,1.3,2,,,holes,fill,mortar,,3,hole,,,,EN 1504-3,memory\n"))
	f.Add([]byte(repairColumns + "\nfill,slab,9,8,glove,-1,1e999,,,,,,,3.5,hole,,,,,\n"))
	f.Add([]byte("\xef\xbb\xbf" + repairColumns + "\n\"x\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var rows map[string]domain.Repair
		err := into(&rows, fstest.MapFS{"repairs.csv": {Data: data}}, "repairs.csv", repairColumns, repair)
		if err != nil {
			return
		}
		for key, r := range rows {
			if key == "" || r.Slug != key || r.Source == "" || r.FromMm < 0 || r.FromMm >= r.ToMm || RepairVolumeMl(r, 8, 50) < 0 {
				t.Errorf("%q was let through: %+v", key, r)
			}
		}
	})
}
