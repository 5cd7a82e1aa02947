package reports

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
)

// RegisterFieldKind is how a column of the register's workbook is written and read.
type RegisterFieldKind string

// The kinds of column.
const (
	FieldWords   RegisterFieldKind = "words"
	FieldWhole   RegisterFieldKind = "whole"
	FieldNumber  RegisterFieldKind = "number"
	FieldYes     RegisterFieldKind = "yes"     // yes, or nothing
	FieldWholes  RegisterFieldKind = "wholes"  // 150, 750, 1350
	FieldList    RegisterFieldKind = "list"    // codes with commas between
	FieldWays    RegisterFieldKind = "ways"    // directions: 0 0 1; 1 0 0
	FieldShown   RegisterFieldKind = "shown"   // told, and never read back
	FieldOnce    RegisterFieldKind = "once"    // words, for new records alone
	FieldVersion RegisterFieldKind = "version" // at which the record was written out
)

// RegisterField is one column: the place in the record's JSON that it fills, and how.
type RegisterField struct {
	Path  string // "placement/origin/x"
	Kind  RegisterFieldKind
	Width float64
}

// Heading is the column's heading, with the unit where there is one.
func (f RegisterField) Heading() string {
	words := strings.NewReplacer("/", " ", "_mm", " (mm)", "_kg", " (kg)", "_m2", " (m2)", "_minor", " (smallest coin)", "_", " ").Replace(f.Path)
	return capital(words)
}

// RegisterSheet is one sheet: one noun, one row a record.
type RegisterSheet struct {
	Name   string // of the sheet
	Noun   string // its list in a fit-out file
	Fields []RegisterField
}

func fields(kind RegisterFieldKind, width float64, paths ...string) []RegisterField {
	out := make([]RegisterField, len(paths))
	for i, p := range paths {
		out[i] = RegisterField{p, kind, width}
	}
	return out
}

func vector(path string) []RegisterField {
	return fields(FieldWhole, 9, path+"/x", path+"/y", path+"/z")
}

// RegisterSheets are the sheets of the register's workbook. What is not in a column stays as it is; states change on the
// pages, where ticking off, striking and signing ask what they have to.
func RegisterSheets() []RegisterSheet {
	version := RegisterField{"version", FieldVersion, 8}
	run := slices.Concat(vector("run/start"), vector("run/along"), fields(FieldWholes, 26, "run/positions_mm"))
	return []RegisterSheet{
		{"Zones", "zones", slices.Concat(fields(FieldWords, 14, "code", "name"), fields(FieldWhole, 10, "level_mm", "capacity"), []RegisterField{version})},
		{"Surfaces", "host_surfaces", slices.Concat(fields(FieldWords, 14, "code", "name", "kind", "zone"), vector("origin"), vector("u"), vector("v"), fields(FieldWhole, 9, "u_mm", "v_mm", "thickness_mm"),
			fields(FieldWords, 9, "rule"), fields(FieldWhole, 9, "agreed_holes"), fields(FieldNumber, 9, "max_diameter_mm"), fields(FieldWhole, 9, "max_depth_mm"), fields(FieldWords, 16, "clause", "finish"), fields(FieldNumber, 9, "finish_m2"),
			fields(FieldWords, 12, "known"), fields(FieldWords, 36, "note"), []RegisterField{version})},
		{"Assemblies", "assemblies", slices.Concat(fields(FieldWords, 16, "code", "name"), fields(FieldShown, 12, "recipe"), fields(FieldWords, 16, "zone", "builder", "licensed", "left_by_consent", "owner"), fields(FieldWhole, 8, "built_order"), fields(FieldWords, 24, "note"), []RegisterField{version})},
		{"Pieces", "elements", slices.Concat(fields(FieldWords, 13, "code", "kind", "name", "material"), fields(FieldWhole, 9, "length_mm", "width_mm", "thickness_mm"), vector("placement/origin"), vector("placement/along"), vector("placement/across"),
			fields(FieldWords, 11, "assembly", "zone", "subassembly", "face", "owner", "known"), fields(FieldShown, 10, "state"), fields(FieldYes, 8, "treated", "fire_rated"), fields(FieldNumber, 9, "mass_kg"), fields(FieldWhole, 8, "built_order"),
			fields(FieldWords, 18, "builder", "finish", "note"), []RegisterField{version})},
		{"Fixings", "fixings", slices.Concat(fields(FieldWords, 15, "code", "type"), fields(FieldWhole, 9, "length_mm", "bead_mm", "count"), fields(FieldWords, 12, "holds"), fields(FieldList, 16, "through"), fields(FieldWords, 12, "into_element", "into_host"), run,
			fields(FieldWays, 14, "undo"), fields(FieldWords, 11, "assembly", "known"), fields(FieldShown, 10, "state"), fields(FieldWhole, 8, "built_order"), fields(FieldWords, 18, "builder", "reason", "note"), []RegisterField{version})},
		{"Holes", "holes", slices.Concat(fields(FieldWords, 12, "code", "host", "face"), fields(FieldNumber, 9, "diameter_mm"), fields(FieldWhole, 9, "depth_mm"), fields(FieldYes, 8, "through"), fields(FieldWhole, 8, "count"), run, fields(FieldOnce, 11, "state"),
			fields(FieldWords, 12, "fixing", "residue", "assembly", "known"), fields(FieldWhole, 8, "built_order"), fields(FieldWords, 18, "reason", "note"), []RegisterField{version})},
		{"Relations", "relations", slices.Concat(fields(FieldWords, 14, "code", "kind", "from", "to", "assembly"), fields(FieldShown, 12, "origin", "how"), fields(FieldWords, 24, "note"), []RegisterField{version})},
		{"Prices", "prices", slices.Concat(fields(FieldWords, 34, "key"), fields(FieldWhole, 14, "amount_minor"), fields(FieldWords, 12, "unit", "since"), fields(FieldWords, 34, "note"))},
	}
}

// RegisterSays stands on the cover: how the workbook comes back.
const RegisterSays = "Change cells, or add rows under the last, save as .xlsx and send it back on the page Register: all of it is taken, or nothing, and every fault is told with its sheet and cell. A row that is taken out changes nothing: records are struck out on their page, with the reason. Rows whose code begins with EXAMPLE are not read."

// RegisterBook writes the register as a workbook that can be edited and read back: one sheet a noun, one row a record.
// Struck records are not in it.
func RegisterBook(w io.Writer, in Input) error { return registerBook(w, in, false) }

// EmptyRegisterBook is the same with an example and room, to log into where there is no signal and no phone.
func EmptyRegisterBook(w io.Writer, in Input) error { return registerBook(w, in, true) }

func registerBook(w io.Writer, in Input, empty bool) error {
	b := newBook(in, "Register")
	b.cover(RegisterSays, []fact{{FactFitOut, in.Register.FitOut.Code}, {"Lengths", "whole millimetres; a direction is a step along x, y and z"}})
	lists, err := RegisterTexts(in.Register)
	if err != nil {
		return err
	}
	picks := newPicks(in.Register.Catalogue)
	for _, s := range RegisterSheets() {
		rows := lists[s.Noun]
		if empty {
			rows = []map[string]string{exampleOf(s)}
		}
		columns := make([]column, len(s.Fields))
		for i, f := range s.Fields {
			columns[i] = column{f.Heading(), f.Width, plain}
		}
		t := b.newTable(s.Name, columns, a3, len(rows))
		for _, r := range rows {
			cells := make([]any, len(s.Fields))
			for i, f := range s.Fields {
				cells[i] = cellOf(f, r[f.Path])
			}
			t.add(cells...)
		}
		picks.choices(t, s)
		t.end()
	}
	picks.sheet(b)
	return b.write(w)
}

// cellOf is a figure where the column is one, so that a spreadsheet counts with it.
func cellOf(f RegisterField, text string) any {
	switch f.Kind {
	case FieldWhole, FieldNumber, FieldVersion:
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return v
		}
	}
	return text
}

func exampleOf(s RegisterSheet) map[string]string {
	out := map[string]string{}
	for _, f := range s.Fields {
		switch f.Kind {
		case FieldWhole, FieldNumber:
			out[f.Path] = "100"
		case FieldWholes:
			out[f.Path] = "150, 750, 1350"
		case FieldWays:
			out[f.Path] = "0 0 1"
		}
	}
	out[s.Fields[0].Path] = "EXAMPLE-1"
	return out
}

// pick is a column's list of words, on the sheet of lists.
type pick struct {
	place string // "fixings/type", or "known" for every sheet that has it
	words []string
}

// picks are the lists that cells are picked from, in the order of their columns on the sheet Lists. They stand there and
// not in the drop-downs, which hold 255 letters, and so that people can read them.
type picks []pick

func newPicks(cat *domain.Catalogue) picks {
	return picks{
		{"host_surfaces/kind", slices.Sorted(maps.Keys(cat.HostKinds))}, {"host_surfaces/rule", []string{"allowed", "ask", "never"}},
		{"elements/kind", words(domain.ElementKinds())}, {"elements/material", slices.Sorted(maps.Keys(cat.Materials))},
		{"fixings/type", slices.Sorted(maps.Keys(cat.FixingTypes))}, {"holes/face", []string{"front", "back"}},
		{"holes/state", []string{"in-use", "empty", "abandoned", "inherited"}}, {"relations/kind", words(domain.RelationKinds())},
		{"known", []string{"seen", "measured", "assumed", "unknown"}}, {"owner", []string{"tenant", "landlord", "hired"}},
	}
}

const listsSheet = "Lists"

// choices puts drop-downs on a sheet's columns, over the rows there are and room for more. It comes before the sheet's end,
// after which nothing is added to it.
func (p picks) choices(t *table, s RegisterSheet) {
	const room = 500
	for i, f := range s.Fields {
		at := slices.IndexFunc(p, func(l pick) bool { return l.place == s.Noun+"/"+f.Path || l.place == f.Path })
		if at < 0 || len(p[at].words) == 0 || t.book.err != nil {
			continue
		}
		v := excelize.NewDataValidation(true)
		v.Sqref = fmt.Sprintf("%s%d:%[1]s%[3]d", t.letter(i), first, first+t.rows+room)
		v.SetSqrefDropList(fmt.Sprintf("%s!$%s$%d:$%[2]s$%[4]d", listsSheet, t.letter(at), first, first+len(p[at].words)-1))
		t.book.keep(t.book.file.AddDataValidation(t.sheet, v))
	}
}

// sheet writes the lists.
func (p picks) sheet(b *book) {
	columns, rows := make([]column, len(p)), 0
	for i, l := range p {
		columns[i] = column{RegisterField{Path: l.place}.Heading(), 24, plain}
		rows = max(rows, len(l.words))
	}
	t := b.newTable(listsSheet, columns, a3, rows)
	for n := range rows {
		cells := make([]any, len(p))
		for i, l := range p {
			if n < len(l.words) {
				cells[i] = l.words[n]
			}
		}
		t.add(cells...)
	}
	t.end()
}

func words[T ~string](all []T) []string {
	out := make([]string, len(all))
	for i, w := range all {
		out[i] = string(w)
	}
	return out
}

// RegisterTexts are the records of a register as the workbook shows them: by noun, a text by place. Struck ones are left
// out.
func RegisterTexts(r *domain.Register) (map[string][]map[string]string, error) {
	out := map[string][]map[string]string{}
	text, err := json.Marshal(map[string]any{"zones": r.Zones, "host_surfaces": r.Hosts, "assemblies": r.Assemblies, "elements": r.Elements, "fixings": r.Fixings, "holes": r.Holes, "relations": r.Relations, "prices": r.Prices})
	if err != nil {
		return nil, fmt.Errorf("writing the register as texts: %w", err)
	}
	var lists map[string][]map[string]any
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.UseNumber()
	if err := d.Decode(&lists); err != nil {
		return nil, fmt.Errorf("writing the register as texts: %w", err)
	}
	for _, s := range RegisterSheets() {
		for _, record := range lists[s.Noun] {
			if record["struck"] == true || record["state"] == "struck" {
				continue
			}
			row := map[string]string{}
			for _, f := range s.Fields {
				row[f.Path] = textOf(f, valueAt(record, f.Path))
			}
			out[s.Noun] = append(out[s.Noun], row)
		}
	}
	return out, nil
}

func valueAt(record map[string]any, path string) any {
	var v any = record
	for name := range strings.SplitSeq(path, "/") {
		m, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = m[name]
	}
	return v
}

func textOf(f RegisterField, v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case bool:
		if x {
			return "yes"
		}
		return ""
	case []any:
		parts := make([]string, len(x))
		for i, item := range x {
			if way, ok := item.(map[string]any); ok {
				parts[i] = fmt.Sprint(way["x"], " ", way["y"], " ", way["z"])
			} else {
				parts[i] = fmt.Sprint(item)
			}
		}
		if f.Kind == FieldWays {
			return strings.Join(parts, "; ")
		}
		return strings.Join(parts, ", ")
	}
	return fmt.Sprint(v)
}
