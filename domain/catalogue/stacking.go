package catalogue

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"unpick/domain"
)

const stackingColumns = "stuff,factor,reason,source,confirmed"

// Stacking is how much more room a stack of one kind of material takes than the material itself.
type Stacking struct {
	Stuff  string // a material's kind
	Factor float64
	Reason string
	domain.Sourced
}

var stackings = sync.OnceValue(func() map[string]Stacking {
	var out map[string]Stacking
	err := into(&out, tables(), "stacking.csv", stackingColumns, func(r row) Stacking {
		return Stacking{r.text("stuff"), r.positive("factor"), r.must("reason"), r.sourced()}
	})
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err))
	}
	return out
})

// StackingOf is the row for a material; ok for every kind that the catalogue has.
func StackingOf(m domain.Material) (Stacking, bool) {
	s, ok := stackings()[m.Kind]
	return s, ok
}

// Stackings are all the rows, in order of stuff.
func Stackings() []Stacking {
	return slices.SortedFunc(maps.Values(stackings()), func(a, b Stacking) int { return strings.Compare(a.Stuff, b.Stuff) })
}
