package drawing

import (
	"cmp"
	"strconv"
	"strings"
	"sync"
)

// stylesByClass is the stylesheet of a file, light, as properties by class; "text" holds for all words. Lengths stay in
// heights of a code.
var stylesByClass = sync.OnceValue(func() map[string]map[string]string {
	light := map[string]string{}
	for _, c := range append(append([]tone{}, palette...), shades()...) {
		light[c.name] = c.light
	}
	out := map[string]map[string]string{}
	for _, r := range append(append([]rule{}, rules...), isometricRules()...) {
		properties := map[string]string{}
		for property := range strings.SplitSeq(r.body, ";") {
			name, value, _ := strings.Cut(property, ":")
			properties[name] = word.ReplaceAllStringFunc(value, func(w string) string {
				if isLength(w) {
					return w[1:]
				}
				return light[w[1:]]
			})
		}
		out[strings.TrimPrefix(r.selector, ".")] = properties
	}
	return out
})

// style is what the stylesheet says of an element, with what it says of itself: as in a browser, a class is stronger.
func (r *reader) style(a map[string]string, words bool) Style {
	of := func(name string) string {
		for class := range strings.FieldsSeq(a["class"]) {
			if v := r.styles[class][name]; v != "" {
				return v
			}
		}
		if words {
			return r.styles["text"][name]
		}
		return ""
	}
	letters := func(value string) float64 { // a length in code heights
		if value == "" {
			return 0
		}
		return r.number(value) * r.letter * r.share
	}
	s := Style{FillAlpha: 1, Alpha: r.alpha[len(r.alpha)-1], StrokeMm: letters(of("stroke-width")), SizeMm: letters(of("font-size")),
		Bold: of("font-weight") == "bold", Anchor: cmp.Or(of("text-anchor"), "start")}
	s.Fill, s.Stroke = colour(cmp.Or(of("fill"), a["fill"], "#000000")), colour(of("stroke"))
	if alpha := of("fill-opacity"); alpha != "" {
		s.FillAlpha, _ = strconv.ParseFloat(alpha, 64) // our own constant
	}
	for part := range strings.FieldsSeq(of("stroke-dasharray")) {
		s.DashMm = append(s.DashMm, letters(part))
	}
	return s
}

// colour is a colour, or "" for none.
func colour(words string) string {
	if words == "none" {
		return ""
	}
	return words
}
