package programme

// branching chooses what to try next: the fact "i starts at t or later" that conflicts have turned on most of late, the
// way round that the guide, a good schedule, has it. Facts stand in a heap once a conflict has named them.
type branching struct {
	span   int32
	score  []float64
	worth  float64
	heap   []int32 // keys: activity * span + time
	place  []int32 // per key: place in the heap plus 1
	popped []int32 // keys taken out because they were settled, oldest first
	marks  []int32 // per level: popped before it
	guide  []int32
}

func newBranching(n int, span int32, guide []int32) branching {
	b := branching{span: span, score: make([]float64, int32(n)*span), place: make([]int32, int32(n)*span), worth: 1}
	b.guide = append(make([]int32, 0, n), guide...)
	return b
}

// keyOf is the fact that a literal states or denies.
func (b *branching) keyOf(l literal) int32 {
	i := l.view >> 1
	if l.view&1 == 0 {
		return i*b.span + l.bound
	}
	return i*b.span + 1 - l.bound
}

// bump notes that a conflict turned on a fact.
func (b *branching) bump(l literal) {
	if int(l.view>>1) >= len(b.guide) {
		return // the end of the whole is no choice
	}
	key := b.keyOf(l)
	b.score[key] += b.worth
	if b.score[key] > 1e100 {
		for k := range b.score {
			b.score[k] *= 1e-100
		}
		b.worth *= 1e-100
	}
	if b.place[key] == 0 {
		b.insert(key)
	} else {
		b.rise(b.place[key] - 1)
	}
}

func (b *branching) decided() { b.marks = append(b.marks, int32(len(b.popped))) }

func (b *branching) backTo(level int) {
	from := b.marks[level]
	for _, key := range b.popped[from:] {
		if b.place[key] == 0 {
			b.insert(key)
		}
	}
	b.popped, b.marks = b.popped[:from], b.marks[:level]
}

func (b *branching) above(a, c int32) bool {
	return b.score[a] > b.score[c] || b.score[a] == b.score[c] && a < c
}

func (b *branching) insert(key int32) {
	b.heap = append(b.heap, key)
	b.place[key] = int32(len(b.heap))
	b.rise(int32(len(b.heap)) - 1)
}

func (b *branching) rise(k int32) {
	key := b.heap[k]
	for k > 0 {
		up := (k - 1) / 2
		if !b.above(key, b.heap[up]) {
			break
		}
		b.heap[k] = b.heap[up]
		b.place[b.heap[k]] = k + 1
		k = up
	}
	b.heap[k] = key
	b.place[key] = k + 1
}

func (b *branching) pop() {
	top := b.heap[0]
	b.place[top] = 0
	b.popped = append(b.popped, top)
	n := int32(len(b.heap)) - 1
	key := b.heap[n]
	b.heap = b.heap[:n]
	if n == 0 {
		return
	}
	k := int32(0)
	for {
		down := 2*k + 1
		if down >= n {
			break
		}
		if down+1 < n && b.above(b.heap[down+1], b.heap[down]) {
			down++
		}
		if !b.above(b.heap[down], key) {
			break
		}
		b.heap[k] = b.heap[down]
		b.place[b.heap[k]] = k + 1
		k = down
	}
	b.heap[k] = key
	b.place[key] = k + 1
}

// next is the literal to try, false where every start is settled.
func (p *prover) next() (literal, bool) {
	b := &p.branching
	for len(b.heap) > 0 {
		key := b.heap[0]
		i, t := key/b.span, key%b.span
		if p.earliest(i) < t && t <= p.latest(i) {
			if b.guide[i] >= t {
				return literal{2 * i, t}, true
			}
			return literal{2*i + 1, 1 - t}, true
		}
		b.pop()
	}
	return p.nextInTime()
}

// nextInTime starts at its earliest the open activity that can start first, the one with the least room before others.
func (p *prover) nextInTime() (literal, bool) {
	best := int32(-1)
	for i := range int32(p.n) {
		if p.earliest(i) == p.latest(i) {
			continue
		}
		if best < 0 || p.earliest(i) < p.earliest(best) || p.earliest(i) == p.earliest(best) && p.latest(i) < p.latest(best) {
			best = i
		}
	}
	if best < 0 {
		return literal{}, false
	}
	return literal{2*best + 1, -p.earliest(best)}, true
}
