package relocation

import (
	"container/heap"
	"slices"

	"unpick/domain/programme"
)

// part is the share of a job on one day.
type part struct{ day, from, to int }

// placing is when a job is done and by whom.
type placing struct {
	start, end int // on the axis
	parts      []part
	who        []int
}

// floor is an axis on which jobs are laid: who and what is busy when.
type floor struct {
	*axis
	travel int
	people []track
	vans   []track
	stores []store
	events []int // of one day, to try; kept so that it is not made anew
}

func newFloor(a *axis, people, vehicles, travel int, stores []programme.Resource) *floor {
	f := &floor{axis: a, travel: travel, people: make([]track, people), vans: make([]track, vehicles), stores: make([]store, len(stores))}
	for i := range f.people {
		f.people[i] = make(track, len(a.days))
	}
	for i := range f.vans {
		f.vans[i] = make(track, len(a.days))
	}
	for i := range f.stores {
		f.stores[i] = store{stores[i].Capacity, make([][]share, len(a.days))}
	}
	return f
}

// hours are the minutes of a day in which a job can go on; none where a place of it is closed.
func (f *floor) hours(j *job, day int) (from, to int) {
	d := &f.days[day]
	if !d.open[j.in] || !d.open[j.out] {
		return 0, 0
	}
	return max(d.from[j.in], d.from[j.out]), min(d.to[j.in], d.to[j.out])
}

// place lays a job as early as it can be done from a time on, and takes what it needs. False: not on this axis.
func (f *floor) place(j *job, earliest int) (placing, bool) {
	if !j.worked() {
		return placing{start: earliest, end: earliest}, true
	}
	for day := earliest / f.full; day < len(f.days); day++ {
		from, to := f.hours(j, day)
		if from >= to {
			continue
		}
		if day == earliest/f.full {
			from = max(from, earliest%f.full)
		}
		for _, at := range f.moments(j, day, from, to) {
			parts := f.parts(j, day, at)
			if parts == nil {
				break // no later moment of this day has more of it
			}
			if who := f.crew(j, parts); who != nil {
				p := placing{start: day*f.full + at, parts: parts, who: who}
				last := parts[len(parts)-1]
				p.end = last.day*f.full + last.to
				f.take(j, &p)
				return p, true
			}
		}
	}
	return placing{}, false
}

// moments are those of a day at which a job may begin as early as can be: when it opens, or somebody or something is free
// again, straight away or after the way from the other place.
func (f *floor) moments(j *job, day, from, to int) []int {
	f.events = append(f.events[:0], from)
	add := func(t int) {
		if t > from && t < to {
			f.events = append(f.events, t)
		}
	}
	for _, t := range f.people {
		for _, b := range t[day] {
			add(b.to)
			add(b.to + f.travel)
		}
	}
	if j.vehicle >= 0 {
		for _, b := range f.vans[j.vehicle][day] {
			add(b.to)
			add(b.to + f.travel)
		}
	}
	for _, n := range j.needs {
		for _, s := range f.stores[n.Resource].taken[day] {
			add(s.to)
		}
	}
	slices.Sort(f.events)
	f.events = slices.Compact(f.events)
	return f.events
}

// parts are the stretches of a job that begins at a moment of a day: to the close of that day, and on in the days on which
// its place is worked. Nil where it has to be whole and would not be, or the axis ends.
func (f *floor) parts(j *job, day, at int) []part {
	var out []part
	from, to := f.hours(j, day)
	if j.whole && to-at < j.minutes && at > from {
		return nil
	}
	if j.whole && to-from < j.minutes && f.fitsSomeDay(j) {
		return nil
	}
	for left, from := j.minutes, at; left > 0; {
		if n := min(left, to-from); n > 0 {
			out = append(out, part{day, from, from + n})
			left -= n
		}
		if left == 0 {
			break
		}
		if day++; day == len(f.days) {
			return nil
		}
		from, to = f.hours(j, day)
	}
	return out
}

// fitsSomeDay reports whether a job is no longer than a day on which its places are worked.
func (f *floor) fitsSomeDay(j *job) bool { return j.minutes <= f.longest(j) }

// longest is the longest stretch of a day in which a job can go on.
func (f *floor) longest(j *job) int {
	most := 0
	for day := range f.days {
		from, to := f.hours(j, day)
		most = max(most, to-from)
	}
	return most
}

// crew picks who does a job: those who are in its place already come before those who have to come over. Nil where too few
// are free, or what it needs is taken.
func (f *floor) crew(j *job, parts []part) []int {
	for _, n := range j.needs {
		for _, p := range parts {
			if !f.stores[n.Resource].has(p.day, p.from, p.to, n.Amount) {
				return nil
			}
		}
	}
	if j.vehicle >= 0 && !f.free(f.vans[j.vehicle], j, parts) {
		return nil
	}
	var near, far []int
	for i, t := range f.people {
		switch {
		case !f.free(t, j, parts):
		case t.near(parts[0].day, j.in):
			near = append(near, i)
		default:
			far = append(far, i)
		}
		if len(near) == j.people {
			return near
		}
	}
	if len(near)+len(far) < j.people {
		return nil
	}
	return append(near, far[:j.people-len(near)]...)
}

func (f *floor) free(t track, j *job, parts []part) bool {
	for k, p := range parts {
		if !t.free(p.day, stretch(j, p, k, len(parts)), f.travel) {
			return false
		}
	}
	return true
}

// stretch is one part of a job in its places: a trip longer than a day is counted as still to leave until its last.
func stretch(j *job, p part, k, of int) busy {
	b := busy{p.from, p.to, j.in, j.in}
	if k == of-1 {
		b.out = j.out
	}
	return b
}

func (f *floor) take(j *job, p *placing) {
	for k, q := range p.parts {
		b := stretch(j, q, k, len(p.parts))
		for _, i := range p.who {
			f.people[i][q.day] = append(f.people[i][q.day], b)
		}
		if j.vehicle >= 0 {
			f.vans[j.vehicle][q.day] = append(f.vans[j.vehicle][q.day], b)
		}
		for _, n := range j.needs {
			s := &f.stores[n.Resource]
			s.taken[q.day] = append(s.taken[q.day], share{q.from, q.to, n.Amount})
		}
	}
}

// lay places jobs one by one, of those that may come next the one with the lowest rank first, each as early as it can be
// after the jobs that it waits for and not before its own time. False where one finds no place on the axis.
func (f *floor) lay(jobs []job, rank []float64, notBefore []int) ([]placing, bool) {
	out := make([]placing, len(jobs))
	waits := make([]int, len(jobs))
	next := make([][]int32, len(jobs))
	for i := range jobs {
		waits[i] = len(jobs[i].after)
		for _, a := range jobs[i].after {
			next[a.job] = append(next[a.job], int32(i))
		}
	}
	ready := queue{rank: rank}
	for i, n := range waits {
		if n == 0 {
			heap.Push(&ready, i)
		}
	}
	for ready.Len() > 0 {
		i := heap.Pop(&ready).(int)
		earliest := notBefore[i]
		for _, a := range jobs[i].after {
			earliest = max(earliest, f.later(out[a.job].end, a.days))
		}
		var ok bool
		if out[i], ok = f.place(&jobs[i], earliest); !ok {
			return nil, false
		}
		for _, k := range next[i] {
			if waits[k]--; waits[k] == 0 {
				heap.Push(&ready, int(k))
			}
		}
	}
	return out, true
}

// later is the beginning of the day so many days after the one on which something ends; with none the end itself.
func (f *floor) later(end, days int) int {
	if days == 0 {
		return end
	}
	return (f.dayOfEnd(end) + days) * f.full
}

// queue gives the job with the lowest rank first, ties by place.
type queue struct {
	rank  []float64
	items []int
}

func (q *queue) Len() int { return len(q.items) }
func (q *queue) Less(i, j int) bool {
	a, b := q.items[i], q.items[j]
	return q.rank[a] < q.rank[b] || q.rank[a] == q.rank[b] && a < b
}
func (q *queue) Swap(i, j int) { q.items[i], q.items[j] = q.items[j], q.items[i] }
func (q *queue) Push(x any)    { q.items = append(q.items, x.(int)) }
func (q *queue) Pop() any {
	last := q.items[len(q.items)-1]
	q.items = q.items[:len(q.items)-1]
	return last
}
