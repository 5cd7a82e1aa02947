package issue_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/issue"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
	"unpick/domain/schedule"
)

// An item keeps its number from issue to issue whatever comes and goes, no two items share one, and the number of one that
// is gone is never given to another.
func TestNumbersLast(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		series := issue.Series{}
		owner := map[int]string{}
		for range rapid.IntRange(1, 8).Draw(t, "issues") {
			keys := rapid.SliceOfDistinct(rapid.StringMatching(`[a-h]`), rapid.ID[string]).Draw(t, "keys")
			numbers := series.Numbers(keys)
			for i, key := range keys {
				if was, ok := series[key]; ok && was != numbers[i] {
					t.Fatalf("%s was item %d and is item %d", key, was, numbers[i])
				}
				if o, ok := owner[numbers[i]]; ok && o != key {
					t.Fatalf("item %d was %s and is %s", numbers[i], o, key)
				}
				owner[numbers[i]], series[key] = key, numbers[i]
			}
		}
		if highest := len(series); len(series) > 0 && slices.Max(slices.Collect(func(yield func(int) bool) {
			for _, n := range series {
				if !yield(n) {
					return
				}
			}
		})) != highest {
			t.Fatalf("%d items were ever numbered, with gaps: %v", highest, series)
		}
	})
}

// A making-good row that is numbered anew is named by its new number in the items that price it.
func TestItemsNameRowsByTheirNumbers(t *testing.T) {
	t.Parallel()
	p := &plan.Plan{}
	p.MakingGood.Rows = []makinggood.Row{{Number: 1, Hole: "A"}, {Number: 2, Hole: "B"}, {Number: 3, Fixing: "F"}}
	p.Schedule.Items = []schedule.Item{{Number: 1, Key: "repair:X", Rows: []int{1, 3}}, {Number: 2, Key: "repair:Y", Rows: []int{2}}}
	issue.Number(p, map[string]issue.Series{issue.MakingGood: {"hole:B": 1, "hole:GONE": 2}, issue.Reinstatement: {"repair:Y": 7}}, &issue.Issue{Number: 2, Lines: []issue.Line{{Key: "hole:B"}, {Key: "hole:GONE"}}})
	got := []any{p.MakingGood.Rows[0].Number, p.MakingGood.Rows[1].Number, p.MakingGood.Rows[2].Number, p.Schedule.Items[0].Number, p.Schedule.Items[0].Rows, p.Schedule.Items[1].Number, p.Schedule.Items[1].Rows}
	if diff := cmp.Diff([]any{3, 1, 4, 8, []int{3, 4}, 7, []int{1}}, got); diff != "" {
		t.Errorf("numbers (-want +got):\n%s", diff)
	}
	// B alone is in issue 2 of the making-good list.
	p.Schedule.Items[1].Rows = []int{1, 3, 4}
	if got, want := p.Schedule.Items[1].Evidenced(p.MakingGood), "; making-good list, issue 2, item 1; making-good list, not issued, items 3-4"; got != want {
		t.Errorf("the item cites %q, want %q", got, want)
	}
}

func line(key string, number int, what string, quantity float64, amount int64) issue.Line {
	return issue.Line{Key: key, Number: number, What: what, Quantity: quantity, Unit: "hole", RateMinor: 100, RateKnown: true, AmountMinor: amount}
}

func TestCompareItemByItem(t *testing.T) {
	t.Parallel()
	before := []issue.Line{line("a", 1, "wall", 1, 100), line("b", 2, "holes", 7, 700), line("c", 3, "holes", 2, 200)}
	after := []issue.Line{line("c", 3, "holes", 2, 200), line("b", 2, "holes", 9, 900), line("d", 4, "stair", 1, 50)}
	after[0].Evidence = "rows 4-5" // where to look it up is not what it is
	want := []issue.Change{
		{Kind: issue.Changed, Key: "b", Number: 2, What: "holes", DeltaMinor: 200, Fields: []issue.FieldChange{{Field: "quantity", Was: "7 hole", Is: "9 hole"}, {Field: "amount", Was: "GBP 7.00", Is: "GBP 9.00"}}},
		{Kind: issue.Added, Key: "d", Number: 4, What: "stair", DeltaMinor: 50},
		{Kind: issue.Gone, Key: "a", Number: 1, What: "wall", DeltaMinor: -100},
	}
	if diff := cmp.Diff(want, issue.Compare(before, after, "GBP")); diff != "" {
		t.Errorf("changes (-want +got):\n%s", diff)
	}
}

// The deltas lead from one total to the other, and nothing differs from itself.
func TestDeltasLeadFromTotalToTotal(t *testing.T) {
	t.Parallel()
	lines := rapid.Custom(func(t *rapid.T) []issue.Line {
		keys := rapid.SliceOfDistinct(rapid.StringMatching(`[a-j]`), rapid.ID[string]).Draw(t, "keys")
		out := make([]issue.Line, len(keys))
		for i, k := range keys {
			out[i] = line(k, i+1, k, 1, rapid.Int64Range(0, 1000).Draw(t, "amount"))
			if out[i].RateKnown = rapid.Bool().Draw(t, "priced"); !out[i].RateKnown {
				out[i].AmountMinor = 0
			}
		}
		return out
	})
	total := func(all []issue.Line) (sum int64) {
		for _, l := range all {
			sum += l.AmountMinor
		}
		return sum
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := lines.Draw(t, "before"), lines.Draw(t, "after")
		sum := int64(0)
		for _, c := range issue.Compare(a, b, "GBP") {
			sum += c.DeltaMinor
		}
		if sum != total(b)-total(a) {
			t.Fatalf("deltas come to %d, the totals differ by %d", sum, total(b)-total(a))
		}
		if c := issue.Compare(a, a, "GBP"); len(c) != 0 {
			t.Fatalf("an issue differs from itself: %v", c)
		}
	})
}

// Totals that do not agree stop an issue, each with its figures.
func TestStop(t *testing.T) {
	t.Parallel()
	sound := func() *plan.Plan {
		p := &plan.Plan{FitOut: domain.FitOut{Currency: "GBP"}}
		p.MakingGood.Balance = makinggood.Balance{Register: 9, Repaired: 9, Priced: 9, Agrees: true}
		p.Schedule = schedule.Schedule{Items: []schedule.Item{{RateKnown: true, AmountMinor: 900}}, Total: schedule.Total{PricedMinor: 900, HolesInItems: 9, Known: true}}
		return p
	}
	lines := []issue.Line{line("a", 1, "wall", 1, 100)}
	if err := issue.Stop(sound(), lines, false); err != nil {
		t.Fatalf("a sound plan is stopped: %v", err)
	}
	for _, tt := range []struct {
		name  string
		spoil func(*plan.Plan)
		lines []issue.Line
		want  string
	}{
		{"a hole lost between register and rows", func(p *plan.Plan) { p.MakingGood.Balance.Repaired = 8 }, lines, "the register owes 9 hole faces and the repair rows answer for 8: nothing is issued until they agree"},
		{"a hole lost between rows and items", func(p *plan.Plan) { p.Schedule.Total.HolesInItems = 7 }, lines, "the register owes 9 hole faces and the priced items answer for 7: nothing is issued until they agree"},
		{"a penny lost", func(p *plan.Plan) { p.Schedule.Total.PricedMinor = 899 }, lines, "the items come to GBP 9.00 and the total says GBP 8.99: nothing is issued until they agree"},
		{"an item twice", func(*plan.Plan) {}, append(slices.Clone(lines), lines[0]), `the item "a wall" is there twice: nothing is issued until every item is one`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := sound()
			tt.spoil(p)
			err := issue.Stop(p, tt.lines, false)
			if domain.CodeOf(err) != domain.Unclean || err.Error() != tt.want {
				t.Errorf("Stop = %v, want %s", err, tt.want)
			}
		})
	}
}

func TestAnIssueGoesToSomebody(t *testing.T) {
	t.Parallel()
	s := issue.Sent{To: []string{"  Harbour   Estates ", "", "Harbour Estates", "J. Roe"}}
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"Harbour Estates", "J. Roe"}, s.To); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
	nobody := issue.Sent{To: []string{" "}}
	if err := nobody.Check(); domain.CodeOf(err) != domain.Invalid {
		t.Errorf("an issue to nobody: %v", err)
	}
}
