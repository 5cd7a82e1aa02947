package cutting

import "slices"

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

// complete offers the cutting that the whole parts of the relaxation make, the rest cut greedily.
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
