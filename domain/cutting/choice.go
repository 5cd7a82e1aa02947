package cutting

import "math"

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
