package evidence

import (
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/space"
)

// TestInTheWayFindsWhatLookingAtEveryPieceFinds: the grid leaves out nothing that a plain look at every box would hit.
func TestInTheWayFindsWhatLookingAtEveryPieceFinds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		vector := func(name string, reach float64) domain.Vector {
			f := rapid.Float64Range(-reach, reach)
			return domain.Vector{X: f.Draw(t, name+" x"), Y: f.Draw(t, name+" y"), Z: f.Draw(t, name+" z")}
		}
		var boxes []domain.Box
		l := looker{}
		for range rapid.IntRange(0, 12).Draw(t, "pieces") {
			turn := domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}
			if rapid.Bool().Draw(t, "askew") {
				turn = domain.Placement{Along: domain.Direction{X: 3, Y: 4}, Across: domain.Direction{X: -4, Y: 3}}
			}
			boxes = append(boxes, domain.Box{Centre: vector("centre", 1500), Axes: turn.Axes(),
				Half: [3]float64{rapid.Float64Range(5, 800).Draw(t, "length"), rapid.Float64Range(5, 400).Draw(t, "width"), rapid.Float64Range(5, 50).Draw(t, "thickness")}})
			l.solids = append(l.solids, solid{sheet: rapid.Bool().Draw(t, "sheet")})
		}
		l.near = space.New(boxes)
		p, far := vector("head", 1500), rapid.Float64Range(1, deepMm).Draw(t, "far")
		way := vector("way", 1)
		if way.Length() < 0.1 {
			way = domain.Vector{X: 1}
		}
		way = way.Unit()
		want := false
		for i := range boxes {
			box := space.Of(boxes[i])
			want = want || l.solids[i].sheet && space.BarHits(&box, p, way, far, 1, 2*gapMm)
		}
		if got := l.inTheWay(p, way, far, func(o *solid) bool { return o.sheet }); got != want {
			t.Fatalf("in the way = %v, every box says %v", got, want)
		}
	})
}
