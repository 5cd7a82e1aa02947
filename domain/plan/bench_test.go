package plan_test

import (
	"fmt"
	"math"
	"runtime"
	"runtime/metrics"
	"strings"
	"syscall"
	"testing"
	"time"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"gonum.org/v1/gonum/stat"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// street builds a register of many walls with doors, side by side in rows: copies of the wall that has an answer
// key, 30 pieces and 74 fixing sets each.
func street(tb testing.TB, pieces int) *domain.Register {
	tb.Helper()
	one := readRegister(tb, "../../testdata/keys/wall-with-door.json")
	copies := max(pieces/len(one.Elements), 1)
	out := *one
	out.Hosts, out.Assemblies, out.Elements, out.Fixings, out.Holes, out.Relations = nil, nil, nil, nil, nil, nil
	for i := range copies {
		at := domain.Vector{X: float64(i%100) * 5000, Y: float64(i/100) * 4000}
		appendCopy(&out, one, fmt.Sprintf("U%d-", i), at)
	}
	return &out
}

func appendCopy(out, one *domain.Register, prefix string, at domain.Vector) {
	code := func(c string) string {
		if c == "" {
			return ""
		}
		return prefix + c
	}
	for _, h := range one.Hosts {
		h.Code, h.Origin = code(h.Code), h.Origin.Moved(at)
		out.Hosts = append(out.Hosts, h)
	}
	for _, a := range one.Assemblies {
		a.Code = code(a.Code)
		out.Assemblies = append(out.Assemblies, a)
	}
	for _, e := range one.Elements {
		e.Code, e.Assembly, e.Subassembly, e.Placement.Origin = code(e.Code), code(e.Assembly), code(e.Subassembly), e.Placement.Origin.Moved(at)
		out.Elements = append(out.Elements, e)
	}
	for _, f := range one.Fixings {
		f.Code, f.Holds, f.IntoElement, f.IntoHost, f.Assembly = code(f.Code), code(f.Holds), code(f.IntoElement), code(f.IntoHost), code(f.Assembly)
		f.Run.Start = f.Run.Start.Moved(at)
		through := make([]string, len(f.Through))
		for i, c := range f.Through {
			through[i] = code(c)
		}
		f.Through = through
		out.Fixings = append(out.Fixings, f)
	}
	for _, r := range one.Relations {
		r.Code, r.From, r.To = code(r.Code), code(r.From), code(r.To)
		out.Relations = append(out.Relations, r)
	}
}

var sizes = []int{1000, 10_000, 100_000, 1_000_000}

// BenchmarkPlan measures graph, steps and replay together, from a bare register on, and each alone, beside a bare
// topological sort on slices of the same graph, which is the floor, and a general-purpose library's. The largest size
// runs without -short only, and wants 8 GB; -cpu 1,2 shows what the second core brings.
func BenchmarkPlan(b *testing.B) {
	var all, floor growth
	for _, n := range sizes {
		if n > 100_000 && testing.Short() {
			continue
		}
		r := street(b, n)
		inventory := salvage.Take(r)
		g, s, err := plan.StripOut(r.Link(), inventory)
		if err != nil {
			b.Fatal(err)
		}
		steps := replaySteps(s.Steps)
		b.Run(fmt.Sprintf("all/%d", n), func(b *testing.B) {
			all.add(n, measure(b, func() {
				if _, _, err := plan.StripOut(r.Link(), inventory); err != nil {
					b.Fatal(err)
				}
			}))
			b.ReportMetric(float64(len(g.Arcs)), "arcs")
			if n == 100_000 {
				peak, before := peakHeap(func() { plan.StripOut(r.Link(), inventory) })
				b.ReportMetric(peak, "peak-heap-MB")
				b.ReportMetric(before, "register-MB")
			}
		})
		b.Run(fmt.Sprintf("graph/%d", n), func(b *testing.B) { measure(b, func() { release.Build(r) }) })
		b.Run(fmt.Sprintf("steps/%d", n), func(b *testing.B) { measure(b, func() { strip.Plan(g, inventory) }) })
		b.Run(fmt.Sprintf("replay/%d", n), func(b *testing.B) { measure(b, func() { replay.Check(r, steps) }) })
		b.Run(fmt.Sprintf("bare-topological-sort/%d", n), func(b *testing.B) {
			floor.add(n, measure(b, func() { bareSort(g) }))
		})
		if n <= 100_000 {
			b.Run(fmt.Sprintf("gonum-topo/%d", n), func(b *testing.B) {
				d := gonumGraph(g)
				b.ResetTimer()
				measure(b, func() {
					if _, err := topo.Sort(d); err != nil {
						b.Fatal(err)
					}
				})
			})
		}
	}
	b.Run("growth", func(b *testing.B) {
		for b.Loop() { // nothing to time: this line carries the exponents
		}
		b.ReportMetric(0, "ns/op")
		b.ReportMetric(all.exponent(), "exponent-all")
		b.ReportMetric(floor.exponent(), "exponent-bare-sort")
	})
}

// BenchmarkPlanZones has every unit in a zone of its own: a choice of the next zone must not cost more for it.
func BenchmarkPlanZones(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		r := street(b, n)
		zones := map[string]bool{}
		for i := range r.Elements {
			e := &r.Elements[i]
			e.Zone, _, _ = strings.Cut(e.Code, "-")
			zones[e.Zone] = true
		}
		g, inventory := release.Build(r), salvage.Take(r)
		b.Run(fmt.Sprintf("steps/%d", n), func(b *testing.B) {
			measure(b, func() { strip.Plan(g, inventory) })
			b.ReportMetric(float64(len(zones)), "zones")
		})
	}
}

// measure times an operation: beside the mean that the benchmark prints, the fastest, and the processor time of both
// cores with the collecting of garbage in it, which a busy machine disturbs less. It answers the fastest.
func measure(b *testing.B, operation func()) time.Duration {
	b.Helper()
	b.ReportAllocs()
	runtime.GC()
	fastest, used := time.Duration(math.MaxInt64), processorTime()
	for b.Loop() {
		start := time.Now()
		operation()
		fastest = min(fastest, time.Since(start))
	}
	used = processorTime() - used
	b.ReportMetric(float64(fastest.Microseconds())/1000, "min-ms")
	b.ReportMetric(float64(used.Microseconds())/1000/float64(b.N), "cpu-ms/op")
	return fastest
}

func processorTime() time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		return 0
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// peakHeap is the most heap in use at any moment of an operation, and what was in use before it, in MB. It looks
// every millisecond.
func peakHeap(operation func()) (peakMB, beforeMB float64) {
	inUse := func() float64 {
		sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		metrics.Read(sample)
		return float64(sample[0].Value.Uint64()) / 1e6
	}
	runtime.GC()
	beforeMB = inUse()
	done, peak := make(chan struct{}), make(chan float64)
	go func() {
		most := 0.0
		for {
			most = max(most, inUse())
			select {
			case <-done:
				peak <- most
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	operation()
	close(done)
	return <-peak, beforeMB
}

// growth fits time = a * n^exponent to measured sizes: least squares over the logarithms.
type growth struct{ sizes, times []float64 }

func (g *growth) add(n int, t time.Duration) {
	g.sizes, g.times = append(g.sizes, math.Log(float64(n))), append(g.times, math.Log(float64(t)))
}

func (g *growth) exponent() float64 {
	_, slope := stat.LinearRegression(g.sizes, g.times, nil, false)
	return slope
}

func replaySteps(steps []strip.Step) []replay.Step {
	out := make([]replay.Step, len(steps))
	for i, s := range steps {
		out[i] = replay.Step{Code: fmt.Sprint(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
		switch s.Kind {
		case strip.MakeDead:
			out[i].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[i].Props = s.Elements
		default:
			out[i].Elements = s.Elements
			for _, w := range s.Fixings {
				out[i].Fixings = append(out[i].Fixings, w.Codes...)
			}
		}
	}
	return out
}

// bareSort is A. B. Kahn, "Topological sorting of large networks" (1962), doi:10.1145/368996.369025, on slices.
func bareSort(g *release.Graph) []int32 {
	first, arcs := g.Successors()
	waiting := make([]int32, len(g.Nodes))
	for _, a := range g.Arcs {
		waiting[a.After]++
	}
	order := make([]int32, 0, len(g.Nodes))
	for n, w := range waiting {
		if w == 0 {
			order = append(order, int32(n))
		}
	}
	for i := 0; i < len(order); i++ {
		for _, a := range arcs[first[order[i]]:first[order[i]+1]] {
			after := g.Arcs[a].After
			if waiting[after]--; waiting[after] == 0 {
				order = append(order, after)
			}
		}
	}
	return order
}

func gonumGraph(g *release.Graph) *simple.DirectedGraph {
	d := simple.NewDirectedGraph()
	for n := range g.Nodes {
		d.AddNode(simple.Node(n))
	}
	for _, a := range g.Arcs {
		d.SetEdge(d.NewEdge(simple.Node(a.Before), simple.Node(a.After)))
	}
	return d
}

// TestOrderAgainstGonum has a general-purpose library sort the same arcs: it must find no cycle, and our order must
// keep every arc that it was given.
func TestOrderAgainstGonum(t *testing.T) {
	t.Parallel()
	r := street(t, 600)
	g := release.Build(r)
	if _, err := topo.Sort(gonumGraph(g)); err != nil {
		t.Fatalf("gonum finds a cycle: %v", err)
	}
	s, err := strip.Plan(g, salvage.Take(r))
	if err != nil {
		t.Fatal(err)
	}
	place := map[string]int{}
	for _, step := range s.Steps {
		for _, code := range step.Elements {
			if step.Kind == strip.Remove {
				place[code] = len(place)
			}
		}
	}
	at := func(n int32) (first, last int) {
		first, last = len(place), -1
		for _, e := range g.Elements(n) {
			p := place[r.Elements[e].Code]
			first, last = min(first, p), max(last, p)
		}
		return first, last
	}
	checked := 0
	for _, a := range g.Arcs {
		if g.Nodes[a.Before].Kind != release.Piece || g.Nodes[a.After].Kind != release.Piece {
			continue
		}
		_, before := at(a.Before)
		after, _ := at(a.After)
		if before > after {
			t.Errorf("%s leaves after %s, against an arc (%v)", g.Nodes[a.Before].Code, g.Nodes[a.After].Code, a.Reason)
		}
		checked++
	}
	if checked == 0 {
		t.Error("no arc was checked")
	}
}
