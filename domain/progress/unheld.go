package progress

import (
	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/strip"
)

// NotPropped is what stands by a plan of r that has lost what held it, or part of it, and that no signed support holds either.
func NotPropped(r *domain.Register, s *strip.Sequence) []strip.Unheld {
	var propped []string
	for _, in := range Supports(r) {
		propped = append(propped, in.Pieces...)
	}
	var out []strip.Unheld
	for _, u := range s.Unheld {
		if u = u.But(propped); len(u.All()) > 0 {
			out = append(out, u)
		}
	}
	return out
}

// Stops is the same as advice, said before anything else of a strip-out; and, as a warning, what nothing holds and is light enough
// to come down in the hand.
func Stops(r *domain.Register, s *strip.Sequence) []domain.Advice {
	var out []domain.Advice
	for _, u := range NotPropped(r, s) {
		out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Stop, Codes: u.All(), Text: u.Stop(),
			Mend: "the step that props it is signed once its support is in"})
	}
	if words := s.LooseWords(); words != "" {
		out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: s.Loose, Text: words, Mend: "tick it off in its step once it is down"})
	}
	return out
}
