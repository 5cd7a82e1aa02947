package pages

import (
	"net/url"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestStepMeant: a form that waited goes to the step that it was typed for, wherever that is in the plan now.
func TestStepMeant(t *testing.T) {
	t.Parallel()
	steps := []strip.Step{{Number: 1, Kind: strip.Remove, Title: "one", Elements: []string{"A", "B"}}, {Number: 2, Kind: strip.Remove, Title: "two", Elements: []string{"C"}}, {Number: 3, Kind: strip.Remove, Title: "three", Elements: []string{"D", "E", "F"}}}
	var states []progress.StepState
	for _, s := range steps {
		states = append(states, progress.StepState{Step: s})
	}
	for _, tt := range []struct {
		name string
		at   string
		sent url.Values
		want int
	}{
		{"its pieces moved up", "3", url.Values{"/elements": {"C"}}, 2},
		{"most of its pieces", "1", url.Values{"/elements": {"A", "E", "F"}}, 3},
		{"as many in two: the one of the address", "3", url.Values{"/elements": {"B", "D"}}, 3},
		{"pieces that nobody has any more", "2", url.Values{"/elements": {"Z"}}, 2},
		{"past the end, pieces still there", "9", url.Values{"/elements": {"D"}}, 3},
		{"a signature for a step that moved", "1", url.Values{"/step": {mark(steps[2])}}, 3},
		{"a signature for a step that is no more", "1", url.Values{"/step": {mark(strip.Step{Title: "gone"})}}, 1},
		{"nothing said", "2", url.Values{}, 2},
		{"an address by a piece", "out-E", nil, 3},
		{"an address by a piece that is out", "out-Z", nil, 0},
		{"the number of a step that is done", "9", nil, 0},
	} {
		if got := stepMeant(states, tt.at, tt.sent) + 1; got != tt.want {
			t.Errorf("%s: step %d, want %d", tt.name, got, tt.want)
		}
	}
}

// TestDoneStepSaysWhatIsOut: one joist ticked off out of a step of ten is one joist out, not ten.
func TestDoneStepSaysWhatIsOut(t *testing.T) {
	t.Parallel()
	order := strip.Order{{Number: 4, Kind: strip.Remove, Elements: []string{"J1", "J2", "J3"}}}
	signed := []domain.SignOff{{Code: "S-1", What: "Take out 3 joists", About: []string{"J2"}}, {Code: "S-2", What: "Take out a board", About: []string{"B1"}}}
	one := doneStep(order, signed, "4")
	if one == nil || one.Out() != 1 || !slices.Equal(one.Left, []string{"J1", "J3"}) || len(one.Done) != 1 {
		t.Errorf("one of three ticked off: %+v", one)
	}
	signed = append(signed, domain.SignOff{Code: "S-3", What: "Take out 2 joists", About: []string{"J1", "J3"}})
	if all := doneStep(order, signed, "out-J2"); all == nil || all.Out() != 3 || len(all.Left) != 0 || len(all.Done) != 2 {
		t.Errorf("all of them ticked off: %+v", all)
	}
	if got, want := outWords([]string{"J1", "J3"}), "J1, J3"; got != want {
		t.Errorf("outWords = %q, want %q", got, want)
	}
	if got, want := outWords([]string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14"}), "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 and 2 more"; got != want {
		t.Errorf("outWords = %q, want %q", got, want)
	}
}
