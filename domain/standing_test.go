package domain_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// A partition is screwed to a wall. It may stay with the wall, and not without it; the wall may stay alone. Consent for the
// wall is not taken back while the partition stays. What leans already, out of a file, is mended one by one.
func TestConsentThatCannotStand(t *testing.T) {
	t.Parallel()
	with := func(consents ...string) *domain.Register {
		r := &domain.Register{Assemblies: []domain.Assembly{{Code: "WALL"}, {Code: "PART"}, {Code: "TOP"}},
			Elements:  []domain.Element{{Code: "W", Assembly: "WALL"}, {Code: "P", Assembly: "PART"}, {Code: "T", Assembly: "TOP"}},
			Fixings:   []domain.Fixing{{Code: "F1", Holds: "P", IntoElement: "W"}},
			Relations: []domain.Relation{{Code: "R1", Kind: domain.BearsOn, From: "T", To: "P"}}}
		why := map[string]string{}
		for _, code := range consents {
			why[code] = "letter"
		}
		return r.Agreeing(why)
	}
	mend := ". Let that stay first, or both at once with the register's workbook; or take both out"
	for _, tt := range []struct {
		name          string
		before, after *domain.Register
		want          []string
	}{
		{"the partition alone", with(), with("PART"), []string{"/assemblies/1/left_by_consent: PART cannot stay while WALL comes out: it is held there by F1" + mend}},
		{"the wall alone", with(), with("WALL"), nil},
		{"both at once", with(), with("WALL", "PART"), nil},
		{"the partition after the wall", with("WALL"), with("WALL", "PART"), nil},
		{"taken back from the wall", with("WALL", "PART"), with("PART"), []string{"/assemblies/0/left_by_consent: PART cannot stay while WALL comes out: it is held there by F1" + mend}},
		{"nothing of consent is changed", with("PART"), with("PART"), nil},
		{"one of two is mended", with("PART", "TOP"), with("PART"), nil},
		{"what bears on it", with(), with("TOP"), []string{"/assemblies/2/left_by_consent: TOP cannot stay while PART comes out: it is held there by R1" + mend}},
	} {
		var got []string
		for _, f := range domain.CheckConsents(tt.before, tt.after) {
			if f.Code != domain.Refused {
				t.Errorf("%s: code %s, want %s", tt.name, f.Code, domain.Refused)
			}
			got = append(got, f.Field+": "+f.Text)
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}
