package resize

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
)

// Dimension is which size of an assembly it is, as a recipe's parameter is called without its unit.
type Dimension string

// The dimensions.
const (
	Length Dimension = "length"
	Height Dimension = "height"
	Along  Dimension = "along"
	Across Dimension = "across"
)

// Size is one size of one assembly that could be another. The zero value is of no use: see Sizes.
type Size struct {
	Assembly  string
	Name      string
	Recipe    string
	Dimension Dimension
	WasMm     int
	MostMm    int      // it may not be larger than this; 0 has no such limit
	Moves     []string // walls that slide with it
	redo      []string // assemblies made anew, this one and those that slide among them
	describe  func(mm int) ([]domain.Assembly, error)
	layout    *layout
}

// Fixed is a size that stays as it is, and why.
type Fixed struct {
	Assembly  string
	Name      string
	Dimension Dimension
	Why       string
}

// Sizes are the sizes of a register that could be others, and those that are fixed, in order of assembly and dimension.
// Only what a recipe made and still makes alike has sizes: what was amended by hand since is fixed.
func Sizes(r *domain.Register) ([]Size, []Fixed) {
	l := newLayout(r)
	var can []Size
	var fixed []Fixed
	for i := range r.Assemblies {
		a := &r.Assemblies[i]
		if a.Struck || !l.stands[a.Code] {
			continue
		}
		for _, found := range l.sizesOf(a) {
			if found.why == "" {
				found.why = l.asDescribed(found.redo)
			}
			if found.why != "" {
				fixed = append(fixed, Fixed{a.Code, a.Name, found.Dimension, found.why})
				continue
			}
			slices.Sort(found.Moves)
			can = append(can, found.Size)
		}
	}
	slices.SortStableFunc(can, func(a, b Size) int {
		return cmp.Or(cmp.Compare(a.Assembly, b.Assembly), cmp.Compare(a.Dimension, b.Dimension))
	})
	slices.SortStableFunc(fixed, func(a, b Fixed) int {
		return cmp.Or(cmp.Compare(a.Assembly, b.Assembly), cmp.Compare(a.Dimension, b.Dimension))
	})
	return can, fixed
}

// candidate is a size, or why it is none.
type candidate struct {
	Size
	why string
}

func (l *layout) sizesOf(a *domain.Assembly) []candidate {
	switch a.Recipe {
	case "stud-wall":
		return []candidate{l.wallLength(a), l.wallHeight(a)}
	case "mezzanine":
		return l.mezzanine(a)
	case "ceiling":
		return l.ceiling(a)
	}
	return nil
}

func (l *layout) newSize(a *domain.Assembly, d Dimension, mm int) candidate {
	return candidate{Size: Size{Assembly: a.Code, Name: a.Name, Recipe: a.Recipe, Dimension: d, WasMm: mm, layout: l, redo: []string{a.Code}}}
}

func (c candidate) not(format string, args ...any) candidate {
	c.why = fmt.Sprintf(format, args...)
	return c
}
