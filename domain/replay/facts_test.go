package replay

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// nook is a register small enough to try every order: two free posts on a slab with a rail across, a lamp that
// lights the rail, two tongued boards behind them, a seal, a cover over a board's screw, a cable clipped to a post
// and running through a board, and a crate before the way out of the first board.
func nook() *domain.Register {
	var b builder
	b.host("SLAB", vec{-1000, -1000, -200}, vec{5000, 5000, 200}, up)
	b.piece("P1", domain.Post, vec{0, 0, 0}, vec{100, 100, 1200})
	b.fix("P1", "SLAB", vec{100, 50, 50}, up, []int{0}, east)
	b.piece("P2", domain.Post, vec{1000, 0, 0}, vec{100, 100, 1200})
	b.fix("P2", "SLAB", vec{1000, 50, 50}, up, []int{0}, west)
	b.piece("B1", domain.DeckBoard, vec{0, 100, 0}, vec{600, 20, 900})
	screw := b.fix("B1", "P1", vec{50, 120, 100}, up, []int{0}, north).Code
	b.piece("B2", domain.DeckBoard, vec{600, 100, 0}, vec{500, 20, 900})
	b.fix("B2", "P2", vec{1050, 120, 100}, up, []int{0}, north)
	b.relate("B2", domain.Interlocks, "B1")
	b.piece("SEAL", domain.Seal, vec{590, 95, 0}, vec{20, 5, 900})
	b.fix("SEAL", "P2", vec{600, 95, 10}, up, []int{0}, south)
	b.relate("SEAL", domain.Seals, "B1")
	b.piece("COVER", domain.Trim, vec{20, 400, 50}, vec{60, 10, 100}) // too far off to be seen in the boxes
	b.fix("COVER", "SLAB", vec{50, 410, 60}, up, []int{0}, north)
	b.relate("COVER", domain.Hides, screw)
	b.piece("CABLE", domain.Cable, vec{200, 90, 500}, vec{10, 200, 10})
	b.fix("CABLE", "P2", vec{205, 90, 500}, up, []int{0}, south)
	b.relate("CABLE", domain.RunsThrough, "B1")
	b.piece("CRATE", domain.OtherPiece, vec{0, 1000, 0}, vec{500, 500, 500})
	b.relate("CRATE", domain.BearsOn, "SLAB")
	b.relate("CRATE", domain.Traps, "B2")
	b.piece("LAMP", domain.OtherPiece, vec{2000, 0, 0}, vec{100, 100, 300})
	b.fix("LAMP", "SLAB", vec{2050, 0, 10}, up, []int{0}, south)
	b.relate("LAMP", domain.Serves, "CRATE")
	b.relate("P2", domain.Steadies, "COVER")
	return &b.r
}

// toldApart looks for an order that the first register allows and the second does not, in every state that can be
// reached by removals which both allow. What a removal may do depends on nothing but what is in place and undone, so
// that finding none proves that no order of removals tells the two apart. The plan found ends with the step at fault.
func toldApart(believed, real *domain.Register) []Step {
	type at struct {
		believed, real *oracle
		steps          []Step
	}
	dead := Step{Code: "dead", Kind: MakeDead}
	start := at{newOracle(believed), newOracle(real), nil}
	for _, code := range start.real.codes() {
		if start.real.el[code].Kind.IsService() || start.real.runsThrough(code) || start.believed.runsThrough(code) {
			dead.Services = append(dead.Services, code)
		}
	}
	start.believed.take(dead)
	start.real.take(dead)
	start.steps = []Step{dead}
	seen, queue := map[string]bool{}, []at{start}
	for len(queue) > 0 {
		now := queue[0]
		queue = queue[1:]
		for _, code := range now.real.codes() {
			next := now.believed.outNow(code, false)
			if next == nil {
				continue
			}
			next[0].Code = "out " + code
			plan := append(slices.Clone(now.steps), next[0])
			if !now.real.clean(next[0]) {
				return plan
			}
			left := strings.Join(slices.DeleteFunc(now.real.codes(), func(c string) bool { return slices.Contains(next[0].Elements, c) }), " ")
			if seen[left] {
				continue
			}
			seen[left] = true
			queue = append(queue, at{now.believed.after(next[0]), now.real.after(next[0]), plan})
		}
	}
	return nil
}

// after is a copy of o one step on.
func (o *oracle) after(s Step) *oracle {
	next := *o
	next.now, next.found = o.now.clone(), map[int]map[Rule]bool{}
	next.take(s)
	return &next
}

func TestEveryFactCounts(t *testing.T) {
	t.Parallel()
	r := nook()
	var equivalent []string
	for _, m := range registerMutants(r) {
		plan := toldApart(m.r, r)
		if plan == nil {
			equivalent = append(equivalent, m.what)
			continue
		}
		faults := CheckPartial(r, plan)
		if len(faults) == 0 {
			t.Errorf("%s: CheckPartial finds nothing in a plan that breaks it: %v", m.what, plan)
			continue
		}
		if last := plan[len(plan)-1].Code; faults[0].Step != last {
			t.Errorf("%s: first fault is in step %q, want %q: %v", m.what, faults[0].Step, last, faults[0])
		}
	}
	want := []string{
		"forget R5 (CRATE bears-on SLAB)", // the boxes say so too
	}
	if diff := cmp.Diff(want, equivalent); diff != "" {
		t.Errorf("mutants that no order tells apart (-want +got):\n%s", diff)
	}
}
