package progress_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestStopsUntilPropped: posts go out of turn. Until somebody signs that what they held is propped, nobody goes on it or
// under it; the next step is to prop it. Withdrawn, the signature counts for nothing.
func TestStopsUntilPropped(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	whole := made(t, b.r)
	if stops := progress.Stops(b.r, &whole.Sequence); len(stops) > 0 {
		t.Fatalf("before anything is out: %v", stops)
	}
	b.tick(t, "M1-P1", "M1-P2", "M1-P3")
	left := func() (*plan.Plan, []domain.Advice, []progress.StepState) {
		p, err := plan.MakeWith(b.r, plan.Options{Earlier: whole.Sequence.Order()})
		if err != nil {
			t.Fatal(err)
		}
		return p, progress.Stops(b.r, &p.Sequence), progress.States(b.r, p)
	}
	_, stops, states := left()
	if len(stops) != 1 || stops[0].Severity != domain.Stop || stops[0].Text != "Do not go on or under M1: nothing holds M1-BM1, M1-BM2; have it propped by a competent person first" {
		t.Fatalf("stops: %v", stops)
	}
	at := slices.IndexFunc(states, func(s progress.StepState) bool { return s.Step.Kind != strip.MakeDead && !s.Done })
	s := states[at]
	if s.Step.Kind != strip.Prop || !slices.Contains(s.Step.Elements, "M1-BM1") || s.Unsigned == 0 {
		t.Fatalf("next is step %d, %s, with %d to sign: want it propped first", s.Step.Number, s.Step.Title, s.Unsigned)
	}
	hold := s.Holds[slices.IndexFunc(s.Holds, func(h progress.HoldState) bool { return h.Kind == "temporary-support" })].Hold
	c, err := progress.Sign(b.r, progress.Met{Hold: hold, About: s.Step.Elements, By: "A. Engineer", Role: hold.Who, On: "2029-01-09", Note: "TW-1"})
	if err != nil {
		t.Fatal(err)
	}
	b.r = applied(b.r, c)
	p, stops, states := left()
	if len(stops) > 0 {
		t.Errorf("propped, and still: %v", stops)
	}
	if !slices.ContainsFunc(states, func(x progress.StepState) bool {
		return x.Step.Kind == strip.Prop && slices.Equal(x.Step.Elements, s.Step.Elements) && x.Done
	}) {
		t.Error("the step that props is not done")
	}
	if !slices.ContainsFunc(p.Warnings, func(a domain.Advice) bool {
		return slices.Contains(a.Codes, "M1-BM1") && strings.Contains(a.Text, "what held M1-BM1 is out")
	}) {
		t.Error("the plan does not say that M1-BM1 has lost what held it")
	}
	if c, err = progress.Withdraw(b.r, progress.Withdrawal{Code: c.Add.SignOffs[0].Code, By: "A. Engineer", Why: "one prop was taken away", On: "2029-01-10"}); err != nil {
		t.Fatal(err)
	}
	b.r = applied(b.r, c)
	if _, stops, _ = left(); len(stops) != 1 {
		t.Errorf("the signature is withdrawn, and the stops are %v", stops)
	}
}

// TestOneEndStopsTheCrew: the post at one end of a beam goes out of turn. The beam and its other ply are to be propped before
// anybody goes on; signed for one ply alone, the other still stops the crew.
func TestOneEndStopsTheCrew(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	whole := made(t, b.r)
	b.tick(t, "M1-P1")
	left := func() (progress.StepState, []domain.Advice) {
		p := keeping(t, b.r, whole.Sequence.Order())
		states := progress.States(b.r, p)
		at := slices.IndexFunc(states, func(s progress.StepState) bool { return s.Step.Kind == strip.Prop && s.Step.Elements[0] == "M1-BM1" })
		if at < 0 {
			t.Fatal("no step props M1-BM1")
		}
		return states[at], progress.Stops(b.r, &p.Sequence)
	}
	s, stops := left()
	if len(stops) != 1 || stops[0].Text != "Do not go on or under M1: beams M1-BM1, M1-BM2 hang on one end, without M1-P1; have it propped by a competent person first" {
		t.Fatalf("stops: %v", stops)
	}
	sign := func(about ...string) {
		t.Helper()
		hold := s.Holds[slices.IndexFunc(s.Holds, func(h progress.HoldState) bool { return h.Kind == "temporary-support" })].Hold
		c, err := progress.Sign(b.r, progress.Met{Hold: hold, About: about, By: "A. Engineer", Role: hold.Who, On: "2029-01-09", Note: "TW-1"})
		if err != nil {
			t.Fatal(err)
		}
		b.r = applied(b.r, c)
	}
	sign("M1-BM1")
	if _, stops = left(); len(stops) != 1 || strings.Contains(stops[0].Text, "M1-BM1") || !strings.Contains(stops[0].Text, "beam M1-BM2 hangs on one end") {
		t.Fatalf("one ply is propped, and the stops are %v", stops)
	}
	sign("M1-BM2")
	if s, stops = left(); len(stops) > 0 || !s.Done {
		t.Errorf("both are propped; done is %v, and the stops are %v", s.Done, stops)
	}
}

// TestLightPiecesComeDownInTheHand: what one person takes down stops nobody, and is not propped: architraves whose door set
// is out. A guard does: people lean on it.
func TestLightPiecesComeDownInTheHand(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		out          []string
		loose, stops string
	}{
		{[]string{"D1-D1", "D1-DL1", "D1-DL2", "D1-DL3", "D1-DS1", "D1-DS2", "D1-DS3"}, "D1-AR1", ""},
		{[]string{"M1-J5"}, "M1-PK1 M1-PK2 M1-PK3", "M1-GP1"}, // the packers behind the guard posts
	} {
		b := &dayBook{demo(t), map[string]domain.Change{}}
		whole := made(t, b.r)
		b.tick(t, tt.out...)
		p := keeping(t, b.r, whole.Sequence.Order())
		loose := strings.Join(p.Sequence.Loose, " ")
		if !strings.Contains(loose, tt.loose) || (tt.loose == "") != (loose == "") {
			t.Errorf("without %v: in the hand %q, want %q", tt.out, loose, tt.loose)
		}
		words := ""
		for _, a := range progress.Stops(b.r, &p.Sequence) {
			if (a.Severity == domain.Stop) != strings.HasPrefix(a.Text, "Do not go on or under") {
				t.Errorf("%s: %q", a.Severity, a.Text)
			}
			if a.Severity == domain.Stop {
				words += a.Text
			}
		}
		if !strings.Contains(words, tt.stops) || (tt.stops == "") != (words == "") {
			t.Errorf("without %v: the stops are %q, want %q", tt.out, words, tt.stops)
		}
		if slices.ContainsFunc(p.Sequence.Steps, func(s strip.Step) bool {
			return s.Kind == strip.Prop && slices.ContainsFunc(s.Elements, func(code string) bool { return slices.Contains(p.Sequence.Loose, code) })
		}) {
			t.Errorf("without %v: what comes down in the hand is propped", tt.out)
		}
	}
}
