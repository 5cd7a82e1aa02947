package cutting

import (
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
	weight     int     // rounds that one pricing counts
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
	m := &master{search: s, pricer: p, weight: 1, need: slices.Clone(s.need), left: s.core.left(), scale: s.scaleFor(), aim: math.MaxInt64, random: rand.New(rand.NewPCG(s.limits.Seed, 1)), known: map[string]int32{}}
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
	right, least = m.rows(right, least)
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

// rows adds the rows that count bars, and money where there is a budget.
func (m *master) rows(right []float64, least []bool) ([]float64, []bool) {
	m.row, m.least, m.low = make([]int, len(m.stock)), make([]int, len(m.stock)), make([]int, len(m.stock))
	bought := 0
	for _, g := range m.stock {
		if g.count == Unlimited && g.cost > 0 {
			bought++
		}
	}
	for g := range m.stock {
		m.row[g], m.least[g] = -1, -1
		switch limited := m.stock[g].count != Unlimited; {
		case limited:
			m.row[g] = len(right)
			right, least = append(right, float64(m.stock[g].count)), append(least, false)
		case bought > 1: // with one length to buy, how many is what is minimised: no choice
			m.row[g], m.least[g] = len(right), len(right)+1
			right, least = append(right, float64(m.pieces()), 0), append(least, false, false)
		}
	}
	m.budgetRow, m.purse = -1, 1
	if m.budget != none {
		m.budgetLeft, m.budgetRow = m.budget, len(right)
		for _, g := range m.stock {
			m.purse = max(m.purse, float64(g.money))
		}
		right, least = append(right, float64(m.budget)/m.purse), append(least, false)
	}
	return right, least
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
