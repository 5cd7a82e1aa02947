package progress_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// facts are the states of everything in a register, as they read.
func facts(r *domain.Register) map[string]string {
	out := map[string]string{}
	for i := range r.Elements {
		if e := &r.Elements[i]; !e.IsInPlace() {
			out[e.Code] = string(e.State)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; !f.InPlace() {
			out[f.Code] = string(f.State)
		}
	}
	for i := range r.Holes {
		out[r.Holes[i].Code] = string(r.Holes[i].State)
	}
	return out
}

// dayBook is a register with the changes that ticked work off, as a log keeps them.
type dayBook struct {
	r      *domain.Register
	ticked map[string]domain.Change
}

func (b *dayBook) tick(tb interface{ Fatal(...any) }, codes ...string) string {
	c, err := progress.Tick(b.r, progress.Done{What: "out", Elements: codes, Minutes: 5, By: "J. Carter", On: "2029-01-08"})
	if err != nil {
		tb.Fatal(err)
	}
	b.r = applied(b.r, c)
	b.ticked[c.Add.SignOffs[0].Code] = c
	return c.Add.SignOffs[0].Code
}

func (b *dayBook) takeBack(code string) error {
	c, err := progress.TakeBack(b.r, b.ticked[code], progress.Withdrawal{Code: code, By: "A. Foreman", On: "2029-01-09", Why: "wrong step"})
	if err == nil {
		b.r = applied(b.r, c)
	}
	return err
}

func (b *dayBook) signs(tb testing.TB, c domain.Change, err error) string {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
	b.r = applied(b.r, c)
	return c.Add.SignOffs[0].Code
}

// sheet is what a crew has in its hands of a plan.
func sheet(p *plan.Plan) strip.Order { return p.Sequence.Order() }

// TestTakeBackAnyhow: whatever was ticked off, in the plan's order or out of turn, whole steps or parts, with the plan made
// anew in between or not, and taken back in any order that is allowed: at the end the register is as it was, and the crew's
// sheet too, with the same steps under the same numbers in the same order. What is refused names a signature that is in
// force and later.
func TestTakeBackAnyhow(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := &dayBook{drawFitOut(t), map[string]domain.Change{}}
		first, err := plan.Make(b.r)
		if err != nil {
			t.Fatal(err)
		}
		was, history := facts(b.r), strip.History{}.Keep(strip.Left(b.r), sheet(first))
		plans := func() *plan.Plan { // as the program does it
			earlier, _ := history.From(strip.Left(b.r))
			p, err := plan.MakeWith(b.r, plan.Options{Earlier: earlier})
			if err != nil {
				return nil
			}
			history = history.Keep(strip.Left(b.r), earlier.Then(p.Sequence))
			return p
		}
		var codes []string
		for range rapid.IntRange(1, 6).Draw(t, "ticks") {
			in := ofKinds(b.r, func(int) bool { return true })
			if len(in) == 0 {
				break
			}
			pieces := []string{rapid.SampledFrom(in).Draw(t, "piece")}
			if rapid.Bool().Draw(t, "a step") {
				pieces = someOfAStep(t, first, in)
			}
			codes = append(codes, b.tick(t, pieces...))
			if rapid.Bool().Draw(t, "planned") {
				plans() // or is refused as a contradiction: see TestHalfWayAnyhow
			}
		}
		for len(codes) > 0 {
			at := rapid.IntRange(0, len(codes)-1).Draw(t, "back")
			switch err := b.takeBack(codes[at]); {
			case err == nil:
				codes = slices.Delete(codes, at, at+1)
			case domain.CodeOf(err) != domain.Refused || !slices.ContainsFunc(codes[at+1:], func(later string) bool { return strings.Contains(err.Error(), later+", ") }):
				t.Fatalf("taking back %s of %v: %v", codes[at], codes, err)
			}
			if faults := domain.Check(b.r); len(faults) > 0 {
				t.Fatal(faults[0])
			}
		}
		if diff := cmp.Diff(was, facts(b.r)); diff != "" {
			t.Fatalf("all is taken back, and the register is not as it was (-was +is):\n%s", diff)
		}
		back := plans()
		if back == nil {
			t.Fatal("all is taken back, and there is no plan")
		}
		if diff := cmp.Diff(sheet(first), sheet(back)); diff != "" || len(back.Sequence.Changes) > 0 {
			t.Fatalf("the sheet is not as it was (-was +is):\n%s%q", diff, back.Sequence.Changes)
		}
	})
}

// someOfAStep are pieces of one step that are still in.
func someOfAStep(t *rapid.T, p *plan.Plan, in []string) []string {
	var steps [][]string
	for _, s := range p.Sequence.Steps {
		left := slices.DeleteFunc(slices.Clone(s.Elements), func(code string) bool { return !slices.Contains(in, code) })
		if s.Kind == strip.Remove && len(left) > 0 {
			steps = append(steps, left)
		}
	}
	all := rapid.SampledFrom(steps).Draw(t, "step")
	return rapid.SliceOfNDistinct(rapid.SampledFrom(all), 1, len(all), rapid.ID).Draw(t, "pieces of it")
}

// TestTakeBackKeepsTheRest: what was undone before a tick-off stays undone, what was amended since stays amended, what was
// put back by hand is left alone.
func TestTakeBackKeepsTheRest(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	index := b.r.Index()
	mine := []int{}
	for i := range b.r.Fixings {
		if b.r.Fixings[i].Holds == "T1-TR1" {
			mine = append(mine, i)
		}
	}
	if len(mine) < 2 {
		t.Fatalf("T1-TR1 is held by %d sets of fixings, and the test wants two", len(mine))
	}
	b.r.Fixings[mine[0]].State = domain.FixingUndone // before anything was ticked off
	code := b.tick(t, "T1-TR1", "T1-TR2")
	b.r.Elements[index.Elements["T1-TR1"]].Note = "painted over"
	b.r.Elements[index.Elements["T1-TR2"]].State = domain.InPlace
	if err := b.takeBack(code); err != nil {
		t.Fatal(err)
	}
	if b.r.Fixings[mine[0]].InPlace() || !b.r.Fixings[mine[1]].InPlace() {
		t.Error("what was undone before is held again, or what the tick-off undid is not")
	}
	if e := b.r.Elements[index.Elements["T1-TR1"]]; !e.IsInPlace() || e.Note != "painted over" {
		t.Errorf("T1-TR1 is %q and its note %q", e.State, e.Note)
	}
	last := b.r.SignOffs[len(b.r.SignOffs)-1]
	want := domain.SignOff{Code: "S-2", Kind: domain.WorkDone, What: "wrong step", About: []string{"T1-TR1", "T1-TR2"}, Withdraws: "S-1", By: "A. Foreman", On: "2029-01-09"}
	if diff := cmp.Diff(want, last); diff != "" {
		t.Errorf("the day book (-want +got):\n%s", diff)
	}
	if pace := progress.PaceOf(b.r); pace.Steps != 0 {
		t.Errorf("work that was taken back counts for the pace: %+v", pace)
	}
	if err := b.takeBack(code); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("taking back twice: %v", err)
	}
	if _, err := progress.Withdraw(b.r, progress.Withdrawal{Code: b.tick(t, "T1-TR1"), By: "J", On: "2029-01-09", Why: "x"}); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("work is withdrawn like a signature, and its pieces stay down: %v", err)
	}
}

// TestTakeBackRefuses: what came later and rests on it is named, each with its own signature or record; taken back in that
// order, all goes back.
func TestTakeBackRefuses(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		then func(*testing.T, *dayBook) string // what is said
	}{
		{"work that needed it out", func(t *testing.T, b *dayBook) string { // the skirting stands before its board
			return b.tick(t, behind(t, b.r, "T1-TR1"))
		}},
		{"found in hand", func(t *testing.T, b *dayBook) string {
			c, err := progress.Grade(b.r, progress.Graded{Elements: []string{"T1-TR1"}, As: domain.Whole, By: "J", On: "2029-01-09"})
			return b.signs(t, c, err)
		}},
		{"taken away", func(t *testing.T, b *dayBook) string {
			b.r.Elements[b.r.Index().Elements["T1-TR1"]].State = domain.Disposed
			return "T1-TR1 is disposed"
		}},
		{"props struck", func(t *testing.T, b *dayBook) string {
			code := ""
			for _, hold := range []string{"temporary-support", progress.PropsStruck} {
				c, err := progress.Sign(b.r, progress.Met{Hold: strip.Hold{Kind: hold, Text: "props"}, About: []string{"T1-TR1"}, By: "J", Role: "competent person", On: "2029-01-09"})
				code = b.signs(t, c, err)
			}
			return code
		}},
	} {
		b := &dayBook{demo(t), map[string]domain.Change{}}
		code := b.tick(t, "T1-TR1")
		says := tt.then(t, b)
		err := b.takeBack(code)
		if domain.CodeOf(err) != domain.Refused || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), "take that back first") {
			t.Errorf("%s: %v, want it refused with %s", tt.name, err, says)
		}
	}
}

// behind is a piece that a trim covers.
func behind(tb testing.TB, r *domain.Register, trim string) string {
	tb.Helper()
	for _, f := range made(tb, r).Before {
		if f.Before == trim {
			return f.After
		}
	}
	// it is out: ask before it was
	up := *r
	up.Elements, up.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	up.Elements[up.Index().Elements[trim]].State = domain.InPlace
	for i := range up.Fixings {
		if up.Fixings[i].Holds == trim {
			up.Fixings[i].State = domain.FixingIn
		}
	}
	for _, f := range made(tb, &up).Before {
		if f.Before == trim {
			return f.After
		}
	}
	tb.Fatalf("nothing waits for %s", trim)
	return ""
}

// TestTakeBackFilledHole: a hole that was filled since is in the way until its signature is taken back.
func TestTakeBackFilledHole(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	var hole domain.Hole
	for _, h := range b.r.Holes {
		if i, ok := b.r.Index().Fixings[h.Fixing]; ok && h.State == domain.HoleInUse && b.r.Elements[b.r.Index().Elements[b.r.Fixings[i].Holds]].ComesOut() {
			hole = h
			break
		}
	}
	was := facts(b.r)
	code := b.tick(t, b.r.Fixings[b.r.Index().Fixings[hole.Fixing]].Holds)
	c, err := progress.MakeGood(b.r, progress.Good{About: []string{hole.Code}, By: "J", NoPhoto: "none was taken", On: "2029-01-09"})
	filled := b.signs(t, c, err)
	if err := b.takeBack(code); domain.CodeOf(err) != domain.Refused || !strings.Contains(err.Error(), filled) || !strings.Contains(err.Error(), hole.Code) {
		t.Fatalf("%s is filled, and taking back says %v, want %s named", hole.Code, err, filled)
	}
	c, err = progress.Withdraw(b.r, progress.Withdrawal{Code: filled, By: "J", On: "2029-01-09", Why: "nothing is out"})
	b.signs(t, c, err)
	if err := b.takeBack(code); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(was, facts(b.r)); diff != "" {
		t.Errorf("the register is not as it was (-was +is):\n%s", diff)
	}
}

// TestTakeBackOfAFile: what came in with a file has no change in the log, and is refused with the way out.
func TestTakeBackOfAFile(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	code := b.tick(t, "T1-TR1")
	b.ticked[code] = domain.Change{What: "imported"}
	if err := b.takeBack(code); domain.CodeOf(err) != domain.Refused || !strings.Contains(err.Error(), "on their own pages") {
		t.Errorf("taking back what came with a file: %v", err)
	}
}

// TestRestOnHold: what was ticked off on the strength of a hold is named where it is withdrawn, unless another signature
// met the hold as well.
func TestRestOnHold(t *testing.T) {
	t.Parallel()
	b := &dayBook{demo(t), map[string]domain.Change{}}
	sign := func(kind string, about ...string) string {
		c, err := progress.Sign(b.r, progress.Met{Hold: strip.Hold{Kind: kind, Text: kind}, About: about, By: "J", On: "2029-01-05", Note: "C-1"})
		return b.signs(t, c, err)
	}
	early := sign("exclusion-zone", "T1-TR1")
	once := sign("asbestos")
	code := b.tick(t, "T1-TR1")
	other := b.tick(t, "T2-TR1")
	for _, tt := range []struct {
		hold string
		want []string
	}{{early, []string{code}}, {once, []string{other, code}}} {
		c, err := progress.Withdraw(b.r, progress.Withdrawal{Code: tt.hold, By: "J", On: "2029-01-09", Why: "not seen"})
		if err != nil || len(c.Advice) != len(tt.want) {
			t.Fatalf("withdrawing %s: %v, advice %v, want it about %v", tt.hold, err, c.Advice, tt.want)
		}
		for i, a := range c.Advice {
			if a.Severity != domain.Stop || !strings.HasPrefix(a.Text, tt.want[i]+", ") {
				t.Errorf("withdrawing %s: %q, want it about %s", tt.hold, a.Text, tt.want[i])
			}
		}
	}
	late := sign("asbestos")
	third := b.tick(t, ofKinds(b.r, func(i int) bool { return i == 0 })...)
	if rests := progress.RestOnHold(b.r, b.r.Signed(domain.HoldMet)[2]); len(rests) != 0 {
		t.Errorf("%s was there as well, and %s alone is said to carry %v", once, late, rests)
	}
	if err := b.takeBack(third); err != nil {
		t.Fatal(err)
	}
	if rests := progress.RestOnHold(b.r, b.r.Signed(domain.HoldMet)[1]); len(rests) != 2 {
		t.Errorf("work that was taken back rests on a hold: %v", rests)
	}
}

// TestFiguresOfWork: minutes and people that nobody can have meant are refused at their field.
func TestFiguresOfWork(t *testing.T) {
	t.Parallel()
	r := demo(t)
	for _, tt := range []struct {
		name            string
		minutes, people int
		field           string
	}{
		{"a working week", progress.MostMinutes, 2, ""},
		{"a slip of the finger", progress.MostMinutes + 1, 2, "/minutes"},
		{"a crowd", 10, progress.MostPeople + 1, "/people"},
	} {
		_, err := progress.Tick(r, progress.Done{What: "x", Elements: []string{"T1-TR1"}, Minutes: tt.minutes, People: tt.people, By: "J", On: "2029-01-08"})
		if tt.field == "" && err == nil {
			continue
		}
		if faults, ok := err.(domain.Errors); !ok || len(faults) != 1 || faults[0].Field != tt.field || faults[0].Code != domain.Invalid {
			t.Errorf("%s: %v, want it refused at %q", tt.name, err, tt.field)
		}
	}
}
