package cutting

// block is panels put together so that straight-through cuts part them: one panel, or two blocks beside each other along
// the sheet's length, or one above the other. Sizes are with a kerf on each panel, so that they simply add up.
type block struct {
	long, wide    int
	item          int32 // of a single panel
	turned        bool
	above         bool // the second lies above the first, not beside it
	first, second *block
}

func single(item int32, long, wide int, turned bool) *block {
	return &block{long: long, wide: wide, item: item, turned: turned}
}

// join puts two blocks together; either may be nil.
func join(first, second *block, above bool) *block {
	switch {
	case first == nil:
		return second
	case second == nil:
		return first
	case above:
		return &block{long: max(first.long, second.long), wide: first.wide + second.wide, above: true, first: first, second: second}
	}
	return &block{long: first.long + second.long, wide: max(first.wide, second.wide), first: first, second: second}
}

// each calls f for each single panel.
func (b *block) each(f func(leaf *block)) {
	if b == nil {
		return
	}
	if b.first == nil {
		f(b)
		return
	}
	b.first.each(f)
	b.second.each(f)
}

// only is the block with those panels left for which keep is true; it closes up.
func (b *block) only(keep func(leaf *block) bool) *block {
	switch {
	case b == nil:
		return nil
	case b.first == nil:
		if keep(b) {
			return b
		}
		return nil
	}
	return join(b.first.only(keep), b.second.only(keep), b.above)
}

// patternOf counts what a block makes.
func patternOf(stock int, b *block, items int) pattern {
	counts := make([]int32, items)
	b.each(func(leaf *block) { counts[leaf.item]++ })
	q := pattern{stock: int32(stock), block: b}
	for i, k := range counts {
		if k > 0 {
			q.item, q.count = append(q.item, int32(i)), append(q.count, k)
		}
	}
	return q
}

// sawing turns a block into the cuts, panels and offcuts of one sheet.
type sawing struct {
	kerf   int
	row    func(leaf *block) int // the row of demand of a panel
	layout *SheetLayout
}

// saw cuts a part down to the block: first off what is over, the larger offcut whole, then the block apart.
func (w *sawing) saw(part Rect, b *block) {
	long, wide := b.long-w.kerf, b.wide-w.kerf
	across, along := part.LengthMm-long, part.WidthMm-wide // what is over
	if int64(across)*int64(part.WidthMm) >= int64(along)*int64(part.LengthMm) {
		part = w.trim(part, long, false)
		part = w.trim(part, wide, true)
	} else {
		part = w.trim(part, wide, true)
		part = w.trim(part, long, false)
	}
	if b.first == nil {
		w.layout.Panels = append(w.layout.Panels, Placed{Demand: w.row(b), Turned: b.turned, Rect: part})
		return
	}
	size := b.first.long - w.kerf
	if b.above {
		size = b.first.wide - w.kerf
	}
	one, other := w.cut(part, size, b.above)
	w.saw(one, b.first)
	w.saw(other, b.second)
}

// trim cuts a part to a size, one way; what is left beyond the kerf is an offcut.
func (w *sawing) trim(part Rect, size int, rip bool) Rect {
	if rip && part.WidthMm == size || !rip && part.LengthMm == size {
		return part
	}
	kept, off := w.cut(part, size, rip)
	if off.LengthMm > 0 && off.WidthMm > 0 {
		w.layout.Offcuts = append(w.layout.Offcuts, off)
	}
	return kept
}

func (w *sawing) cut(part Rect, size int, rip bool) (one, other Rect) {
	one, other = part, part
	if rip {
		one.WidthMm = size
		other.YMm += size + w.kerf
		other.WidthMm -= size + w.kerf
		w.layout.Saw = append(w.layout.Saw, SawCut{Part: part, Rip: true, AtMm: part.YMm + size})
		return one, other
	}
	one.LengthMm = size
	other.XMm += size + w.kerf
	other.LengthMm -= size + w.kerf
	w.layout.Saw = append(w.layout.Saw, SawCut{Part: part, AtMm: part.XMm + size})
	return one, other
}
