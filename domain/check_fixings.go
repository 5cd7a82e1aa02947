package domain

import (
	"slices"
	"strconv"
)

func (c *checker) fixings() {
	for i := range c.r.Fixings {
		f := &c.r.Fixings[i]
		s := spot{fixingNoun, i, f.Code}
		listed(c, s, "type", "type", f.Type, c.r.Catalogue.FixingTypes)
		c.whole(s, "count", f.Count, 1, 100_000)
		c.whole(s, "length_mm", f.LengthMm, 0, 10_000)
		c.whole(s, "bead_mm", f.BeadMm, 0, farthestMm)
		c.joins(s, f)
		c.run(s, f.Run, f.Count)
		for k, d := range f.Undo {
			c.direction(s, "undo/"+strconv.Itoa(k), d)
		}
		c.belongs(s, f.Assembly, f.State == FixingStruck)
		oneOf(c, s, "state", f.State, "", FixingIn, FixingUndone, FixingStruck)
		if f.State == FixingStruck {
			c.reason(s, f.Reason)
		} else if f.Drilled {
			c.fault(s, "drilled", "says that it was drilled, which is asked of a struck fixing only: take it out, or strike the fixing")
		}
		c.known(s, f.Known)
		c.whole(s, "built_order", f.BuiltOrder, 0, 1<<31-1)
		c.whole(s, "version", f.Version, 0, 1<<31-1)
		c.text(s, "builder", f.Builder)
		c.text(s, "reason", f.Reason)
		c.text(s, "note", f.Note)
	}
}

// joins holds a fixing to joining one element to one thing, through others.
func (c *checker) joins(s spot, f *Fixing) {
	c.find(s, "holds", f.Holds, elementNoun)
	switch {
	case f.IntoElement != "" && f.IntoHost != "":
		c.fault(s, "into_host", "goes into element %.60q and into host surface %.60q: a fixing goes into one thing, log two", f.IntoElement, f.IntoHost)
	case f.IntoHost != "":
		c.onHost(s, "into_host", f.IntoHost, f.State == FixingStruck)
	case f.IntoElement == "":
		c.fault(s, "into_element", "goes into nothing: name the element or the host surface that it goes into")
	case f.IntoElement == f.Holds:
		c.fault(s, "into_element", "holds element %s to itself: name what it goes into", f.Holds)
	default:
		c.find(s, "into_element", f.IntoElement, elementNoun)
	}
	for k, code := range f.Through {
		field := "through/" + strconv.Itoa(k)
		switch {
		case code == f.Holds || code == f.IntoElement && code != "":
			c.fault(s, field, "passes through %s, which it already holds or goes into: name only what lies between", code)
		case slices.Index(f.Through, code) < k:
			c.fault(s, field, "passes through %s twice: once is enough", code)
		default:
			c.find(s, field, code, elementNoun)
		}
	}
}
