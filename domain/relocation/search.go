package relocation

import (
	"math/rand/v2"
	"slices"
	"time"
)

// How many orders are tried: a fixed amount of work, so that the same two registers have the same programme everywhere.
const (
	orderWork   = 400_000
	mostOrders  = 40
	fewestOrder = 4
	searchSeed  = 1
)

func orders(jobs int) int { return min(max(orderWork/(1+jobs*jobs), fewestOrder), mostOrders) }

// laid is everything of one programme on its axis.
type laid struct {
	axis    *axis
	placed  []placing
	starts  int // time at which the first work at the old place begins
	needed  int // day of the axis on which the next place is needed first; -1 where it is not
	oldDone int // time at which everything at the old place is done
	ready   int // time at which everything is up
}

// planner lays programmes of one work with one set of terms.
type planner struct {
	*work
	*sites
	terms    Terms
	dates    dates
	vehicles int
	stop     func() bool
}

// workDays is so many days of the calendar that all work, one job after the other, has room in them many times over.
func (p *planner) workDays() int {
	minutes, cures := 0, 0
	for i := range p.jobs {
		minutes += p.jobs[i].minutes
		cures += p.jobs[i].cure
		for _, a := range p.jobs[i].after {
			cures = max(cures, a.days)
		}
	}
	least := max(min(p.to[there]-p.from[there], p.full), 1)
	return 3*(minutes/least+len(p.jobs)/4+cures) + 60
}

// backwards lays what begins at the old place as late as it can be done by the close of a day on which the place
// is given back: loads last, then making good, then taking out. Of the orders tried it keeps the one that needs the next
// place latest, and of those the one that begins latest. enough says that one is as good as is wanted. Nil where none fits.
func (p *planner) backwards(handBack time.Time, enough func(*laid) bool) *laid {
	done, n := p.doneBy(handBack), p.workDays()
	real := p.axis(done.AddDate(0, 0, 1-n), n)
	mirror := real.mirrored()
	jobs := p.reversed()
	notBefore := make([]int, len(jobs))
	for i := range jobs {
		notBefore[i] = p.jobs[i].cure * p.full // a repair has to be hard by then
	}
	rank := p.backRank()
	lay := func(rank []float64) *laid {
		f := newFloor(mirror, p.terms.People, p.vehicles, p.terms.Travel, p.stores)
		placed, ok := f.lay(jobs, rank, notBefore)
		if !ok {
			return nil
		}
		return p.unmirrored(real, placed)
	}
	return p.search(rank, true, lay, p.later, enough)
}

// later reports whether one programme is better than another, counted backwards: in time before one that is not, then the
// next place needed later, then begun later.
func (p *planner) later(a, b *laid) bool {
	if x, y := p.inTime(a), p.inTime(b); x != y {
		return x
	}
	if a.needed != b.needed {
		return a.needed > b.needed
	}
	return a.starts > b.starts
}

// forwards lays putting up, as early as can be, into what a programme of the old place has of the crew: not
// before the day of entry. Of the orders tried it keeps the one that is ready first.
func (p *planner) forwards(back *laid, entry time.Time) *laid {
	first := back.axis.first
	if entry.Before(first) {
		first = entry
	}
	shift := int(back.axis.first.Sub(first).Hours() / 24)
	n := shift + len(back.axis.days) + max(int(entry.Sub(back.axis.date(len(back.axis.days)-1)).Hours()/24), 0) + p.workDays()
	if !p.dates.delivery.IsZero() {
		n += max(int(p.dates.delivery.Sub(back.axis.date(len(back.axis.days)-1)).Hours()/24), 0)
	}
	a := p.axis(first, n)
	jobs := p.jobs[p.old:]
	fixed := make([]placing, p.old)
	notBefore := make([]int, len(jobs))
	own := make([]job, len(jobs))
	for i := range fixed {
		fixed[i] = back.placed[i].shifted(shift, p.full)
	}
	delivered := max(a.index(entry), 0)
	if !p.dates.delivery.IsZero() {
		delivered = max(delivered, a.index(p.dates.delivery))
	}
	for i := range jobs {
		own[i] = jobs[i]
		own[i].after = nil
		notBefore[i] = max(a.index(entry), 0) * p.full
		if jobs[i].bought {
			notBefore[i] = delivered * p.full
		}
		for _, x := range jobs[i].after {
			if x.job < p.old {
				notBefore[i] = max(notBefore[i], fixed[x.job].end)
			} else {
				own[i].after = append(own[i].after, after{job: x.job - p.old})
			}
		}
	}
	rank := make([]float64, len(jobs))
	for i := range rank {
		rank[i] = float64(i)
	}
	lay := func(rank []float64) *laid {
		f := newFloor(a, p.terms.People, p.vehicles, p.terms.Travel, p.stores)
		for i := range fixed {
			f.take(&p.jobs[i], &fixed[i])
		}
		placed, ok := f.lay(own, rank, notBefore)
		if !ok {
			return nil
		}
		return p.measured(&laid{axis: a, placed: append(slices.Clone(fixed), placed...)})
	}
	return p.search(rank, false, lay, func(a, b *laid) bool { return a.ready < b.ready }, nil)
}

// search tries orders near the best found, from one on; sideways, it goes on from one that is as good too.
func (p *planner) search(rank []float64, sideways bool, lay func([]float64) *laid, better func(a, b *laid) bool, enough func(*laid) bool) *laid {
	best := lay(rank)
	random := rand.New(rand.NewPCG(searchSeed, uint64(len(rank))))
	for range orders(len(p.jobs)) {
		if p.stop != nil && p.stop() {
			break
		}
		if len(rank) < 2 || best != nil && enough != nil && enough(best) {
			break
		}
		other := slices.Clone(rank)
		for range 1 + random.IntN(3) {
			i, k := random.IntN(len(rank)), random.IntN(len(rank))
			other[i], other[k] = other[k], other[i]
		}
		if found := lay(other); found != nil && (best == nil || better(found, best) || sideways && !better(best, found)) {
			best, rank = found, other
		}
	}
	return best
}

// doneBy is the last day of work at the old place: some days are kept in hand.
func (p *planner) doneBy(handBack time.Time) time.Time {
	return p.calendars[here].Before(p.calendars[here].OnOrBefore(handBack), p.dates.inHand)
}

// reversed is the jobs of the old place as they are seen from the end.
func (p *planner) reversed() []job {
	out := make([]job, p.old)
	for i := range out {
		out[i] = p.jobs[i]
		out[i].in, out[i].out = out[i].out, out[i].in
		out[i].after = nil
	}
	for i := range out {
		for _, a := range p.jobs[i].after {
			out[a.job].after = append(out[a.job].after, after{i, a.days})
		}
	}
	return out
}

// backRank has the loads first, seen from the end, then paint, repairs, and the steps as a programme of taking out alone
// has them.
func (p *planner) backRank() []float64 {
	rank := make([]float64, p.old)
	for i := range rank {
		switch p.jobs[i].kind {
		case Load:
			rank[i] = -4e9 - float64(i)
		case Paint:
			rank[i] = -3e9 - float64(p.jobs[i].minutes)
		case Repair:
			rank[i] = -2e9 - float64(p.jobs[i].minutes)
		default:
			rank[i] = -float64(p.work.starts[i] + p.jobs[i].minutes)
		}
	}
	return rank
}

// unmirrored is what was laid from the end as it is on the days themselves.
func (p *planner) unmirrored(real *axis, placed []placing) *laid {
	all, last := len(real.days)*real.full, len(real.days)-1
	for i := range placed {
		q := &placed[i]
		q.start, q.end = all-q.end, all-q.start
		slices.Reverse(q.parts)
		for k, x := range q.parts {
			q.parts[k] = part{last - x.day, real.full - x.to, real.full - x.from}
		}
	}
	return p.measured(&laid{axis: real, placed: placed})
}

// measured reads the dates off a programme.
func (p *planner) measured(l *laid) *laid {
	l.starts, l.needed = len(l.axis.days)*l.axis.full, -1
	for i := range l.placed {
		j, q := &p.jobs[i], &l.placed[i]
		if !j.worked() {
			continue
		}
		if i < p.old {
			l.starts, l.oldDone = min(l.starts, q.start), max(l.oldDone, q.end)
		}
		if day := q.start / l.axis.full; (j.kind == Load || j.kind == PutUp) && (l.needed < 0 || day < l.needed) {
			l.needed = day
		}
		l.ready = max(l.ready, q.end)
	}
	return l
}

func (q placing) shifted(days, full int) placing {
	out := placing{start: q.start + days*full, end: q.end + days*full, who: q.who}
	for _, x := range q.parts {
		out.parts = append(out.parts, part{x.day + days, x.from, x.to})
	}
	return out
}
