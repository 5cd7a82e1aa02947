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
	if !splits(h) {
		return ""
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

// splits reports whether the holes of a set that lie in defects of the start have a row of their own. Those that are made good
// have too: who fills what was not owed is not charged for it. What is kept is excused as a whole.
func splits(h *domain.Hole) bool { return h.Charged() || h.State == domain.HoleMadeGood }

// atDefects is how many holes of a set lie in defects that the condition record of the start has, and which.
func atDefects(host *domain.HostSurface, h *domain.Hole) (n int, names string) {
	if !splits(h) {
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
