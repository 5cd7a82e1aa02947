package cutting

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
)

// simplex is a linear program in the form of a cutting's relaxation: minimise the columns' cost, each row's sum at least
// (pieces) or at most (stock) its right side, all columns >= 0. The revised method (Dantzig and Orchard-Hays 1954) with
// the basis inverse kept in full: rows are a few hundred, columns sparse and coming in as they are found.
//
// It goes on from where it stands: new columns leave it feasible (primal steps), a new right side leaves its duals feasible
// (dual steps). A banned column costs ruin, so that it leaves the basis and does not come back.
type simplex struct {
	m       int
	right   []float64
	columns []column // the first m are the slacks
	at      []int32  // per column, its place in the basis; -1 outside
	banned  []bool
	basis   []int32   // per place, a column
	inverse []float64 // inverse[r*m+p]: of row r, place p
	x       []float64 // per place
	y       []float64 // per row, the dual
	step    []float64 // direction of the entering column, per place
	pivots  int       // since the inverse was made anew
	broken  bool      // the basis went singular: to be started anew
}

// column is one column of the program.
type column struct {
	row   []int32
	value []float64
	cost  float64
}

// Tolerances, for costs and values of order 1.
const (
	costSlack  = 1e-9 // a reduced cost nearer to 0 does not pay
	pivotSlack = 1e-7 // a pivot nearer to 0 is not one
	valueSlack = 1e-9
	ruin       = 1e4 // cost of a banned column
)

// newSimplex starts from a feasible basis of one column per row that holds just that row; the slacks are made here.
func newSimplex(right []float64, least []bool, start []column) *simplex {
	l := &simplex{m: len(right), right: right}
	for r := range right {
		sign := 1.0
		if least[r] {
			sign = -1
		}
		l.add(column{row: []int32{int32(r)}, value: []float64{sign}})
	}
	l.inverse = make([]float64, l.m*l.m)
	l.x, l.y, l.step = make([]float64, l.m), make([]float64, l.m), make([]float64, l.m)
	l.basis = make([]int32, l.m)
	for r := range right {
		j := int32(r)
		if least[r] {
			j = l.add(start[r])
		}
		l.basis[r], l.at[j] = j, int32(r)
		l.inverse[r*l.m+r] = 1 / l.columns[j].value[0]
	}
	l.refresh()
	return l
}

func (l *simplex) add(c column) int32 {
	l.columns, l.at, l.banned = append(l.columns, c), append(l.at, -1), append(l.banned, false)
	return int32(len(l.columns) - 1)
}

func (l *simplex) cost(j int32) float64 {
	if l.banned[j] {
		return ruin
	}
	return l.columns[j].cost
}

// refresh finds values and duals from the inverse.
func (l *simplex) refresh() {
	m := l.m
	clear(l.x)
	for r, b := range l.right {
		if b == 0 {
			continue
		}
		for p, v := range l.inverse[r*m : r*m+m] {
			l.x[p] += v * b
		}
	}
	for r := range l.y {
		sum := 0.0
		for p, v := range l.inverse[r*m : r*m+m] {
			if v != 0 {
				sum += v * l.cost(l.basis[p])
			}
		}
		l.y[r] = sum
	}
}

// objective is what the basis costs.
func (l *simplex) objective() float64 {
	sum := 0.0
	for p, j := range l.basis {
		sum += l.x[p] * l.cost(j)
	}
	return sum
}

func (l *simplex) reduced(j int32) float64 {
	c := &l.columns[j]
	d := l.cost(j)
	for k, r := range c.row {
		d -= l.y[r] * c.value[k]
	}
	return d
}

// primal takes steps until no column pays, from a feasible basis.
func (l *simplex) primal() {
	for steps := 0; steps < 50*l.m+1000 && !l.broken; steps++ {
		enter, worst := int32(-1), -costSlack
		for j := range l.columns {
			if l.at[j] >= 0 || l.banned[j] {
				continue
			}
			if d := l.reduced(int32(j)); d < worst {
				enter, worst = int32(j), d
			}
		}
		if enter < 0 {
			return
		}
		l.direct(enter)
		leave := l.blocking()
		if leave < 0 {
			return // cannot be: costs are not negative
		}
		l.pivot(enter, leave)
	}
}

// direct sets step to how the basis changes with the column.
func (l *simplex) direct(j int32) {
	clear(l.step)
	m := l.m
	c := &l.columns[j]
	for k, r := range c.row {
		v := c.value[k]
		for p, w := range l.inverse[int(r)*m : int(r)*m+m] {
			l.step[p] += v * w
		}
	}
}

// blocking is the place that reaches 0 first; among those that tie within the slack, the one with the largest pivot
// (Harris, "Pivot selection methods of the Devex LP code", 1973, 10.1007/BF01580108).
func (l *simplex) blocking() int {
	limit := math.Inf(1)
	for p, d := range l.step {
		if d > pivotSlack {
			limit = min(limit, (max(l.x[p], 0)+valueSlack)/d)
		}
	}
	leave := -1
	for p, d := range l.step {
		if d > pivotSlack && max(l.x[p], 0) <= limit*d && (leave < 0 || d > l.step[leave]) {
			leave = p
		}
	}
	return leave
}

// dual takes steps until no value is negative, from a basis whose duals are feasible. Not ok: there is no solution.
func (l *simplex) dual() bool {
	for steps := 0; steps < 50*l.m+1000 && !l.broken; steps++ {
		leave, worst := -1, -valueSlack
		for p, x := range l.x {
			if x < worst {
				leave, worst = p, x
			}
		}
		if leave < 0 {
			return true
		}
		enter := l.entering(leave)
		if enter < 0 {
			return false
		}
		l.direct(enter)
		l.pivot(enter, leave)
	}
	return !l.broken
}

// entering is the column that takes a negative place up at the least cost, -1 if none does.
func (l *simplex) entering(leave int) int32 {
	m := l.m
	row := make([]float64, m)
	for r := range row {
		row[r] = l.inverse[r*m+leave]
	}
	enter, least, size := int32(-1), math.Inf(1), 0.0
	for j := range l.columns {
		if l.at[j] >= 0 || l.banned[j] {
			continue
		}
		c := &l.columns[j]
		a := 0.0
		for k, r := range c.row {
			a += row[r] * c.value[k]
		}
		if a > -pivotSlack {
			continue
		}
		ratio := max(l.reduced(int32(j)), 0) / -a
		if ratio < least-costSlack || ratio < least+costSlack && -a > size {
			enter, least, size = int32(j), min(ratio, least), -a
		}
	}
	return enter
}

// pivot brings a column in for the one at a place; step is the column's direction.
func (l *simplex) pivot(enter int32, leave int) {
	m := l.m
	d := l.reduced(enter)
	by := l.step[leave]
	theta := l.x[leave] / by
	for p := range l.x {
		l.x[p] -= theta * l.step[p]
		if math.Abs(l.x[p]) < 1e-12 {
			l.x[p] = 0
		}
	}
	l.x[leave] = theta
	for r := range m {
		column := l.inverse[r*m : r*m+m]
		v := column[leave]
		if v == 0 {
			continue
		}
		v /= by
		// half of a cutting's time before it was a library's
		blas64.Axpy(-v, blas64.Vector{N: m, Data: l.step, Inc: 1}, blas64.Vector{N: m, Data: column, Inc: 1})
		column[leave] = v
		l.y[r] += d * v
	}
	l.at[l.basis[leave]], l.at[enter] = -1, int32(leave)
	l.basis[leave] = enter
	if l.pivots++; l.pivots%64 == 0 && (l.pivots > 1000 || l.error() > 1e-7) {
		l.invert()
	}
}
