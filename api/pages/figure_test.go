package pages

import (
	"encoding/json"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
)

// TestFiguresAreReadAsTheyAreKept: a field takes decimals where what it fills has some, and nowhere else.
func TestFiguresAreReadAsTheyAreKept(t *testing.T) {
	t.Parallel()
	k := known{&domain.Register{Catalogue: catalogue.Default()}, url.Values{}}
	seen := map[reflect.Kind]int{}
	for name, params := range recipe.Params() {
		kinds := map[string]reflect.Kind{}
		kindsOf(reflect.TypeOf(params), "/params", kinds)
		for _, g := range entryBy(name).form(k).Groups {
			for _, f := range g.Fields {
				place := f.Name
				for rowOf.MatchString(place) {
					place = rowOf.ReplaceAllString(place, "/*$1")
				}
				kind, ok := kinds[place]
				if !ok || f.Kind != number {
					continue
				}
				seen[kind]++
				if takes := f.figures().Decimals > 0; takes != (kind == reflect.Float64) {
					t.Errorf("%s: %s takes decimals: %t, and is kept as %s", name, f.Name, takes, kind)
				}
			}
		}
	}
	if seen[reflect.Int] < 100 || seen[reflect.Float64] < 2 {
		t.Errorf("looked at %v", seen)
	}
}

func kindsOf(t reflect.Type, at string, into map[string]reflect.Kind) {
	switch t.Kind() {
	case reflect.Pointer:
		kindsOf(t.Elem(), at, into)
	case reflect.Slice:
		kindsOf(t.Elem(), at+"/*", into)
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if f.Anonymous && name == "" {
				kindsOf(f.Type, at, into)
			} else if name != "-" {
				kindsOf(f.Type, at+"/"+name, into)
			}
		}
	default:
		into[at] = t.Kind()
	}
}

func TestFieldsReadFigures(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		field field
		typed string
		want  string // JSON, or words of the fault
	}{
		{mm("/length_mm", "Length", ""), "75 mm", `75`},
		{mm("/length_mm", "Length", ""), "4,8", "no whole figure"},
		{mm("/length_mm", "Length", ""), "-1", "give 0 to 1,000,000 mm"},
		{mm("/place/origin/x", "Corner, x", ""), "-1", `-1`},
		{mm("/moved/z_mm", "Higher", "").below(), "-50", `-50`},
		{digits("/mass_kg", "Mass", "kg", "").decimals(), "4,8", `4.8`},
		{digits("/mass_kg", "Mass", "kg", "").decimals(), "48", `48`},
		{digits("/count", "How many", "", "").from(1, 20), "21", "give 1 to 20"},
		{field{Name: "/sum_minor", Label: "Sum", Kind: cash, Unit: "EUR"}, "4,80", `480`},
		{field{Name: "/at_mm", Label: "At", Kind: figures, Unit: "mm"}, "400, 1250", `[400,1250]`},
		{field{Name: "/at_mm", Label: "At", Kind: figures, Unit: "mm"}, "400, 12.5", "no whole figure"},
		{field{Name: "/version", Kind: hiddenInt}, "7", `7`},
	} {
		tt.field.Value = tt.typed
		value, err := tt.field.value()
		got, _ := json.Marshal(value)
		if err != nil {
			got = []byte(err.Error())
		}
		if !strings.Contains(string(got), tt.want) || err == nil && string(got) != tt.want {
			t.Errorf("%s with %q typed: %s, want %s", tt.field.Name, tt.typed, got, tt.want)
		}
		if tt.field.Value != tt.typed {
			t.Errorf("%s: %q became %q in the field", tt.field.Name, tt.typed, tt.field.Value)
		}
	}
}

func TestInputMode(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		field field
		want  string
	}{
		{mm("/length_mm", "", ""), "numeric"},
		{digits("/mass_kg", "", "kg", "").decimals(), "decimal"},
		{mm("/level_mm", "", "").below(), ""}, // some keypads have no minus
		{field{Kind: cash, Unit: "GBP"}, "decimal"},
		{field{Kind: cash, Unit: "JPY"}, "numeric"}, // no decimals by ISO 4217
		{field{Kind: words}, ""},
	} {
		if got := tt.field.InputMode(); got != tt.want {
			t.Errorf("%s %s: input mode %q, want %q", tt.field.Name, tt.field.Kind, got, tt.want)
		}
	}
}
