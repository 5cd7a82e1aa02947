package strip

import (
	"slices"
	"sync"
)

// writer writes the steps that the walk has decided, beside the walk: what a step says takes as long as finding which
// comes next, and neither needs the other. Steps come out in the order in which they were put, and say the same as if
// they were written at once.
type writer struct {
	planner *planner
	queue   chan []job
	batch   []job
	steps   []Step
	done    sync.WaitGroup
	closed  bool
}

// job is one step: pieces that leave together with what the walk knows of their guards, or a step that is written already.
type job struct {
	nodes  []int32
	key    runKey
	guards *Step // holds, cautions, open edges and what to keep off; nil for none
	ready  *Step
}

// jobsAtOnce is how many steps are handed over together.
const jobsAtOnce = 64

// newWriter begins to write. The walk of a part looks at what it has written, so that there each step is written at once.
func newWriter(p *planner) *writer {
	beside := *p
	beside.rates = newRates(p.r.Catalogue) // a cache for one goroutine
	w := &writer{planner: &beside, steps: make([]Step, 0, len(p.runs.runs))}
	if p.part == nil {
		w.queue = make(chan []job, 16)
		w.done.Go(func() {
			for batch := range w.queue {
				w.write(batch)
			}
		})
	}
	return w
}

func (w *writer) put(j job) {
	w.batch = append(w.batch, j)
	switch {
	case w.queue == nil:
		w.write(w.batch)
		w.batch = w.batch[:0]
	case len(w.batch) == jobsAtOnce:
		w.queue <- w.batch
		w.batch = make([]job, 0, jobsAtOnce)
	}
}

func (w *writer) write(batch []job) {
	for _, j := range batch {
		if j.ready != nil {
			w.steps = append(w.steps, *j.ready)
			continue
		}
		s := w.planner.removal(j.nodes, j.key)
		if g := j.guards; g != nil {
			s.Holds, s.Cautions = append(s.Holds, g.Holds...), append(s.Cautions, g.Cautions...)
			s.OpenEdges, s.KeepOff = g.OpenEdges, g.KeepOff
		}
		w.steps = append(w.steps, s)
	}
}

// close waits for what is still being written, and hands it over. It may be called again.
func (w *writer) close() []Step {
	if w.queue != nil && !w.closed {
		w.queue <- w.batch
		close(w.queue)
	}
	w.closed = true
	w.done.Wait()
	return w.steps
}

// closed is the open step as a job.
func (p *planner) closed() job {
	j := job{nodes: slices.Clone(p.open), key: p.openRun.key}
	guards := Step{Assembly: j.key.Assembly}
	p.guardByHand(j.nodes, &guards)
	p.keepOff(j.nodes, &guards)
	if len(guards.Holds)+len(guards.Cautions) > 0 {
		j.guards = &guards
	}
	return j
}
