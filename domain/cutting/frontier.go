package cutting

import "math"

// frontier is, for every part of a small demand, the smallest blocks that hold it: no other block of it by straight-through
// cuts is both shorter and narrower. With it a small problem is solved exactly: blocks are built from every two parts
// (bottom up, as in Wang, "Two algorithms for constrained two-dimensional cutting stock problems", Operations Research 31,
// 1983, 10.1287/opre.31.3.573, without her waste limit), then parts are assigned to sheets by dynamic programming.
type frontier struct {
	*sheetCore
	radix  []int // per item, what one piece of it adds to a part's number
	parts  int
	counts [][]int32  // per part, per item
	blocks [][]*block // per part
	work   int
	stop   func() bool
}

// Limits of what counts as small.
const (
	frontierParts = 4096
	frontierWork  = 60_000_000
)

// newFrontier is nil where the demand is not small, or too much work.
func (c *sheetCore) newFrontier(stop func() bool) *frontier {
	f := &frontier{sheetCore: c, parts: 1, stop: stop}
	for _, n := range c.need {
		f.radix = append(f.radix, f.parts)
		if f.parts *= n + 1; f.parts > frontierParts {
			return nil
		}
	}
	f.counts, f.blocks = make([][]int32, f.parts), make([][]*block, f.parts)
	for part := range f.parts {
		f.counts[part] = make([]int32, len(c.need))
		for i, n := range c.need {
			f.counts[part][i] = int32(part / f.radix[i] % (n + 1))
		}
	}
	for part := 1; part < f.parts; part++ {
		if !f.build(part) {
			return nil
		}
	}
	return f
}

// within says whether one part is a part of the other.
func (f *frontier) within(small, large int) bool {
	for i, n := range f.counts[small] {
		if n > f.counts[large][i] {
			return false
		}
	}
	return true
}

func (f *frontier) build(part int) bool {
	pieces := int32(0)
	last := 0
	for i, n := range f.counts[part] {
		if pieces += n; n > 0 {
			last = i
		}
	}
	if pieces == 1 {
		for _, w := range f.ways(last) {
			f.add(part, w.long, w.wide, func() *block { return single(int32(last), w.long, w.wide, w.turned) })
		}
		return true
	}
	for one := 1; 2*one <= part; one++ {
		if !f.within(one, part) {
			continue
		}
		if f.work += len(f.blocks[one]) * len(f.blocks[part-one]); f.work > frontierWork || one%1024 == 0 && f.stop() {
			return false
		}
		for _, a := range f.blocks[one] {
			for _, b := range f.blocks[part-one] {
				f.add(part, a.long+b.long, max(a.wide, b.wide), func() *block { return join(a, b, false) })
				f.add(part, max(a.long, b.long), a.wide+b.wide, func() *block { return join(a, b, true) })
			}
		}
	}
	return true
}

// add keeps a block if it fits on some sheet and none that is kept is as short and as narrow.
func (f *frontier) add(part, long, wide int, make func() *block) {
	fits := false
	for s := range f.stock {
		fits = fits || long <= f.sheetLong[s] && wide <= f.sheetWide[s]
	}
	if !fits {
		return
	}
	for _, b := range f.blocks[part] {
		if b.long <= long && b.wide <= wide {
			return
		}
	}
	kept := f.blocks[part][:0]
	for _, b := range f.blocks[part] {
		if b.long < long || b.wide < wide {
			kept = append(kept, b)
		}
	}
	f.blocks[part] = append(kept, make())
}

// on is a block of a part that fits on a sheet of a group, nil if there is none.
func (f *frontier) on(part, s int) *block {
	for i, n := range f.counts[part] {
		if n > 0 && !f.serves[f.stock[s].class][i] {
			return nil
		}
	}
	for _, b := range f.blocks[part] {
		if b.long <= f.sheetLong[s] && b.wide <= f.sheetWide[s] {
			return b
		}
	}
	return nil
}

// price of a part made: money with what stays open, then the area of the sheets used.
type price struct{ money, area int64 }

func (a price) less(b price) bool { return a.money < b.money || a.money == b.money && a.area < b.area }

// turn is one sheet in the dynamic program: which part it takes from each part that is made up to it.
type turn struct {
	stock int
	takes []int32
}

// best is the cutting of the least money, and of the least area of sheets at that; not ok if it is too much work.
func (f *frontier) best() (uses []use, ok bool) {
	made := make([]price, f.parts)
	for part := 1; part < f.parts; part++ {
		made[part].money = math.MaxInt64
	}
	var turns []turn
	for s := len(f.stock) - 1; s >= 0; s-- {
		fit := make([]bool, f.parts)
		any := 0
		for part := 1; part < f.parts; part++ {
			if fit[part] = f.on(part, s) != nil; fit[part] {
				any++
			}
		}
		if any == 0 {
			continue
		}
		copies := 1
		if f.stock[s].count != Unlimited {
			copies = min(f.stock[s].count, f.pieces())
		}
		for range copies {
			if f.work += f.parts * any; f.work > 4*frontierWork || f.stop() {
				return nil, false
			}
			turns = append(turns, f.turn(s, fit, &made))
		}
	}
	return f.trace(turns, made), true
}

// turn puts one more sheet of a group to use, or as many as wanted of unlimited stock.
func (f *frontier) turn(s int, fit []bool, made *[]price) turn {
	t := turn{s, make([]int32, f.parts)}
	before := *made
	after := append([]price(nil), before...)
	if f.stock[s].count == Unlimited {
		before = after // what this stock made already counts
	}
	for part := 1; part < f.parts; part++ {
		for take := 1; take <= part; take++ {
			if !fit[take] || !f.within(take, part) || before[part-take].money == math.MaxInt64 {
				continue
			}
			with := price{before[part-take].money + f.stock[s].cost, before[part-take].area + int64(f.stock[s].capacity)}
			if with.less(after[part]) {
				after[part], t.takes[part] = with, int32(take)
			}
		}
	}
	*made = after
	return t
}

// trace goes back over the turns from the part that is best made, what stays open priced.
func (f *frontier) trace(turns []turn, made []price) []use {
	best, part := price{money: math.MaxInt64}, 0
	for p := range f.parts {
		if made[p].money == math.MaxInt64 {
			continue
		}
		total := made[p]
		open := false
		for i, n := range f.counts[p] {
			left := int64(f.need[i]) - int64(n)
			total.money += left * f.short[i]
			open = open || left > 0 && f.short[i] == 0
		}
		if !open && total.less(best) {
			best, part = total, p
		}
	}
	var uses []use
	for n := len(turns) - 1; n >= 0; n-- {
		t := turns[n]
		for t.takes[part] > 0 {
			take := int(t.takes[part])
			uses = append(uses, use{patternOf(t.stock, f.on(take, t.stock), len(f.need)), 1})
			part -= take
			if f.stock[t.stock].count != Unlimited {
				break
			}
		}
	}
	return uses
}
