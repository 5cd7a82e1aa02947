package recipe

import (
	"bytes"
	"encoding/json"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
)

// checkParams holds parameters against the struct that they are for: unknown fields, missing fields (those
// without omitempty), wrong types, and the minimum, maximum and enum that the struct's jsonschema tags state.
// Every fault is reported at once, each with its pointer, so that the schema and the refusal never differ.
func checkParams(params json.RawMessage, like any) error {
	decoder := json.NewDecoder(bytes.NewReader(params))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		return domain.FieldErrorf(domain.Invalid, "/params", "the parameters are not JSON: %v", err)
	}
	if _, err := decoder.Token(); err != io.EOF {
		return domain.FieldErrorf(domain.Invalid, "/params", "there is more after the parameters: send one object")
	}
	var s strict
	s.check(value, reflect.TypeOf(like), "/params", "")
	return s.faults.OrNil()
}

type strict struct{ faults domain.Errors }

func (s *strict) check(value any, t reflect.Type, at, tag string) {
	for t.Kind() == reflect.Pointer {
		if value == nil {
			return
		}
		t = t.Elem()
	}
	ok := true
	switch t.Kind() {
	case reflect.Struct:
		var fields map[string]any
		if fields, ok = value.(map[string]any); ok {
			s.object(fields, t, at)
		}
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Uint8 {
			return
		}
		var items []any
		if items, ok = value.([]any); ok {
			for i, item := range items {
				s.check(item, t.Elem(), at+"/"+strconv.Itoa(i), "")
			}
		}
	case reflect.String:
		var text string
		if text, ok = value.(string); ok {
			s.text(text, at, tag)
		}
	case reflect.Bool:
		_, ok = value.(bool)
	case reflect.Int, reflect.Int64, reflect.Float64:
		var n json.Number
		if n, ok = value.(json.Number); ok {
			s.number(n, t.Kind(), at, tag)
		}
	}
	if !ok {
		s.faults.Addf(domain.Invalid, at, "must be %s", wanted(t))
	}
}

func wanted(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Struct:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Float64:
		return "a number"
	}
	return "a whole number"
}

func (s *strict) object(fields map[string]any, t reflect.Type, at string) {
	known := map[string]bool{}
	for _, f := range reflect.VisibleFields(t) {
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous || name == "" || name == "-" {
			continue
		}
		known[name] = true
		value, given := fields[name]
		switch {
		case given:
			s.check(value, f.Type, at+"/"+name, f.Tag.Get("jsonschema"))
		case !strings.Contains(options, "omit"):
			s.faults.Addf(domain.Invalid, at+"/"+name, "is missing: it has no default")
		}
	}
	unknown := []string{}
	for name := range fields {
		if !known[name] {
			unknown = append(unknown, name)
		}
	}
	slices.Sort(unknown)
	for _, name := range unknown {
		s.faults.Addf(domain.Invalid, at+"/"+pointerEscape.Replace(name), "is not a parameter here: take it out, or mend its spelling")
	}
}

// pointerEscape writes a name into a JSON pointer, RFC 6901 section 3.
var pointerEscape = strings.NewReplacer("~", "~0", "/", "~1")

func (s *strict) text(text, at, tag string) {
	var allowed []string
	for rule := range strings.SplitSeq(tag, ",") {
		if name, value, _ := strings.Cut(rule, "="); name == "enum" {
			allowed = append(allowed, value)
		}
	}
	if len(allowed) > 0 && !slices.Contains(allowed, text) {
		s.faults.Addf(domain.Invalid, at, "is %q: use %s", text, strings.Join(allowed, ", "))
	}
}

func (s *strict) number(n json.Number, kind reflect.Kind, at, tag string) {
	value, err := n.Float64()
	if err == nil && kind != reflect.Float64 {
		_, err = strconv.ParseInt(n.String(), 10, 64)
	}
	if err != nil {
		s.faults.Addf(domain.Invalid, at, "is %s: must be a whole number", n)
		return
	}
	for rule := range strings.SplitSeq(tag, ",") {
		name, limit, _ := strings.Cut(rule, "=")
		bound, err := strconv.ParseFloat(limit, 64)
		switch {
		case err != nil:
		case name == "minimum" && value < bound:
			s.faults.Addf(domain.Invalid, at, "is %s: must be at least %s", n, limit)
		case name == "exclusiveMinimum" && value <= bound:
			s.faults.Addf(domain.Invalid, at, "is %s: must be more than %s", n, limit)
		case name == "maximum" && value > bound:
			s.faults.Addf(domain.Invalid, at, "is %s: must be at most %s", n, limit)
		}
	}
}
