package answer_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain/answer"
	"unpick/domain/issue"
)

// TestCarry: what the next issue does to agreed items, each by its rule: one that is as it was stays agreed, one that changed
// or is gone names the figure, one that a part words otherwise stands in the whole, and a word said after the issue went out
// counts neither way.
func TestCarry(t *testing.T) {
	t.Parallel()
	line := func(n int, key string, amount int64) issue.Line {
		return issue.Line{Key: key, Number: n, What: key, Quantity: 1, Unit: "item", RateMinor: amount, RateKnown: true, AmountMinor: amount}
	}
	figure := func(f int64) *int64 { return &f }
	agree := func(item int, entry int64) []answer.Said {
		return []answer.Said{{Statement: answer.Statement{Item: item, FigureMinor: figure(9300)}, Party: answer.Landlord, Issue: 1, Entry: entry},
			{Statement: answer.Statement{Item: item, Verdict: answer.Agree}, Party: answer.Tenant, Issue: 1, Entry: entry}}
	}
	one := issue.Issue{Number: 1, Entry: 10, Currency: "GBP", Lines: []issue.Line{line(1, "stays", 9000), line(2, "changes", 9000), line(3, "goes", 9000), line(4, "later", 9000)}}
	said := append(append(agree(1, 11), append(agree(2, 12), agree(3, 13)...)...), agree(4, 21)...)
	for name, tt := range map[string]struct {
		scope string
		lines []issue.Line
		want  map[string]string // by key, what the change says; "" says nothing of an agreement
		still []int
	}{
		"the whole again": {"", []issue.Line{line(1, "stays", 9000), line(2, "changes", 8000), line(4, "later", 8000)},
			map[string]string{"changes": "was agreed at GBP 93.00: to be agreed anew", "goes": "was agreed at GBP 93.00", "later": ""}, []int{1}},
		"a part": {"partial: W1 alone", []issue.Line{line(1, "stays", 9000), line(2, "changes", 4000)},
			map[string]string{"changes": "was agreed at GBP 93.00, and stays so in the whole: this issue is of a part", "goes": "was agreed at GBP 93.00, and stays so in the whole: this issue is of a part", "later": ""}, []int{1}},
	} {
		two := issue.Issue{Number: 2, Entry: 20, Currency: "GBP", Scope: tt.scope, Lines: tt.lines}
		changes := issue.Compare(one.Lines, two.Lines, "GBP")
		var still []int
		for _, a := range answer.Carry(changes, []issue.Issue{one, two}, said) {
			still = append(still, a.Number)
		}
		got := map[string]string{}
		for _, c := range changes {
			got[c.Key] = c.Notes("GBP")
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: what changes say (-want +got):\n%s", name, diff)
		}
		if diff := cmp.Diff(tt.still, still); diff != "" {
			t.Errorf("%s: what stays agreed (-want +got):\n%s", name, diff)
		}
	}
}
