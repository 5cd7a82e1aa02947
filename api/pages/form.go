package pages

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// kind is how a field is typed, and what it becomes in JSON.
type kind string

// The kinds of field.
const (
	words     kind = "text"      // a string
	number    kind = "number"    // a whole number, or one with decimals
	date      kind = "date"      // a string, ISO 8601
	choice    kind = "choice"    // a string out of Options
	lines     kind = "lines"     // a string of several lines
	tick      kind = "tick"      // true where it is ticked
	upload    kind = "upload"    // a file; not part of the JSON
	many      kind = "many"      // words with commas between them: a list of strings
	eachLine  kind = "each-line" // a list of strings, one on each line
	figures   kind = "figures"   // whole figures with commas between them: a list of numbers
	suggested kind = "suggest"   // a string, with Options to choose from
	hidden    kind = "hidden"    // a string that nobody sees
	hiddenInt kind = "hidden-n"  // a number that nobody sees
	cash      kind = "cash"      // money, typed as people write it; in JSON in minor units of the currency that Unit names
)

// field is one thing to fill in. Its name is the JSON pointer of what it fills: "/params/length_mm".
type field struct {
	Name, Label string
	Kind        kind
	Unit        string // behind the label: "mm"
	Help        string
	Options     []option
	Accept      string // of an upload
	Codes       bool   // codes of the register are typed here: see spell
	Decimals    int    // of a figure, at most: see figures
	Least, Most int64  // of a figure; both 0 where nothing is said
	Required    bool
	Value       string
	Faults      []string
	nth         int // of several forms alike on one page
}

// option is one of a field's choices.
type option struct{ Value, Label string }

// ID is the field's id in the page.
func (f field) ID() string {
	id := strings.ReplaceAll(strings.Trim(f.Name, "/"), "/", "-")
	if f.nth > 0 {
		id += "-" + strconv.Itoa(f.nth)
	}
	return id
}

// group is fields under one heading; a folded one opens at a touch, or by itself where one of its fields is filled.
type group struct {
	Legend string
	Note   string
	Folded bool
	Fields []field
	More   *moreRows // below it: one more like it, or one more row in it
	Asked  bool      // it was asked for just now, and stands open
}

// moreRows is a button that shows one more row.
type moreRows struct {
	Ask, Label string
	N          int
}

// Open reports whether a folded group has something in it.
func (g group) Open() bool {
	if g.Asked {
		return true
	}
	for _, f := range g.Fields {
		if f.Value != "" || len(f.Faults) > 0 {
			return true
		}
	}
	return false
}

// labelled is a form whose fields have ids of their own on a page that shows several alike.
func labelled(f form, n int) form {
	f.Groups = slices.Clone(f.Groups)
	for g := range f.Groups {
		f.Groups[g].Fields = slices.Clone(f.Groups[g].Fields)
		for i := range f.Groups[g].Fields {
			f.Groups[g].Fields[i].nth = n + 1
		}
	}
	return f
}

// form is everything that is typed on one page.
type form struct {
	Key    string // of this one sending; kept when the form comes back
	Groups []group
	Asks   bool     // a question, whose answer is not stored
	Faults []string // of no field, or of none on this page
	// rows are, for each list by its pointer, which row of the form each of its items was typed into: rows left empty close
	// up, and a fault about an item belongs beside its own row.
	rows map[string][]int
}

// sent reads what a browser sent for the form and fills it in.
func (f *form) sent(c echo.Context) (url.Values, error) {
	sent, err := c.FormParams()
	if err == nil {
		f.fill(sent)
	}
	return sent, err
}

// fill puts what was typed before into the fields; a field that was not sent keeps its value.
func (f *form) fill(sent url.Values) {
	if f.Key = sent.Get("key"); f.Key == "" {
		f.Key, _ = newKey()
	}
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			field := &f.Groups[g].Fields[i]
			if value, ok := sent[field.Name]; ok {
				field.Value = value[0]
			} else if field.Kind == tick && len(sent) > 0 {
				field.Value = ""
			}
		}
	}
}

// blame puts each fault beside the field that it names or whose value holds the place it names, the rest above the form.
// prefix is what the places have before the form's own names: "/elements/0".
func (f *form) blame(err error, prefix string) {
	for _, fault := range faultsOf(err) {
		place := f.typedAt(strings.TrimPrefix(fault.Field, prefix))
		field := f.nearest(place)
		if field == nil {
			f.Faults = append(f.Faults, f.inWords(fault.Text, place))
			continue
		}
		field.Faults = append(field.Faults, f.inWords(fault.Text, place))
	}
}

// Blamed reports whether something is at fault in a form: it stands open then.
func (f form) Blamed() bool {
	return len(f.Faults) > 0 || slices.ContainsFunc(f.Groups, func(g group) bool {
		return slices.ContainsFunc(g.Fields, func(field field) bool { return len(field.Faults) > 0 })
	})
}

// typedAt is a place with the items of its lists turned back into the rows that they were typed into.
func (f *form) typedAt(place string) string {
	typed := ""
	for name := range strings.SplitSeq(strings.TrimPrefix(place, "/"), "/") {
		row := name
		if item, err := strconv.Atoi(name); err == nil && item >= 0 && item < len(f.rows[typed]) {
			row = strconv.Itoa(f.rows[typed][item])
		}
		typed += "/" + row
	}
	return typed
}

// nearest is the field at a place, or the one whose value holds it; nil where there is none.
func (f *form) nearest(place string) *field {
	var best *field
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			field := &f.Groups[g].Fields[i]
			if place == field.Name || strings.HasPrefix(place, field.Name+"/") {
				if best == nil || len(field.Name) > len(best.Name) {
					best = field
				}
			}
		}
	}
	return best
}

// JSON is what the form says, as JSON: empty fields are left out. A figure that is none is blamed on its field.
func (f *form) JSON() (json.RawMessage, error) {
	text, faults, err := f.partly()
	if len(faults) > 0 {
		return nil, faults
	}
	return text, err
}

// partly is what the form says without the fields that are at fault, so that the rules behind them can be asked in the same
// round: who mends a form wants to be told once.
func (f *form) partly() (json.RawMessage, domain.Errors, error) {
	root := map[string]any{}
	var faults domain.Errors
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			value, err := field.value()
			if err != nil {
				faults.Addf(domain.Invalid, field.Name, "%v", err)
			} else if value != nil {
				setAt(root, strings.Split(strings.TrimPrefix(field.Name, "/"), "/"), value)
			}
		}
	}
	text, err := json.Marshal(f.asLists(root, ""))
	return text, faults, err
}

// besides is all of first, and of more what is not about a field that first is about already.
func besides(first domain.Errors, more error) domain.Errors {
	blamed := map[string]bool{}
	for _, fault := range first {
		blamed[fault.Field] = true
	}
	for _, fault := range faultsOf(more) {
		if fault.Field == "" || !blamed[fault.Field] {
			first = append(first, fault)
		}
	}
	return first
}

// Patch is what the form says of a record that is there: like JSON, but a field that was emptied empties what it fills.
// Rows of a list that are empty throughout are left out.
func (f *form) Patch() (json.RawMessage, error) {
	root := map[string]any{}
	var faults domain.Errors
	lists := map[string]bool{} // what the form has rows of
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			path := strings.Split(strings.TrimPrefix(field.Name, "/"), "/")
			item := slices.IndexFunc(path, isNumber)
			row := item > 0
			if row {
				lists[strings.Join(path[:item], "/")] = true
			}
			value, err := field.value()
			switch {
			case err != nil:
				faults.Addf(domain.Invalid, field.Name, "%v", err)
				continue
			case value == nil && (row || field.Kind == upload):
				continue
			case value == nil:
				value = field.empty()
			}
			setAt(root, path, value)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	for list := range lists {
		if path := strings.Split(list, "/"); !hasAt(root, path) {
			setAt(root, path, []any{})
		}
	}
	return json.Marshal(f.asLists(root, ""))
}

func isNumber(s string) bool { _, err := strconv.Atoi(s); return err == nil }

// empty is what an emptied field puts in its place.
func (f field) empty() any {
	switch f.Kind {
	case number, hiddenInt, cash:
		return 0
	case tick:
		return false
	case many, eachLine:
		return []string{}
	case figures:
		return []int{}
	}
	return ""
}

// value is the field's value as JSON takes it; nil where it is empty.
func (f field) value() (any, error) {
	text := strings.TrimSpace(f.Value)
	if text == "" {
		if f.Required {
			return nil, fmt.Errorf("%s is wanted", strings.ToLower(f.Label))
		}
		return nil, nil
	}
	switch f.Kind {
	case number, hiddenInt:
		plain, err := domain.ReadFigure(text, f.figures())
		if err != nil {
			return nil, err
		}
		return json.Number(plain), nil
	case cash:
		return domain.ParseMoney(text, f.Unit)
	case tick:
		return true, nil
	case many:
		list := []string{}
		for part := range strings.SplitSeq(text, ",") {
			if part = strings.TrimSpace(part); part != "" {
				list = append(list, part)
			}
		}
		return list, nil
	case eachLine:
		list := []string{}
		for line := range strings.Lines(text) {
			if line = strings.TrimSpace(line); line != "" {
				list = append(list, line)
			}
		}
		return list, nil
	case figures:
		return domain.ReadWholes(text, f.figures())
	case upload:
		return nil, nil
	}
	return text, nil
}

// hasAt reports whether something stands at a path of names.
func hasAt(root map[string]any, path []string) bool {
	for _, name := range path[:len(path)-1] {
		next, ok := root[name].(map[string]any)
		if !ok {
			return false
		}
		root = next
	}
	_, ok := root[path[len(path)-1]]
	return ok
}

// setAt puts a value at a path of names.
func setAt(root map[string]any, path []string, value any) {
	for _, name := range path[:len(path)-1] {
		next, ok := root[name].(map[string]any)
		if !ok {
			next = map[string]any{}
			root[name] = next
		}
		root = next
	}
	root[path[len(path)-1]] = value
}

// asLists turns every object whose names are 0, 1, 2 ... into a list; gaps close up, as rows left empty in a form do, and
// the form keeps which row each item came from.
func (f *form) asLists(v any, place string) any {
	m, ok := v.(map[string]any)
	if !ok {
		return v
	}
	highest := -1
	for name, inner := range m {
		m[name] = f.asLists(inner, place+"/"+name)
		n, err := strconv.Atoi(name)
		if err != nil || n < 0 || n > 1000 {
			return f.restAsLists(m, place)
		}
		highest = max(highest, n)
	}
	if highest < 0 {
		return m
	}
	list, rows := []any{}, []int{}
	for i := range highest + 1 {
		if inner, ok := m[strconv.Itoa(i)]; ok {
			list, rows = append(list, inner), append(rows, i)
		}
	}
	if f.rows == nil {
		f.rows = map[string][]int{}
	}
	f.rows[place] = rows
	return list
}

// restAsLists does the same below an object that is no list itself.
func (f *form) restAsLists(m map[string]any, place string) map[string]any {
	for name, inner := range m {
		m[name] = f.asLists(inner, place+"/"+name)
	}
	return m
}
