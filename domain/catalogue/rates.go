package catalogue

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"unpick/domain"
)

// WithMinutes is a copy of c with a firm's own minutes for some of its work rates, by key. The job, the unit and the
// source stay; confirmed says that the figure is the firm's, and what it stands in for. Refuses a key that c does not
// have and minutes that are not over 0.
func WithMinutes(c *domain.Catalogue, own map[string]float64) (*domain.Catalogue, error) {
	rates := maps.Clone(c.WorkRates)
	for _, key := range slices.Sorted(maps.Keys(own)) {
		w, ok := rates[key]
		if !ok {
			return nil, domain.Errorf(domain.NotFound, "there is no work rate %q", key)
		}
		if !(own[key] > 0) {
			return nil, domain.Errorf(domain.Invalid, "work rate %q must be over 0 minutes, not %v", key, own[key])
		}
		w.Confirmed = fmt.Sprintf("the firm's own figure, for %s", strconv.FormatFloat(w.Minutes, 'g', -1, 64))
		w.Minutes = own[key]
		rates[key] = w
	}
	out := *c
	out.WorkRates = rates
	return &out, nil
}
