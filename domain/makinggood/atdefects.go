package makinggood

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// mostPlaces are named one by one; of more the rest is counted.
const mostPlaces = 6

// placesAtDefects says where the holes of a set are that lie in defects of the start: the set's run alone would name the
// same place for them and for the others. "" where none do.
func placesAtDefects(host *domain.HostSurface, h *domain.Hole) string {
	if !h.Charged() {
		return "" // its row is one
	}
	in := host.AtDefects(h)
	var places []string
	more := 0
	for i, p := range h.Run.Points() {
		if i >= len(in) || in[i] == 0 {
			continue
		}
		if len(places) == mostPlaces {
			more++
			continue
		}
		u, v, _ := host.Local(p)
		places = append(places, fmt.Sprintf("%.0f along, %.0f across", u, v))
	}
	words := strings.Join(places, "; ")
	if more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return words
}

// atDefects is how many open holes of a set lie in defects that the condition record of the start has, and which. What is
// made good or kept is not asked for: its row is one.
func atDefects(host *domain.HostSurface, h *domain.Hole) (n int, names string) {
	if !h.Charged() {
		return 0, ""
	}
	var in []int
	for _, d := range host.AtDefects(h) {
		if d > 0 {
			n++
			in = append(in, d)
		}
	}
	if n == 0 {
		return 0, ""
	}
	slices.Sort(in)
	var words []string
	for _, d := range slices.Compact(in) {
		words = append(words, domain.Found{Number: d}.Name(host.Code))
	}
	return n, strings.Join(words, ", ")
}
