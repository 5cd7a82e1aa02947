package drawing

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// tone is a colour in the light, for paper too, and in the dark.
type tone struct{ name, light, dark string }

// palette holds every colour by name. Tones that stand side by side differ in lightness as well as in hue, so that
// they stay apart in black and white and to an eye that sees red and green alike (checked in palette_test.go).
var palette = []tone{
	{"paper", "#ffffff", "#191816"},
	{"ink", "#111111", "#ece9e2"},
	{"quiet", "#4a4a4a", "#b9b4a9"},
	{"faint", "#8c8c8c", "#7d786e"},
	{"timber", "#f3e3c3", "#5c4a2a"},
	{"timber-line", "#5d3f12", "#d9b878"},
	{"grain", "#b98d4b", "#8f7340"},
	{"board", "#7fb3d5", "#7fb3d5"},
	{"board-line", "#1b4f72", "#93c4e4"},
	{"wool", "#fbf7d8", "#4b4724"},
	{"wool-line", "#9a9446", "#c4bd6a"},
	{"steel", "#b7c4d6", "#475569"},
	{"steel-line", "#1d3557", "#b7c9e6"},
	{"door", "#e9d8f4", "#4b3a5a"},
	{"door-line", "#5b2c6f", "#d3b3e6"},
	{"trim", "#f5cba7", "#6b4426"},
	{"trim-line", "#a04000", "#f0a878"},
	{"service", "#f9e79f", "#5f5212"},
	{"service-line", "#7d4f08", "#f2cf63"},
	{"seal-line", "#117864", "#6fd6bf"},
	{"other", "#eeeeee", "#3a3833"},
	{"other-line", "#333333", "#cfcabf"},
	{"mass", "#d9d9d9", "#3d3a35"},
	{"mass-line", "#707070", "#8f8a80"},
	{"mark", "#a93226", "#ff9a8a"},
	{"chosen", "#0b3d91", "#8ab4ff"},
	{"out", "#b45309", "#ffb454"},
	{"falls", "#a40034", "#ff7a9c"},
	{"put-back", "#00695c", "#63d6c4"},
	{"added", "#0b3d91", "#8ab4ff"},
	{"prop", "#6a1b9a", "#d9a4f5"},
}

// rule is one line of the stylesheet. In it $ink stands for a colour and $.5 for a length of half a code's height.
type rule struct{ selector, body string }

var rules = []rule{
	{"text", `font-family:"DejaVu Sans",Arial,sans-serif;fill:$ink;font-size:$1`},
	{".d-page", "fill:$paper"},
	{".d-heading", "font-size:$1.8;font-weight:bold"},
	{".d-note", "font-size:$1.05;fill:$quiet"},
	{".d-code", "text-anchor:middle"},
	{".d-label", "text-anchor:middle;font-weight:bold"},
	{".d-behind", "fill:$paper;fill-opacity:.85"},
	{".d-zone-name", "text-anchor:middle;font-style:italic;fill:$quiet"},
	{".d-dim", "font-size:$.9;text-anchor:middle"},
	{".d-middle", "text-anchor:middle"},
	{".d-quiet", "fill:$quiet"},
	{".d-grid", "stroke:$faint;stroke-width:$.04"},
	{".d-start", "font-size:$.9"},
	{".d-strong", "font-weight:bold"},
	{".d-word", "font-size:$.9"},
	{".d-figure", "font-size:$.9;text-anchor:end"},
	{".d-timber", "stroke:$timber-line;stroke-width:$.0625"},
	{".d-steel", "fill:$steel;stroke:$steel-line;stroke-width:$.125"},
	{".d-board", "fill:$board;fill-opacity:.16;stroke:$board-line;stroke-width:$.0625"},
	{".d-board-far", "fill:none;stroke:$board-line;stroke-width:$.0625;stroke-dasharray:$.5 $.3125"},
	{".d-wool", "fill-opacity:.7;stroke:$wool-line;stroke-width:$.0625"},
	{".d-door", "fill:$door;stroke:$door-line;stroke-width:$.125"},
	{".d-trim", "fill:$trim;fill-opacity:.5;stroke:$trim-line;stroke-width:$.0625"},
	{".d-service", "fill:$service;stroke:$service-line;stroke-width:$.125;stroke-dasharray:$.5 $.125"},
	{".d-seal", "fill:none;stroke:$seal-line;stroke-width:$.125;stroke-dasharray:$.3125 $.125"},
	{".d-other", "fill:$other;stroke:$other-line;stroke-width:$.0625"},
	{".d-overhead", "fill:none;stroke:$faint;stroke-width:$.0625;stroke-dasharray:$.5 $.3125"},
	{".d-hidden", "fill:none;stroke:$quiet;stroke-width:$.0625;stroke-dasharray:$.25 $.25"},
	{".d-host", "stroke:$other-line;stroke-width:$.125"},
	{".d-zone", "fill:none;stroke:$faint;stroke-width:$.0625;stroke-dasharray:$.3125 $.3125"},
	{".d-opening", "fill:none;stroke:$ink;stroke-width:$.0625;stroke-dasharray:$.5 $.3125"},
	{".d-fabric", "stroke:none"},
	{".d-face", "fill:none;stroke:$ink;stroke-width:$.1875"},
	{".d-scale", "fill:$ink"},
	{".d-scale-white", "fill:$paper;stroke:$ink;stroke-width:$.0625"},
	{".d-measure", "fill:none;stroke:$ink;stroke-width:$.0625"},
	{".d-mark", "fill:none;stroke:$mark;stroke-width:$.125"},
	{".d-mark-host", "fill:$mark;stroke:$mark;stroke-width:$.0625"},
	{".d-hole", "fill:$paper;stroke:$ink;stroke-width:$.125"},
	{".d-hole-before", "fill:none;stroke:$quiet;stroke-width:$.0625"},
	{".d-prop", "fill:none;stroke:$prop;stroke-width:$.25"},
	{".d-over-chosen", "stroke:$chosen;stroke-width:$.3"},
	{".d-over-out", "stroke:$out;stroke-width:$.25"},
	{".d-over-falls", "stroke:$falls;stroke-width:$.25;stroke-dasharray:$.6 $.2"},
	{".d-over-put-back", "stroke:$put-back;stroke-width:$.2;stroke-dasharray:$.2 $.2"},
	{".d-over-added", "fill:none;stroke:$added;stroke-width:$.2"},
	{".d-dimmed", "opacity:.3"},
	{".d-row", "fill:$other;fill-opacity:.5"},
	{".d-bar", "fill:$board;fill-opacity:.35;stroke:$board-line;stroke-width:$.0625"},
	{".d-bar-done", "stroke:$board-line;stroke-width:$.0625"},
	{".d-now", "stroke:$mark;stroke-width:$.2;stroke-dasharray:$.5 $.25"},
	{".d-tint-paper", "fill:$paper"},
	{".d-hatch-grain", "stroke:$grain;stroke-width:$.0625"},
	{".d-tint-timber", "fill:$timber"},
	{".d-hatch-wool", "fill:none;stroke:$wool-line;stroke-width:$.0625"},
	{".d-tint-wool", "fill:$wool"},
	{".d-hatch-mass", "stroke:$mass-line;stroke-width:$.0625"},
	{".d-tint-mass", "fill:$mass"},
	{".d-hatch-chosen", "stroke:$chosen;stroke-width:$.1"},
	{".d-hatch-out", "stroke:$out;stroke-width:$.12"},
	{".d-hatch-falls", "stroke:$falls;stroke-width:$.1"},
	{".d-hatch-put-back", "fill:$put-back"},
	{".d-hatch-done", "stroke:$board-line;stroke-width:$.1"},
}

var word = regexp.MustCompile(`\$([a-z][a-z-]*|[0-9]*\.?[0-9]+)`)

// Stylesheet is the style of every inlined drawing: classes over custom properties, light, dark where the system or
// data-theme="dark" on the page's root asks for it, light again on paper.
func Stylesheet() string {
	var out strings.Builder
	set := func(pick func(tone) string) string {
		var all strings.Builder
		for _, t := range append(append([]tone{}, palette...), shades()...) {
			fmt.Fprintf(&all, "--d-%s:%s;", t.name, pick(t))
		}
		return all.String()
	}
	light := set(func(t tone) string { return t.light })
	dark := set(func(t tone) string { return t.dark })
	fmt.Fprintf(&out, ":root{%s}\n", light)
	fmt.Fprintf(&out, "@media screen and (prefers-color-scheme:dark){:root:not([data-theme=light]){%s}}\n", dark)
	fmt.Fprintf(&out, "@media screen{:root[data-theme=dark]{%s}}\n", dark)
	out.WriteString(".drawing{display:block;max-width:100%;height:auto}\n")
	out.WriteString(".drawing a:hover,.drawing a:focus-visible{outline:none;filter:drop-shadow(0 0 2px var(--d-chosen))}\n")
	out.WriteString(".drawing a:focus-visible *{stroke:var(--d-chosen)}\n")
	for _, r := range append(append([]rule{}, rules...), isometricRules()...) {
		body := word.ReplaceAllStringFunc(r.body, func(w string) string {
			if isLength(w) {
				return w[1:] + "em"
			}
			return "var(--d-" + w[1:] + ")"
		})
		// A length in em counts from the element's own letters: words set their own size from the drawing's.
		fmt.Fprintf(&out, ".drawing %s{%s}\n", r.selector, body)
	}
	return out.String()
}

// standalone is the same style for a file of its own: light, with numbers that office programs understand.
func standalone(t float64) string {
	light := map[string]string{}
	for _, c := range append(append([]tone{}, palette...), shades()...) {
		light[c.name] = c.light
	}
	var out strings.Builder
	out.WriteString("<style>\n")
	for _, r := range append(append([]rule{}, rules...), isometricRules()...) {
		body := word.ReplaceAllStringFunc(r.body, func(w string) string {
			if isLength(w) {
				share, _ := strconv.ParseFloat(w[1:], 64) // the pattern lets nothing else through
				return strconv.FormatFloat(share*t, 'f', -1, 64)
			}
			return light[w[1:]]
		})
		if strings.Contains(body, "font-size") {
			body = sized.ReplaceAllString(body, "font-size:${1}px")
		}
		fmt.Fprintf(&out, "%s{%s}\n", r.selector, body)
	}
	out.WriteString("</style>\n")
	return out.String()
}

var sized = regexp.MustCompile(`font-size:([0-9.]+)`)

func isLength(w string) bool { return w[1] == '.' || w[1] >= '0' && w[1] <= '9' }
