package programme

import "math/bits"

// The compulsory part of an activity is the time in which it runs whenever it starts: from its latest start to its
// earliest finish. The parts of all activities, added up, leave what the rest must find room in.

// grow books what a raised bound adds to the compulsory part. False: more is booked than there is.
func (p *prover) grow(view, prev, bound int32) bool {
	i := view >> 1
	if int(i) == p.n-1 || p.needs.first[i] == p.needs.first[i+1] {
		return true
	}
	from, to := p.added(view, prev, bound)
	if from >= to {
		return true
	}
	over, word := int32(-1), int32(0)
	for k := p.needs.first[i]; k < p.needs.first[i+1]; k++ {
		cells, amount := p.free[p.needs.word[k]], p.needs.amount[k]
		for t := from; t < to; t++ {
			cells[t] -= amount
			if cells[t]&guards != guards {
				over, word = t, p.needs.word[k]
			}
		}
	}
	if over < 0 {
		return true
	}
	lane := bits.TrailingZeros64(^p.free[word][over]&guards) / laneBits
	p.conflict = p.covering(p.conflict[:0], over, word*lanes+int32(lane), -1)
	return false
}

// shrink gives back what grow booked for the same step.
func (p *prover) shrink(view, prev, bound int32) {
	i := view >> 1
	if int(i) == p.n-1 {
		return
	}
	from, to := p.added(view, prev, bound)
	for k := p.needs.first[i]; k < p.needs.first[i+1]; k++ {
		cells, amount := p.free[p.needs.word[k]], p.needs.amount[k]
		for t := from; t < to; t++ {
			cells[t] += amount
		}
	}
}

// added is the time that a step of a bound, the other one as it is, adds to the compulsory part.
func (p *prover) added(view, prev, bound int32) (from, to int32) {
	i := view >> 1
	d := p.duration[i]
	if view&1 == 0 {
		return max(p.latest(i), prev+d), bound + d
	}
	return -bound, min(-prev, p.earliest(i)+d)
}

// covering appends why a resource is short at a time for one activity, or for the parts alone where but is -1: enough
// of those whose compulsory parts cover the time, as weak as will do. What holds at the root costs nothing.
func (p *prover) covering(out []literal, t, resource, but int32) []literal {
	spare := -p.needs.limits[resource] - 1
	if but >= 0 {
		spare += p.needs.amounts[but][resource]
	}
	p.cover = p.cover[:0]
	for _, k := range p.users[resource] {
		if k != but && p.latest(k) <= t && t < p.earliest(k)+p.duration[k] {
			p.cover = append(p.cover, k)
			spare += p.needs.amounts[k][resource]
		}
	}
	for _, k := range p.cover {
		starts, ends := literal{2 * k, t - p.duration[k] + 1}, literal{2*k + 1, -t}
		if p.atRoot(starts) && p.atRoot(ends) {
			continue
		}
		if amount := p.needs.amounts[k][resource]; amount <= spare {
			spare -= amount
			continue
		}
		out = append(out, starts, ends)
	}
	return out
}

// filter moves every activity whose window lies on changed time off the units that have too little left for it.
func (p *prover) filter() bool {
	p.pass++
	from, to := p.span, int32(0)
	for _, e := range p.trail[p.filtered:] {
		i := e.view >> 1
		p.marked[i] = p.pass
		if p.earliest(i)+p.duration[i] > p.latest(i) {
			from, to = min(from, p.latest(i)), max(to, p.earliest(i)+p.duration[i])
		}
	}
	p.filtered = len(p.trail)
	for i := range int32(p.n - 1) {
		early, late, d := p.earliest(i), p.latest(i), p.duration[i]
		if early == late || d == 0 || p.needs.first[i] == p.needs.first[i+1] {
			continue
		}
		marked := p.marked[i] == p.pass
		if (marked || early < to && early+d > from) && !p.push(i) {
			return false
		}
		if (marked || late < to && late+d > from) && !p.pull(i) {
			return false
		}
	}
	return true
}

// push raises the earliest start past units without room.
func (p *prover) push(i int32) bool {
	d := p.duration[i]
	for k := p.needs.first[i]; k < p.needs.first[i+1]; k++ {
		cells, amount := p.free[p.needs.word[k]], p.needs.amount[k]
		low := p.earliest(i)
		for u := min(low+d, p.latest(i)) - 1; u >= low; u-- {
			short := ^(cells[u] - amount) & guards
			if short == 0 {
				continue
			}
			resource := p.needs.word[k]*lanes + int32(bits.TrailingZeros64(short)/laneBits)
			from := p.reason(literal{2 * i, u - d + 1})
			p.arena = p.covering(p.arena, u, resource, i)
			if !p.set(2*i, u+1, from, noClause) {
				return false
			}
			low = u + 1
			u = min(low+d, p.latest(i))
		}
	}
	return true
}

// pull lowers the latest start before units without room.
func (p *prover) pull(i int32) bool {
	d := p.duration[i]
	for k := p.needs.first[i]; k < p.needs.first[i+1]; k++ {
		cells, amount := p.free[p.needs.word[k]], p.needs.amount[k]
		end := p.latest(i) + d
		for u := max(p.latest(i), p.earliest(i)+d); u < end; u++ {
			short := ^(cells[u] - amount) & guards
			if short == 0 {
				continue
			}
			resource := p.needs.word[k]*lanes + int32(bits.TrailingZeros64(short)/laneBits)
			from := p.reason(literal{2*i + 1, -u})
			p.arena = p.covering(p.arena, u, resource, i)
			if !p.set(2*i+1, d-u, from, noClause) {
				return false
			}
			end = u
			u = max(u-d, p.earliest(i)+d) - 1
		}
	}
	return true
}
