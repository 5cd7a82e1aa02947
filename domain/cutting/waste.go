package cutting

import (
	"cmp"
	"slices"
)

// lessWaste looks for a cutting of the same pieces at no more money that uses less length of stock: what is used less what
// is made is waste. It has rounds to spend, and there is no claim that its answer is the least.
func lessWaste(p *Lengths, open []int, bars []Layout, limits Limits, rounds int) ([]Layout, int) {
	if len(bars) == 0 {
		return bars, 0
	}
	spent, price := int64(0), costs(p)
	for _, l := range bars {
		spent += int64(l.Times) * price[l.Stock]
	}
	if limits.Rounds <= 0 || rounds < limits.Rounds {
		limits.Rounds = rounds
	}
	limits.Progress = nil
	s := newSearch(newLengthCore(p, open, spent), limits)
	if len(s.stock) == 1 || len(s.need)+len(s.stock) > mostRows {
		return bars, 0 // one length only: the waste is what the number of bars makes it
	}
	s.offer(s.fromLayouts(p, bars))
	before := s.cheap
	s.dives(s.fromLayouts(p, bars))
	if s.cheap >= before {
		return bars, s.round
	}
	return s.layOut(p, s.best, slices.Clone(open)), s.round
}

// wasteListed is how many patterns are searched exactly for less waste.
const wasteListed = 2000

// dives looks for better cuttings, and for the best where few patterns could be part of a better one.
func (s *search) dives(start []use) {
	m := newMaster(s, s.pricing())
	for _, u := range start {
		m.bring(u.pattern)
	}
	m.hasty = true
	m.generate()
	m.complete()
	root := m.mark()
	for turns := 0; !s.proven() && !s.stopped(); turns++ {
		m.dive(turns)
		m.back(root)
		if m.hasty && !s.proven() {
			m.hasty = false
			m.generate()
			root = m.mark()
		}
		if !s.proven() && !s.stopped() {
			s.searchPool(&m.proof, s.cheap-1, wasteListed)
		}
		m.noise = 0.3
	}
}

// fromLayouts is a cutting in the terms of the core.
func (c *core) fromLayouts(p *Lengths, bars []Layout) []use {
	item, stock := make([]int32, len(p.Demand)), make([]int32, len(p.Stock))
	for i, rows := range c.rows {
		for _, row := range rows {
			item[row] = int32(i)
		}
	}
	for g := range c.stock {
		for _, s := range c.stock[g].members {
			stock[s] = int32(g)
		}
	}
	uses := make([]use, 0, len(bars))
	for _, l := range bars {
		u := use{pattern{stock: stock[l.Stock]}, l.Times}
		for _, cut := range l.Cuts {
			if n := len(u.item); n > 0 && u.item[n-1] == item[cut.Demand] {
				u.count[n-1]++
			} else {
				u.item, u.count = append(u.item, item[cut.Demand]), append(u.count, 1)
			}
		}
		uses = append(uses, u)
	}
	return uses
}

// shorten cuts what can be cut from shorter bars of the same price from those, the longest cut first and each from the
// shortest that holds it: less waste, and no cut where one is just as long. It is quick, and done in any case.
func shorten(p *Lengths, bars []Layout) []Layout {
	left := make([]int, len(p.Stock))
	for s := range p.Stock {
		left[s] = p.Stock[s].Count
	}
	order := make([]int, len(p.Stock))
	for s := range order {
		order[s] = s
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Stock[a].LengthMm, p.Stock[b].LengthMm) })
	if len(bars)*len(order) > 50_000_000 {
		return bars
	}
	single := oneByOne(p, bars, left)
	slices.SortStableFunc(single, func(a, b Layout) int { return cmp.Compare(end(&a), end(&b)) })
	price := costs(p)
	for n := range single {
		l := &single[n]
		for _, s := range order {
			if p.Stock[s].LengthMm >= p.Stock[l.Stock].LengthMm {
				break
			}
			if (left[s] == Unlimited || left[s] >= l.Times) && price[s] == price[l.Stock] && p.Stock[s].LengthMm >= end(l) && mayServe(p, s, l) {
				swap(left, s, l)
				pieces := make([]int, 0, len(l.Cuts))
				for _, c := range l.Cuts {
					pieces = append(pieces, c.Demand)
				}
				*l = lay(p, s, l.Times, pieces)
				break
			}
		}
	}
	return mergeLike(single)
}

// oneByOne takes layouts of limited stock apart, bar by bar, and what they use off what is left.
func oneByOne(p *Lengths, bars []Layout, left []int) []Layout {
	var single []Layout
	for _, l := range bars {
		if left[l.Stock] == Unlimited {
			single = append(single, l)
			continue
		}
		left[l.Stock] -= l.Times
		for n := l.Times; n > 0; n-- {
			l.Times = 1
			single = append(single, l)
		}
	}
	return single
}

// swap takes a layout's bars from another row of stock.
func swap(left []int, to int, l *Layout) {
	if left[to] != Unlimited {
		left[to] -= l.Times
	}
	if left[l.Stock] != Unlimited {
		left[l.Stock] += l.Times
	}
}

// end is where the last piece of a layout ends.
func end(l *Layout) int { return l.Cuts[len(l.Cuts)-1].ToMm }

func mayServe(p *Lengths, s int, l *Layout) bool {
	serves := p.Stock[s].Serves
	return len(serves) == 0 || !slices.ContainsFunc(l.Cuts, func(c Cut) bool { return !slices.Contains(serves, p.Demand[c.Demand].Kind) })
}
