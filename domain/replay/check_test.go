package replay

import (
	"testing"

	"unpick/domain"
)

func report(tb testing.TB, faults []Fault) {
	tb.Helper()
	for _, f := range faults {
		tb.Errorf("step %s: %s: %s %v", f.Step, f.Rule, f.Because, f.Evidence)
	}
}

func TestGoodOrderIsClean(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		wall wall
	}{
		{"bare frame", wall{bays: 3, heightMm: 2400}},
		{"boards on one face", wall{bays: 4, heightMm: 2400, noggings: true}},
		{"boards on both faces", wall{bays: 3, heightMm: 2700, faceB: true}},
		{"insulated, with skirting", wall{bays: 2, heightMm: 2400, faceB: true, insulated: true, skirting: true}},
		{"a cable through the studs", wall{bays: 3, heightMm: 2400, faceB: true, cable: true}},
		{"raised as a frame", wall{bays: 3, heightMm: 2400, faceB: true, framed: true, insulated: true}},
		{"nobody knows the boards' screws", wall{bays: 3, heightMm: 2400, faceB: true, loosed: true, skirting: true}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			var b builder
			tt.wall.name = "W"
			b.wall(tt.wall)
			report(t, Check(&b.r, lastFirst(&b.r)))
		})
	}
}

func TestFullWallIsClean(t *testing.T) {
	t.Parallel()
	r := fullWall()
	report(t, Check(r, lastFirst(r)))
	if got := Check(&domain.Register{}, nil); got != nil {
		t.Errorf("Check of nothing = %v, want nil", got)
	}
}
