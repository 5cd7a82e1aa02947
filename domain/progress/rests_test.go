package progress_test

import (
	"strings"
	"testing"

	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestRestsOnSupport: the signature that a support is in carries the work that was not to be done before it: joists that tie a
// beam on posts, a cap over studs, and for a beam that hung on one end all of its floor. Other work does not rest on it, nor
// what another signature of the same support carries.
func TestRestsOnSupport(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name    string
		before  []string // out of turn, before it is signed
		propped string
		later   []string // each a tick-off of its own
		want    string   // of these, which rest on it, the newest first
		tied    string
	}{
		{"joists that tie a beam", nil, "M1-BM1", []string{"M1-J11", "T1-TR1", "M1-J12"}, "M1-J12 M1-J11", "M1-J12 was not to go before M1-BM1 was propped"},
		{"the cap over studs", nil, "W4-S4", []string{"T1-TR1", "W4-CP1"}, "W4-CP1", "W4-CP1 was not to go before W4-S4 was propped"},
		{"a floor on a beam that hung on one end", []string{"M1-P1"}, "M1-BM1", []string{"M1-DK1", "W2-B1a", "M1-BM1"}, "M1-BM1 M1-DK1", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := demo(t)
			if len(tt.before) > 0 {
				r = out(t, r, tt.before)
			}
			sign := func() {
				c, err := progress.Sign(r, progress.Met{Hold: strip.Hold{Kind: "temporary-support", Text: "in", Who: "competent person"}, About: []string{tt.propped}, By: "A. Engineer", Role: "competent person", On: "2029-01-08", Note: "TW-1"})
				if err != nil {
					t.Fatal(err)
				}
				r = applied(r, c)
			}
			sign()
			first := r.SignOffs[len(r.SignOffs)-1]
			tickedOff := map[string]string{}
			for _, code := range tt.later {
				r = out(t, r, []string{code})
				tickedOff[r.SignOffs[len(r.SignOffs)-1].Code] = code
			}
			said := func() (codes []string, text string) {
				for _, rest := range progress.RestOnHold(r, first) {
					codes, text = append(codes, tickedOff[rest.SignOff]), text+rest.Text+"\n"
				}
				return codes, text
			}
			codes, text := said()
			if strings.Join(codes, " ") != tt.want || !strings.Contains(text, tt.tied) {
				t.Errorf("%s rest on it, want %s\n%s", codes, tt.want, text)
			}
			sign()
			r = out(t, r, []string{"T2-TR1"})
			if again, _ := said(); strings.Join(again, " ") != tt.want {
				t.Errorf("signed again afterwards, and %s rest on the first, want %s as before", again, tt.want)
			}
		})
	}
}
