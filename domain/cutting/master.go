package cutting

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// master is the relaxation in which patterns may be cut in fractions, with the patterns found so far (Gilmore and Gomory,
// "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961, 10.1287/opre.9.6.849), after
// some patterns have been fixed: need and left are what is open then.
type master struct {
	*search
	program    *simplex
	pricer     pricer
	need       []int
	left       []int
	fixed      []use
	spent      int64   // cost of fixed
	budgetLeft int64   // what may still be spent
	budgetRow  int     // its row; -1: no budget
	purse      float64 // money per unit of that row
	rent       []int64 // per group, what a bar costs in all at the last duals
	room       int64   // what a pattern may cost above its value
	row        []int   // per group, the row of how many may be used; -1: as many as wanted
	least      []int   // per group, the row of how many must be; -1: no such row
	empty      []int32 // per group, the column of a bar that is bought and not used; -1: no such column
	low        []int   // per group, how many must be used
	unit       float64
	scale      int64
	first      int32 // the first column that is a pattern: before it slacks and makeshifts
	patterns   []pattern
	known      map[string]int32 // columns by pattern
	duals      dual
	proof      dual    // those of the best bound before anything was fixed
	aim        int64   // what costs more is not looked for
	depth      int     // choices made on the way here
	proofs     int64   // the worth of proof
	exact      bool    // all patterns are there
	hasty      bool    // patterns are brought in no longer than the bound can go up
	noise      float64 // how far choices are swayed at random, 0 to 1
	random     *rand.Rand
	centre     []float64 // duals of the best bound so far, to keep the prices steady
	centred    int64     // that bound, in 1/scale
	found      []pattern
	key        []byte
}

// newMaster starts with one makeshift column for each item: a piece of it on a bar of its own, too dear to stay, or left
// open at its price where no bar may be had.
func newMaster(s *search, p pricer) *master {
	m := &master{search: s, pricer: p, need: slices.Clone(s.need), left: s.core.left(), scale: s.scaleFor(), aim: math.MaxInt64, random: rand.New(rand.NewPCG(s.limits.Seed, 1)), known: map[string]int32{}}
	for _, g := range s.stock {
		m.unit = max(m.unit, float64(g.cost))
	}
	for _, short := range s.short {
		m.unit = max(m.unit, float64(short))
	}
	m.unit = max(m.unit, 1)
	right, least := make([]float64, 0, len(s.need)+len(s.stock)), make([]bool, 0, len(s.need)+len(s.stock))
	start := make([]column, 0, len(s.need))
	for i, n := range s.need {
		right, least = append(right, float64(n)), append(least, true)
		start = append(start, column{row: []int32{int32(i)}, value: []float64{1}, cost: s.makeshift(i) / m.unit})
	}
	m.row, m.least, m.low = make([]int, len(s.stock)), make([]int, len(s.stock)), make([]int, len(s.stock))
	bought := 0
	for _, g := range s.stock {
		if g.count == Unlimited && g.cost > 0 {
			bought++
		}
	}
	for g := range s.stock {
		m.row[g], m.least[g] = -1, -1
		switch limited := s.stock[g].count != Unlimited; {
		case limited:
			m.row[g] = len(right)
			right, least = append(right, float64(s.stock[g].count)), append(least, false)
		case bought > 1: // with one length to buy, how many is what is minimised: no choice
			m.row[g], m.least[g] = len(right), len(right)+1
			right, least = append(right, float64(s.pieces()), 0), append(least, false, false)
		}
	}
	m.budgetRow, m.purse = -1, 1
	if s.budget != none {
		m.budgetLeft, m.budgetRow = s.budget, len(right)
		for _, g := range s.stock {
			m.purse = max(m.purse, float64(g.money))
		}
		right, least = append(right, float64(s.budget)/m.purse), append(least, false)
	}
	m.program = newSimplex(right, least, start)
	m.empty = make([]int32, len(s.stock))
	for g := range s.stock {
		m.empty[g] = -1
		if m.least[g] >= 0 { // bought and not used: never needed, but what must be bought can be
			c := column{cost: float64(s.stock[g].cost) / m.unit}
			m.totals(g, &c)
			m.empty[g] = m.program.add(c)
		}
	}
	m.first = int32(len(m.program.columns))
	m.duals = *s.newDual()
	m.rent = make([]int64, len(s.stock))
	m.centre = make([]float64, len(s.need))
	return m
}

// makeshift is what a makeshift column costs.
func (s *search) makeshift(i int) float64 {
	if s.short[i] > 0 {
		return float64(s.short[i])
	}
	least := math.Inf(1)
	for _, g := range s.stock {
		if g.count == Unlimited && g.capacity >= s.weight[i] && s.serves[g.class][i] {
			least = min(least, float64(g.cost))
		}
	}
	if s.budget != none {
		return 100*least + 1 // it takes nothing from the budget, and must not be a way round it
	}
	return 2*least + 1
}

// bring adds a pattern as a column if it is not there yet, and says whether it did.
func (m *master) bring(q pattern) bool {
	if !slices.IsSorted(q.item) {
		slices.Reverse(q.item)
		slices.Reverse(q.count)
	}
	name := m.name(&q)
	if _, ok := m.known[name]; ok {
		return false
	}
	c := column{cost: float64(m.stock[q.stock].cost) / m.unit}
	for k, i := range q.item {
		c.row, c.value = append(c.row, i), append(c.value, float64(q.count[k]))
	}
	m.totals(int(q.stock), &c)
	m.known[name] = m.program.add(c)
	m.patterns = append(m.patterns, q)
	return true
}

// totals puts a column into the rows that count a group's bars.
func (m *master) totals(stock int, c *column) {
	if r := m.row[stock]; r >= 0 {
		c.row, c.value = append(c.row, int32(r)), append(c.value, 1)
	}
	if r := m.least[stock]; r >= 0 {
		c.row, c.value = append(c.row, int32(r)), append(c.value, -1)
	}
	if money := m.stock[stock].money; m.budgetRow >= 0 && money > 0 {
		c.row, c.value = append(c.row, int32(m.budgetRow)), append(c.value, float64(money)/m.purse)
	}
}

// setBudget puts what may still be spent on the program's right side.
func (m *master) setBudget() {
	if m.budgetRow >= 0 {
		m.program.right[m.budgetRow] = float64(m.budgetLeft) / m.purse
	}
}

// name is a pattern as a key.
func (m *master) name(q *pattern) string {
	m.key = m.key[:0]
	put := func(v int32) { m.key = append(m.key, byte(v), byte(v>>8), byte(v>>16)) }
	put(q.stock)
	for k, i := range q.item {
		put(i)
		put(q.count[k])
	}
	return string(m.key)
}

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
		m.round++
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
