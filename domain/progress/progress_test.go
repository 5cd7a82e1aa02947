package progress_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

func made(tb testing.TB, r *domain.Register) *plan.Plan {
	tb.Helper()
	p, err := plan.Make(r)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// TestTick: the pieces are down, what joined them to what stays is undone, its holes are empty, and the day book knows.
func TestTick(t *testing.T) {
	t.Parallel()
	r := demo(t)
	done := progress.Done{What: "Skirting", Elements: []string{"T1-K1"}, Minutes: 12, PlannedMinutes: 10, People: 1, By: "J. Carter", On: "2029-01-08", Found: "one screw stripped"}
	for i := range r.Elements {
		if r.Elements[i].Assembly == "T1" && r.Elements[i].ComesOut() {
			done.Elements[0] = r.Elements[i].Code
			break
		}
	}
	c, err := progress.Tick(r, done)
	if err != nil {
		t.Fatal(err)
	}
	after := applied(r, c)
	for i := range after.Fixings {
		f := &after.Fixings[i]
		if f.Holds == done.Elements[0] && f.State != domain.FixingUndone {
			t.Errorf("fixing %s still holds %s", f.Code, f.Holds)
		}
	}
	want := []domain.SignOff{{Code: "S-1", Kind: domain.WorkDone, What: "Skirting", About: done.Elements, By: "J. Carter", On: "2029-01-08", Minutes: 12, People: 1, PlannedMinutes: 10, Note: "one screw stripped"}}
	if diff := cmp.Diff(want, after.SignOffs); diff != "" {
		t.Errorf("the day book (-want +got):\n%s", diff)
	}
	if _, err := progress.Tick(after, done); domain.CodeOf(err) != domain.Refused {
		t.Errorf("ticking off the same piece again: %v, want it refused", err)
	}
}

// TestTickRefuses: what is not there, the landlord's, and nothing at all.
func TestTickRefuses(t *testing.T) {
	t.Parallel()
	r := demo(t)
	for _, tt := range []struct {
		name     string
		elements []string
		says     string
	}{
		{"nobody", []string{"NOBODY"}, "no piece NOBODY"},
		{"the landlord's", []string{"SPR1"}, "not a piece of the tenant's"},
		{"nothing", nil, "nothing is ticked"},
	} {
		_, err := progress.Tick(r, progress.Done{What: "x", Elements: tt.elements, By: "J. Carter", On: "2029-01-08"})
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want it to say %q", tt.name, err, tt.says)
		}
	}
}

// TestEarly: a stud of a lined wall may not leave yet, and what the plan takes first may once services are signed dead.
func TestEarly(t *testing.T) {
	t.Parallel()
	r := demo(t)
	if early := progress.Early(r, []string{"W1-S4"}, nil); len(early) == 0 {
		t.Error("a stud behind its boards leaves and nobody says a word")
	}
	p := made(t, r)
	for _, s := range p.Sequence.Steps {
		if s.Kind == strip.MakeDead {
			c, err := progress.Sign(r, progress.Met{Hold: s.Holds[len(s.Holds)-1], About: s.Elements, By: "M. Volt", Role: s.Holds[len(s.Holds)-1].Who, Note: "certificate 12", On: "2029-01-08"})
			if err != nil {
				t.Fatal(err)
			}
			r = applied(r, c)
			continue
		}
		if s.Kind == strip.Remove {
			if early := progress.Early(r, s.Elements, nil); len(early) > 0 {
				t.Errorf("step %d, first of the plan, is early: %v", s.Number, early[0])
			}
			break
		}
	}
}

// TestHolds: a step waits for its holds; signed, it is ready; withdrawn, it waits again.
func TestHolds(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := made(t, r)
	first := progress.States(r, p)[0]
	if first.Unsigned == 0 || first.Ready() {
		t.Fatalf("the first step has %d unsigned holds and ready is %t", first.Unsigned, first.Ready())
	}
	if later := progress.States(r, p)[5]; len(later.First) == 0 || later.Ready() {
		t.Error("step 6 is free to go, and nobody has signed that an asbestos survey was seen")
	}
	for i := progress.Signing(progress.States(r, p)); i >= 0; i = progress.Signing(progress.States(r, p)) { // one trade after the other
		s := progress.States(r, p)[i]
		for _, h := range s.Holds {
			c, err := progress.Sign(r, progress.Met{Hold: h.Hold, About: s.Step.Elements, By: "J. Carter", Role: h.Who, Note: "seen", On: "2029-01-05"})
			if err != nil {
				t.Fatal(err)
			}
			r = applied(r, c)
		}
	}
	if later := progress.States(r, p)[5]; len(later.First) > 0 {
		t.Errorf("all is signed that stands before everything, and step 6 still waits for %v", later.First)
	}
	signed := progress.States(r, p)[0]
	if signed.Unsigned != 0 || !signed.Done && !signed.Ready() {
		t.Errorf("all signed, and the first step still waits: %+v", signed)
	}
	c, err := progress.Withdraw(r, progress.Withdrawal{Code: "S-1", By: "J. Carter", On: "2029-01-06", Why: "wrong building"})
	if err != nil {
		t.Fatal(err)
	}
	r = applied(r, c)
	if faults := domain.Check(r); len(faults) > 0 {
		t.Fatal(faults)
	}
	if again := progress.States(r, p)[0]; again.Unsigned != 1 {
		t.Errorf("one withdrawn, and %d holds are unsigned", again.Unsigned)
	}
	if _, err := progress.Withdraw(r, progress.Withdrawal{Code: "S-1", By: "J. Carter", On: "2029-01-06", Why: "again"}); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("withdrawing twice: %v", err)
	}
}

// TestHoldOfNothing: what no step asks for is not signed, nor services dead or an area kept clear without saying of what: it would
// meet nothing, and stand among the signatures as if it did. Every hold that the demo's plan has is known.
func TestHoldOfNothing(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := made(t, r)
	seen := map[string]bool{}
	for _, s := range progress.States(r, p) {
		for _, h := range s.Holds {
			if seen[h.Kind] {
				continue
			}
			seen[h.Kind] = true
			if _, err := progress.Sign(r, progress.Met{Hold: h.Hold, About: s.Step.Elements, By: "J. Carter", Role: h.Who, Note: "seen", On: "2029-01-05"}); err != nil {
				t.Errorf("step %d, %s: %v", s.Step.Number, h.Kind, err)
			}
		}
	}
	for field, hold := range map[string]strip.Hold{
		"/kind":  {Kind: "no-such", Text: "seen"},
		"/about": {Kind: progress.ServicesDead, Text: "dead"},
	} {
		_, err := progress.Sign(r, progress.Met{Hold: hold, By: "J. Carter", Role: "licensed electrician", Note: "C-1", On: "2029-01-05"})
		if faults, ok := errors.AsType[domain.Errors](err); !ok || len(faults) != 1 || faults[0].Field != field {
			t.Errorf("%s of nothing: %v, want %s refused", hold.Kind, err, field)
		}
	}
}

// TestPace: worked by hand. 90 real minutes on 60 planned make 200 planned minutes 300.
func TestPace(t *testing.T) {
	t.Parallel()
	r := &domain.Register{SignOffs: []domain.SignOff{
		{Code: "S-1", Kind: domain.WorkDone, Minutes: 50, PlannedMinutes: 40}, {Code: "S-2", Kind: domain.WorkDone, Minutes: 40, PlannedMinutes: 20},
		{Code: "S-3", Kind: domain.WorkDone, Minutes: 500}, {Code: "S-4", Kind: domain.HoldMet, Minutes: 9, PlannedMinutes: 9},
	}}
	p := progress.PaceOf(r)
	if want := (progress.Pace{Steps: 2, RealMinutes: 90, PlannedMinutes: 60}); p != want {
		t.Errorf("PaceOf = %+v, want %+v", p, want)
	}
	if got := p.Forecast(200); got != 300 {
		t.Errorf("Forecast(200) = %d, want 300", got)
	}
	if got := (progress.Pace{Steps: 1, RealMinutes: 40, PlannedMinutes: 20}).Forecast(200); got != 200 {
		t.Errorf("after 20 minutes Forecast(200) = %d, want the plan's 200", got)
	}
}

// TestEarlyHatch: the cover of a hole leaves early until somebody has signed that the hole is guarded.
func TestEarlyHatch(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := made(t, r)
	open := func() bool {
		return slices.ContainsFunc(progress.Early(r, []string{"HC1-C1"}, nil), func(f replay.Fault) bool { return f.Rule == replay.OpenEdge })
	}
	if !open() {
		t.Error("the cover of a hole is taken and nobody says a word")
	}
	for _, s := range p.Sequence.Steps {
		for _, h := range s.Holds {
			if h.Kind != progress.EdgeGuarded {
				continue
			}
			c, err := progress.Sign(r, progress.Met{Hold: h, About: s.Elements, By: "J. Carter", On: "2029-01-08"})
			if err != nil {
				t.Fatal(err)
			}
			r = applied(r, c)
		}
	}
	if open() {
		t.Error("the hole was signed as guarded, and its cover is still early")
	}
}
