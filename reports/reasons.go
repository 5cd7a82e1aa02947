package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

const everyReason = "Every reason"

// ground is one line of why a step waits: what comes out in an earlier step, or earlier in the same one, for one kind
// of reason, and how often.
type ground struct {
	step    int // where what goes first comes out
	reason  string
	because string // of the first
	count   int
}

// grounds sorts the facts by the step that waits for them. A fact with alternatives counts under the way that the
// order met first. A fact about something that no step takes out is left to the sheet of every reason.
func grounds(p *plan.Plan, r *domain.Register) map[int][]ground {
	at := stepOf(p.Sequence.Steps, r)
	out := map[int][]ground{}
	add := func(before, after int, reason, because string) {
		for i := range out[after] {
			if g := &out[after][i]; g.step == before && g.reason == reason {
				g.count++
				return
			}
		}
		out[after] = append(out[after], ground{before, reason, because, 1})
	}
	for _, f := range p.Before {
		if at[f.Before] > 0 && at[f.After] > 0 {
			add(at[f.Before], at[f.After], string(f.Reason), f.Because)
		}
	}
	for _, c := range p.Choices {
		if before, way := met(c, at); before > 0 && at[c.After] > 0 {
			add(before, at[c.After], string(c.Reason), c.Because[way])
		}
	}
	for _, lines := range out {
		slices.SortFunc(lines, func(a, b ground) int { return cmp.Or(a.step-b.step, strings.Compare(a.reason, b.reason)) })
	}
	return out
}

// stepOf is the step in which each piece, frame and fixing comes out.
func stepOf(steps []strip.Step, r *domain.Register) map[string]int {
	at := map[string]int{}
	for _, s := range steps {
		for _, p := range s.Pieces {
			at[p.Code] = s.Number
		}
		for _, f := range s.Fixings {
			for _, code := range f.Codes {
				at[code] = s.Number
			}
		}
	}
	for _, e := range r.Elements {
		if e.Subassembly != "" && at[e.Subassembly] == 0 {
			at[e.Subassembly] = at[e.Code]
		}
	}
	return at
}

// met is the way of a choice that is out first, and the step with which it is; step 0 where no way comes out whole.
func met(c plan.Choice, at map[string]int) (step, way int) {
	for i, codes := range c.Ways {
		last := 0
		for _, code := range codes {
			if at[code] == 0 {
				last = 0
				break
			}
			last = max(last, at[code])
		}
		if last > 0 && (step == 0 || last < step) {
			step, way = last, i
		}
	}
	return step, way
}

// whyThisOrder is for people: one row a step, with what had to come out before it.
func (b *book) whyThisOrder() {
	steps, all := b.in.Plan.Sequence.Steps, grounds(b.in.Plan, b.in.Register)
	t := b.newTable("Why this order", []column{{"Step", 6, number}, {"What", 40, strong}, {"Waits for steps", 18, plain}, {"Because", 80, plain}}, a4, len(steps))
	for _, s := range steps {
		var waits, words []string
		for _, g := range all[s.Number] {
			if from := strconv.Itoa(g.step); g.step != s.Number && !slices.Contains(waits, from) {
				waits = append(waits, from)
			}
			words = append(words, g.words(s.Number))
		}
		if len(words) == 0 {
			words = []string{"nothing has to come out first"}
		}
		t.add(s.Number, s.Title, strings.Join(waits, ", "), strings.Join(words, "\n"))
	}
	t.end()
}

func (g ground) words(step int) string {
	where := "step " + strconv.Itoa(g.step)
	if g.step == step {
		where = "within the step"
	}
	if g.count == 1 {
		return where + ": " + g.because
	}
	return fmt.Sprintf("%s: %s; %d more like it", where, g.because, g.count-1)
}

// everyReason is for checking on a screen: each fact by itself. Printed it would be longer than all the rest together,
// so that of it only the head is printed.
func (b *book) everyReason() {
	p := b.in.Plan
	t := b.newTable(everyReason, []column{{"First", 22, plain}, {"Then", 18, plain}, {"Reason", 12, plain}, {"In words", 64, plain}, {"Evidence", 34, plain}}, a4,
		len(p.Before)+len(p.Choices), "&LTo be read on a screen: the rows are left out of the print. To print them all the same, clear the print area.")
	for _, f := range p.Before {
		t.add(f.Before, f.After, string(f.Reason), f.Because, someOf(f.Evidence, 8))
	}
	for _, c := range p.Choices {
		ways := make([]string, len(c.Ways))
		for i, w := range c.Ways {
			ways[i] = strings.Join(w, "+")
		}
		t.add("any of: "+strings.Join(ways, " or "), c.After, string(c.Reason), strings.Join(c.Because, "; or "), "")
	}
	t.endUnprinted()
}
