package makinggood

import (
	"slices"
	"strings"

	"unpick/domain"
)

// atDefects is how many holes of a set lie in defects that the condition record of the start has, and which.
func atDefects(host *domain.HostSurface, h *domain.Hole) (n int, names string) {
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
