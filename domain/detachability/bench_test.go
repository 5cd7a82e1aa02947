package detachability_test

import (
	"testing"

	"unpick/domain/detachability"
	"unpick/domain/release"
)

// BenchmarkTake is the scoring alone, the graph being there already.
func BenchmarkTake(b *testing.B) {
	g := release.Build(read(b, "demo.json"))
	b.ReportAllocs()
	for b.Loop() {
		detachability.Take(g)
	}
}
