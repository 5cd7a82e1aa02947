package plan

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/strip"
)

// TestWhatLostItsHoldIsProppedFirst: posts, or one joist, were taken out of turn. What nothing holds then is propped before
// anything else of its assembly, and before all that hangs on it.
func TestWhatLostItsHoldIsProppedFirst(t *testing.T) {
	t.Parallel()
	r, whole := demo(t, nil)
	for _, tt := range []struct {
		name   string
		out    []string
		unheld []string
		hangs  []string
	}{
		{"the posts", []string{"M1-P1", "M1-P2", "M1-P3"}, []string{"M1-BM1", "M1-BM2"}, []string{"M1-BM1", "M1-BM2", "M1-J3", "M1-DK1", "HC1-C1"}},
		{"the post at one end", []string{"M1-P1"}, []string{"M1-BM1", "M1-BM2"}, []string{"M1-BM1", "M1-BM2", "M1-J3", "M1-DK1", "HC1-C1"}},
		{"the wall plate", []string{"M1-WP1"}, []string{"M1-J1", "M1-J6"}, []string{"M1-J1", "M1-DK1"}},
		{"one joist", []string{"M1-J5"}, []string{"M1-GP1"}, []string{"M1-GP1", "M1-GR1"}},
	} {
		for name, earlier := range map[string]strip.Order{"planned anew": nil, "the order kept": whole.Sequence.Order()} {
			t.Run(tt.name+", "+name, func(t *testing.T) {
				t.Parallel()
				p, err := MakeWith(without(r, tt.out), Options{Earlier: earlier})
				if err != nil {
					t.Fatal(err)
				}
				if len(p.Sequence.Unheld) != 1 || p.Sequence.Unheld[0].Assembly != "M1" {
					t.Fatalf("unheld: %v, want M1 alone", p.Sequence.Unheld)
				}
				u := p.Sequence.Unheld[0]
				for _, code := range tt.unheld {
					if !slices.Contains(u.All(), code) {
						t.Errorf("%q have lost their hold, want %s among them", u.All(), code)
					}
				}
				at := slices.IndexFunc(p.Sequence.Steps, func(s strip.Step) bool {
					return s.Kind == strip.Prop && !slices.ContainsFunc(u.All(), func(code string) bool { return !slices.Contains(s.Elements, code) })
				})
				if at < 0 {
					t.Fatal("no step props it")
				}
				s := &p.Sequence.Steps[at]
				if len(s.Holds) == 0 || !slices.ContainsFunc(s.Holds, func(h strip.Hold) bool { return h.Kind == "temporary-support" && h.Who == "competent person" }) {
					t.Errorf("holds of the step: %v", s.Holds)
				}
				for _, code := range tt.hangs {
					if !slices.Contains(s.Before, code) {
						t.Errorf("%s hangs on it, and does not wait: %q", code, s.Before)
					}
				}
				for i := range p.Sequence.Steps[:at] {
					if early := &p.Sequence.Steps[i]; early.Kind != strip.MakeDead {
						t.Errorf("step %d, %s, comes before the props", early.Number, early.Title)
					}
				}
				for i := range r.Elements {
					if e := &r.Elements[i]; e.Assembly == "M1" && !slices.Contains(tt.out, e.Code) && !slices.Contains(s.Before, e.Code) {
						t.Errorf("%s is of M1, and does not wait", e.Code)
					}
				}
				if !slices.ContainsFunc(p.Sequence.Steps, func(x strip.Step) bool { return x.Kind == strip.StrikeProp && slices.Contains(x.Elements, u.All()[0]) }) {
					t.Error("the props are never struck")
				}
			})
		}
	}
}

// TestWhatNeverWasHeldIsAWarning: a piece logged without anything that holds it has lost nothing.
func TestWhatNeverWasHeldIsAWarning(t *testing.T) {
	t.Parallel()
	_, p := demo(t, func(r *domain.Register) {
		r.Elements = append(r.Elements, domain.Element{Code: "X1", Kind: domain.OtherPiece, Name: "shelf", Material: "ply-struct-18", LengthMm: 600, WidthMm: 200, ThicknessMm: 18, Zone: "Z-PRESS",
			Placement: domain.Placement{Origin: domain.Point{X: 30000, Y: 30000, Z: 1500}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}})
	})
	if len(p.Sequence.Unheld) > 0 {
		t.Errorf("unheld: %v", p.Sequence.Unheld)
	}
	if !slices.ContainsFunc(p.Warnings, func(a domain.Advice) bool {
		return a.Kind == advice.NotHeld && slices.Contains(a.Codes, "X1") && strings.Contains(a.Mend, "log what holds it")
	}) {
		t.Errorf("nothing is said of it: %v", p.Warnings)
	}
}
