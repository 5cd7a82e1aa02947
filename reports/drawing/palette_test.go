package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// channels are a colour's red, green and blue in linear light (IEC 61966-2-1, from memory).
func channels(tb testing.TB, colour string) [3]float64 {
	tb.Helper()
	var out [3]float64
	for i := range out {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			tb.Fatalf("colour %q: %v", colour, err)
		}
		v := float64(n) / 255
		if v <= .04045 {
			out[i] = v / 12.92
		} else {
			out[i] = math.Pow((v+.055)/1.055, 2.4)
		}
	}
	return out
}

// contrast is the ratio of WCAG 2.2, section 1.4.3 (from memory).
func contrast(tb testing.TB, a, b string) float64 {
	light := func(c string) float64 {
		l := channels(tb, c)
		return .2126*l[0] + .7152*l[1] + .0722*l[2]
	}
	hi, lo := light(a), light(b)
	if hi < lo {
		hi, lo = lo, hi
	}
	return (hi + .05) / (lo + .05)
}

// TestContrast: words stand out from the page by 4.5 to 1, lines that tell pieces apart and what stands out by 3 to 1
// (WCAG 2.2, 1.4.3 and 1.4.11), in the light and in the dark.
func TestContrast(t *testing.T) {
	t.Parallel()
	page := map[string]tone{}
	for _, c := range palette {
		page[c.name] = c
	}
	for name, least := range map[string]float64{
		"ink": 4.5, "quiet": 4.5, "timber-line": 3, "board-line": 3, "steel-line": 3, "door-line": 3, "trim-line": 3, "service-line": 3,
		"seal-line": 3, "other-line": 3, "mark": 3, "chosen": 3, "out": 3, "falls": 3, "put-back": 3, "added": 3, "prop": 3, "faint": 3,
	} {
		if got := contrast(t, page[name].light, page["paper"].light); got < least {
			t.Errorf("%s on paper: %.2f, want %.1f", name, got, least)
		}
		if got := contrast(t, page[name].dark, page["paper"].dark); got < least {
			t.Errorf("%s in the dark: %.2f, want %.1f", name, got, least)
		}
	}
}

// TestTonesPart: on a black-and-white print the sorts of piece in the isometric view differ in lightness, each from the
// next by 5 of L* (CIE 1976, from memory: 116 times the cube root of the luminance, less 16).
func TestTonesPart(t *testing.T) {
	t.Parallel()
	var all []float64
	for _, k := range isometricKinds {
		c := channels(t, k.light)
		all = append(all, 116*math.Cbrt(.2126*c[0]+.7152*c[1]+.0722*c[2])-16)
	}
	slices.Sort(all)
	for i := 1; i < len(all); i++ {
		if all[i]-all[i-1] < 5 {
			t.Errorf("two tones are %.1f apart in lightness: %.1f and %.1f", all[i]-all[i-1], all[i-1], all[i])
		}
	}
}

// TestStandsOutWithoutColour: no two ways to stand out share both hatch and line, so that they part in black and white.
func TestStandsOutWithoutColour(t *testing.T) {
	t.Parallel()
	lines := map[string]string{}
	for _, r := range rules {
		lines[r.selector] = word.ReplaceAllStringFunc(r.body, func(w string) string {
			if isLength(w) {
				return w
			}
			return ""
		})
	}
	seen := map[string]Emphasis{}
	for how := range emphasisWords {
		look := lines[".d-over-"+string(how)] + hatches[string(how)].body
		if strings.TrimSpace(look) == "" {
			t.Errorf("%s looks like nothing", how)
		}
		if other, twice := seen[look]; twice {
			t.Errorf("%s and %s look alike without colour", how, other)
		}
		seen[look] = how
	}
}

// TestStylesheet: every colour that a rule names is set in the light and in the dark, and no mark of the template is
// left in either form.
func TestStylesheet(t *testing.T) {
	t.Parallel()
	css := Stylesheet()
	for _, part := range strings.Split(css, "var(--d-")[1:] {
		name, _, _ := strings.Cut(part, ")")
		if got := strings.Count(css, "--d-"+name+":"); got != 3 { // light, dark by the system, dark by choice
			t.Errorf("--d-%s is set %d times, want 3", name, got)
		}
	}
	if plain := standalone(45); strings.Contains(css, "$") || strings.ContainsAny(plain, "$") || strings.Contains(plain, "fill:;") || strings.Contains(plain, "stroke:;") {
		t.Error("a rule names a colour that is not there")
	}
}
