package recipe

import (
	"strings"
	"testing"

	"unpick/domain"
)

// A wall plate on a stud wall is screwed into every stud behind it, through the boards between, and comes off before
// them.
func TestPlateOntoAStudWall(t *testing.T) {
	t.Parallel()
	wall := worked()
	r, _ := built(t, under(premises(), wall), "W1", "stud-wall", wall)
	faceB := 0
	for _, e := range r.Elements {
		if e.Kind == domain.Board {
			_, hi := e.Box().Bounds()
			faceB = max(faceB, int(hi.Y))
		}
	}
	p := floor()
	p.Origin, p.Along, p.AlongMm, p.AcrossMm, p.LevelMm = domain.Point{Y: faceB}, domain.Direction{X: 1}, 4200, 2400, 2300
	p.Edges.Left, p.Edges.Right = MezzanineEdge{Is: "wall"}, MezzanineEdge{Is: "wall"}
	p.Edges.Far.Unguarded, p.Guard = "closed by the soffit above", nil
	p.Carriers = []MezzanineCarrier{
		{Kind: "wall-plate", Side: "near", Section: c24x200, Wall: "W1", Fixing: &DesignedFixing{Type: "structural-screw-8", Count: 2, LengthMm: 120}},
		{Kind: "beam", Side: "far", Section: c24x200, Posts: posts(300, 3900)},
	}
	r, made := built(t, r, "M1", "mezzanine", p)
	sound(t, r, made, 1)
	workable(t, r)
	studs := 0
	for _, f := range made.Fixings {
		if f.Holds == "M1-WP1" {
			studs++
			if f.Count != 2 || !strings.HasPrefix(f.IntoElement, "W1-") || len(f.Through) == 0 {
				t.Errorf("%s: %d into %q through %v, want 2 into a stud of W1 through its boards", f.Code, f.Count, f.IntoElement, f.Through)
			}
		}
	}
	if studs != 8 { // design.md, section 4: 8 studs in 4200
		t.Errorf("the plate is held to %d studs, want 8", studs)
	}
	p.Carriers[0].Wall = "W2"
	if _, err := Expand(r, assemble(t, "M2", "mezzanine", p)); err == nil || !strings.Contains(err.Error(), "name a wall whose studs stand there") {
		t.Errorf("Expand on a wall that is not there = %v, want a refusal", err)
	}
}
