package replay

import (
	"fmt"
	"slices"
	"testing"

	"unpick/domain"
)

// floor is a grid of walls with at least so many elements: what a portfolio looks like.
func floor(elements int) *domain.Register {
	var b builder
	for i := 0; len(b.r.Elements) < elements; i++ {
		b.wall(wall{name: fmt.Sprintf("W%d", i), at: vec{i % 64 * 6000, i / 64 * 5000, 0}, bays: 6, heightMm: 2700,
			faceB: true, insulated: true, skirting: true, noggings: true, cable: true})
	}
	return &b.r
}

// BenchmarkCheck replays a clean plan; its peer, a bare copy and sort of the same steps' codes, is the least that
// anything reading the plan by code must do.
func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		r := floor(n)
		steps := lastFirst(r)
		b.Run(fmt.Sprintf("replay/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if faults := Check(r, steps); faults != nil {
					b.Fatalf("Check = %v, want clean", faults[0])
				}
			}
			b.ReportMetric(float64(len(r.Elements)), "elements")
			b.ReportMetric(float64(len(r.Fixings)), "fixings")
		})
		b.Run(fmt.Sprintf("peer-sort-codes/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				codes := make([]string, 0, len(r.Elements)+len(r.Fixings))
				for i := range steps {
					codes = append(append(codes, steps[i].Elements...), steps[i].Fixings...)
				}
				slices.Sort(codes)
			}
		})
	}
}
