package pages

import (
	"fmt"
	"regexp"
	"strings"

	"unpick/domain"
)

// mostFaults is how many faults one list shows: a file that is wrong throughout has thousands, and a phone one screen.
const mostFaults = 20

// firstFaults are the first faults of a list, and how many more there are.
func firstFaults(all []string) []string {
	if len(all) <= mostFaults {
		return all
	}
	return append(all[:mostFaults:mostFaults], fmt.Sprintf("... and %d more", len(all)-mostFaults))
}

// fileName is a name as files have it, "u_mm"; quoted is what somebody typed, which stays as it is.
var (
	fileName = regexp.MustCompile(`[a-z][a-z0-9]*(?:_[a-z0-9]+)+`)
	quoted   = regexp.MustCompile(`"[^"]*"`)
)

// inWords is the text of a fault with the form's own labels in place of the names that files have for its fields: rules are the
// same for a file, the API and a form, and who reads a form has never seen a file.
func (f *form) inWords(text, place string) string {
	var out strings.Builder
	from := 0
	for _, typed := range append(quoted.FindAllStringIndex(text, -1), []int{len(text), len(text)}) {
		out.WriteString(fileName.ReplaceAllStringFunc(text[from:typed[0]], func(name string) string { return f.labelOf(name, place) }))
		out.WriteString(text[typed[0]:typed[1]])
		from = typed[1]
	}
	return out.String()
}

// labelOf is the label of the field of a name that is nearest to a place: beside it, else further up, else the only one of that
// name. A name without a field is written as words.
func (f *form) labelOf(name, place string) string {
	if label, ok := f.labels()[place]; ok && strings.HasSuffix(place, "/"+name) {
		return "“" + label + "”"
	}
	labels := f.labels()
	for at := strings.LastIndexByte(place, '/'); at >= 0; at = strings.LastIndexByte(place[:at], '/') {
		if label, ok := labels[place[:at]+"/"+name]; ok {
			return "“" + label + "”"
		}
	}
	only := map[string]bool{}
	for at, label := range labels {
		if strings.HasSuffix(at, "/"+name) {
			only[label] = true
		}
	}
	if len(only) == 1 {
		for label := range only {
			return "“" + label + "”"
		}
	}
	return strings.ReplaceAll(strings.TrimSuffix(name, "_mm"), "_", " ")
}

// labels are the labels of the form's fields by their names.
func (f *form) labels() map[string]string {
	out := map[string]string{}
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			if field.Label != "" {
				out[field.Name] = field.Label
			}
		}
	}
	return out
}

// codes reports whether codes were typed in the form.
func (f *form) codes() bool {
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			if field.Codes && field.Value != "" {
				return true
			}
		}
	}
	return false
}

// spell writes the codes in the form's fields as the register does, where it has just one that differs in case alone: "w5" is
// W5.
func (f *form) spell(r *domain.Register) {
	var spelling func(string) string
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			field := &f.Groups[g].Fields[i]
			if !field.Codes || field.Value == "" {
				continue
			}
			if spelling == nil {
				spelling = r.Spelling()
			}
			parts := strings.Split(field.Value, ",")
			for k, part := range parts {
				code := strings.TrimSpace(part)
				if spelt := spelling(code); spelt != code {
					parts[k] = strings.Replace(part, code, spelt, 1)
				}
			}
			field.Value = strings.Join(parts, ",")
		}
	}
}
