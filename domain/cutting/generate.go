package cutting

import (
	"cmp"
	"math"
	"slices"
)

// steady is how much the prices keep of those of the best bound: smoothing against the swings of column generation
// (Wentges, "Weighted Dantzig-Wolfe decomposition for linear mixed-integer programming", 1997, 10.1016/S0969-6016(97)00001-4).
const steady = 0.6

// generate brings in patterns until none pays, or until no cutting from here on can cost less than the best (pruned).
func (m *master) generate() (pruned bool) {
	m.centred = -1
	for s, low := range m.low {
		if m.left[s] != Unlimited && low > m.left[s] {
			return true
		}
	}
	keep := 0.0
	for {
		m.program.primal()
		if m.program.broken || m.stopped() {
			return false
		}
		m.round += m.weight
		worth := m.price(keep)
		if worth > m.centred {
			m.centred = worth
			for i, v := range m.duals.value {
				m.centre[i] = float64(v)
			}
			if m.depth == 0 && !m.exact && worth > m.proofs {
				m.proofs = worth
				m.proof = m.duals.clone()
				m.raise(m.duals.up(worth))
			}
		}
		if m.beyond(m.centred) {
			return true
		}
		if m.exact || m.hasty && m.beyondRelaxation() {
			return false
		}
		if m.widen() == 0 {
			if keep == 0 {
				return false
			}
			keep = 0
			continue
		}
		keep = steady
	}
}

// refine goes on with a finer pricer for the bound, before anything is fixed.
func (m *master) refine() {
	finer, weight := m.finer()
	if finer == nil {
		return
	}
	coarse := m.pricer
	m.pricer, m.weight = finer, weight
	m.generate()
	m.pricer, m.weight = coarse, 1
}

// beyondRelaxation says whether the bound is already what the relaxation rounds up to.
func (m *master) beyondRelaxation() bool {
	relaxed := int64(math.Ceil(m.program.objective()*m.unit - 1e-6))
	return m.attain.atLeast(m.spent+m.duals.up(m.centred)) >= m.attain.atLeast(m.spent+relaxed)
}

// price values the items by the duals, drawn towards the centre, and says what bound that gives for what is open.
func (m *master) price(keep float64) int64 {
	to := m.unit * float64(m.scale)
	for i := range m.need {
		v := max(m.program.y[i], 0) * to
		if keep > 0 {
			v = keep*m.centre[i] + (1-keep)*v
		}
		m.duals.value[i] = int64(v)
	}
	if m.budgetRow >= 0 {
		m.priceMoney(to)
	}
	m.pricer.price(m.duals.value, m.need, m.duals.best)
	return m.worth(&m.duals, m.need, m.left, m.low, m.budgetLeft)
}

// priceMoney adds to each bar's cost its money, at what the budget makes money worth. Any worth gives a bound that holds.
func (m *master) priceMoney(to float64) {
	d := &m.duals
	d.money = int64(min(max(-m.program.y[m.budgetRow], 0)*to/m.purse, float64(math.MaxInt64>>4)/float64(m.budget+1)/4))
	for s, g := range m.stock {
		d.price[s] = g.cost*d.scale + d.money*g.money
	}
}

// atOnce is how many columns come in at a time.
const atOnce = 60

// widen brings in the patterns that pay at the program's own duals, and says how many.
func (m *master) widen() int {
	m.found = m.found[:0]
	y := m.program.y
	for s := range m.stock {
		if m.left[s] == 0 {
			continue
		}
		m.found = m.pricer.better(s, 0, m.found)
	}
	type paying struct {
		at      int
		reduced float64
	}
	var good []paying
	for n := range m.found {
		q := &m.found[n]
		d := float64(m.stock[q.stock].cost) / m.unit
		if r := m.row[q.stock]; r >= 0 {
			d -= y[r]
		}
		if r := m.least[q.stock]; r >= 0 {
			d += y[r]
		}
		if m.budgetRow >= 0 {
			d -= y[m.budgetRow] * float64(m.stock[q.stock].money) / m.purse
		}
		for k, i := range q.item {
			d -= y[i] * float64(q.count[k])
		}
		if d < -costSlack*10 {
			good = append(good, paying{n, d})
		}
	}
	slices.SortFunc(good, func(a, b paying) int { return cmp.Or(cmp.Compare(a.reduced, b.reduced), cmp.Compare(a.at, b.at)) })
	added := 0
	for _, g := range good[:min(len(good), atOnce)] {
		if m.bring(m.found[g.at]) {
			added++
		}
	}
	return added
}
