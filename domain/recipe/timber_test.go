package recipe

import (
	"testing"

	"unpick/domain"
)

// A full-height wall under the landlord's joists: its screws go six diameters into them where nobody gives their length
// (EN 1995-1-1, 8.7.2(3), from memory), and as deep as they reach where somebody does.
func TestHeadIntoTimber(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, fixing string
		lengthMm     int
		want         int
		field        string
	}{
		{"the usual screw, 6 mm", "", 0, 36, ""},
		{"a coach screw, 10 mm", "coach-screw-10", 0, 60, ""},
		{"90 long through a plate of 38", "", 90, 52, ""},
		{"too short to come out of the plate", "", 38, 0, "/params/head/fixing_length_mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := premises()
			for i := range r.Hosts {
				if r.Hosts[i].Code == "SOFFIT" {
					r.Hosts[i].Kind = "timber-member"
				}
			}
			p := worked()
			p.Head.Fixing, p.Head.FixingLengthMm = tt.fixing, tt.lengthMm
			made, err := Expand(r, assemble(t, "W1", "stud-wall", p))
			if tt.field != "" {
				if faults, _ := err.(domain.Errors); len(faults) == 0 || faults[0].Field != tt.field {
					t.Fatalf("Expand: %v, want a fault at %s", err, tt.field)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for _, h := range made.Holes {
				if h.Host == "SOFFIT" {
					n += h.Count
					if h.DepthMm != tt.want {
						t.Errorf("hole %s is %d deep, want %d", h.Code, h.DepthMm, tt.want)
					}
				}
			}
			if n == 0 {
				t.Error("no hole in the joists")
			}
			whole := r.With(domain.Records{Assemblies: []domain.Assembly{assemble(t, "W1", "stud-wall", p)}}).With(made)
			if faults := domain.Check(whole).Beyond(domain.Check(r)); len(faults) > 0 {
				t.Errorf("the register does not take it: %v", faults)
			}
		})
	}
}
