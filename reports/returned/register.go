package returned

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/reports"
)

// Edits are what a register's workbook says that is not so already.
type Edits struct {
	New     []string        `json:"new" jsonschema_description:"noun and code"`
	Amended []string        `json:"amended" jsonschema_description:"noun and code, with the columns that change"`
	Advice  []domain.Advice `json:"advice,omitempty" jsonschema_description:"what there is to say about it before it is taken"`
	change  domain.Change
	cells   map[string]string // where each record's columns stand: "elements/W1-S1/length_mm"
}

// Nothing reports whether the workbook says nothing new.
func (e *Edits) Nothing() bool { return len(e.New)+len(e.Amended) == 0 }

// Register reads a register's workbook against the register as it now is. Every fault is told with its sheet and cell, as
// domain.Errors, and then there are no edits.
func (b *Book) Register(r *domain.Register) (*Edits, error) {
	now, err := reports.RegisterTexts(r)
	if err != nil {
		return nil, err
	}
	e := &editor{register: r, edits: &Edits{cells: map[string]string{}}, add: map[string][]map[string]any{}, put: map[string][]map[string]any{}}
	if err := b.ofFitOut(r.FitOut.Code); err != nil {
		return nil, err
	}
	for _, s := range reports.RegisterSheets() {
		if !b.has(s.Name) { // what was edited in it would be lost unseen
			e.fault(s.Name, "the sheet %s is missing: take the workbook anew and copy your changes into it, or put the sheet back under its name", s.Name)
			continue
		}
		in, err := b.sheet(s.Name)
		if err != nil {
			return nil, err
		}
		e.read(s, in, now[s.Noun])
	}
	if len(e.faults) > 0 {
		return nil, e.faults
	}
	if err := e.records(); err != nil {
		return nil, err
	}
	return e.edits, e.check()
}

// ofFitOut refuses the workbook of another job, whose codes may well be those of this one.
func (b *Book) ofFitOut(code string) error {
	s, err := b.sheet("Cover")
	if err != nil {
		return err
	}
	for _, row := range s.rows {
		if len(row.cells) < 2 || row.cells[0].text != reports.FactFitOut {
			continue
		}
		if c := row.cells[1]; c.text != code || c.formula {
			return domain.FieldErrorf(domain.Invalid, s.at(1, row.number), "the workbook is of the fit-out %.60q, and this is %s: send it back there", c.text, code)
		}
		return nil
	}
	return domain.FieldErrorf(domain.Invalid, s.name, "the cover does not say of which fit-out the workbook is: take the workbook anew, and leave its cover as it was")
}

// Change is what the edits come to.
func (e *Edits) Change() domain.Change { return e.change }

type editor struct {
	register *domain.Register
	edits    *Edits
	faults   domain.Errors
	add, put map[string][]map[string]any // by noun: whole records, and patches with their code and version
}

const mostFaults = 100

// nothingToList is what stands in a table without rows.
const nothingToList = "nothing to list"

func (e *editor) fault(at, format string, args ...any) {
	if len(e.faults) < mostFaults {
		e.faults.Addf(domain.Invalid, at, format, args...)
	}
}

// read holds one sheet to the records that there are.
func (e *editor) read(s reports.RegisterSheet, in *sheet, now []map[string]string) {
	for _, m := range in.merged {
		if strings.HasPrefix(m, "A2:") && len(in.rows) > 1 && len(in.rows[1].cells) > 0 && in.rows[1].cells[0].text == nothingToList {
			continue // an empty list as it was written
		}
		e.fault(in.name+"!"+m, "merged cells: part them, one value a cell")
	}
	if len(in.rows) == 0 {
		e.fault(in.name, "the sheet is empty, its headings too: take the workbook anew and copy your changes into it")
		return
	}
	columns := e.columns(s, in)
	key := s.Fields[0].Path
	if _, ok := columns[key]; !ok {
		e.fault(in.name, "the column %s is missing: every row needs it", s.Fields[0].Heading())
		return
	}
	current := map[string]map[string]string{}
	for _, r := range now {
		current[identity(s, r)] = r
	}
	seen := map[string]int{}
	for _, line := range in.rows[1:] {
		row := e.row(s, in, line, columns)
		switch {
		case row == nil || row["version"] == "" && strings.HasPrefix(row[key], "EXAMPLE"), row[key] == nothingToList:
			continue
		case row[key] == "":
			e.fault(in.at(columns[key], line.number), "a row without its %s: give it one, or empty the row", strings.ToLower(s.Fields[0].Heading()))
			continue
		}
		id := identity(s, row)
		if first, twice := seen[id]; twice {
			e.fault(in.at(columns[key], line.number), "%s stands in row %d too: keep one", row[key], first)
			continue
		}
		seen[id] = line.number
		for path, column := range columns {
			e.edits.cells[s.Noun+"/"+row[key]+"/"+path] = in.at(column, line.number)
		}
		if was, known := current[id]; known {
			e.amended(s, in, line.number, columns, row, was)
		} else if row["version"] != "" {
			e.fault(in.at(columns[key], line.number), "there is no %s at version %s: a code is not changed here, and what was struck does not come back; for a new record empty its version", row[key], row["version"])
		} else {
			e.added(s, in, line.number, columns, row)
		}
	}
}

// identity is what a record goes by: its code, or all of a price, which is never amended but followed by another.
func identity(s reports.RegisterSheet, row map[string]string) string {
	if s.Noun != "prices" {
		return row[s.Fields[0].Path]
	}
	var all []string
	for _, f := range s.Fields {
		all = append(all, row[f.Path])
	}
	return strings.Join(all, "\n")
}

// columns finds the columns by their headings, wherever they stand.
func (e *editor) columns(s reports.RegisterSheet, in *sheet) map[string]int {
	out := map[string]int{}
	for i, c := range in.rows[0].cells {
		if c.text == "" {
			continue
		}
		known := false
		for _, f := range s.Fields {
			if strings.EqualFold(strings.Join(strings.Fields(c.text), " "), f.Heading()) {
				if _, twice := out[f.Path]; twice {
					e.fault(in.at(i, in.rows[0].number), "the heading %.60q stands twice: keep one", c.text)
				}
				out[f.Path], known = i, true
			}
		}
		if !known {
			e.fault(in.at(i, in.rows[0].number), "there is no column %.60q here: put notes of your own under Note, and take the column out", c.text)
		}
	}
	return out
}

// row is the texts of a row by place, nil where it is empty.
func (e *editor) row(s reports.RegisterSheet, in *sheet, line row, columns map[string]int) map[string]string {
	out := map[string]string{}
	any := false
	for _, f := range s.Fields {
		column, ok := columns[f.Path]
		if !ok || column >= len(line.cells) {
			continue
		}
		c := line.cells[column]
		switch {
		case c.formula:
			e.fault(in.at(column, line.number), "a formula stands where a value belongs: paste its value")
			continue
		case c.kind == "e":
			e.fault(in.at(column, line.number), "the cell holds an error, %s: type the value", c.text)
			continue
		}
		out[f.Path] = plainFigure(f, c.text)
		any = any || c.text != ""
	}
	if !any {
		return nil
	}
	return out
}

// plainFigure writes a figure as the register does: 6.50 is 6.5, and 100.0 is 100.
func plainFigure(f reports.RegisterField, text string) string {
	switch f.Kind {
	case reports.FieldWhole, reports.FieldNumber, reports.FieldVersion:
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return strconv.FormatFloat(v, 'f', -1, 64)
		}
	}
	return text
}

func (e *editor) amended(s reports.RegisterSheet, in *sheet, number int, columns map[string]int, row, was map[string]string) {
	patch := map[string]any{}
	var changed []string
	for _, f := range s.Fields {
		text, ok := row[f.Path]
		if !ok || f.Kind == reports.FieldVersion || text == was[f.Path] || (f.Kind == reports.FieldWhole || f.Kind == reports.FieldNumber) && text == "0" && was[f.Path] == "" {
			continue
		}
		at := in.at(columns[f.Path], number)
		switch f.Kind {
		case reports.FieldShown, reports.FieldOnce:
			e.fault(at, "%s is changed on the record's page, where what goes with it is asked: put %q back", f.Heading(), was[f.Path])
			continue
		}
		value, err := valueOf(f, text)
		if err != nil {
			e.fault(at, "%v", err)
			continue
		}
		set(patch, f.Path, value)
		changed = append(changed, fmt.Sprintf("%s: %s, was %s", f.Heading(), orNothing(text), orNothing(was[f.Path])))
	}
	if len(changed) == 0 {
		return
	}
	if v := row["version"]; v != was["version"] {
		e.faults.Addf(domain.Stale, in.at(columns[s.Fields[0].Path], number), "%s was changed since the workbook was written (it is at version %s, the row at %s): take the workbook anew", row["code"], was["version"], orNothing(v))
		return
	}
	patch["code"] = row["code"]
	e.put[s.Noun] = append(e.put[s.Noun], patch)
	e.edits.Amended = append(e.edits.Amended, fmt.Sprintf("%s %s (%s)", s.Name, row["code"], strings.Join(changed, "; ")))
}

func (e *editor) added(s reports.RegisterSheet, in *sheet, number int, columns map[string]int, row map[string]string) {
	record := map[string]any{}
	for _, f := range s.Fields {
		text := row[f.Path]
		if text == "" || f.Kind == reports.FieldVersion {
			continue
		}
		if f.Kind == reports.FieldShown {
			e.fault(in.at(columns[f.Path], number), "%s of a new record is not given here: leave it empty", f.Heading())
			continue
		}
		value, err := valueOf(f, text)
		if err != nil {
			e.fault(in.at(columns[f.Path], number), "%v", err)
			continue
		}
		set(record, f.Path, value)
	}
	e.add[s.Noun] = append(e.add[s.Noun], record)
	e.edits.New = append(e.edits.New, s.Name+" "+row[s.Fields[0].Path])
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// valueOf is a cell's text as the register's JSON has it; what an emptied cell clears is the zero of its kind.
func valueOf(f reports.RegisterField, text string) (any, error) {
	switch f.Kind {
	case reports.FieldWhole, reports.FieldNumber:
		if text == "" {
			return 0, nil
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || v != v || v > 1e12 || v < -1e12 {
			return nil, fmt.Errorf("%.60q is no figure: type digits only, like 2720", text)
		}
		if f.Kind == reports.FieldWhole && v != float64(int64(v)) {
			return nil, fmt.Errorf("%s is not whole: give whole millimetres, counts and coins", text)
		}
		return json.Number(text), nil
	case reports.FieldYes:
		switch strings.ToLower(text) {
		case "":
			return false, nil
		case "yes", "1", "true":
			return true, nil
		}
		return nil, fmt.Errorf("%.60q: write yes, or leave it empty", text)
	case reports.FieldWholes:
		out := []int{}
		for part := range strings.SplitSeq(text, ",") {
			if part = strings.TrimSpace(part); part == "" {
				continue
			}
			v, err := strconv.Atoi(part)
			if err != nil {
				return nil, fmt.Errorf("%.60q is no whole number: write them with commas between, like 150, 750, 1350", part)
			}
			out = append(out, v)
		}
		return out, nil
	case reports.FieldList:
		out := []string{}
		for part := range strings.SplitSeq(text, ",") {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
		}
		return out, nil
	case reports.FieldWays:
		return waysOf(text)
	}
	return text, nil
}

func waysOf(text string) (any, error) {
	out := []map[string]int{}
	for part := range strings.SplitSeq(text, ";") {
		numbers := strings.Fields(part)
		if len(numbers) == 0 {
			continue
		}
		way := map[string]int{}
		for i, axis := range []string{"x", "y", "z"} {
			if len(numbers) != 3 {
				return nil, fmt.Errorf("%.60q is no direction: write its step along x, y and z, like 0 0 1; several with semicolons between", part)
			}
			v, err := strconv.Atoi(numbers[i])
			if err != nil {
				return nil, fmt.Errorf("%.60q is no direction: write whole steps along x, y and z, like 0 0 1", part)
			}
			way[axis] = v
		}
		out = append(out, way)
	}
	return out, nil
}

func set(record map[string]any, path string, value any) {
	names := strings.Split(path, "/")
	for _, name := range names[:len(names)-1] {
		next, ok := record[name].(map[string]any)
		if !ok {
			next = map[string]any{}
			record[name] = next
		}
		record = next
	}
	record[names[len(names)-1]] = value
}

// records turns rows into records: new ones as they are, amended ones laid over what there is.
func (e *editor) records() error {
	if e.edits.Nothing() {
		return nil
	}
	add, err := decoded(e.add)
	if err != nil {
		return err
	}
	for i := range add.Relations {
		add.Relations[i].Origin = domain.FromLog
	}
	r := e.register
	put := domain.Records{}
	index := r.Index()
	for _, step := range []error{
		over(e.put["zones"], r.Zones, index.Zones, &put.Zones), over(e.put["host_surfaces"], r.Hosts, index.Hosts, &put.Hosts), over(e.put["assemblies"], r.Assemblies, index.Assemblies, &put.Assemblies),
		over(e.put["elements"], r.Elements, index.Elements, &put.Elements), over(e.put["fixings"], r.Fixings, index.Fixings, &put.Fixings), over(e.put["holes"], r.Holes, index.Holes, &put.Holes),
		over(e.put["relations"], r.Relations, placesOf(r.Relations), &put.Relations),
	} {
		if step != nil {
			return step
		}
	}
	kind := domain.Append
	if len(e.edits.Amended) > 0 {
		kind = domain.Amend
	}
	e.edits.change = domain.Change{Kind: kind, What: fmt.Sprintf("from a workbook: %d new, %d amended", len(e.edits.New), len(e.edits.Amended)), Add: add, Put: put}
	return nil
}

func placesOf(all []domain.Relation) map[string]int {
	out := map[string]int{}
	for i := range all {
		out[all[i].Code] = i
	}
	return out
}

func decoded(lists map[string][]map[string]any) (domain.Records, error) {
	var out struct {
		Zones      []domain.Zone        `json:"zones"`
		Hosts      []domain.HostSurface `json:"host_surfaces"`
		Assemblies []domain.Assembly    `json:"assemblies"`
		Elements   []domain.Element     `json:"elements"`
		Fixings    []domain.Fixing      `json:"fixings"`
		Holes      []domain.Hole        `json:"holes"`
		Relations  []domain.Relation    `json:"relations"`
		Prices     []domain.Price       `json:"prices"`
	}
	text, err := json.Marshal(lists)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		return domain.Records{}, domain.Errorf(domain.Invalid, "a row of the workbook does not fit its record: %v", err)
	}
	return domain.Records{Zones: out.Zones, Hosts: out.Hosts, Assemblies: out.Assemblies, Elements: out.Elements, Fixings: out.Fixings, Holes: out.Holes, Relations: out.Relations, Prices: out.Prices}, nil
}

// over lays patches over the records that they name. Decoding into the record keeps what a patch does not name; lists are
// cleared first, since they are given whole.
func over[T any](patches []map[string]any, all []T, places map[string]int, out *[]T) error {
	for _, patch := range patches {
		record := all[places[patch["code"].(string)]]
		text, err := json.Marshal(record)
		if err != nil {
			return fmt.Errorf("writing a record to amend it: %w", err)
		}
		var under map[string]any
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		if err := d.Decode(&under); err != nil {
			return fmt.Errorf("reading a record to amend it: %w", err)
		}
		merged, err := json.Marshal(laid(under, patch))
		if err != nil {
			return fmt.Errorf("writing an amended record: %w", err)
		}
		var next T
		if err := json.Unmarshal(merged, &next); err != nil {
			return domain.Errorf(domain.Invalid, "row %v of the workbook does not fit its record: %v", patch["code"], err)
		}
		*out = append(*out, next)
	}
	return nil
}

func laid(under, patch map[string]any) map[string]any {
	for name, v := range patch {
		inner, ok := v.(map[string]any)
		below, there := under[name].(map[string]any)
		if ok && there {
			under[name] = laid(below, inner)
			continue
		}
		under[name] = v
	}
	return under
}

// check holds the register to its rules as it would be, and tells each fault at its cell.
func (e *editor) check() error {
	if e.edits.Nothing() {
		return nil
	}
	after := e.register.With(e.edits.change.Add)
	put := e.edits.change.Put
	index := e.register.Index()
	lay(after.Zones, put.Zones, index.Zones, func(v domain.Zone) string { return v.Code })
	lay(after.Hosts, put.Hosts, index.Hosts, func(v domain.HostSurface) string { return v.Code })
	lay(after.Assemblies, put.Assemblies, index.Assemblies, func(v domain.Assembly) string { return v.Code })
	lay(after.Elements, put.Elements, index.Elements, func(v domain.Element) string { return v.Code })
	lay(after.Fixings, put.Fixings, index.Fixings, func(v domain.Fixing) string { return v.Code })
	lay(after.Holes, put.Holes, index.Holes, func(v domain.Hole) string { return v.Code })
	lay(after.Relations, put.Relations, placesOf(e.register.Relations), func(v domain.Relation) string { return v.Code })
	var faults domain.Errors
	for _, f := range append(domain.Check(after), domain.CheckConsents(e.register, after)...) {
		told := *f
		told.Field = e.cellOf(after, f.Field)
		faults = append(faults, &told)
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

func lay[T any](all, put []T, places map[string]int, code func(T) string) {
	for _, v := range put {
		all[places[code(v)]] = v
	}
}

// cellOf turns a place in the register into the sheet and cell that it came from; what came from no cell stays as it is.
func (e *editor) cellOf(after *domain.Register, place string) string {
	parts := strings.SplitN(strings.TrimPrefix(place, "/"), "/", 3)
	if len(parts) < 2 {
		return place
	}
	at, err := strconv.Atoi(parts[1])
	if err != nil {
		return place
	}
	code := codeAt(after, parts[0], at)
	path := ""
	if len(parts) == 3 {
		path = parts[2]
	}
	for path != "" {
		if cell, ok := e.edits.cells[parts[0]+"/"+code+"/"+path]; ok {
			return cell
		}
		cut := strings.LastIndexByte(path, '/')
		if cut < 0 {
			break
		}
		path = path[:cut]
	}
	if cell, ok := e.edits.cells[parts[0]+"/"+code+"/code"]; ok {
		return cell
	}
	return place
}

func codeAt(r *domain.Register, noun string, at int) string {
	pick := func(n int, code func() string) string {
		if at < 0 || at >= n {
			return ""
		}
		return code()
	}
	switch noun {
	case "zones":
		return pick(len(r.Zones), func() string { return r.Zones[at].Code })
	case "host_surfaces":
		return pick(len(r.Hosts), func() string { return r.Hosts[at].Code })
	case "assemblies":
		return pick(len(r.Assemblies), func() string { return r.Assemblies[at].Code })
	case "elements":
		return pick(len(r.Elements), func() string { return r.Elements[at].Code })
	case "fixings":
		return pick(len(r.Fixings), func() string { return r.Fixings[at].Code })
	case "holes":
		return pick(len(r.Holes), func() string { return r.Holes[at].Code })
	case "relations":
		return pick(len(r.Relations), func() string { return r.Relations[at].Code })
	case "prices":
		return pick(len(r.Prices), func() string { return r.Prices[at].Key })
	}
	return ""
}
