package cutting

import (
	"math"
	"slices"
)

// choice is what a search decides at a node: patterns cut for good, or, where there is more than one length to buy, a
// bound on how many bars of a group are used.
type choice struct {
	uses  []use
	group int
	total int  // bars of the group: at most so many, or one more at least
	more  bool // at least
}

// fix makes a choice: patterns that make more of an item than is then open are banned.
func (m *master) fix(c *choice) {
	m.depth++
	if len(c.uses) == 0 {
		m.limit(c.group, c.total, c.more)
		return
	}
	for _, u := range c.uses {
		m.fixed = append(m.fixed, u)
		m.spent += int64(u.times) * m.stock[u.stock].cost
		m.budgetLeft -= int64(u.times) * m.stock[u.stock].money
		for k, i := range u.item {
			m.need[i] = max(0, m.need[i]-u.times*int(u.count[k]))
			m.program.right[i] = float64(m.need[i])
		}
		s := u.stock
		if m.left[s] != Unlimited {
			m.left[s] -= u.times
		}
		m.low[s] = max(0, m.low[s]-u.times)
		m.setTotals(int(s))
	}
	m.setBudget()
	if m.exact {
		m.trim()
	}
	m.program.refresh()
	m.program.broken = !m.program.dual()
	for n := range m.patterns {
		if !m.proper(&m.patterns[n]) {
			m.program.banned[int(m.first)+n] = true
		}
	}
	m.program.refresh()
}

// unfix takes the other side of a choice: the pattern never again, or the other bound.
func (m *master) unfix(c *choice) {
	m.depth++
	if len(c.uses) == 0 {
		m.limit(c.group, c.total, !c.more)
		return
	}
	m.program.banned[m.known[m.name(&c.uses[0].pattern)]] = true
	m.program.refresh()
}

func (m *master) limit(group, total int, more bool) {
	if more {
		m.low[group] = total + 1
	} else {
		m.left[group] = total
	}
	m.setTotals(group)
	m.program.refresh()
	m.program.broken = !m.program.dual()
}

// setTotals puts what is left of a group, and what must be used, on the program's right side.
func (m *master) setTotals(group int) {
	if r := m.row[group]; r >= 0 {
		m.program.right[r] = float64(m.left[group])
		if m.left[group] == Unlimited {
			m.program.right[r] = float64(m.pieces())
		}
	}
	if r := m.least[group]; r >= 0 {
		m.program.right[r] = -float64(m.low[group])
	}
}

// proper says whether a pattern makes no more than is open.
func (m *master) proper(q *pattern) bool {
	if m.left[q.stock] == 0 {
		return false
	}
	for k, i := range q.item {
		if int(q.count[k]) > m.need[i] {
			return false
		}
	}
	return true
}

// trim brings in, for listed patterns that make more than is now open, what they make of it: the list has only patterns
// to which nothing can be added. What no cutting within the aim can use is left out.
func (m *master) trim() {
	for n := range len(m.patterns) {
		q := &m.patterns[n]
		if m.program.banned[int(m.first)+n] || m.left[q.stock] == 0 || m.proper(q) {
			continue
		}
		reduced := m.rent[q.stock]
		short := pattern{stock: q.stock}
		for k, i := range q.item {
			if count := min(q.count[k], int32(m.need[i])); count > 0 {
				short.item, short.count = append(short.item, i), append(short.count, count)
				reduced -= m.duals.value[i] * int64(count)
			}
		}
		if len(short.item) > 0 && reduced <= m.room {
			m.bring(short)
		}
	}
}

// node is a state of the search to come back to.
type node struct {
	program         *saved
	need, left, low []int
	fixed, depth    int
	spent, budget   int64
}

func (m *master) mark() *node {
	return &node{m.program.save(), slices.Clone(m.need), slices.Clone(m.left), slices.Clone(m.low), len(m.fixed), m.depth, m.spent, m.budgetLeft}
}

func (m *master) back(n *node) {
	m.program.restore(n.program)
	copy(m.need, n.need)
	copy(m.left, n.left)
	copy(m.low, n.low)
	m.fixed, m.depth, m.spent = m.fixed[:n.fixed], n.depth, n.spent
	m.budgetLeft = n.budget
	for k := range m.patterns[len(n.program.banned)-int(m.first):] {
		n := k + len(n.program.banned) - int(m.first)
		m.program.banned[int(m.first)+n] = !m.proper(&m.patterns[n])
	}
}

// whole is how near to a whole number counts as one.
const whole = 1e-6

// round offers the cutting that the whole parts of the relaxation make, the rest cut greedily.
func (m *master) complete() {
	need, left := slices.Clone(m.need), slices.Clone(m.left)
	uses := slices.Clone(m.fixed)
	for s := range left {
		if m.stock[s].count == Unlimited {
			left[s] = Unlimited // the search's own bounds do not bind a cutting
		}
	}
	for p, j := range m.program.basis {
		n := int(m.program.x[p] + whole)
		if j < m.first || n == 0 {
			continue
		}
		q := m.patterns[j-m.first]
		if left[q.stock] != Unlimited {
			n = min(n, left[q.stock])
			left[q.stock] -= n
		}
		if n <= 0 {
			continue
		}
		for k, i := range q.item {
			need[i] = max(0, need[i]-n*int(q.count[k]))
		}
		uses = append(uses, use{q, n})
	}
	m.offer(append(uses, m.fill(need, left)...))
}

// dive fixes patterns, the nearest to whole first, and solves what is left, down to a cutting; then it goes back at most
// `turns` times on the way down to where a choice was made, and forbids it (Sadykov, Vanderbeck, Pessoa, Tahiri, Uchoa,
// "Primal heuristics for branch and price: the assets of diving methods", INFORMS Journal on Computing 31, 2019,
// 10.1287/ijoc.2018.0822). Complete: nothing at most at the aim lies below here. A choice is one pattern cut once more, or
// never again, so that with unlimited turns and all patterns listed nothing is missed.
func (m *master) dive(turns int) (complete bool) {
	complete = true
	for {
		if m.generate() {
			return complete
		}
		if m.stopped() || m.program.broken {
			return false
		}
		m.complete()
		if m.proven() {
			return true
		}
		if m.exact {
			m.banUseless()
		}
		choice := m.choose()
		if choice == nil {
			return complete && m.beyond(m.centred)
		}
		if turns == 0 {
			m.fix(choice)
			complete = false
			continue
		}
		here := m.mark()
		m.fix(choice)
		if !m.dive(turns) {
			complete = false
		}
		if m.proven() || m.stopped() {
			return complete
		}
		m.back(here)
		turns--
		m.unfix(choice)
	}
}

// beyond says whether a bound on what is open, in 1/scale, leaves nothing to be found here.
func (m *master) beyond(worth int64) bool {
	least := m.attain.atLeast(m.spent + m.duals.up(worth))
	return least >= m.cheap || least > m.aim
}

// banUseless bans the patterns that no cutting within the aim can use from here on, by their reduced cost in whole numbers.
func (m *master) banUseless() {
	d := &m.duals
	over, under := m.shrink(d, m.left)
	room := (min(m.aim, m.cheap-1)-m.spent)*d.scale + d.money*m.budgetLeft
	for i, v := range d.value {
		v = mulDiv(v, over, under)
		if m.short[i] > 0 {
			v = min(v, m.short[i]*d.scale)
		}
		d.value[i] = v
		room -= v * int64(m.need[i])
	}
	price := m.rent
	for s := range m.stock {
		price[s] = mulDiv(d.best[s], over, under)
		switch rent := price[s] - d.price[s]; {
		case rent > 0:
			room += int64(m.left[s]) * rent
		case m.low[s] > 0:
			room += int64(m.low[s]) * rent
		default:
			price[s] = d.price[s]
		}
	}
	m.room = room
	for n := range m.patterns {
		j := int(m.first) + n
		if m.program.banned[j] || m.program.at[j] >= 0 {
			continue
		}
		q := &m.patterns[n]
		reduced := price[q.stock]
		for k, i := range q.item {
			reduced -= d.value[i] * int64(q.count[k])
		}
		if reduced > room {
			m.program.banned[j] = true
		}
	}
}

// choose is what to decide next, nil if all is whole: first how many of each length are bought. Then, on the way to a
// cutting: the whole parts of all patterns at once, else the pattern nearest above; in an exact search: one more of the
// pattern whose part is nearest above.
func (m *master) choose() *choice {
	if m.exact {
		if c := m.chooseTotal(); c != nil {
			return c
		}
	}
	var out []use
	nearest, at := 0.0, int32(-1)
	for p, j := range m.program.basis {
		if j < m.first || m.program.banned[j] {
			continue
		}
		x := m.program.x[p]
		n := math.Floor(x + whole)
		part := x - n
		if n >= 1 {
			out = append(out, use{m.patterns[j-m.first], int(n)})
		}
		if part <= whole {
			continue
		}
		if m.noise > 0 {
			part *= 1 - m.noise*m.random.Float64()
		}
		if part > nearest+whole || part > nearest-whole && j < at {
			nearest, at = part, j
		}
	}
	if m.exact {
		out = out[:0]
	}
	if len(out) == 0 && at >= 0 {
		out = append(out, use{m.patterns[at-m.first], 1})
	}
	if len(out) == 0 {
		return nil
	}
	return &choice{uses: out}
}

// chooseTotal is the length to buy whose number is furthest from whole, towards the nearer side.
func (m *master) chooseTotal() *choice {
	totals := make([]float64, len(m.stock))
	for p, j := range m.program.basis {
		if j >= m.first {
			totals[m.patterns[j-m.first].stock] += m.program.x[p]
		}
	}
	for g, j := range m.empty {
		if j >= 0 && m.program.at[j] >= 0 {
			totals[g] += m.program.x[m.program.at[j]]
		}
	}
	var best *choice
	furthest := 1e-4
	for g, total := range totals {
		if m.least[g] < 0 {
			continue
		}
		n := math.Floor(total)
		part := total - n
		if off := min(part, 1-part); off > furthest {
			furthest, best = off, &choice{group: g, total: int(n), more: part > 0.5}
		}
	}
	return best
}
