package plan

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/strip"
)

// TestStepsAForemanWouldFollow reads every step of the demo as a foreman does: who does it, with how many, from where,
// and who must not be below. HSE L23 and INDG455, figures from memory: 25 kg for one man at the waist, 10 kg off steps.
func TestStepsAForemanWouldFollow(t *testing.T) {
	t.Parallel()
	r, p := demo(t, func(*domain.Register) {})
	pieces := map[string]*domain.Element{}
	for i := range r.Elements {
		pieces[r.Elements[i].Code] = &r.Elements[i]
	}
	cables, stairs := 0, 0
	for i := range p.Sequence.Steps {
		s := &p.Sequence.Steps[i]
		cautions := strings.Join(s.Cautions, "\n")
		if s.Kind == strip.Remove && s.HeaviestKg <= 12 && s.People > 2 {
			t.Errorf("step %d, %s: %d people for %.1f kg", s.Number, s.Title, s.People, s.HeaviestKg)
		}
		if s.Access != strip.FromFloor && !strings.Contains(cautions, "nobody below") {
			t.Errorf("step %d, %s, %s: nothing says nobody below", s.Number, s.Title, s.Stand)
		}
		for _, out := range s.Pieces {
			e := pieces[out.Code]
			lo, hi := e.Box().Bounds()
			if s.Access == strip.FromSteps && out.MassKg > 10 && lo.Z > 1000 {
				t.Errorf("step %d: %s, %.1f kg, handed down off steps", s.Number, out.Code, out.MassKg)
			}
			limp := e.Kind == domain.Seal || e.Kind == domain.Insulation || e.Kind == domain.Cable
			if hi.Z > 2000 && (!limp || s.Access != strip.FromFloor) && !strings.Contains(cautions, "nobody below") {
				t.Errorf("step %d: %s is up to %.0f mm high, and nothing says nobody below", s.Number, out.Code, hi.Z)
			}
			if e.Kind == domain.Cable {
				cables++
				if s.Who != "licensed electrician" || !slices.ContainsFunc(s.Holds, func(h strip.Hold) bool { return h.Kind == "services-dead" && h.Who == s.Who }) {
					t.Errorf("step %d takes cable out: who %q, holds %+v; want a licensed electrician, who signs", s.Number, s.Who, s.Holds)
				}
			}
			if e.Kind == domain.StairString {
				stairs++
				if !strings.Contains(cautions, "chain hoist") || !s.Lift {
					t.Errorf("step %d, %s of %.1f kg: no lifter is named: %q", s.Number, s.Title, s.MassKg, s.Cautions)
				}
			}
		}
	}
	if cables == 0 || stairs == 0 {
		t.Fatalf("the demo has %d cables and %d stair strings: nothing was checked", cables, stairs)
	}
}
