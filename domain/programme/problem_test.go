package programme

import (
	"strings"
	"testing"

	"unpick/domain"
)

func TestCheck(t *testing.T) {
	t.Parallel()
	crew := []Resource{{Code: "people", Capacity: 2}}
	for _, tt := range []struct {
		name    string
		problem Problem
		code    domain.Code
		says    string
	}{
		{"nothing to do", Problem{}, "", ""},
		{"more people than there are", Problem{Activities: []Activity{{Code: "a", Needs: []Need{{0, 3}}}}, Resources: crew}, domain.Refused, "a needs 3 of people and there are 2"},
		{"a need named twice", Problem{Activities: []Activity{{Code: "a", Needs: []Need{{0, 1}, {0, 1}}}}, Resources: crew}, domain.Exists, "names people twice"},
		{"an unknown resource", Problem{Activities: []Activity{{Code: "a", Needs: []Need{{1, 1}}}}, Resources: crew}, domain.NotFound, "needs resource 1"},
		{"less than nothing", Problem{Activities: []Activity{{Code: "a", Needs: []Need{{0, -1}}}}, Resources: crew}, domain.Invalid, "needs -1 of people"},
		{"time running backwards", Problem{Activities: []Activity{{Code: "a", Minutes: -5}}, Resources: crew}, domain.Invalid, "takes -5 minutes"},
		{"waiting for nobody", Problem{Activities: []Activity{{Code: "a", After: []int{7}}}, Resources: crew}, domain.NotFound, "waits for activity 7"},
		{"waiting for itself", Problem{Activities: []Activity{{Code: "a", After: []int{0}}}, Resources: crew}, domain.Cycle, "a waits for a"},
		{"waiting in a ring", Problem{Activities: []Activity{{Code: "a", After: []int{2}}, {Code: "b", After: []int{0}}, {Code: "c", After: []int{1}}}, Resources: crew}, domain.Cycle, "a waits for c waits for b waits for a"},
		{"a capacity that no word holds", Problem{Resources: []Resource{{Code: "people", Capacity: 40_000}}}, domain.Invalid, "the capacity of people is 40000"},
		{"more work than a programme takes", Problem{Activities: []Activity{{Code: "a", Minutes: 1_500_000}, {Code: "b", Minutes: 1_500_000}}, Resources: crew}, domain.TooLarge, "add up to 3000000 minutes"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			err := tt.problem.Check()
			if got := domain.CodeOf(err); got != tt.code {
				t.Fatalf("Check: code %q, want %q (%v)", got, tt.code, err)
			}
			if err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Errorf("Check: %q, want it to say %q", err, tt.says)
			}
			if _, solved := Solve(&tt.problem, Limits{Rounds: 1}); domain.CodeOf(solved) != tt.code {
				t.Errorf("Solve: %v, and Check says %v", solved, err)
			}
		})
	}
}

// TestWithCapacity shares the activities and leaves the problem asked as it was.
func TestWithCapacity(t *testing.T) {
	t.Parallel()
	p := twoCarpenters()
	more, err := p.WithCapacity("people", 3)
	if err != nil || more.Resources[0].Capacity != 3 || p.Resources[0].Capacity != 2 {
		t.Errorf("WithCapacity: %+v beside %+v (%v)", more.Resources, p.Resources, err)
	}
	if _, err := p.WithCapacity("crane", 1); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("a crane that is not there: %v", err)
	}
}

// twoCarpenters is four pieces of work for two people: a and b side by side, then c with both, then d.
func twoCarpenters() *Problem {
	return &Problem{
		Activities: []Activity{
			{Code: "a", Minutes: 30, Needs: []Need{{0, 1}}},
			{Code: "b", Minutes: 45, Needs: []Need{{0, 1}}},
			{Code: "c", Minutes: 15, After: []int{0}, Needs: []Need{{0, 2}}},
			{Code: "d", Minutes: 60, After: []int{2}, Needs: []Need{{0, 1}}},
		},
		Resources: []Resource{{Code: "people", Capacity: 2}},
	}
}
