package domain_test

import (
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
)

func TestWithRates(t *testing.T) {
	t.Parallel()
	base := catalogue.Default()
	c := base.WithRates([]domain.OwnRate{{Key: "take-down-stud", Minutes: 2}, {Key: "take-down-roof", Minutes: 2}})
	was, now := base.WorkRates["take-down-stud"], c.WorkRates["take-down-stud"]
	if now.Minutes != 2 || now.Source != was.Source || now.Confirmed != "the firm's own figure, for 1.5" {
		t.Errorf("WithRates gives %+v", now)
	}
	if was.Minutes != 1.5 || len(c.WorkRates) != len(base.WorkRates) {
		t.Errorf("WithRates wrote to the catalogue it was given, or added a job: %+v", was)
	}
}
