package catalogue

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Decision 2000/532/EC: six digits in pairs, an asterisk on what is hazardous.
func TestWasteCodes(t *testing.T) {
	t.Parallel()
	form := regexp.MustCompile(`^(0[1-9]|1[0-9]|20) [0-9]{2} [0-9]{2}\*?$`)
	for code, w := range Default().WasteCodes {
		if !form.MatchString(code) {
			t.Errorf("%q is not a code of the list", code)
		}
		starred := strings.HasSuffix(code, "*")
		if hazardous := strings.HasSuffix(w.Entry, "-hazardous"); hazardous != starred {
			t.Errorf("%s is %s: the asterisk and the entry disagree", code, w.Entry)
		}
		if (w.Hazardous == "is hazardous") != starred {
			t.Errorf("%s: hazardous %q and the asterisk disagree", code, w.Hazardous)
		}
		if strings.HasPrefix(w.Entry, "absolute") && w.MirrorOf != "" {
			t.Errorf("%s is absolute, yet mirrors %s", code, w.MirrorOf)
		}
		// 17 06 05* has no entry of its own on the other side: what holds no asbestos goes by what it is made of.
		if strings.HasPrefix(w.Entry, "mirror") && w.MirrorOf == "" && code != "17 06 05*" {
			t.Errorf("%s is a mirror entry of nothing", code)
		}
		for _, other := range Mirrors(w) {
			back := Mirrors(Default().WasteCodes[other])
			if !slices.Contains(back, code) || strings.HasSuffix(other, "*") == starred {
				t.Errorf("%s mirrors %s, which mirrors %q", code, other, back)
			}
		}
	}
}

// Codes and what they are for, from the list.
func TestWasteOfMaterials(t *testing.T) {
	t.Parallel()
	for material, want := range map[string]string{
		"c16-cls-38x89": "17 02 01", "osb3-18-metric": "17 02 01", "pb-a-12": "17 08 02", "rw-45-50": "17 06 04", "stud-70-05": "17 04 05",
		"glass-10": "17 02 02", "cable-twin-2-5": "17 04 11", "pipe-copper-22": "17 04 01", "conduit-pvc-20": "17 02 03",
		"sealant-acrylic-310": "08 04 10", "trim-alu-angle-25": "17 04 02",
	} {
		if got := Default().Materials[material].WasteCode; got != want {
			t.Errorf("%s: waste code %s, want %s", material, got, want)
		}
	}
	// Treated or old timber must be asked about before 17 02 01 is printed.
	if got := Mirrors(Default().WasteCodes["17 02 01"]); !slices.Equal(got, []string{"17 02 04*"}) {
		t.Errorf("wood mirrors %q, want 17 02 04*", got)
	}
}
