package progress_test

import (
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestSupports: props that are signed as in stand, whatever the plan made anew says, until what they hold is out and somebody
// signs that they are out too; before that the signature is refused.
func TestSupports(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	sign := func(hold string) error {
		c, err := progress.Sign(b.r, progress.Met{Hold: strip.Hold{Kind: hold, Text: "props"}, About: []string{"T1-TR1"}, By: "J", Role: "competent person", On: "2029-01-09"})
		if err == nil {
			b.r = applied(b.r, c)
		}
		return err
	}
	if err := sign("temporary-support"); err != nil {
		t.Fatal(err)
	}
	if s := progress.Supports(b.r); len(s) != 1 || !slices.Equal(s[0].Still, []string{"T1-TR1"}) {
		t.Errorf("support that was signed: %+v, want it under T1-TR1", s)
	}
	if err := sign(progress.PropsStruck); domain.CodeOf(err) != domain.Refused {
		t.Errorf("struck under a piece in place: %v, want it refused", err)
	}
	b.tick(t, "T1-TR1")
	if s := progress.Supports(b.r); len(s) != 1 || len(s[0].Still) != 0 {
		t.Errorf("support of a piece that is out: %+v, want it standing, and under nothing", s)
	}
	if err := sign(progress.PropsStruck); err != nil {
		t.Fatal(err)
	}
	if s := progress.Supports(b.r); len(s) != 0 {
		t.Errorf("support that is struck: %+v, want none", s)
	}
	if err := sign("temporary-support"); err != nil {
		t.Fatal(err)
	}
	if s := progress.Supports(b.r); len(s) != 1 {
		t.Errorf("support set again: %+v, want it standing again", s)
	}
}

// TestLayoutIsNotStripped: nothing of a layout is built, so nobody signs for it and nothing comes out of it.
func TestLayoutIsNotStripped(t *testing.T) {
	t.Parallel()
	r := demo(t)
	r.FitOut.NotBuilt = true
	if _, err := progress.Sign(r, progress.Met{Hold: strip.Hold{Kind: "written-plan", Text: "plan"}, By: "J", On: "2029-01-09"}); domain.CodeOf(err) != domain.Refused {
		t.Errorf("signed for a layout: %v", err)
	}
	if _, err := progress.Tick(r, progress.Done{What: "out", Elements: []string{"T1-TR1"}, Minutes: 5, By: "J", On: "2029-01-08"}); domain.CodeOf(err) != domain.Refused {
		t.Errorf("ticked off in a layout: %v", err)
	}
}

// TestSupportAlreadyIn: a step of support that has more to hold than was signed before says what is in already.
func TestSupportAlreadyIn(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := keeping(t, r, nil)
	s, _ := stateOf(t, r, p, strip.Prop, "M1-P1")
	if len(s.Step.Elements) < 2 || len(s.Standing) != 0 {
		t.Fatalf("the step props %v, of which stand %v: want several posts, and none", s.Step.Elements, s.Standing)
	}
	one := s.Step
	one.Elements = one.Elements[:1]
	s.Step = one
	r = signAll(t, r, s)
	s, _ = stateOf(t, r, p, strip.Prop, "M1-P1")
	if s.Done || !slices.Equal(s.Standing, one.Elements) {
		t.Errorf("done %v, standing %v, want %v", s.Done, s.Standing, one.Elements)
	}
	r = signAll(t, r, s)
	if s, _ = stateOf(t, r, p, strip.Prop, "M1-P1"); !s.Done || len(s.Standing) != 0 {
		t.Errorf("all is signed: done %v, standing %v", s.Done, s.Standing)
	}
}
