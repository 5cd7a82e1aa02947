package plan

import (
	"maps"
	"slices"
	"strings"

	"unpick/domain/schedule"
)

// uses is how much of something is used for whom: by the assemblies that share it, each set of them once. A code has no line
// break in it, so that a line break holds a set together.
type uses map[string]float64

// add books a quantity for one assembly, or for several together; "" is none.
func (u uses) add(quantity float64, assemblies ...string) {
	u[strings.Join(slices.Compact(slices.Sorted(slices.Values(assemblies))), "\n")] += quantity
}

// other is all of it, rounded once, with shares that come to it: each is what all up to it come to, less those before.
func (u uses) other(key, what, unit, evidence string, round func(float64) float64) schedule.Other {
	o := schedule.Other{Key: key, What: what, Unit: unit, Evidence: evidence}
	upTo := 0.0
	for _, set := range slices.Sorted(maps.Keys(u)) {
		upTo += u[set]
		after := round(upTo)
		o.For = append(o.For, schedule.For{Assemblies: strings.Split(set, "\n"), Quantity: round(after - o.Quantity)})
		o.Quantity = after
	}
	return o
}
