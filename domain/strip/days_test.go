package strip_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/strip"
)

func TestDaysFillAndGoOn(t *testing.T) {
	t.Parallel()
	steps := []strip.Step{{Number: 1, DurationMinutes: 300, People: 2}, {Number: 2, DurationMinutes: 250, People: 3}, {Number: 3, DurationMinutes: 10, People: 1}}
	got := strip.Days(steps, domain.Calendar{DayMinutes: 450})
	want := []strip.Day{
		{Number: 1, Work: []strip.Part{{Step: 1, Starts: 0, Minutes: 300}, {Step: 2, Starts: 300, Minutes: 150, Goes: true}}, Minutes: 450, Persons: 3},
		{Number: 2, Work: []strip.Part{{Step: 2, Starts: 0, Minutes: 100, Went: true}, {Step: 3, Starts: 100, Minutes: 10}}, Minutes: 110, Persons: 3},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Days (-want +got):\n%s", diff)
	}
}
