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

// TestDaysNeverCutALift: a lift waits for the morning, and no part of a step is a few minutes long.
func TestDaysNeverCutALift(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		steps []strip.Step
		want  []strip.Day
	}{
		{"a stair is laid down next morning", []strip.Step{{Number: 1, DurationMinutes: 449}, {Number: 2, DurationMinutes: 9, Lift: true}}, []strip.Day{
			{Number: 1, Work: []strip.Part{{Step: 1, Minutes: 449}}, Minutes: 449},
			{Number: 2, Work: []strip.Part{{Step: 2, Minutes: 9}}, Minutes: 9},
		}},
		{"props go in whole", []strip.Step{{Number: 1, DurationMinutes: 430}, {Number: 2, Kind: strip.Prop, DurationMinutes: 40}}, []strip.Day{
			{Number: 1, Work: []strip.Part{{Step: 1, Minutes: 430}}, Minutes: 430},
			{Number: 2, Work: []strip.Part{{Step: 2, Minutes: 40}}, Minutes: 40},
		}},
		{"no ten minutes before home time", []strip.Step{{Number: 1, DurationMinutes: 440}, {Number: 2, DurationMinutes: 40}}, []strip.Day{
			{Number: 1, Work: []strip.Part{{Step: 1, Minutes: 440}}, Minutes: 440},
			{Number: 2, Work: []strip.Part{{Step: 2, Minutes: 40}}, Minutes: 40},
		}},
		{"nor ten minutes in the morning", []strip.Step{{Number: 1, DurationMinutes: 400}, {Number: 2, DurationMinutes: 60}}, []strip.Day{
			{Number: 1, Work: []strip.Part{{Step: 1, Minutes: 400}, {Step: 2, Starts: 400, Minutes: 45, Goes: true}}, Minutes: 445},
			{Number: 2, Work: []strip.Part{{Step: 2, Minutes: 15, Went: true}}, Minutes: 15},
		}},
		{"a lift longer than a day starts in the morning", []strip.Step{{Number: 1, DurationMinutes: 10}, {Number: 2, DurationMinutes: 500, Lift: true}}, []strip.Day{
			{Number: 1, Work: []strip.Part{{Step: 1, Minutes: 10}}, Minutes: 10},
			{Number: 2, Work: []strip.Part{{Step: 2, Minutes: 450, Goes: true}}, Minutes: 450},
			{Number: 3, Work: []strip.Part{{Step: 2, Minutes: 50, Went: true}}, Minutes: 50},
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, strip.Days(tt.steps, domain.Calendar{DayMinutes: 450})); diff != "" {
				t.Errorf("Days (-want +got):\n%s", diff)
			}
		})
	}
}
