package freeing

import "testing"

// The small wall of ten pieces, each one removal. Worked by hand: freeing the insulation, from either side, takes the
// skirting and the board of one side; with the boards of side b dearer, side a, and the other way about. A stud waits for
// both sides and the insulation, a plate for the studs as well. No published example with its data could be read.
func TestFreeingInSmallWall(t *testing.T) {
	t.Parallel()
	const skirtA, skirtB, boardA, boardB, wool, stud, sole, head = 0, 1, 2, 3, 4, 5, 8, 9
	for _, tt := range []struct {
		name         string
		wanted       int32
		costA, costB int64 // of a board
		before       int64 // least cost of all that goes first
	}{
		{"insulation, sides alike", wool, 1, 1, 2},
		{"insulation, side b dearer", wool, 1, 7, 2},
		{"insulation, side a dearer", wool, 5, 2, 3},
		{"a stud", stud, 1, 1, 5},
		{"sole plate", sole, 1, 1, 8},
		{"head plate, boards dearer", head, 4, 6, 16},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			n := newNetwork(10)
			for i := range n.cost {
				n.cost[i] = 1
			}
			n.cost[boardA], n.cost[boardB] = tt.costA, tt.costB
			n.before[boardA], n.before[boardB] = []int32{skirtA}, []int32{skirtB}
			n.gate(wool, []int32{boardA}, []int32{boardB})
			for s := int32(stud); s < sole; s++ {
				n.before[s] = []int32{boardA, boardB, wool}
			}
			n.before[sole], n.before[head] = []int32{5, 6, 7}, []int32{5, 6, 7}
			n.wanted = []int32{tt.wanted}
			small, was := n.concerning()
			got, ok := solve(small, 1<<20)
			if want := tt.before + n.cost[tt.wanted]; !ok || got.cost != want || got.least != want {
				t.Fatalf("found %v, cost %d, at least %d; want %d", ok, got.cost, got.least, want)
			}
			if last := was[got.order[len(got.order)-1]]; last != tt.wanted {
				t.Errorf("the last to come out is %d, want %d", last, tt.wanted)
			}
		})
	}
}
