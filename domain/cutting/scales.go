package cutting

import (
	"math"
	"slices"
)

// boundByScales is the best bound that scaled areas give: quick, exact, and there for any number of panels.
//
// A scale gives every size a worth, so that the worths of parts never come to more than that of the whole (superadditive).
// With a scale F along the sheet and a scale G across it, the panels cut from a sheet of X x Y are worth at most F(X) G(Y) in
// all, each counting F(length) G(width): a panel is no larger than its part, and a straight cut shares the worth of a part
// out. So any two scales value the panels, as the relaxation's prices do, and every sheet has its most at once. Plain areas
// are one such pair; others count what goes on a sheet side by side, or nothing of what is small.
//
// For packing that is not by straight cuts: Fekete and Schepers, "New classes of fast lower bounds for bin packing problems",
// Mathematical Programming 91, 2001, 10.1007/s101070100243, where such scales are called dual feasible and conservative. The
// third kind is from Carlier, Clautiaux and Moukrim, "New reduction procedures and lower bounds for the two-dimensional bin
// packing problem with fixed orientation", Computers and Operations Research 34, 2007, 10.1016/j.cor.2005.08.012.
func (c *sheetCore) boundByScales(s *search) int64 {
	if len(c.stock) == 0 || len(c.long) == 0 {
		return 0
	}
	along, across := c.scales(true), c.scales(false)
	best, left := int64(0), s.left()
	for _, f := range along {
		for _, g := range across {
			best = max(best, c.scaledBound(left, c.pair(f, g)))
		}
	}
	return best
}

// scaledPair is what items and sheets are worth by two scales.
type scaledPair struct {
	item  []int64
	sheet []int64
}

// scale is the worth of the sizes that there are in one direction.
type scale struct {
	item  [2][]int64 // per item, as it lies and turned
	sheet []int64    // per group
}

// scaledWork is how many steps the scales of one direction may take, and all pairs of them.
const scaledWork = 20_000_000

// mostScaled is the largest sheet that is scaled, a kilometre: every millimetre of it gets a worth.
const mostScaled = 1_000_000

// scales are the scales of one direction, each once: plain sizes first, then the other kinds from every size that there is,
// or from some where there are many.
func (c *sheetCore) scales(along bool) []scale {
	sheets := c.sheetWide
	if along {
		sheets = c.sheetLong
	}
	most := slices.Max(sheets)
	sizes, whole := c.sizes(along, most), c.wholes(sheets, most)
	room := min(scaledWork/(most*len(sizes)+1), int(math.Sqrt(float64(scaledWork/(len(c.long)*len(c.stock)+1)))))
	plain := func(size int) int64 { return int64(size) }
	if room < 1 || most > mostScaled {
		return []scale{c.scale(along, sheets, plain)}
	}
	var out []scale
	add := func(worth func(size int) int64) {
		all := grown(worth, sizes, most)
		made := c.scale(along, sheets, func(size int) int64 {
			if size > most { // no sheet has it: such a way round is never used
				return 0
			}
			return all[size]
		})
		if !slices.ContainsFunc(out, made.same) {
			out = append(out, made)
		}
	}
	add(plain)
	for _, t := range thinned(sizes, max(1, room/(1+2*len(whole)))) {
		add(func(size int) int64 { return int64(size / t) })
		for _, l := range whole {
			if 2*t <= l {
				add(roundedOff(l, t))
				add(sharedOut(l, t))
			}
		}
	}
	return out
}

// wholes are the sizes of sheets that can be bought, in one direction; the largest there is where none can.
func (c *sheetCore) wholes(sheets []int, most int) []int {
	var out []int
	for g, size := range sheets {
		if c.stock[g].count == Unlimited {
			out = append(out, size)
		}
	}
	if len(out) == 0 {
		return []int{most}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// grown is what every size up to the largest is worth if it is worth as much as whatever sizes lie in it side by side: that
// is superadditive whatever the worths began as, and no more than it must be.
func grown(worth func(size int) int64, sizes []int, most int) []int64 {
	begun := make([]int64, len(sizes))
	for k, size := range sizes {
		begun[k] = worth(size)
	}
	out := make([]int64, most+1)
	for x := 1; x <= most; x++ {
		out[x] = out[x-1]
		for k, size := range sizes {
			if size > x {
				break
			}
			out[x] = max(out[x], out[x-size]+begun[k])
		}
	}
	return out
}

// scale is that of items and sheets by the worth of every size.
func (c *sheetCore) scale(along bool, sheets []int, worth func(size int) int64) scale {
	out := scale{sheet: make([]int64, len(sheets))}
	for i := range c.long {
		lies, turned := c.long[i], c.wide[i]
		if !along {
			lies, turned = turned, lies
		}
		out.item[0], out.item[1] = append(out.item[0], worth(lies)), append(out.item[1], worth(turned))
	}
	for g, size := range sheets {
		out.sheet[g] = worth(size)
	}
	return out
}

func (s scale) same(o scale) bool {
	return slices.Equal(s.sheet, o.sheet) && slices.Equal(s.item[0], o.item[0]) && slices.Equal(s.item[1], o.item[1])
}

// roundedOff counts nothing of what is smaller than t, and all of a sheet for what leaves no room on it for such: the rest
// as it is.
func roundedOff(whole, t int) func(int) int64 {
	return func(size int) int64 {
		switch {
		case size < t:
			return 0
		case size > whole-t:
			return int64(whole)
		}
		return int64(size)
	}
}

// sharedOut counts how many of t go into a size under half a sheet, and for one over half how many it leaves no room for.
func sharedOut(whole, t int) func(int) int64 {
	return func(size int) int64 {
		switch size = min(size, whole); {
		case 2*size < whole:
			return 2 * int64(size/t)
		case 2*size == whole:
			return int64(whole / t)
		}
		return 2 * int64(whole/t-(whole-size)/t)
	}
}

// sizes are the sizes of items in one direction, either way round where they may be turned, rising and each once.
func (c *sheetCore) sizes(along bool, most int) []int {
	var out []int
	for i := range c.long {
		for _, w := range c.ways(i) {
			size := w.wide
			if along {
				size = w.long
			}
			if size <= most {
				out = append(out, size)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// thinned is at most so many of the sizes, spread evenly.
func thinned(sizes []int, most int) []int {
	if len(sizes) <= most {
		return sizes
	}
	out := make([]int, 0, most)
	for k := range most {
		out = append(out, sizes[k*len(sizes)/most])
	}
	return out
}

// pair is the worth of every item, whichever way round it lies, and of every sheet.
func (c *sheetCore) pair(f, g scale) scaledPair {
	p := scaledPair{item: make([]int64, len(c.long)), sheet: make([]int64, len(c.stock))}
	for i := range c.long {
		p.item[i] = f.item[0][i] * g.item[0][i]
		if c.turn[i] && c.fitsTurned(i) {
			if turned := f.item[1][i] * g.item[1][i]; turned < p.item[i] || !c.fitsAsItLies(i) {
				p.item[i] = turned
			}
		}
	}
	for k := range c.stock {
		p.sheet[k] = f.sheet[k] * g.sheet[k]
	}
	return p
}

// scaledBound is the bound of one pair of scales, all worths multiplied until the cheapest sheet that can be bought is worth
// just what it costs.
func (c *sheetCore) scaledBound(left []int, p scaledPair) int64 {
	d := c.newDual()
	rate := math.Inf(1)
	for k := range c.stock {
		all := int64(0) // what it may serve is worth in all
		for i, worth := range p.item {
			if c.serves[c.stock[k].class][i] {
				all += worth * int64(c.need[i])
			}
		}
		d.best[k] = min(all, p.sheet[k])
		if c.stock[k].count == Unlimited && d.best[k] > 0 {
			rate = min(rate, float64(c.stock[k].cost)/float64(d.best[k]))
		}
	}
	for i, short := range c.short {
		if short > 0 && p.item[i] > 0 {
			rate = min(rate, float64(short)/float64(p.item[i]))
		}
	}
	if math.IsInf(rate, 1) {
		return 0
	}
	unit := int64(rate * float64(d.scale))
	for i, worth := range p.item {
		d.value[i] = unit * worth
	}
	for k := range d.best {
		d.best[k] *= unit
	}
	return d.up(c.worth(d, c.need, left, make([]int, len(c.stock)), 0))
}

// fitsAsItLies and fitsTurned say whether some sheet holds an item one way round or the other.
func (c *sheetCore) fitsAsItLies(i int) bool { return c.fitsSomewhere(i, c.long[i], c.wide[i]) }
func (c *sheetCore) fitsTurned(i int) bool   { return c.fitsSomewhere(i, c.wide[i], c.long[i]) }

func (c *sheetCore) fitsSomewhere(i, long, wide int) bool {
	for k := range c.stock {
		if c.serves[c.stock[k].class][i] && long <= c.sheetLong[k] && wide <= c.sheetWide[k] {
			return true
		}
	}
	return false
}
