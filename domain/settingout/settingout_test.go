package settingout_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
	"unpick/domain/settingout"
)

// wall is the wall worked by hand in the design, section 4, standing between a slab and a soffit, with some of its
// parameters changed.
func wall(tb testing.TB, change func(p *recipe.StudWall)) *domain.Register {
	tb.Helper()
	face := recipe.WallFace{Board: "osb3-11-metric"}
	other := face
	p := recipe.StudWall{
		Origin: domain.Point{X: 700, Y: 300, Z: 50}, Along: domain.Direction{X: 3, Y: 4}, LengthMm: 4200, HeightMm: 2720, FaceA: &face, FaceB: &other,
		Foot: recipe.Contact{Host: "SLAB"}, Head: &recipe.Head{Host: "SOFFIT"},
		Start: recipe.WallEnd{Meets: "free"}, End: recipe.WallEnd{Meets: "free"},
	}
	change(&p)
	flat := func(code string, z int, v domain.Direction) domain.HostSurface {
		origin := domain.Point{X: -20000, Y: -20000, Z: z}
		if v.Y < 0 {
			origin.Y = 40000
		}
		return domain.HostSurface{Code: code, Name: code, Kind: "concrete-slab", Origin: origin, U: domain.Direction{X: 1}, V: v, UMm: 60000, VMm: 60000, ThicknessMm: 150, Rule: domain.Allowed}
	}
	r := &domain.Register{
		Hosts:     []domain.HostSurface{flat("SLAB", 50, domain.Direction{Y: 1}), flat("SOFFIT", 2770, domain.Direction{Y: -1})},
		Catalogue: catalogue.Default(),
	}
	raw, err := json.Marshal(p)
	if err != nil {
		tb.Fatal(err)
	}
	a := domain.Assembly{Code: "W1", Name: "W1", Recipe: "stud-wall", Params: raw}
	made, err := recipe.Expand(r, a)
	if err != nil {
		tb.Fatalf("Expand: %v", err)
	}
	made.Assemblies = append(made.Assemblies, a)
	return r.With(made)
}

func of(tb testing.TB, r *domain.Register) settingout.Sheet {
	tb.Helper()
	s, err := settingout.Of(r, "W1")
	if err != nil {
		tb.Fatalf("Of(W1): %v", err)
	}
	return s
}

func centres(s settingout.Sheet) (out []int) {
	for _, u := range s.Uprights {
		out = append(out, u.CentreMm)
	}
	return out
}

// TestWorkedWall: design, section 4: 4200 at 600, first and last stud flush with the ends, boards in modules of 1200
// less 3, joints on the studs. The wall runs askew on plan, so that no axis of the fit-out helps.
func TestWorkedWall(t *testing.T) {
	t.Parallel()
	s := of(t, wall(t, func(*recipe.StudWall) {}))
	var edges [][2]int
	for _, u := range s.Uprights {
		edges = append(edges, [2]int{u.NearMm, u.FarMm})
	}
	want := [][2]int{{0, 38}, {581, 619}, {1181, 1219}, {1781, 1819}, {2381, 2419}, {2981, 3019}, {3581, 3619}, {4162, 4200}}
	if diff := cmp.Diff(want, edges); diff != "" {
		t.Errorf("edges of studs (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{19, 600, 1200, 1800, 2400, 3000, 3600, 4181}, centres(s)); diff != "" {
		t.Errorf("centres of studs (-want +got):\n%s", diff)
	}
	for _, face := range []string{"a", "b"} {
		var joints []int
		for _, j := range s.Joints {
			if j.Face == face && !j.Edge {
				joints = append(joints, j.AtMm)
				if got := j.FarMm - j.NearMm; got != 3 {
					t.Errorf("face %s at %d: gap %d, want 3", face, j.AtMm, got)
				}
			}
		}
		if diff := cmp.Diff([]int{1200, 2400, 3600}, joints); diff != "" {
			t.Errorf("joints of face %s (-want +got):\n%s", face, diff)
		}
	}
	if s.LengthMm != 4200 || s.RakeDeg != 0 {
		t.Errorf("length %d, rake %v, want 4200 and 0", s.LengthMm, s.RakeDeg)
	}
}

// TestOtherLengths: design, section 4, other lengths.
func TestOtherLengths(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		lengthMm, centresMm, want int
		last                      []int // centres of the last two
	}{
		{4250, 600, 9, []int{4193, 4231}},
		{5000, 600, 10, []int{4800, 4981}},
		{6000, 400, 16, []int{5600, 5981}},
	} {
		t.Run(fmt.Sprint(tt.lengthMm), func(t *testing.T) {
			t.Parallel()
			s := of(t, wall(t, func(p *recipe.StudWall) {
				p.LengthMm, p.StudCentresMm, p.FaceA, p.FaceB = tt.lengthMm, tt.centresMm, nil, nil
			}))
			got := centres(s)
			if len(got) != tt.want {
				t.Fatalf("%d studs, want %d: %v", len(got), tt.want, got)
			}
			if diff := cmp.Diff(tt.last, got[len(got)-2:]); diff != "" {
				t.Errorf("the last two (-want +got):\n%s", diff)
			}
			if len(s.Joints) > 0 {
				t.Errorf("joints of a bare wall: %v", s.Joints)
			}
		})
	}
}

// TestRaked: design, section 4: raked 6 degrees from 2400 clear. The head plate runs 4223, and the stud at 600 (near
// edge 581) stands 581 / cos 6 = 584 along it.
func TestRaked(t *testing.T) {
	t.Parallel()
	s := of(t, wall(t, func(p *recipe.StudWall) {
		p.HeightMm, p.EndHeightMm, p.FaceA, p.FaceB = 2400, 2841, nil, nil
	}))
	first, second, last := s.Uprights[0], s.Uprights[1], s.Uprights[len(s.Uprights)-1]
	if diff := cmp.Diff([]int{2328, 2389, 2765}, []int{first.LengthMm, second.LengthMm, last.LengthMm}); diff != "" {
		t.Errorf("long points (-want +got):\n%s", diff)
	}
	if s.RakeDeg < 5.98 || s.RakeDeg > 6.02 || second.NearMm != 581 || second.AlongHeadMm != 584 {
		t.Errorf("rake %v, the second stud at %d, along the head %d; want 6, 581, 584", s.RakeDeg, second.NearMm, second.AlongHeadMm)
	}
	want := []settingout.Plate{{Code: "W1-SP1", Kind: domain.SolePlate, FarMm: 4200, LengthMm: 4200}, {Code: "W1-HP1", Kind: domain.HeadPlate, FarMm: 4200, LengthMm: 4223}}
	if diff := cmp.Diff(want, s.Plates); diff != "" {
		t.Errorf("plates (-want +got):\n%s", diff)
	}
}

// TestDoorway: a leaf of 838 x 1981 in a lining of 32 with 3 of gap and 6 of packing (design, section 4: the rough
// opening follows from the leaf): 838 + 2 x 41 = 920 wide, 8 + 1981 + 41 = 2030 high.
func TestDoorway(t *testing.T) {
	t.Parallel()
	s := of(t, wall(t, func(p *recipe.StudWall) {
		p.FaceA, p.FaceB = nil, nil
		p.Openings = []recipe.Opening{{AtMm: 1500, LeafWidthMm: 838, LeafHeightMm: 1981}}
	}))
	if len(s.Doorways) != 1 {
		t.Fatalf("doorways: %v, want one", s.Doorways)
	}
	if d := s.Doorways[0]; d.NearMm != 1500 || d.FarMm != 2420 || d.HeadMm != 2030 {
		t.Errorf("doorway %+v, want 1500 to 2420, 2030 high", d)
	}
	// The set-out over the doorway: at 1800, and at 2400, whose stud (2381 to 2419) ends before the side at 2420.
	var short []int
	for _, u := range s.Uprights {
		if u.Short {
			short = append(short, u.CentreMm)
		}
	}
	if diff := cmp.Diff([]int{1800, 2400}, short); diff != "" {
		t.Errorf("short studs (-want +got):\n%s", diff)
	}
}

// TestAsItStands: a stud moved 50 mm is set out where it is now, and one taken down is not.
func TestAsItStands(t *testing.T) {
	t.Parallel()
	r := wall(t, func(p *recipe.StudWall) { p.Along, p.FaceA, p.FaceB = domain.Direction{X: 1}, nil, nil })
	for i := range r.Elements {
		switch e := &r.Elements[i]; e.Code {
		case "W1-S2":
			e.Placement.Origin.X += 50
		case "W1-S3":
			e.State = domain.Stored
		}
	}
	if diff := cmp.Diff([]int{19, 650, 1800, 2400, 3000, 3600, 4181}, centres(of(t, r))); diff != "" {
		t.Errorf("centres (-want +got):\n%s", diff)
	}
}

// TestNothing: what is not there, or has no studs, is told in words.
func TestNothing(t *testing.T) {
	t.Parallel()
	r := wall(t, func(*recipe.StudWall) {})
	if _, err := settingout.Of(r, "NONE"); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("Of(NONE): %v, want %q", err, domain.NotFound)
	}
	for i := range r.Elements {
		r.Elements[i].State = domain.Stored
	}
	if _, err := settingout.Of(r, "W1"); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("Of(W1) with all in store: %v, want %q", err, domain.NotFound)
	}
}
