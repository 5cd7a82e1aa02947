package pages

import (
	"net/url"
	"slices"

	"unpick/domain/progress"
)

// stepMeant is the number of the step that a form was typed for. The plan is made anew whenever something is ticked off,
// and a form may have waited for a signal meanwhile: it goes by the step's mark, or by the pieces in it, wherever they are
// in the plan now, and by the number in its address where it names nothing that is there.
func stepMeant(states []progress.StepState, number int, sent url.Values) int {
	if marked := sent.Get("/step"); marked != "" {
		if at := slices.IndexFunc(states, func(s progress.StepState) bool { return mark(s.Step) == marked }); at >= 0 {
			return at + 1
		}
		return number
	}
	best, most := number, 0
	for i, s := range states {
		score := 0
		for _, code := range sent["/elements"] {
			if slices.Contains(s.Step.Elements, code) {
				score += 2
			}
		}
		if score > 0 && i+1 == number {
			score++ // between equals the one of the address
		}
		if score > most {
			best, most = i+1, score
		}
	}
	return best
}
