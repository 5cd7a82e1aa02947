package pages

import (
	"net/url"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
)

// typedElsewhere are the parameters that a form fills from a field in other words, each with that field. Where a field of
// a place is named, the parameter can be typed there only by choosing: the register knows its figures.
var typedElsewhere = map[string]map[string]string{
	"stud-wall":   {"/params/half_height": "/place/head", "/params/head/host": "/place/head", "/params/face_a/share_cut": "/place/share_cut", "/params/face_b/share_cut": "/place/share_cut"},
	"lining":      {"/params/wall": "/place/on", "/params/face": "/place/on", "/params/battens/host": "/place/on"},
	"door-set":    {"/params/wall": "/place/doorway", "/params/opening": "/place/doorway"},
	"trim":        {"/params/wall": "/place/on", "/params/face": "/place/on"},
	"seal":        {"/params/wall": "/place/on", "/params/face": "/place/on"},
	"ceiling":     {"/params/joists": "/place/under", "/params/battens/host": "/place/under", "/params/grid/host": "/place/under"},
	"mezzanine":   {"/params/carriers/*/kind": "/params/carriers/*/behind", "/params/carriers/*/host": "/params/carriers/*/behind", "/params/carriers/*/wall": "/params/carriers/*/behind"},
	"service-run": {},
	// Further pieces, fixings, holes and relations join a loose assembly by entries of their own.
	"loose": {"/params/elements": "/elements/*/kind", "/params/fixings": "/elements/*/kind", "/params/holes": "/elements/*/kind", "/params/relations": "/elements/*/kind"},
}

var rowOf = regexp.MustCompile(`/[0-9]+(/|$)`)

// TestEveryParameterIsOnItsForm walks the parameters of every recipe and the fields of its form, and names what of the
// file cannot be typed on the page. A list's rows stand for "*".
func TestEveryParameterIsOnItsForm(t *testing.T) {
	t.Parallel()
	k := known{&domain.Register{Catalogue: catalogue.Default()}, url.Values{}}
	for name, params := range recipe.Params() {
		e := entryBy(name)
		if e == nil {
			t.Errorf("recipe %s has no form", name)
			continue
		}
		typed := map[string]bool{}
		for _, g := range e.form(k).Groups {
			for _, f := range g.Fields {
				place := f.Name
				for rowOf.MatchString(place) {
					place = rowOf.ReplaceAllString(place, "/*$1")
				}
				typed[place] = true
			}
		}
		elsewhere := typedElsewhere[name]
		for _, place := range slices.Sorted(slices.Values(pointersOf(reflect.TypeOf(params), "/params"))) {
			instead, ok := elsewhere[place]
			switch {
			case typed[place]:
			case !ok && name == "loose" && elsewhere[strings.Join(strings.Split(place, "/")[:3], "/")] != "":
			case !ok:
				t.Errorf("%s: %s is in the file and not on the form", name, place)
			case !typed[instead]:
				t.Errorf("%s: %s is said to be typed into %s, which is not on the form", name, place, instead)
			}
		}
	}
}

// pointersOf are the places of every value below a type, as JSON writes it.
func pointersOf(t reflect.Type, at string) []string {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case t.Kind() == reflect.Slice && scalar(t.Elem()):
		return []string{at}
	case t.Kind() == reflect.Slice:
		return pointersOf(t.Elem(), at+"/*")
	case t.Kind() != reflect.Struct:
		return []string{at}
	}
	var out []string
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-":
		case f.Anonymous && name == "":
			out = append(out, pointersOf(f.Type, at)...)
		default:
			out = append(out, pointersOf(f.Type, at+"/"+name)...)
		}
	}
	return out
}

func scalar(t reflect.Type) bool {
	return t.Kind() != reflect.Struct && t.Kind() != reflect.Pointer && t.Kind() != reflect.Slice
}
