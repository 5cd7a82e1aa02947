package move_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"testing"
	"time"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/plan"
	"unpick/domain/release"
	"unpick/domain/relocation"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

// bothEnds lays the demo's move as it stands in autumn 2028.
func bothEnds(t *testing.T, terms move.Terms) (*move.Plan, *plan.Plan, *domain.Register, *domain.Register) {
	t.Helper()
	from, to := demo(t)
	made, err := plan.Make(from.Register)
	if err != nil {
		t.Fatal(err)
	}
	p, err := move.Make(from, to, terms)
	if err != nil {
		t.Fatal(err)
	}
	here := relocation.Here{Register: from.Register, Graph: release.Build(from.Register.Leaving()), Steps: made.Sequence.Steps, MakingGood: made.MakingGood}
	if err := p.Lay(here, time.Date(2028, 10, 2, 0, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	return p, made, from.Register, to
}

// whole is when a piece of work begins and ends, to be compared.
func whole(e relocation.Entry) (begins, ends string) {
	first, last := e.Parts[0], e.Parts[len(e.Parts)-1]
	return fmt.Sprintf("%s %04d", first.On, first.From), fmt.Sprintf("%s %04d", last.On, last.To)
}

// TestBothEnds follows each piece of the demo from the plan itself: it is out before its load is begun, and the load is
// over before what it becomes goes up; every piece of the next premises goes up once. Side by side as they are, the steps
// replay clean in the order in which they begin and in that in which they end.
func TestBothEnds(t *testing.T) {
	t.Parallel()
	terms := move.Usual()
	terms.Programme.People = 3
	terms.Vehicle.PayloadKg = 700
	p, made, here, to := bothEnds(t, terms)
	both := p.Programme
	if both.Refused != "" || !both.Fits || both.Latest.HandBack != "2029-03-23" || both.Entry != "2029-02-01" || !both.Latest.Proven {
		t.Fatalf("refused %q, fits %v, %+v", both.Refused, both.Fits, both.Latest)
	}
	out, load, up := map[string]relocation.Entry{}, map[string]relocation.Entry{}, map[string]relocation.Entry{}
	for _, e := range both.Work {
		into := map[relocation.Kind]map[string]relocation.Entry{relocation.TakeOut: out, relocation.Load: load, relocation.PutUp: up}[e.Kind]
		for _, piece := range e.Pieces {
			if _, twice := into[piece]; twice {
				t.Errorf("%s has %s, which another has too", e.Code, piece)
			}
			into[piece] = e
		}
	}
	moved := map[string]string{}
	add := func(b move.Become) {
		for _, code := range b.Makes {
			if b.Salvaged {
				moved[code] = b.Stock
			}
		}
	}
	for _, w := range p.Wholes {
		for _, b := range w.Becomes {
			add(b)
		}
	}
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			add(b)
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			add(l.Become)
		}
	}
	for _, u := range p.Units {
		for _, b := range u.Becomes {
			add(b)
		}
	}
	if len(moved) < 100 {
		t.Errorf("%d pieces are made of salvage", len(moved))
	}
	index := here.Index()
	for i := range to.Elements {
		e := &to.Elements[i]
		goesUp, ok := up[e.Code]
		if !e.ComesOut() {
			continue
		}
		if !ok {
			t.Errorf("%s never goes up", e.Code)
			continue
		}
		stock, used := moved[e.Code]
		if !used {
			continue
		}
		if len(load[stock].Parts) == 0 {
			t.Errorf("%s, which becomes %s, is never loaded", stock, e.Code)
			continue
		}
		taken := "" // what is stored was out before
		if here.Elements[index.Elements[stock]].State != domain.Stored {
			_, taken = whole(out[stock])
		}
		leaves, arrives := whole(load[stock])
		begins, _ := whole(goesUp)
		if taken > leaves || arrives > begins {
			t.Errorf("%s is out at %s, loaded at %s, there at %s and goes up at %s", stock, taken, leaves, arrives, begins)
		}
	}
	replays(t, here, made, both)
}

// replays has the second opinion on strip-outs check the steps in the order in which they begin, and in which they end.
func replays(t *testing.T, r *domain.Register, made *plan.Plan, both *relocation.Programme) {
	t.Helper()
	var steps []relocation.Entry
	for _, e := range both.Work {
		if e.Kind == relocation.TakeOut {
			steps = append(steps, e)
		}
	}
	byStart := func(a, b relocation.Entry) int {
		x, _ := whole(a)
		y, _ := whole(b)
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a.Step, b.Step))
	}
	byEnd := func(a, b relocation.Entry) int {
		_, x := whole(a)
		_, y := whole(b)
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a.Step, b.Step))
	}
	for name, order := range map[string]func(a, b relocation.Entry) int{"start": byStart, "end": byEnd} {
		slices.SortFunc(steps, order)
		var all []replay.Step
		for _, e := range steps {
			all = append(all, asReplayed(made.Step(e.Step)))
		}
		for _, fault := range replay.Check(r, all) {
			t.Errorf("in order of %s, step %s, %s: %s", name, fault.Step, fault.Code, fault.Because)
		}
	}
}

func asReplayed(s *strip.Step) replay.Step {
	out := replay.Step{Code: strconv.Itoa(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
	switch s.Kind {
	case strip.MakeDead:
		out.Services = s.Elements
	case strip.Prop, strip.StrikeProp:
		out.Props = s.Elements
	default:
		out.Elements = s.Elements
		for _, f := range s.Fixings {
			out.Fixings = append(out.Fixings, f.Codes...)
		}
	}
	return out
}
