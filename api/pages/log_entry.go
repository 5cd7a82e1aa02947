package pages

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"unpick/domain"
)

// entry is one way to log something: a form in plain words, and what it says. Each is declared in a file of its own.
type entry struct {
	Name    string // of its recipe, or "run", "piece", "found"
	Title   string // "A wall"
	Lead    string // one line under it
	Noun    string // what it is called where nobody names it: "Wall"
	Letters string // its codes begin so
	Recipe  bool
	Groups  func(k known) []group
	// Read turns what the form says into what is logged. Root holds the fields by their pointers.
	Read func(k known, root map[string]any) (entered, error)
	// Aliases lead faults to a field: the place that a fault names, and the field that it was typed into.
	Aliases map[string]string
	// Again fills in the form from what was logged before, with the place moved on.
	Again func(k known, code string) map[string]string
}

// entered is what a form says: an assembly, or loose records drawn with an assembly.
type entered struct {
	assembly *domain.Assembly
	records  domain.Records
	drawWith string
}

// form is the entry's form, filled in as far as one can know beforehand.
func (e entry) form(k known) *form {
	f := &form{Groups: e.Groups(k)}
	if e.Recipe {
		howKnown := pick("/known", "How known", knownOptions(), "Built before anyone logged it? What is not seen is planned as the worst case")
		f.Groups = append(f.Groups,
			group{Legend: "What it is called", Fields: []field{
				said("/code", "Code", "Written on it; on every piece of it too").must().as(k.nextCode(e.Letters)),
				said("/name", "Name", "Empty: "+e.Noun), howKnown}},
			group{Legend: "More: room, licence, who, note", Folded: true, Fields: []field{
				pick("/zone", "Room or area", one("Not said", k.zones()), ""),
				field{Name: "/licensed", Label: "Item of the licence that allows it", Kind: suggested, Options: licenceOptions(k.r), Help: "Empty: not licensed"},
				said("/builder", "Built by", "Empty: your own firm"),
				pick("/owner", "Whose it is", []option{{"", "The tenant's"}, {"hired", "Hired"}, {"landlord", "The landlord's"}}, ""),
				said("/note", "Note", "")}})
	}
	return f
}

// read is what a filled form says.
func (e entry) read(k known, f *form) (entered, error) {
	f.spell(k.r)
	text, err := f.JSON()
	if err != nil {
		return entered{}, err
	}
	root := map[string]any{}
	if err := json.Unmarshal(text, &root); err != nil {
		return entered{}, fmt.Errorf("reading back the form of %s: %w", e.Name, err)
	}
	return e.Read(k, root)
}

// assemble is the assembly that a recipe's form says, its parameters laid over those that were found from its place.
func (e entry) assemble(root map[string]any, found any) (entered, error) {
	params, _ := root["params"].(map[string]any)
	base, err := asMap(found)
	if err != nil {
		return entered{}, err
	}
	text, err := json.Marshal(overlaid(base, params))
	if err != nil {
		return entered{}, fmt.Errorf("writing the parameters of %s: %w", e.Name, err)
	}
	a := domain.Assembly{Recipe: e.Name, Params: text}
	a.Code, a.Name, a.Zone, a.Licensed = told(root, "code"), told(root, "name"), told(root, "zone"), told(root, "licensed")
	a.Known = domain.Known(told(root, "known"))
	a.Builder, a.Owner, a.Note = told(root, "builder"), domain.Owner(told(root, "owner")), told(root, "note")
	if a.Name == "" {
		a.Name = e.Noun
	}
	return entered{assembly: &a}, nil
}

func told(root map[string]any, name string) string {
	text, _ := root[name].(string)
	return text
}

// asMap is a value as JSON objects; nil is none.
func asMap(v any) (map[string]any, error) {
	out := map[string]any{}
	if v == nil {
		return out, nil
	}
	text, err := json.Marshal(v)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		return nil, fmt.Errorf("writing what was found for a form: %w", err)
	}
	return out, nil
}

// overlaid is base with over laid on it, object by object; lists are replaced whole.
func overlaid(base, over map[string]any) map[string]any {
	out := maps.Clone(base)
	for name, value := range over {
		inner, isMap := value.(map[string]any)
		under, wasMap := out[name].(map[string]any)
		if isMap && wasMap {
			out[name] = overlaid(under, inner)
			continue
		}
		out[name] = value
	}
	return out
}

// placeOf reads what a form says of the place, and takes it out of root.
func placeOf[P any](root map[string]any) (P, error) {
	var p P
	text, err := json.Marshal(root["place"])
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	delete(root, "place")
	if err != nil {
		return p, fmt.Errorf("reading the place in a form: %w", err)
	}
	return p, nil
}

// blame puts faults beside the fields that they came from.
func (e entry) blame(f *form, err error) {
	aliases := slices.Sorted(maps.Keys(e.Aliases))
	slices.SortStableFunc(aliases, func(a, b string) int { return len(b) - len(a) })
	var faults domain.Errors
	for _, fault := range faultsOf(err) {
		place := strings.TrimPrefix(fault.Field, "/assemblies/0")
		if short := strings.TrimPrefix(place, "/params"); f.nearest(place) == nil && f.nearest(short) != nil {
			place = short
		}
		if f.nearest(place) == nil {
			for _, from := range aliases {
				if place == from || strings.HasPrefix(place, from+"/") {
					place = e.Aliases[from]
					break
				}
			}
		}
		text := fault.Text
		if f.nearest(place) == nil && strings.HasPrefix(place, "/params/") {
			text = plainPlace(place) + ": " + text
		}
		faults.Addf(fault.Code, place, "%s", text)
	}
	f.blame(faults, "")
}

// plainPlace is a pointer for people: "/params/start/code" is "start code".
func plainPlace(pointer string) string {
	return strings.NewReplacer("/params/", "", "_mm", "", "_", " ", "/", " ").Replace(pointer)
}
