package strip

import (
	"testing"

	"pgregory.net/rapid"
)

// TestLeastWeighed: no three numbers of changes that keep to the least of each view weigh less, by trying all.
func TestLeastWeighed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		const most = 12
		var least [len(views)]int
		for i := range least {
			least[i] = rapid.IntRange(0, most).Draw(t, "least")
		}
		best := 1 << 30
		for z := least[0]; z <= most; z++ {
			for a := least[1]; a <= most; a++ {
				for x := least[2]; x <= most; x++ {
					if z+a >= least[3] && z+x >= least[4] && a+x >= least[5] && z+a+x >= least[6] {
						best = min(best, zoneWeighs*z+accessWeighs*a+toolWeighs*x)
					}
				}
			}
		}
		if got := leastWeighed(least); got != best {
			t.Fatalf("least weighed of %v = %d, by trying all %d", least, got, best)
		}
	})
}

// TestCounts: numbers packed in words are compared, merged and summed as numbers.
func TestCounts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		draw := func(name string) ([]int, counts) {
			plain, packed := rapid.SliceOfN(rapid.IntRange(0, mostCount), n, n).Draw(t, name), newCounts(n)
			for i, x := range plain {
				packed.set(int32(i), mostCount) // to be written over
				packed.set(int32(i), x)
			}
			return plain, packed
		}
		a, packedA := draw("a")
		b, packedB := draw("b")
		above, sum := true, 0
		for i := range a {
			above = above && a[i] >= b[i]
			sum += max(a[i], b[i])
		}
		if got := packedA.above(packedB); got != above {
			t.Fatalf("above = %t, want %t", got, above)
		}
		packedA.raise(packedB)
		for i := range a {
			if got := packedA.at(int32(i)); got != max(a[i], b[i]) {
				t.Fatalf("%d: %d, want the greater of %d and %d", i, got, a[i], b[i])
			}
		}
		if got := packedA.sum(); got != sum {
			t.Fatalf("sum = %d, want %d", got, sum)
		}
	})
}
