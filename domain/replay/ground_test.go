package replay

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

func TestFalls(t *testing.T) {
	t.Parallel()
	framed := func() *domain.Register {
		var b builder
		b.wall(wall{name: "W", bays: 2, heightMm: 2400, framed: true, skirting: true})
		return &b.r
	}
	packed := func(under domain.ElementKind) *domain.Register {
		var b builder
		b.host("SLAB", vec{-1000, -1000, -200}, vec{5000, 5000, 200}, up)
		b.piece("UNDER", under, vec{0, 0, 0}, vec{600, 100, 2300})
		b.piece("PLATE", domain.HeadPlate, vec{0, 0, 2300}, vec{600, 100, 38})
		return &b.r
	}
	for _, tt := range []struct {
		name  string
		r     *domain.Register
		taken []string
		want  []string
	}{
		{"nothing taken", fullWall(), nil, nil},
		{"a code nobody knows", fullWall(), []string{"W-S9"}, nil},
		{"one stud: the others hold what it held", fullWall(), []string{"W-S2"}, nil},
		{"the first stud: the cable was clipped to it", fullWall(), []string{"W-S1"}, []string{"W-CA"}},
		{"the sole plate: insulation stood on it, studs hang from the head", fullWall(), []string{"W-SP"}, []string{"W-INS1", "W-INS2"}},
		{"both plates: the first stud stands by its own screws to the block", fullWall(), []string{"W-SP", "W-HP"},
			[]string{"W-INS1", "W-INS2", "W-N2", "W-S2", "W-S3"}},
		{"the board that the seal is on", fullWall(), []string{"W-BA1"}, []string{"W-SL"}},
		{"a raised frame loses one plate: its other pieces stand by their own fixings", framed(), []string{"W-SP"}, nil},
		{"both joists: deck, guard of the deck and what stands on it", platform(), []string{"J1", "J2"}, []string{"CRATE", "D1", "D2", "D3", "PACK"}},
		{"both posts: the beam and what only the beam carries", platform(), []string{"P1", "P2"}, []string{"BEAM", "GUARD", "LADDER"}},
		{"a plate stands on a board under it", packed(domain.Board), []string{"UNDER"}, []string{"PLATE"}},
		{"a plate never stood on the wool under it", packed(domain.Insulation), []string{"UNDER"}, nil},
		{"what falls with a board that stands on it", platform(), []string{"D1"}, []string{"CRATE", "PACK"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, Falls(tt.r, tt.taken)); diff != "" {
				t.Errorf("Falls(%v) (-want +got):\n%s", tt.taken, diff)
			}
		})
	}
}

// joined is a union-find over groups, the plainest way to say that things hang together at all.
type joined []int

func (j joined) root(i int) int {
	for j[i] != i {
		i = j[i]
	}
	return i
}

// TestStandingHangsTogether: what stands by the direction of carrying is also joined to the ground when direction is
// forgotten; the reverse does not hold, which is why the replay does not use it.
func TestStandingHangsTogether(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRegister(t)
		var taken []string
		for _, e := range r.Elements {
			if rapid.IntRange(0, 3).Draw(t, "take") == 0 {
				taken = append(taken, e.Code)
			}
		}
		s := newSite(r.Link())
		gone := make([]bool, len(s.in))
		for e := range s.in {
			gone[e] = !s.in[e] || slices.Contains(taken, s.code(int32(e)))
		}
		ground := len(s.in)
		j := make(joined, ground+1)
		for i := range j {
			j[i] = i
		}
		for i := range s.arcs {
			a := &s.arcs[i]
			switch {
			case gone[a.from] || a.to != none && gone[a.to]:
			case a.to == none:
				j[j.root(int(a.from))] = j.root(ground)
			default:
				j[j.root(int(a.from))] = j.root(int(a.to))
			}
		}
		whole := func(e int) bool {
			return !slices.ContainsFunc(s.members.of(s.groupOf[e]), func(m int32) bool { return gone[m] })
		}
		for e := range s.in {
			if s.in[e] && s.stays[e] && !gone[e] {
				j[j.root(e)] = j.root(ground)
			}
			for d := range e {
				if s.groupOf[e] == s.groupOf[d] && whole(e) {
					j[j.root(e)] = j.root(d)
				}
			}
		}
		for e, stands := range s.standing(gone) {
			if stands && j.root(e) != j.root(ground) {
				t.Fatalf("%s stands, but nothing joins it to the ground\n%s", s.code(int32(e)), brief(r))
			}
		}
		for _, code := range Falls(r, taken) {
			if slices.Contains(taken, code) {
				t.Fatalf("Falls(%v) names %s, which was taken", taken, code)
			}
		}
	})
}

// TestHangingOnItsOwnLoad: a stud that has lost both plates hangs on the board that hangs on it; union-find would
// say that it stands, since the board is screwed to the other studs too.
func TestHangingOnItsOwnLoad(t *testing.T) {
	t.Parallel()
	r := fullWall()
	var plates []string
	for _, f := range r.Fixings {
		if f.Holds == "W-S2" {
			plates = append(plates, f.Code)
		}
	}
	steps := []Step{{Code: "insulation", Kind: Remove, Elements: []string{}}, {Code: "undo", Kind: Remove, Fixings: plates}}
	got := faultsOf(CheckPartial(r, steps))
	if want := (fault{Ungrounded, "W-S2"}); !slices.Contains(got, want) {
		t.Errorf("CheckPartial = %v, want %v among them", got, want)
	}
}

// TestPropTooLate: a prop under a piece that fell a step earlier does not mend that.
func TestPropTooLate(t *testing.T) {
	t.Parallel()
	var b builder
	b.host("SLAB", vec{0, 0, -100}, vec{2000, 2000, 100}, up)
	b.piece("POST", domain.OtherPiece, vec{0, 0, 0}, vec{100, 100, 800})
	b.piece("BEAM", domain.OtherPiece, vec{0, 0, 800}, vec{600, 100, 100})
	b.piece("LOAD", domain.OtherPiece, vec{0, 0, 900}, vec{100, 100, 100})
	out := func(code string) Step { return Step{Code: code, Kind: Remove, Elements: []string{code}} }
	prop := Step{Code: "prop", Kind: Prop, Props: []string{"BEAM"}}
	strike := Step{Code: "strike", Kind: StrikeProp, Props: []string{"BEAM"}}
	for _, tt := range []struct {
		name  string
		steps []Step
		want  []Fault
	}{
		{"in time", []Step{prop, out("POST"), out("LOAD"), out("BEAM"), strike}, nil},
		{"too late", []Step{out("POST"), prop, out("LOAD"), out("BEAM"), strike}, []Fault{
			{Step: "POST", Rule: Carried, Code: "POST", Because: "piece POST leaves while it carries piece BEAM: take that out first, or put props under it", Evidence: []string{"BEAM"}},
			{Step: "POST", Rule: Ungrounded, Code: "BEAM", Because: "nothing carries piece BEAM and 1 more down to the landlord's fabric any more: take them out first, or put props under them", Evidence: []string{"BEAM", "LOAD"}},
		}},
		{"struck too early", []Step{prop, out("POST"), strike, out("LOAD"), out("BEAM")}, []Fault{
			{Step: "strike", Rule: PropNeeded, Code: "BEAM", Because: "nothing carries piece BEAM and 1 more down to the landlord's fabric any more: take them out first, or put props under them", Evidence: []string{"BEAM", "LOAD"}},
			{Step: "strike", Rule: PropNeeded, Code: "BEAM", Because: "the props under piece BEAM are struck while it needs them: piece POST, which carried it, is gone", Evidence: []string{"POST"}},
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, Check(&b.r, tt.steps)); diff != "" {
				t.Errorf("Check (-want +got):\n%s", diff)
			}
		})
	}
}
