package cutting

import "math"

// error is how far the basis is from its right side.
func (l *simplex) error() float64 {
	left := append([]float64(nil), l.right...)
	for p, j := range l.basis {
		c := &l.columns[j]
		for k, r := range c.row {
			left[r] -= l.x[p] * c.value[k]
		}
	}
	worst := 0.0
	for _, v := range left {
		worst = max(worst, math.Abs(v))
	}
	return worst
}

// invert makes the inverse anew (Gauss and Jordan, largest pivot of the column).
func (l *simplex) invert() {
	m := l.m
	a := make([]float64, m*2*m) // rows of the basis, then of the unit matrix
	for p, j := range l.basis {
		c := &l.columns[j]
		for k, r := range c.row {
			a[int(r)*2*m+p] = c.value[k]
		}
	}
	for r := range m {
		a[r*2*m+m+r] = 1
	}
	for p := range m {
		best := p
		for r := p + 1; r < m; r++ {
			if math.Abs(a[r*2*m+p]) > math.Abs(a[best*2*m+p]) {
				best = r
			}
		}
		top := a[p*2*m : (p+1)*2*m]
		if other := a[best*2*m : (best+1)*2*m]; best != p {
			for k := range top {
				top[k], other[k] = other[k], top[k]
			}
		}
		if math.Abs(top[p]) < pivotSlack {
			l.broken = true
			return
		}
		eliminate(a, top, p, m)
	}
	for r := range m {
		for p := range m {
			l.inverse[r*m+p] = a[p*2*m+m+r]
		}
	}
	l.pivots = 0
	l.refresh()
}

func eliminate(a, top []float64, p, m int) {
	by := 1 / top[p]
	filled := make([]int32, 0, 2*m)
	for k := range top {
		if top[k] != 0 {
			top[k] *= by
			filled = append(filled, int32(k))
		}
	}
	for r := range m {
		row := a[r*2*m : (r+1)*2*m]
		v := row[p]
		if r == p || v == 0 {
			continue
		}
		for _, k := range filled {
			row[k] -= v * top[k]
		}
	}
}

// saved is a state of the program to come back to.
type saved struct {
	right, inverse, x, y []float64
	basis                []int32
	banned               []bool
	pivots               int
}

func (l *simplex) save() *saved {
	return &saved{
		right: append([]float64(nil), l.right...), inverse: append([]float64(nil), l.inverse...), x: append([]float64(nil), l.x...), y: append([]float64(nil), l.y...),
		basis: append([]int32(nil), l.basis...), banned: append([]bool(nil), l.banned...), pivots: l.pivots,
	}
}

// restore goes back; columns that came in since stay, outside the basis.
func (l *simplex) restore(s *saved) {
	copy(l.right, s.right)
	copy(l.inverse, s.inverse)
	copy(l.x, s.x)
	copy(l.y, s.y)
	copy(l.banned, s.banned)
	clear(l.banned[len(s.banned):])
	for _, j := range l.basis {
		l.at[j] = -1
	}
	copy(l.basis, s.basis)
	for p, j := range l.basis {
		l.at[j] = int32(p)
	}
	l.pivots, l.broken = s.pivots, false
}
