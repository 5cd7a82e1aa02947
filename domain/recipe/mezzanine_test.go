package recipe

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// openUnit is the landlord's unit without the soffit: room for a floor.
func openUnit() *domain.Register {
	r := premises()
	r.Hosts = slices.DeleteFunc(slices.Clone(r.Hosts), func(h domain.HostSurface) bool { return h.Code == "SOFFIT" || h.Code == "FAR" })
	return r
}

var (
	c24x200 = Section{Material: "c24-sawn-47x200"}
	post100 = Section{Material: "softwood-c24", ThicknessMm: 100, DepthMm: 100}
)

func posts(at ...int) []MezzaninePost {
	var out []MezzaninePost
	for _, x := range at {
		out = append(out, MezzaninePost{AtMm: x, Section: post100, Host: "SLAB", Base: DesignedFixing{Type: "concrete-screw-10", Count: 4}})
	}
	return out
}

// floor is a deck of 4800 along a block wall by 3600 out from it: joists in hangers from a wall plate to a beam
// on three posts, guarded on its three open edges.
func floor() Mezzanine {
	return Mezzanine{
		Origin: domain.Point{X: 0, Y: 6000}, Along: domain.Direction{Y: -1}, AlongMm: 4800, AcrossMm: 3600, LevelMm: 2540,
		Carriers: []MezzanineCarrier{
			{Kind: "wall-plate", Side: "near", Section: c24x200, Host: "BLOCK", Fixing: &DesignedFixing{Type: "sleeve-anchor-m12", Count: 10}},
			{Kind: "beam", Side: "far", Section: c24x200, Plies: 2, Posts: posts(60, 2400, 4740)},
		},
		Joists: MezzanineJoists{Section: c24x200, CentresMm: 600, Carried: "hangers"},
		Deck:   MezzanineDeck{Material: "p5-22-tg"},
		Edges:  MezzanineEdges{Near: MezzanineEdge{Is: "wall"}, Far: MezzanineEdge{Is: "open"}, Left: MezzanineEdge{Is: "open"}, Right: MezzanineEdge{Is: "open"}},
		Guard:  guard(),
	}
}

func guard() *MezzanineGuard {
	return &MezzanineGuard{
		HeightMm: 1100, Post: Section{Material: "c16-cls-38x89"}, Rail: Section{Material: "c16-cls-38x89"},
		ToeBoard: Section{Material: "c16-cls-38x140"}, PostsAtMm: 1200, PostFixing: DesignedFixing{Type: "timber-bolt-m12", Count: 2},
	}
}

// onTop lets the joists of a floor bear on top of two beams.
func onTop(p *Mezzanine) {
	p.Joists.Carried = "bearing"
	p.Carriers[1].Plies = 1
	p.Carriers = append(p.Carriers[:1:1], MezzanineCarrier{Kind: "beam", Side: "between", AtMm: 3300, Section: c24x200, Posts: posts(60, 2400, 4740)})
}

func stairAt(edge string, at int) MezzanineStair {
	return MezzanineStair{
		Edge: edge, AtMm: at, WidthMm: 800, RiseMm: 235, GoingMm: 200,
		Strings: Section{Material: "softwood-c24", ThicknessMm: 38, DepthMm: 225}, Treads: Section{Material: "softwood-c24", ThicknessMm: 32, DepthMm: 200},
		Head: DesignedFixing{Type: "coach-screw-8", Count: 3},
	}
}

// Every sort of floor comes apart again: sound as built, and its strip-out replays clean.
func TestMezzaninesComeOut(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		filmMm float64
		change func(p *Mezzanine)
	}{
		{"plate and beam", 1, func(*Mezzanine) {}},
		{"square edged", 1, func(p *Mezzanine) { p.Deck.SquareEdged = true }},
		{"glued", 1, func(p *Mezzanine) { p.Deck.Glued = true }},
		{"on top of the carriers", 1, onTop},
		{"stair at the far edge", 1, func(p *Mezzanine) { p.Stairs = []MezzanineStair{stairAt("far", 1000)} }},
		{"stair at the left edge", 1, func(p *Mezzanine) { p.Stairs = []MezzanineStair{stairAt("left", 1000)} }},
		{"stair at the right edge, on top", 1, func(p *Mezzanine) { onTop(p); p.Stairs = []MezzanineStair{stairAt("right", 1500)} }},
		{"trimmed opening", 1, func(p *Mezzanine) {
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 1200, AlongMm: 1000, AcrossMm: 900}}
		}},
		{"trimmed opening on top", 1, func(p *Mezzanine) {
			onTop(p)
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 1000, AlongMm: 1000, AcrossMm: 900, TrimmerPlies: 1}}
		}},
		{"opening reaches the plate", 1, func(p *Mezzanine) {
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 47, AlongMm: 1000, AcrossMm: 1163}}
		}},
		{"stair down an opening", 1, func(p *Mezzanine) {
			p.AlongMm, p.Carriers[1].Posts = 5400, posts(60, 2400, 5340)
			p.Openings = []MezzanineOpening{{XMm: 1200, YMm: 610, AlongMm: 2700, AcrossMm: 1200}}
			s := stairAt("right", 200)
			s.Opening = 1
			p.Stairs = []MezzanineStair{s}
		}},
		{"handrails at the far edge", 1, func(p *Mezzanine) { p.Stairs = []MezzanineStair{railed(stairAt("far", 1000))} }},
		{"handrails at the left edge, on top", 1, func(p *Mezzanine) { onTop(p); p.Stairs = []MezzanineStair{railed(stairAt("left", 1000))} }},
		{"a handrail on one side only", 1, func(p *Mezzanine) {
			s := railed(stairAt("right", 1500))
			s.Handrail.Sides, s.Handrail.MidRails = "left", 0
			p.Stairs = []MezzanineStair{s}
		}},
		{"handrails down an opening", 1, func(p *Mezzanine) {
			p.AlongMm, p.Carriers[1].Posts = 5400, posts(60, 2400, 5340)
			p.Openings = []MezzanineOpening{{XMm: 1200, YMm: 610, AlongMm: 2700, AcrossMm: 1200}}
			s := railed(stairAt("right", 200))
			s.Opening = 1
			p.Stairs = []MezzanineStair{s}
		}},
		{"two stairs", 1, func(p *Mezzanine) {
			p.Stairs = []MezzanineStair{railed(stairAt("far", 1000)), stairAt("left", 1000)}
		}},
		{"three lines of carriers", 1, func(p *Mezzanine) {
			p.AcrossMm, p.Edges.Right = 7000, MezzanineEdge{Is: "open", Unguarded: "racking stands against it"}
			p.Carriers = append(p.Carriers, MezzanineCarrier{Kind: "beam", Side: "between", AtMm: 3400, Section: c24x200, Posts: posts(300, 4500)})
		}},
		{"three lines, on top, longer than stock", 1, func(p *Mezzanine) {
			p.AcrossMm, p.Joists.Carried = 7000, "bearing"
			p.Carriers = append(p.Carriers, MezzanineCarrier{Kind: "beam", Side: "between", AtMm: 3400, Section: c24x200, Plies: 2, Posts: posts(60, 4740)})
		}},
		{"joists at 400", 1, func(p *Mezzanine) { p.Joists.CentresMm = 400 }},
		{"set-out joist tight against the end", 1, func(p *Mezzanine) {
			p.AlongMm, p.Carriers[1].Posts = 4850, posts(60, 2400, 4790)
		}},
		{"askew", 2, func(p *Mezzanine) {
			p.Along = domain.Direction{X: 3, Y: 4}
			p.Origin = domain.Point{X: 9000, Y: 3000}
			p.Edges.Near.Is = "open"
			p.Carriers[0] = MezzanineCarrier{Kind: "beam", Side: "near", Section: c24x200, Posts: posts(60, 4740)}
			p.Stairs = []MezzanineStair{railed(stairAt("far", 1000))}
		}},
		{"nailed hangers with a reason", 1, func(p *Mezzanine) {
			p.Joists.Hanger = &MezzanineHanger{Fixing: "hanger-nail-3-75x30", Reason: "the engineer's drawing says nails"}
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := floor()
			tt.change(&p)
			r, made := built(t, openUnit(), "M1", "mezzanine", p)
			sound(t, r, made, tt.filmMm)
			workable(t, r)
			again, err := Expand(openUnit(), assemble(t, "M1", "mezzanine", p))
			if diff := cmp.Diff(made, again); err != nil || diff != "" {
				t.Errorf("a second expansion differs (%v):\n%s", err, diff)
			}
		})
	}
}

func TestMezzanineCounts(t *testing.T) {
	t.Parallel()
	_, made := built(t, openUnit(), "M1", "mezzanine", floor())
	// By hand: joists at 23, 600 ... 4200, 4777: 9. Span 3459: one row of strutting, 8 bays. Deck 6 rows of 2 boards'
	// worth, every second row cut in halves: 3 x 2 + 3 x 3 pieces.
	want := map[domain.ElementKind]int{
		domain.WallPlate: 1, domain.Beam: 2, domain.Post: 3, domain.Bracket: 3, domain.Joist: 9, domain.Hanger: 18, domain.Strutting: 8, domain.DeckBoard: 15,
		domain.GuardPost: 13, domain.Packer: 13, domain.GuardRail: 6, domain.ToeBoard: 3,
	}
	if diff := cmp.Diff(want, kinds(made)); diff != "" {
		t.Errorf("pieces (-want +got):\n%s", diff)
	}
	// trade-facts.md: a nail or screw in every hole, 20 into the carrier and 10 into the joist.
	hung := screws(made, domain.Hanger) + screws(made, domain.Joist)
	if hung != 18*30 {
		t.Errorf("fixings in hangers: %d, want %d", hung, 18*30)
	}
	if got := into(made, "BLOCK"); got != 10 {
		t.Errorf("anchors in the wall: %d, want the designer's 10", got)
	}
	if got := into(made, "SLAB"); got != 12 {
		t.Errorf("anchors in the slab: %d, want 3 posts of 4", got)
	}
	holes := 0
	for _, h := range made.Holes {
		holes += h.Count
	}
	if holes != 22 {
		t.Errorf("holes: %d, want 22", holes)
	}
}

// A toe board is no longer than its strip is sold, 2440, and joined on the middle of a post. By hand: the far edge is 4800
// with posts some 1180 apart, so a board reaches over two bays and three do.
func TestToeBoardsAsSold(t *testing.T) {
	t.Parallel()
	p := floor()
	p.Guard.ToeBoard = Section{Material: "toeboard-ply-18x150"}
	_, made := built(t, openUnit(), "M1", "mezzanine", p)
	boards, fixed := 0, map[string]int{}
	for _, f := range made.Fixings {
		fixed[f.Holds] += f.Count
	}
	for _, e := range made.Elements {
		if e.Kind != domain.ToeBoard {
			continue
		}
		if boards++; e.LengthMm > 2440 || fixed[e.Code] < 4 {
			t.Errorf("%s is %d long with %d screws, want 2440 at the most and screws at both ends", e.Code, e.LengthMm, fixed[e.Code])
		}
	}
	if boards != 3+2+2 {
		t.Errorf("%d toe boards, want 3 along 4800 and 2 along each of the sides", boards)
	}
}

// trade-facts.md, floors: boards = ceil(rows x run / 2400), rows = ceil(width/600).
func TestDeckBoardsLeast(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ across, run, want, laid int }{
		{3600, 4800, 12, 12},
		{3000, 5000, 11, 13}, // no offcut reaches a joist at 600: two and a half boards a row, by hand
		{4000, 6000, 18, 18},
		{6000, 9600, 40, 40},
	} {
		if got := DeckBoardsLeast(tt.across, tt.run, 600, 2400); got != tt.want {
			t.Errorf("DeckBoardsLeast(%d, %d) = %d, want %d", tt.across, tt.run, got, tt.want)
		}
		var places []int
		for at := 600; at < tt.run; at += 600 {
			places = append(places, at)
		}
		l := &layout{boardMm: 2400, leastMm: 1200}
		var before []int
		for range (tt.across + 599) / 600 {
			joints, ok := l.pick(0, tt.run, places, before)
			if !ok {
				t.Fatalf("%d x %d: no joints", tt.across, tt.run)
			}
			for _, j := range joints {
				if slices.Contains(before, j) {
					t.Errorf("%d x %d: joint at %d in line with the row before", tt.across, tt.run, j)
				}
			}
			for _, piece := range lengthsOf(0, tt.run, joints) {
				if piece < 1200 || piece > 2400 {
					t.Errorf("%d x %d: a piece of %d", tt.across, tt.run, piece)
				}
			}
			before = joints
		}
		if l.bought != tt.laid {
			t.Errorf("%d x %d: laid from %d boards, want %d", tt.across, tt.run, l.bought, tt.laid)
		}
	}
}

// trade-facts.md: 17 screws in a board of 600 x 2400 on joists at 600, 23 at 400.
func TestDeckScrews(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ centres, want int }{{600, 17}, {400, 23}} {
		p := floor()
		p.Joists.CentresMm = tt.centres
		_, made := built(t, openUnit(), "M1", "mezzanine", p)
		whole := 0
		for _, e := range made.Elements {
			if e.Kind != domain.DeckBoard || e.LengthMm != 2400 || e.WidthMm != 600 {
				continue
			}
			n := 0
			for _, f := range made.Fixings {
				if f.Holds == e.Code {
					n += f.Count
				}
			}
			if whole++; n != tt.want {
				t.Errorf("at %d: %s has %d screws, want %d", tt.centres, e.Code, n, tt.want)
			}
		}
		if whole == 0 {
			t.Errorf("at %d: no whole board", tt.centres)
		}
	}
}

func TestMezzanineRefusals(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *Mezzanine)
		field  string
		mend   string
	}{
		{"no guard", func(p *Mezzanine) { p.Guard = nil }, "/params/edges/far", "unguarded_reason"},
		{"no guard round an opening", func(p *Mezzanine) {
			p.Guard = nil
			for _, e := range []*MezzanineEdge{&p.Edges.Far, &p.Edges.Left, &p.Edges.Right} {
				e.Unguarded = "closed off below"
			}
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 1200, AlongMm: 1000, AcrossMm: 900}}
		}, "/params/openings/0", "unguarded_reason"},
		{"nails without a reason", func(p *Mezzanine) { p.Joists.Hanger = &MezzanineHanger{Fixing: "hanger-nail-3-75x30"} }, "/params/joists/hanger/fixing", "connector-screw-5x40"},
		{"expansion anchor in aircrete", func(p *Mezzanine) { p.Carriers[0].Host = "AIRCRETE" }, "/params/carriers/0/fixing/type", "ask the designer"},
		{"beam on one post", func(p *Mezzanine) { p.Carriers[1].Posts = posts(2400) }, "/params/carriers/1/posts", "two supports"},
		{"plate nowhere near its wall", func(p *Mezzanine) { p.Origin.X = 500 }, "/params/carriers/0/host", "move the deck's origin"},
		{"joist without a carrier", func(p *Mezzanine) { p.Carriers[1].ToMm = 4700; p.Carriers[1].Posts = posts(60, 4600) }, "/params/carriers", "lengthen a carrier"},
		{"beam longer than sold", func(p *Mezzanine) { p.AlongMm = 9000 }, "/params/carriers/0/to_mm", "give two carriers"},
		{"shallow carrier", func(p *Mezzanine) { p.Carriers[1].Section.Material = "c24-sawn-47x150" }, "/params/carriers/1/section", "bear on top"},
		{"opening over a beam", func(p *Mezzanine) {
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 3000, AlongMm: 1000, AcrossMm: 900}}
		}, "/params/openings/0/y_mm", "keep it between two"},
		{"stair in too short an opening", func(p *Mezzanine) {
			p.Openings = []MezzanineOpening{{XMm: 1500, YMm: 610, AlongMm: 500, AcrossMm: 1200}}
			s := stairAt("right", 200)
			s.Opening = 1
			p.Stairs = []MezzanineStair{s}
		}, "/params/stairs/0", "the opening must be"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := floor()
			tt.change(&p)
			_, err := Expand(openUnit(), assemble(t, "M1", "mezzanine", p))
			if err == nil || !strings.Contains(err.Error(), tt.field+": ") || !strings.Contains(err.Error(), tt.mend) {
				t.Errorf("Expand = %v, want a refusal at %s that says %q", err, tt.field, tt.mend)
			}
		})
	}
}
