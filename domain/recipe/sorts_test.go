package recipe

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// Trade facts, "Fixing to the landlord's fabric": 9 slab screws, 9 steel screws, 2 x 7 block anchors on 3524 mm studs;
// 55 and 35 screws a sheet, 360 a side, 788 in all (computed there). That is a wall of 4800 x 3600 without gaps.
func TestSecondWorkedWall(t *testing.T) {
	t.Parallel()
	p := worked()
	zero := 0
	p.LengthMm, p.HeightMm = 4800, 3600
	p.Head = &Head{Host: "BEAM", Fixing: "self-drill-heavy-5-5", EngineerAgreed: "letter 12"}
	for _, f := range []*WallFace{p.FaceA, p.FaceB} {
		f.FootGapMm, f.HeadGapMm = &zero, &zero
	}
	_, made := built(t, premises(), "W1", "stud-wall", p)
	if diff := cmp.Diff(slices.Repeat([]int{3524}, 9), lengths(made, domain.Stud)); diff != "" {
		t.Errorf("studs (-want +got):\n%s", diff)
	}
	got := []int{into(made, "SLAB"), into(made, "BEAM"), into(made, "BLOCK") + into(made, "FAR"), screws(made, domain.Board), screws(made, domain.Board) + screws(made, domain.Stud) + screws(made, domain.Nogging)}
	if diff := cmp.Diff([]int{9, 9, 14, 720, 788}, got); diff != "" {
		t.Errorf("slab, steel, block, boards, all screws (-want +got):\n%s", diff)
	}
	_, perBoard := boardSizes(made, "a")
	if diff := cmp.Diff(map[string]int{"1197 x 2397": 55, "1197 x 1197": 35}, perBoard); diff != "" {
		t.Errorf("screws a board (-want +got):\n%s", diff)
	}
}

// A wall hardly longer than stock does not end in a stub of plate: the joint goes back by a stud. By hand: 4801 long, studs at
// 600, stock 4800: the stud centred on 4782 would leave 19; the one on 4200 leaves 601.
func TestNoStubOfPlate(t *testing.T) {
	t.Parallel()
	p := worked()
	p.LengthMm, p.FaceA, p.FaceB, p.End = 4801, nil, nil, WallEnd{Meets: "free"}
	_, made := built(t, premises(), "W1", "stud-wall", p)
	if diff := cmp.Diff([]int{4200, 601}, lengths(made, domain.SolePlate)); diff != "" {
		t.Errorf("sole plates (-want +got):\n%s", diff)
	}
}

// Plates longer than stock are joined on a stud, and each piece has its own end fixings.
func TestPlatesJoined(t *testing.T) {
	t.Parallel()
	p := worked()
	p.LengthMm, p.End = 9600, WallEnd{Meets: "free"}
	p.FaceA, p.FaceB = nil, nil
	_, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	// By hand: stock to 4800; the stud centred on 4800 carries the joint; Positions(4800, 600, 150) is 9 a piece.
	if diff := cmp.Diff([]int{4800, 4800}, lengths(made, domain.SolePlate)); diff != "" {
		t.Errorf("sole plates (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{18, 18}, []int{into(made, "SLAB"), into(made, "SOFFIT")}); diff != "" {
		t.Errorf("slab and head (-want +got):\n%s", diff)
	}
	held := map[string]int{}
	for _, f := range made.Fixings {
		if f.Holds == "W1-S9" { // the stud on the joint
			held[f.IntoElement] += f.Count
		}
	}
	if diff := cmp.Diff(map[string]int{"W1-SP1": 1, "W1-SP2": 1, "W1-HP1": 1, "W1-HP2": 1}, held); diff != "" {
		t.Errorf("the stud on the joint (-want +got):\n%s", diff)
	}
}

// Frames: each leaves as one piece; inside, screws go through the plates into the ends of the studs and their heads face
// what the plates lie against.
func TestFrames(t *testing.T) {
	t.Parallel()
	p := worked()
	p.HalfHeight, p.Head, p.HeightMm, p.Frames = true, nil, 1200, true
	r, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	frames := map[string]int{}
	for _, e := range made.Elements {
		if e.Kind != domain.Board {
			frames[e.Subassembly]++
		} else if e.Subassembly != "" {
			t.Errorf("%s: a board stays a piece of its own", e.Code)
		}
	}
	// By hand: 2400 + 1800: studs at 0, 600, 1200, 1800, 2400 and at 0, 600, 1200, 1800; a sole and a cap each.
	if diff := cmp.Diff(map[string]int{"W1-FR1": 7, "W1-FR2": 6}, frames); diff != "" {
		t.Errorf("pieces of the frames (-want +got):\n%s", diff)
	}
	at := r.Index()
	joined, down, up := 0, 0, 0
	for _, f := range made.Fixings {
		if f.IntoElement == "" {
			continue
		}
		holds, into := r.Elements[at.Elements[f.Holds]], r.Elements[at.Elements[f.IntoElement]]
		switch {
		case holds.Kind == domain.Stud && into.Kind == domain.Stud:
			joined += f.Count
		case holds.Kind == domain.Stud && slices.Equal(f.Undo, []domain.Direction{{Z: -1}}):
			down += f.Count
		case holds.Kind == domain.CapPlate && slices.Equal(f.Undo, []domain.Direction{{Z: 1}}):
			up += f.Count
		}
	}
	// By hand: studs of 1124 joined by Positions(1124, 600, 150): 3; two screws at the foot and at the cap of 9 studs.
	if diff := cmp.Diff([]int{3, 18, 18}, []int{joined, down, up}); diff != "" {
		t.Errorf("frame to frame, heads under the sole, heads on the cap (-want +got):\n%s", diff)
	}
}

// A level sole on a falling floor has a packer at each fixing, as thick as the floor has fallen there.
func TestPackedSole(t *testing.T) {
	t.Parallel()
	p := worked()
	p.EndFloorMm, p.EndHeightMm, p.Sole = -42, 2762, "packed" // 1 in 100
	r, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	packers := 0
	for _, e := range made.Elements {
		if e.Kind != domain.Packer {
			continue
		}
		packers++
		x := e.Box().Centre.X
		if fall := x / 100; math.Abs(float64(e.ThicknessMm)-fall) > 1.5 {
			t.Errorf("%s at %.0f is %d thick, and the floor has fallen %.1f", e.Code, x, e.ThicknessMm, fall)
		}
	}
	if packers != 8 {
		t.Errorf("packers: %d, want one at each of 8 fixings", packers)
	}
	for _, h := range made.Holes {
		if h.Host != "SLAB" {
			continue
		}
		for _, q := range h.Run.Points() {
			if _, _, out := r.Hosts[r.Index().Hosts["SLAB"]].Local(q); math.Abs(out) > 1.5 {
				t.Errorf("%s: %.1f mm off the floor", h.Code, out)
			}
		}
	}
}

// A sole that follows the floor has studs cut to it, and every one still reaches from plate to plate.
func TestFallingFloor(t *testing.T) {
	t.Parallel()
	p := worked()
	p.FaceA, p.FaceB = nil, nil
	p.EndFloorMm, p.EndHeightMm = -42, 2762
	_, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	studs := lengths(made, domain.Stud)
	// By hand: 2720 clear less two plates of 38 (38.002 on the slope) at the start, and 42 more at the end; a stud's long
	// point is at its lower side.
	if diff := cmp.Diff([]int{2644, 2686}, []int{studs[0], studs[len(studs)-1]}); diff != "" {
		t.Errorf("first and last stud (-want +got):\n%s", diff)
	}
}
