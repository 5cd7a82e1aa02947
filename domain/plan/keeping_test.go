package plan

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/strip"
)

// out is the register once the first steps that take something out were ticked off, up to so many.
func out(r *domain.Register, p *Plan, steps int) *domain.Register {
	next := *r
	next.Elements, next.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	gone := map[string]bool{}
	for i := range p.Sequence.Steps {
		if s := &p.Sequence.Steps[i]; s.Kind == strip.Remove && steps > 0 {
			steps--
			for _, code := range s.Elements {
				gone[code] = true
			}
		}
	}
	for i := range next.Elements {
		if gone[next.Elements[i].Code] {
			next.Elements[i].State = domain.TakenDown
		}
	}
	for i := range next.Fixings {
		if f := &next.Fixings[i]; gone[f.Holds] || gone[f.IntoElement] {
			f.State = domain.FixingUndone
		}
	}
	return &next
}

// takes are the numbers of the steps that take something out, with what they take, in order.
func takes(p *Plan) (numbers []int, pieces map[int][]string) {
	pieces = map[int][]string{}
	for i := range p.Sequence.Steps {
		if s := &p.Sequence.Steps[i]; s.Kind == strip.Remove {
			numbers = append(numbers, s.Number)
			pieces[s.Number] = s.Elements
		}
	}
	return numbers, pieces
}

// TestTheOrderIsKept: a crew works down its sheet; after every step the plan that is made anew is the rest of the same
// sheet, with the same numbers and the same pieces under each.
func TestTheOrderIsKept(t *testing.T) {
	t.Parallel()
	r, p := demo(t, nil)
	order := p.Sequence.Order()
	sheet, pieces := takes(p)
	for done := 1; len(sheet) > done; done += 7 {
		r = out(r, p, 7-6*boolToInt(done == 1))
		next, err := MakeWith(r, Options{Earlier: order})
		if err != nil {
			t.Fatal(err)
		}
		if len(next.Sequence.Changes) > 0 {
			t.Fatalf("after %d steps nothing was found different, and the order says %q", done, next.Sequence.Changes)
		}
		left, now := takes(next)
		if !slices.Equal(left, sheet[done:]) {
			t.Fatalf("after %d steps the numbers are %v, want the rest of the sheet, %v", done, left, sheet[done:])
		}
		for _, n := range left {
			if !slices.Equal(now[n], pieces[n]) {
				t.Fatalf("step %d takes %v after %d steps, and took %v on the sheet", n, now[n], done, pieces[n])
			}
		}
		order = order.Then(next.Sequence)
		p = next
	}
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// TestTheOrderChangesWhereItMust: a piece found on the way and screwed over a board has to come out before the board:
// it is a new step just before it, every other step keeps its number and its turn, and the change is said with its reason.
func TestTheOrderChangesWhereItMust(t *testing.T) {
	t.Parallel()
	r, p := demo(t, nil)
	order := p.Sequence.Order()
	sheet, _ := takes(p)
	const board = "W3-B3a"
	was := stepWith(t, p, board).Number
	found := *r
	found.Elements, found.Relations = slices.Clone(r.Elements), slices.Clone(r.Relations)
	shelf := domain.Element{Code: "X1", Kind: domain.OtherPiece, Name: "shelf that nobody knew of", Material: "ply-struct-18", LengthMm: 600, WidthMm: 200, ThicknessMm: 18, Zone: "Z-PRESS",
		Placement: domain.Placement{Origin: domain.Point{X: 30000, Y: 30000}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}
	found.Elements = append(found.Elements, shelf)
	found.Relations = append(found.Relations, domain.Relation{Code: "RX1", Kind: domain.Hides, From: "X1", To: board})
	found.Fixings = append(slices.Clone(r.Fixings), domain.Fixing{Code: "FX1", Type: "wood-screw-5", Count: 2, Holds: "X1", IntoHost: r.Hosts[0].Code, Undo: []domain.Direction{{Z: 1}}})
	next, err := MakeWith(&found, Options{Earlier: order})
	if err != nil {
		t.Fatal(err)
	}
	left, _ := takes(next)
	shelfStep := stepWith(t, next, "X1")
	if shelfStep.Number <= slices.Max(sheet) {
		t.Errorf("the shelf's step has number %d, which another step had", shelfStep.Number)
	}
	if at := slices.Index(left, shelfStep.Number); at+1 >= len(left) || left[at+1] != was {
		t.Errorf("the shelf is step %d in %v, want it just before %d", shelfStep.Number, left, was)
	}
	if rest := slices.DeleteFunc(slices.Clone(left), func(n int) bool { return n == shelfStep.Number }); !slices.Equal(rest, sheet) {
		t.Errorf("the others are in the order %v, want %v", rest, sheet)
	}
	if said := next.Sequence.Changes; len(said) != 1 || !strings.Contains(said[0], "shelf") {
		t.Errorf("changes: %q, want the shelf's step alone", said)
	}
}

// TestTheOrderSaysWhy: a fact that turns two steps round moves one of them, and says the fact.
func TestTheOrderSaysWhy(t *testing.T) {
	t.Parallel()
	r, p := demo(t, nil)
	order := p.Sequence.Order()
	first, second := stepWith(t, p, "T1-TR1"), stepWith(t, p, "T2-TR1")
	if first.Number > second.Number {
		first, second = second, first
	}
	turned := *r
	turned.Relations = append(slices.Clone(r.Relations), domain.Relation{Code: "RX1", Kind: domain.Traps, From: second.Elements[0], To: first.Elements[0]})
	next, err := MakeWith(&turned, Options{Earlier: order})
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(next.Sequence.Changes, "\n")
	if !strings.Contains(said, second.Elements[0]+" traps "+first.Elements[0]) && !strings.Contains(said, "traps") {
		t.Errorf("changes: %q, want that %s traps %s", said, second.Elements[0], first.Elements[0])
	}
	if len(next.Sequence.Changes) > 5 {
		t.Errorf("one fact changed %d steps: %q", len(next.Sequence.Changes), said)
	}
}

// TestKeptOrderKnowsTheLeast: what no order can need less of props and guards by hand is the same number whether the order is
// kept or made anew, before anything is out and half way; so a kept order that needs no more is known to be as good as any.
func TestKeptOrderKnowsTheLeast(t *testing.T) {
	t.Parallel()
	needed := 0
	for _, name := range []string{"demo.json", "keys/mezzanine.json", "keys/half-height-frames.json", "keys/floor-on-wall.json"} {
		r := fromFile(t, name)
		whole, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		steps := whole.Sequence.Steps
		for _, upTo := range []int{0, len(steps) / 8, len(steps) / 4, len(steps) / 2} {
			var gone []string
			for _, s := range steps[:upTo] {
				if s.Kind == strip.Remove {
					gone = append(gone, s.Elements...)
				}
			}
			left := without(r, gone)
			anew, err := Make(left)
			if err != nil {
				t.Fatal(err)
			}
			kept, err := MakeWith(left, Options{Earlier: whole.Sequence.Order()})
			if err != nil {
				t.Fatal(err)
			}
			a, k := anew.Sequence.Alternatives, kept.Sequence.Alternatives
			if a.Least != k.Least || k.Cost < k.Least {
				t.Errorf("%s, %d steps done: anew %+v, kept %+v", name, upTo, a, k)
			}
			if upTo == 0 && (a.Exact() != k.Exact() || a.Cost != k.Cost) {
				t.Errorf("%s: the very order kept needs %d thousandths, at least %d; made anew %d, at least %d", name, k.Cost, k.Least, a.Cost, a.Least)
			}
			if k.Least > 0 {
				needed++
			}
		}
	}
	if needed == 0 {
		t.Error("no order needed anything, so nothing was compared")
	}
}

// TestAStepIsPartedByWhatIsAlike: a beam goes out of turn, and with it the fixings of every other hanger of a step. The step is
// parted into those that are still nailed and those that are loose, and not into hangers one by one.
func TestAStepIsPartedByWhatIsAlike(t *testing.T) {
	t.Parallel()
	r, whole := demo(t, nil)
	order := whole.Sequence.Order()
	at := slices.IndexFunc(whole.Sequence.Steps, func(s strip.Step) bool { return slices.Contains(s.Elements, "M1-HG19") })
	var gone []string
	for _, s := range whole.Sequence.Steps[:at] {
		if s.Kind == strip.Remove {
			gone = append(gone, s.Elements...)
		}
	}
	next, err := MakeWith(without(r, append(gone, "M1-BM1")), Options{Earlier: order})
	if err != nil {
		t.Fatal(err)
	}
	hangers, steps, tools := 0, 0, map[string]bool{}
	for _, s := range next.Sequence.Steps {
		if s.Kind == strip.Remove && slices.ContainsFunc(s.Elements, func(code string) bool { return slices.Contains(whole.Sequence.Steps[at].Elements, code) }) {
			hangers, steps = hangers+len(s.Elements), steps+1
			tools[s.Tool] = true
		}
	}
	if hangers != len(whole.Sequence.Steps[at].Elements) || len(tools) != 2 || steps != 2 {
		t.Errorf("%d hangers in %d steps with %v, want all %d in two", hangers, steps, tools, len(whole.Sequence.Steps[at].Elements))
	}
}
