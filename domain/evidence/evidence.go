// Package evidence is what somebody saw and put their name to: a photo of a piece, and what lay behind a board on the day
// that it was closed up.
//
// The idea: the best moment to look is the last one. Before boards go on, everything that goes out of sight behind them
// is listed; one photo and one name make all of it seen, and the sign-off says so for as long as the place stands.
//
// Looking for
//
//   - boards that are about to hide something: cover.go; what goes out of sight behind them: behind.go
//   - signing before they are closed up: close.go; a photo of one thing: photograph.go
package evidence

import "unpick/domain"

// Of are the sign-offs with evidence about a record that still hold, the newest first.
func Of(r *domain.Register, code string) []domain.SignOff {
	var out []domain.SignOff
	for _, kind := range domain.SignOffKinds() {
		for _, o := range r.Signed(kind) {
			for _, about := range o.About {
				if about == code {
					out = append(out, o)
					break
				}
			}
		}
	}
	return newestFirst(r, out)
}

// Photographs are the sign-offs that keep photos and still hold, the newest first.
func Photographs(r *domain.Register) []domain.SignOff {
	var out []domain.SignOff
	for _, kind := range domain.SignOffKinds() {
		for _, o := range r.Signed(kind) {
			if len(o.Photos) > 0 {
				out = append(out, o)
			}
		}
	}
	return newestFirst(r, out)
}

func newestFirst(r *domain.Register, some []domain.SignOff) []domain.SignOff {
	in := make(map[string]bool, len(some))
	for _, o := range some {
		in[o.Code] = true
	}
	out := make([]domain.SignOff, 0, len(some))
	for i := len(r.SignOffs) - 1; i >= 0; i-- {
		if in[r.SignOffs[i].Code] {
			out = append(out, r.SignOffs[i])
		}
	}
	return out
}
