package recipe

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// withDoor is the worked wall with one doorway in it.
func withDoor(width int, kg float64) StudWall {
	p := worked()
	p.Openings = []Opening{{AtMm: 1500, LeafWidthMm: width, LeafHeightMm: 1981, LeafMassKg: kg}}
	p.FaceA.ShareCut, p.FaceB.ShareCut = true, true
	return p
}

// fitted builds a wall and then everything on it, and holds all of it to be sound and workable.
func fitted(t *testing.T, p StudWall, parts ...part) []domain.Records {
	t.Helper()
	r, all := built(t, under(premises(), p), "W1", "stud-wall", p)
	out := []domain.Records{}
	for _, x := range parts {
		var made domain.Records
		r, made = built(t, r, x.code, x.recipe, x.params)
		out = append(out, made)
		all.Append(made)
	}
	sound(t, r, all, 1)
	workable(t, r)
	return out
}

type part struct {
	code, recipe string
	params       any
}

func kinds(made domain.Records) map[domain.ElementKind]int {
	out := map[domain.ElementKind]int{}
	for _, e := range made.Elements {
		out[e.Kind]++
	}
	return out
}

func fixings(made domain.Records) map[string]int {
	out := map[string]int{}
	for _, f := range made.Fixings {
		out[f.Type] += f.Count
	}
	return out
}

func TestDoorSets(t *testing.T) {
	t.Parallel()
	t.Run("hollow leaf", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, withDoor(762, 14), part{"D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-hollow-762"}})[0]
		want := map[domain.ElementKind]int{domain.DoorLining: 3, domain.DoorLeaf: 1, domain.Trim: 3, domain.Architrave: 6}
		if diff := cmp.Diff(want, kinds(made)); diff != "" {
			t.Errorf("pieces (-want +got):\n%s", diff)
		}
		// By hand: lining sides of 1992 (8 + 1981 + 3) at 600, e = 150: 4 each; three hinges.
		if got := fixings(made); got["wood-screw-5x100"] != 8 || got["door-hinge"] != 3 {
			t.Errorf("lining screws %d and hinges %d, want 8 and 3", got["wood-screw-5x100"], got["door-hinge"])
		}
		for _, e := range made.Elements {
			if together := e.Subassembly != ""; together != (e.Kind == domain.DoorLining) {
				t.Errorf("%s (%s): subassembly %q: only the lining leaves as one", e.Code, e.Kind, e.Subassembly)
			}
		}
	})
	t.Run("fire door is one set", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, withDoor(838, 42), part{"D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-fd30-838", HungOn: "b", HingedAt: "end"}})[0]
		for _, e := range made.Elements {
			if set := e.Subassembly == "D1-SET1" && e.FireRated; set != (e.Kind != domain.Architrave) {
				t.Errorf("%s (%s): subassembly %q, fire rated %v", e.Code, e.Kind, e.Subassembly, e.FireRated)
			}
		}
	})
	t.Run("pair", func(t *testing.T) {
		t.Parallel()
		p := withDoor(2*762+3, 14)
		made := fitted(t, p, part{"D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-hollow-762", Pair: true, AsSet: true}})[0]
		if got := kinds(made)[domain.DoorLeaf]; got != 2 {
			t.Errorf("leaves: got %d, want 2", got)
		}
	})
	t.Run("wrong leaf is refused", func(t *testing.T) {
		t.Parallel()
		p := withDoor(762, 14)
		r, _ := built(t, premises(), "W1", "stud-wall", p)
		_, err := Expand(r, assemble(t, "D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-hollow-838"}))
		if got := domain.CodeOf(err); got != domain.Refused {
			t.Errorf("code %q, want %q (%v)", got, domain.Refused, err)
		}
	})
}

// The rough opening follows from the leaf: 762 + 2 x (3 + 32 + 6) = 844, and 8 + 1981 + 3 + 32 + 6 = 2030 (by hand).
func TestRoughOpening(t *testing.T) {
	t.Parallel()
	o := Opening{LeafWidthMm: 762, LeafHeightMm: 1981}
	if diff := cmp.Diff([]int{844, 2030}, []int{o.RoughWidthMm(), o.RoughHeightMm()}); diff != "" {
		t.Errorf("rough width and height (-want +got):\n%s", diff)
	}
	for kg, want := range map[float64]int{14: 1, 25: 1, 25.1: 2} {
		if got := (Opening{LeafMassKg: kg}).studsEachSide(); got != want {
			t.Errorf("studs each side for a leaf of %v kg: %d, want %d", kg, got, want)
		}
	}
}

func TestSkirting(t *testing.T) {
	t.Parallel()
	t.Run("plain wall", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, worked(), part{"K1", "trim", Trim{Wall: "W1", Face: "a"}})[0]
		if diff := cmp.Diff([]int{4200}, lengths(made, domain.Skirting)); diff != "" {
			t.Errorf("pieces (-want +got):\n%s", diff)
		}
		if got, want := fixings(made)["trim-screw-4x50"], 16; got != want { // two at each of 8 studs
			t.Errorf("screws: %d, want %d", got, want)
		}
		through := 0
		for _, f := range made.Fixings {
			if len(f.Through) == 1 {
				through += f.Count
			}
		}
		if through != 16 {
			t.Errorf("screws through a board: %d, want all 16", through)
		}
	})
	t.Run("stops at architraves", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, withDoor(762, 14),
			part{"D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-hollow-762"}},
			part{"K1", "trim", Trim{Wall: "W1", Face: "b"}})[1]
		// By hand: rough opening 1500 to 2344; lining inside 1538 to 2306; architraves 6 back and 69 wide: 1463, 2381.
		if diff := cmp.Diff([]int{1463, 4200 - 2381}, lengths(made, domain.Skirting)); diff != "" {
			t.Errorf("pieces (-want +got):\n%s", diff)
		}
	})
	t.Run("longer than stock", func(t *testing.T) {
		t.Parallel()
		p := worked()
		p.LengthMm, p.End = 13200, WallEnd{Meets: "free"}
		made := fitted(t, p, part{"K1", "trim", Trim{Wall: "W1", Face: "a"}})[0]
		if diff := cmp.Diff([]int{4800, 4800, 3600}, lengths(made, domain.Skirting)); diff != "" {
			t.Errorf("pieces joined on studs (-want +got):\n%s", diff)
		}
	})
}

func TestInsulation(t *testing.T) {
	t.Parallel()
	p := worked()
	p.FaceB = nil
	made := fitted(t, p, part{"I1", "insulation", Insulation{Wall: "W1", Material: "rw-45-50"}})[0]
	// By hand: 7 bays, 38 to 2391 under the nogging in slabs of 1200 (two), 2429 to 2682 over it (one).
	if got := len(made.Elements); got != 21 {
		t.Errorf("slabs: %d, want 21", got)
	}
	t.Run("closed wall is refused", func(t *testing.T) {
		t.Parallel()
		r, _ := built(t, premises(), "W1", "stud-wall", worked())
		_, err := Expand(r, assemble(t, "I1", "insulation", Insulation{Wall: "W1", Material: "rw-45-50"}))
		if got := domain.CodeOf(err); got != domain.Refused {
			t.Errorf("code %q, want %q (%v)", got, domain.Refused, err)
		}
	})
}

func TestLinings(t *testing.T) {
	t.Parallel()
	t.Run("second face of a wall is as it would have been", func(t *testing.T) {
		t.Parallel()
		p := worked()
		p.FaceB = nil
		made := fitted(t, p, part{"L1", "lining", Lining{Wall: "W1", Face: "b", Boards: WallFace{Board: "osb3-11-metric"}}})[0]
		if got := screws(made, domain.Board); got != 277 || len(made.Elements) != 8 { // design, section 4: a side
			t.Errorf("%d screws in %d pieces, want 277 in 8", got, len(made.Elements))
		}
	})
	t.Run("joints without noggings get them", func(t *testing.T) {
		t.Parallel()
		p := worked()
		p.FaceA, p.FaceB = nil, nil
		made := fitted(t, p, part{"L1", "lining", Lining{Wall: "W1", Face: "a", Boards: WallFace{Board: "osb3-11-metric"}}})[0]
		if got := kinds(made)[domain.Nogging]; got != 7 {
			t.Errorf("noggings: %d, want 7", got)
		}
	})
	t.Run("on battens", func(t *testing.T) {
		t.Parallel()
		lining := Lining{Battens: &Battens{Host: "BLOCK", FromMm: 25000, LengthMm: 3600, HeightMm: 2420}, Boards: WallFace{Board: "osb3-11-metric"}}
		r, made := built(t, premises(), "L1", "lining", lining)
		// By hand: foot and head, seven uprights; 10 + 2400 + 10 leaves one row of three boards.
		if diff := cmp.Diff(map[domain.ElementKind]int{domain.Batten: 9, domain.Board: 3}, kinds(made)); diff != "" {
			t.Errorf("pieces (-want +got):\n%s", diff)
		}
		sound(t, r, made, 1)
		workable(t, r)
	})
	t.Run("a lined face is refused", func(t *testing.T) {
		t.Parallel()
		r, _ := built(t, premises(), "W1", "stud-wall", worked())
		_, err := Expand(r, assemble(t, "L1", "lining", Lining{Wall: "W1", Face: "a", Boards: WallFace{Board: "osb3-11-metric"}}))
		if got := domain.CodeOf(err); got != domain.Refused {
			t.Errorf("code %q, want %q (%v)", got, domain.Refused, err)
		}
	})
}

func TestSeals(t *testing.T) {
	t.Parallel()
	t.Run("foot of a wall with a door", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, withDoor(762, 14), part{"S1", "seal", Seal{Wall: "W1", Face: "a", Edge: "foot", Host: "SLAB"}})[0]
		if diff := cmp.Diff([]int{1500, 4200 - 2344}, lengths(made, domain.Seal)); diff != "" {
			t.Errorf("beads (-want +got):\n%s", diff)
		}
		bead := 0
		for _, f := range made.Fixings {
			bead += f.BeadMm
		}
		if bead != 1500+4200-2344 {
			t.Errorf("bead: %d mm", bead)
		}
		for _, rel := range made.Relations {
			if rel.Kind != domain.Seals {
				t.Errorf("%s: %s", rel.Code, rel.Kind)
			}
		}
	})
	t.Run("every edge", func(t *testing.T) {
		t.Parallel()
		made := fitted(t, worked(),
			part{"S1", "seal", Seal{Wall: "W1", Face: "b", Edge: "head", Host: "SOFFIT", Material: "seal-intumescent-bead"}},
			part{"S2", "seal", Seal{Wall: "W1", Face: "a", Edge: "start", Host: "BLOCK"}},
			part{"S3", "seal", Seal{Wall: "W1", Face: "a", Edge: "end", Host: "FAR", Material: "seal-silicone-bead"}})
		for i, want := range []int{4, 2, 2} { // boards of the top row; two rows at either end
			if got := len(made[i].Relations); got != want {
				t.Errorf("seal %d: %d boards sealed, want %d", i, got, want)
			}
		}
	})
	t.Run("between pieces", func(t *testing.T) {
		t.Parallel()
		seal := Seal{Pieces: []string{"W1-B1a", "W1-B2a"}, Start: &domain.Point{X: 1197, Y: -17, Z: 20}, Along: &domain.Direction{Z: 1}, LengthMm: 2300}
		made := fitted(t, worked(), part{"S1", "seal", seal})[0]
		if len(made.Relations) != 2 {
			t.Errorf("relations: %v", made.Relations)
		}
	})
}
