package release

import (
	"runtime"
	"sync"

	"unpick/domain"
	"unpick/domain/space"
)

// watcher looks at what the boxes say of some of the pieces: what hides their fixings and what stands in their way.
// Every piece is judged by what fixings, relations and bearings say of it, and by nothing that is found out about
// another, so that several watchers can look at once and the graph is the same however many there are.
type watcher struct {
	*builder
	near        *space.Index
	walls       *space.Index
	ancestry    ancestry
	arcs        []Arc
	gates       []Gate
	unreachable []int32
	heads       []domain.Vector // scratch
	ways        []Way           // scratch
	down        lists           // the arcs to what carries each piece; made when a fixing that nobody saw asks
}

// readWays reads hiding and trapping for every piece, on as many cores as there are, and adds what was found in order
// of pieces.
func (b *builder) readWays() {
	first, arcs := b.Predecessors()
	shares := max(1, min(runtime.GOMAXPROCS(0), b.Pieces()/leastShare))
	watchers := make([]*watcher, shares)
	var all sync.WaitGroup
	for i := range watchers {
		w := &watcher{builder: b, near: b.near.Again(), walls: b.walls.Again(), ancestry: newAncestry(b.Graph, first, arcs)}
		watchers[i] = w
		all.Go(func() { w.read(b.Pieces()*i/shares, b.Pieces()*(i+1)/shares) })
	}
	all.Wait()
	for _, w := range watchers {
		b.Arcs = append(b.Arcs, w.arcs...)
		b.Gates = append(b.Gates, w.gates...)
		b.Unreachable = append(b.Unreachable, w.unreachable...)
	}
}

// leastShare is how many pieces are worth a watcher.
const leastShare = 256

func (w *watcher) read(from, upTo int) {
	for n := int32(from); n < int32(upTo); n++ {
		w.ancestry.of(n)
		for _, f := range w.Fixings(n) {
			w.readHiding(n, f)
		}
		w.readTrap(n)
	}
}

// arc adds a fact between two different nodes, one that a watcher found.
func (w *watcher) arc(before, after int32, reason Reason, fixing int32) {
	if before != after {
		w.arcs = append(w.arcs, Arc{before, after, reason, fixing, -1})
	}
}

// boxAt is the box of an element in place.
func (b *builder) boxAt(element int32) *space.Box { return &b.near.Boxes[b.boxOf[element]] }
