package pages

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
)

// TestFaultsInWords: a fault names a field by the label that stands on the page, never as a file does; what somebody typed stays.
func TestFaultsInWords(t *testing.T) {
	t.Parallel()
	f := form{Groups: []group{{Fields: []field{
		mm("/u_mm", "How long", ""), mm("/params/openings/0/at_mm", "From the start of the wall", ""), mm("/params/openings/1/at_mm", "From its end", ""),
		mm("/params/length_mm", "Length", ""), yes("/place/share_cut", "Share a narrow cut", ""),
	}}}}
	for _, tt := range []struct{ text, place, want string }{
		{`host surface "H1" has u_mm 0: give 1 to 1000000`, "/u_mm", `host surface "H1" has “How long” 0: give 1 to 1000000`},
		{"at_mm lies past length_mm", "/params/openings/1/at_mm", "“From its end” lies past “Length”"},
		{"share the cut (share_cut), or mend at_mm", "/params/face_a", "share the cut (“Share a narrow cut”), or mend at"},
		{`there is no "my_own_code_mm" here: mend sheet_length_mm`, "", `there is no "my_own_code_mm" here: mend sheet length`},
	} {
		if got := f.inWords(tt.text, tt.place); got != tt.want {
			t.Errorf("inWords(%q, %q) = %q, want %q", tt.text, tt.place, got, tt.want)
		}
	}
	f.blame(domain.FieldErrorf(domain.Invalid, "/hosts/0/u_mm", "has u_mm 0: give 1 to 9"), "/hosts/0")
	if got := f.nearest("/u_mm").Faults; !slices.Equal(got, []string{"has “How long” 0: give 1 to 9"}) {
		t.Errorf("beside the field stands %q", got)
	}
}

func TestFirstFaults(t *testing.T) {
	t.Parallel()
	var all []string
	for i := range 43 {
		all = append(all, fmt.Sprint(i))
	}
	if got := firstFaults(all); len(got) != 21 || got[19] != "19" || got[20] != "... and 23 more" {
		t.Errorf("of 43 faults: %q", got)
	}
	if got := firstFaults(all[:20]); len(got) != 20 || len(all) != 43 || all[20] != "20" {
		t.Errorf("of 20 faults: %q, and the list itself %q", got, all[20])
	}
}

// TestSpell: a code is found in another case where just one has it; a choice between two stays with who types.
func TestSpell(t *testing.T) {
	t.Parallel()
	r := &domain.Register{Assemblies: []domain.Assembly{{Code: "W5"}, {Code: "Store"}}, Elements: []domain.Element{{Code: "p1"}, {Code: "P1"}, {Code: "A2"}, {Code: "a2b"}, {Code: "A2B"}}}
	f := form{Groups: []group{{Fields: []field{
		said("/start/code", "Code of that", "").coded().as("w5"),
		{Name: "/pieces", Kind: many, Codes: true, Value: "a2, STORE,p1, P1, A2b, nobody"},
		said("/name", "Name", "").as("w5"),
	}}}}
	f.spell(r)
	var got []string
	for _, field := range f.Groups[0].Fields {
		got = append(got, field.Value)
	}
	if want := "W5|A2, Store,p1, P1, A2b, nobody|w5"; strings.Join(got, "|") != want {
		t.Errorf("spelt %q, want %q", strings.Join(got, "|"), want)
	}
}
