package release

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
)

// TestOnLess takes carriers from under the demo's floor: a beam of two plies on three posts, joists in hangers between it and a
// wall plate on the studs of a wall, trimmers round a hatch. What is wanted was said by hand, from where each carrier is.
func TestOnLess(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		out  []string
		want []string // the floor's beams, plates, joists and trimmers: on one end, or loaded over a longer span
	}{
		{"nothing", nil, nil},
		{"the post at one end", []string{"M1-P1"}, []string{"M1-BM1 hangs without M1-P1", "M1-BM2 hangs without M1-P1"}},
		{"its base", []string{"M1-PB1"}, []string{"M1-BM1 hangs without M1-PB1", "M1-BM2 hangs without M1-PB1"}},
		{"the post in the middle: joists hang on one ply", []string{"M1-P2"}, []string{"M1-BM1 spans without M1-P2"}},
		{"a hanger", []string{"M1-HG19"}, []string{"M1-J6 hangs without M1-HG19"}},
		{"a hanger of a doubled joist: the other ply holds its end, under twice the load", []string{"M1-HG1"}, []string{"M1-J1 spans without M1-HG1"}},
		{"one side of a hatch", []string{"M1-J2"}, []string{"M1-TR1 hangs without M1-J2", "M1-TR2 hangs without M1-J2", "M1-TR3 hangs without M1-J2", "M1-TR4 hangs without M1-J2"}},
		{"a stud with another beside it", []string{"W3-S3"}, nil},
		{"a stud by itself", []string{"W3-S8"}, []string{"M1-WP1 spans without W3-S8"}},
		{"the studs under one end", []string{"W3-S3", "W3-S4", "W3-S5", "W3-S6", "W3-S7"}, []string{"M1-WP1 hangs without W3-S3, W3-S4, W3-S5, W3-S6, W3-S7"}},
		{"all the posts: nothing holds the beam, so it does not hang on less", []string{"M1-P1", "M1-P2", "M1-P3"}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			g := Build(withoutPieces(readDemo(t), tt.out...))
			got := g.saidOnLess(domain.Beam, domain.WallPlate, domain.Joist, domain.Trimmer)
			if !slices.Equal(got, tt.want) {
				t.Errorf("without %v: %q, want %q", tt.out, got, tt.want)
			}
		})
	}
}

// TestBareBeamSpans: of a floor that is out but for its beam, the post in the middle may go, the one at an end may not; and a
// post that was put in anew beside the one that went carries the beam again.
func TestBareBeamSpans(t *testing.T) {
	t.Parallel()
	bare := func() *domain.Register {
		r := readDemo(t)
		var out []string
		for _, e := range r.Elements {
			if e.Assembly == "M1" && !strings.HasPrefix(e.Code, "M1-P") && !strings.HasPrefix(e.Code, "M1-BM") || e.Assembly == "HC1" {
				out = append(out, e.Code)
			}
		}
		return withoutPieces(r, append(out, "M1-BM2")...)
	}
	for out, want := range map[string][]string{"M1-P2": nil, "M1-P3": {"M1-BM1 hangs without M1-P3"}} {
		if got := Build(withoutPieces(bare(), out)).saidOnLess(domain.Beam); !slices.Equal(got, want) {
			t.Errorf("bare beam without %s: %q, want %q", out, got, want)
		}
	}
	r := withoutPieces(bare(), "M1-P3")
	post, screw := r.Elements[slices.IndexFunc(r.Elements, func(e domain.Element) bool { return e.Code == "M1-P3" })], domain.Fixing{}
	for _, f := range r.Fixings {
		if f.Holds == "M1-BM1" && f.IntoElement == "M1-P3" {
			screw = f
		}
	}
	post.Code, post.State = "NEW-P", domain.InPlace
	post.Placement.Origin.X -= 150
	screw.Code, screw.IntoElement, screw.State = "NEW-F", "NEW-P", domain.FixingIn
	screw.Run.Start.X -= 150
	foot := domain.Fixing{Code: "NEW-F2", Type: "concrete-screw-10", Count: 2, Holds: "NEW-P", IntoHost: "SLAB2"}
	r.Elements, r.Fixings = append(r.Elements, post), append(r.Fixings, screw, foot)
	if got := Build(r).saidOnLess(domain.Beam); len(got) > 0 {
		t.Errorf("a post put in anew 150 mm off: %q", got)
	}
}

// TestUnscrewedAndStillLying: a piece whose fixings into one carrier are undone is not carried by that any more, unless it lies
// on it.
func TestUnscrewedAndStillLying(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		held, into string
		lost       bool
	}{
		{"M1-BM1", "M1-P1", false}, // on the top of the post
		{"M1-WP1", "W3-S8", true},  // against the side of a stud
	} {
		r, undone := withoutPieces(readDemo(t)), ""
		for i := range r.Fixings {
			if f := &r.Fixings[i]; f.Holds == tt.held && f.IntoElement == tt.into {
				f.State, undone = domain.FixingUndone, f.Code
			}
		}
		var want []string
		if tt.lost {
			want = []string{tt.held + " spans without " + undone}
		}
		if got := Build(r).saidOnLess(domain.Beam, domain.WallPlate); undone == "" || !slices.Equal(got, want) {
			t.Errorf("%s unscrewed from %s (%s): %q, want %q", tt.held, tt.into, undone, got, want)
		}
	}
}

// saidOnLess words what hangs on less, of some kinds.
func (g *Graph) saidOnLess(kinds ...domain.ElementKind) []string {
	var out []string
	for _, x := range g.Losses().OnLess {
		e := &g.Register.Elements[g.Elements(x.Piece)[0]]
		if how := map[bool]string{true: "hangs", false: "spans"}[x.OneEnd]; slices.Contains(kinds, e.Kind) {
			out = append(out, fmt.Sprintf("%s %s without %s", e.Code, how, strings.Join(x.Out, ", ")))
		}
	}
	slices.Sort(out)
	return out
}

// withoutPieces is a register once some pieces are down, and what held them or was held to them undone.
func withoutPieces(r *domain.Register, codes ...string) *domain.Register {
	out := *r
	out.Elements, out.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	for i := range out.Elements {
		if e := &out.Elements[i]; slices.Contains(codes, e.Code) {
			e.State = domain.TakenDown
		}
	}
	for i := range out.Fixings {
		f := &out.Fixings[i]
		if slices.ContainsFunc(append([]string{f.Holds, f.IntoElement}, f.Through...), func(code string) bool { return slices.Contains(codes, code) }) {
			f.State = domain.FixingUndone
		}
	}
	return &out
}
