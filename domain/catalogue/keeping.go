package catalogue

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"sync"

	"unpick/domain"
)

const keepingColumns = "stuff,least_length_mm,least_width_mm,screws_per_m,again,reason,source,confirmed"

// Keeping is the least that is worth carrying away of one kind of material, and how many screw holes a metre make a
// length one to look at before it carries anything again. 0 sets no limit. Again says that a kind is never used again, or
// only as part of its whole set.
type Keeping struct {
	Stuff         string // a material's kind
	LeastLengthMm int
	LeastWidthMm  int
	ScrewsPerM    float64
	Again         Again
	Reason        string
	domain.Sourced
}

// Again says whether a kind of material may be used again. Empty is yes.
type Again string

// The kinds that may not, or not by themselves.
const (
	Never   Again = "never"
	AsASet  Again = "set" // only together with everything it was tested with
	fireSet       = "fire set"
	cable         = "cable"
)

var keepings = sync.OnceValue(func() map[string]Keeping {
	var out map[string]Keeping
	err := into(&out, tables(), "keeping.csv", keepingColumns, func(r row) Keeping {
		return Keeping{r.text("stuff"), r.whole("least_length_mm"), r.whole("least_width_mm"), r.number("screws_per_m"), Again(r.text("again")), r.must("reason"), r.sourced()}
	})
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err))
	}
	return out
})

// KeepingOf is the row for a material. Not ok for what is a unit in itself, as a door, a hanger or a cartridge is:
// metal has a least length only where it is sold by the length.
func KeepingOf(m domain.Material) (Keeping, bool) {
	if IsCable(m) {
		return keepings()[cable], true
	}
	k, ok := keepings()[m.Kind]
	return k, ok && (m.Kind != "metal" || len(m.StockLengthsMm) > 0)
}

// Keepings are all the rows, in order of stuff.
func Keepings() []Keeping {
	return slices.SortedFunc(maps.Values(keepings()), func(a, b Keeping) int { return cmp.Compare(a.Stuff, b.Stuff) })
}

// FireSet is the row for the parts of a tested fire set.
func FireSet() Keeping { return keepings()[fireSet] }

// IsCable reports whether a material is cable by its List of Waste entry.
func IsCable(m domain.Material) bool { return m.WasteCode == "17 04 11" }

// IsGypsum reports whether a material is gypsum-based by its List of Waste entry: plasterboard, plank, gypsum fibre.
func IsGypsum(m domain.Material) bool { return m.WasteCode == "17 08 02" }
