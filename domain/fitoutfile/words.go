package fitoutfile

import (
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	reflected "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

	"unpick/domain"
)

// faults holds one value to a schema and words what is wrong, in the order of the text.
func (u *rules) faults(l *layout, schema *jsonschema.Schema, value any, under string) domain.Errors {
	err := schema.Validate(value)
	if err == nil {
		return nil
	}
	invalid, ok := errors.AsType[*jsonschema.ValidationError](err)
	if !ok {
		return domain.Errors{{Code: domain.Invalid, Field: under, Text: err.Error()}}
	}
	var out domain.Errors
	for _, leaf := range leaves(invalid, nil) {
		u.word(&out, under+pointer(leaf.InstanceLocation...), leaf)
	}
	lines := map[*domain.Error]int{}
	for _, e := range out {
		lines[e] = l.line(e.Field)
		e.Text = fmt.Sprintf("line %d: %s", lines[e], e.Text)
	}
	slices.SortStableFunc(out, func(a, b *domain.Error) int {
		return cmp.Or(cmp.Compare(lines[a], lines[b]), cmp.Compare(a.Field, b.Field), cmp.Compare(a.Text, b.Text))
	})
	return out
}

// leaves are the errors that say something, without those that only pass them on.
func leaves(e *jsonschema.ValidationError, found []*jsonschema.ValidationError) []*jsonschema.ValidationError {
	if len(e.Causes) == 0 {
		return append(found, e)
	}
	for _, cause := range e.Causes {
		found = leaves(cause, found)
	}
	return found
}

// word adds a broken rule of the schema as sentences for people: what is there, and what belongs there.
func (u *rules) word(out *domain.Errors, at string, e *jsonschema.ValidationError) {
	say := func(format string, args ...any) { out.Addf(domain.Invalid, at, format, args...) }
	switch k := e.ErrorKind.(type) {
	case *kind.Required:
		for _, name := range k.Missing {
			out.Addf(domain.Invalid, at+pointer(name), "%q is missing%s", name, u.describe(e.SchemaURL, name))
		}
	case *kind.AdditionalProperties:
		for _, name := range k.Properties {
			out.Addf(domain.Invalid, at+pointer(name), "there is no field %.60q here: %s", name, u.didYouMean(e.SchemaURL, name))
		}
	case *kind.Type:
		say("a %s stands where %s belongs", gotType(k.Got, k.Want), wantType(k.Want))
	case *kind.Enum:
		say("is %s: use %s", quoted(k.Got), enumWords(k.Got, k.Want))
	case *kind.Minimum:
		say("is %s: give %s or more", decimal(k.Got), decimal(k.Want))
	case *kind.Maximum:
		say("is %s: give %s at most", decimal(k.Got), decimal(k.Want))
	case *kind.ExclusiveMinimum:
		say("is %s: give more than %s", decimal(k.Got), decimal(k.Want))
	case *kind.Pattern:
		say("is %.60q: %s", k.Got, patternWords(k.Want))
	case *kind.Format:
		say("is %s, which is no %s: write year-month-day, like 2026-03-31", quoted(k.Got), k.Want)
	default:
		say("breaks a rule of the format: %s", strings.TrimSpace(e.Error()))
	}
}

// property is a field's schema in the struct at a place of the compiled schema.
func (u *rules) property(location, name string) (*reflected.Schema, bool) {
	def := u.definition(location)
	if def == nil || def.Properties == nil {
		return nil, false
	}
	return def.Properties.Get(name)
}

func (u *rules) describe(location, name string) string {
	if p, ok := u.property(location, name); ok && p.Description != "" {
		return ": " + p.Description
	}
	return ": give it"
}

// didYouMean names the field that was meant. A field in another unit is the commonest slip, and the worst one to
// mend by its name alone.
func (u *rules) didYouMean(location, name string) string {
	def := u.definition(location)
	if def == nil || def.Properties == nil {
		return "take it out"
	}
	names := func(yield func(string) bool) {
		for p := def.Properties.Oldest(); p != nil && yield(p.Key); p = p.Next() {
		}
	}
	near := domain.Nearest(name, names)
	switch {
	case near == "":
		return "take it out, or see the schema for the fields there are"
	case strings.HasSuffix(near, "_mm"):
		return fmt.Sprintf("did you mean %q, in whole millimetres?", near)
	case strings.HasSuffix(near, "_kg"):
		return fmt.Sprintf("did you mean %q, in kilograms?", near)
	}
	return fmt.Sprintf("did you mean %q?", near)
}

func gotType(got string, want []string) string {
	if got == "number" && !slices.Contains(want, "integer") {
		return got
	}
	return map[string]string{"string": "text", "number": "number with a fraction", "object": "group", "array": "list",
		"boolean": "true or false", "null": "null (leave the field out instead)"}[got]
}

func wantType(want []string) string {
	words := make([]string, len(want))
	for i, w := range want {
		words[i] = map[string]string{"string": "a text in double quotes", "integer": "a whole number", "number": "a number",
			"object": "a group in braces", "array": "a list in brackets", "boolean": "true or false", "null": "nothing"}[w]
	}
	return strings.Join(words, " or ")
}

func enumWords(got any, want []any) string {
	words := make([]string, len(want))
	for i, w := range want {
		words[i] = fmt.Sprint(w)
	}
	if text, ok := got.(string); ok && len(words) > 8 {
		if near := domain.Nearest(text, slices.Values(words)); near != "" {
			return fmt.Sprintf("%q, or another of: %s", near, strings.Join(words, ", "))
		}
	}
	return strings.Join(words, ", ")
}

func patternWords(pattern string) string {
	switch {
	case pattern == domain.CodePattern:
		return "use up to 40 plain letters, digits and - . / _, a letter or digit first"
	case strings.Contains(pattern, "[A-Z]{3}"):
		return "use the three capital letters of ISO 4217, like GBP or EUR"
	case strings.Contains(pattern, ":[0-5]"):
		return "write hours and minutes, like 07:30"
	}
	return "it has to match " + pattern
}

func quoted(value any) string {
	if text, ok := value.(string); ok {
		return fmt.Sprintf("%.60q", text)
	}
	return fmt.Sprint(value)
}

// decimal is a number as a person writes it.
func decimal(n *big.Rat) string {
	if n.IsInt() {
		return n.Num().String()
	}
	f, _ := n.Float64()
	return fmt.Sprint(f)
}
