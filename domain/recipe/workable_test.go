package recipe

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/space"
	"unpick/domain/strip"
)

// reporter is what a check needs of a test, a property's or an ordinary one's.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// inItsPlace fails where advice would say of what was built rightly that it stands in something else, that it reaches into the
// landlord's fabric or out of the unit, or that its holes stand too near others.
func inItsPlace(tb reporter, r *domain.Register) {
	tb.Helper()
	site := *r
	site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
	for _, a := range advice.For(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations}) {
		if slices.Contains([]string{advice.Clash, advice.OutOfPlace, advice.NearHole}, a.Kind) {
			tb.Errorf("false advice: %s", a.Text)
		}
	}
}

// workable fails where a register breaks a rule that always holds, where something in it reaches no host or cannot
// be undone, or where the strip-out planned for it does not replay clean: the last word on any recipe.
func workable(tb reporter, r *domain.Register) {
	tb.Helper()
	for _, f := range domain.Check(r) {
		tb.Errorf("Check: %v", f)
	}
	inItsPlace(tb, r)
	g := release.Build(r)
	for _, n := range g.Unsupported {
		tb.Errorf("%s reaches no host surface", g.Nodes[n].Code)
	}
	for _, f := range g.Unreachable {
		tb.Errorf("%s can never be undone", r.Fixings[f].Code)
	}
	if err := g.Check(); err != nil {
		tb.Errorf("release graph: %v", err)
		return
	}
	s, err := strip.Plan(g, salvage.Take(r))
	if err != nil {
		tb.Errorf("planning the strip-out: %v", err)
		return
	}
	for _, f := range replay.Check(r, asReplay(s.Steps)) {
		tb.Errorf("replay, step %s, %s: %s (%s)", f.Step, f.Code, f.Because, f.Rule)
	}
}

func asReplay(steps []strip.Step) []replay.Step {
	out := make([]replay.Step, len(steps))
	for i, s := range steps {
		out[i] = replay.Step{Code: fmt.Sprint(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
		switch s.Kind {
		case strip.MakeDead:
			out[i].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[i].Props = s.Elements
		default:
			out[i].Elements = s.Elements
			for _, w := range s.Fixings {
				out[i].Fixings = append(out[i].Fixings, w.Codes...)
			}
		}
	}
	return out
}

// sound fails where pieces overlap by more than a film, where a piece is held by nothing, where a fixing's heads
// are not as many as its count or not at what it holds, or where a code comes twice.
func sound(tb reporter, r *domain.Register, made domain.Records, filmMm float64) {
	tb.Helper()
	boxes := make([]space.Box, len(made.Elements))
	held := map[string]bool{}
	for _, f := range made.Fixings {
		held[f.Holds] = true
		if f.Count != len(f.Run.PositionsMm) {
			tb.Errorf("%s: count %d, %d positions", f.Code, f.Count, len(f.Run.PositionsMm))
		}
		if len(f.Undo) == 0 {
			tb.Errorf("%s: no side to undo it from", f.Code)
		}
		atHeads(tb, r, f)
	}
	for _, rel := range made.Relations {
		held[rel.From] = held[rel.From] || rel.Kind == domain.BearsOn
	}
	for i, e := range made.Elements {
		boxes[i] = space.Of(e.Box())
		if !held[e.Code] {
			tb.Errorf("%s (%s) is held by nothing", e.Code, e.Kind)
		}
		for k := range i {
			if space.Overlap(&boxes[i], &boxes[k], filmMm) {
				tb.Errorf("%s (%s) and %s (%s) overlap", made.Elements[k].Code, made.Elements[k].Kind, e.Code, e.Kind)
			}
		}
	}
}

// hangerWingsMm is how far the wings of a joist hanger reach past its seat.
const hangerWingsMm = 250

// atHeads fails where a head is nowhere near what its fixing holds or what it goes into.
func atHeads(tb reporter, r *domain.Register, f domain.Fixing) {
	tb.Helper()
	ends := []string{f.Holds}
	if f.IntoElement != "" {
		ends = append(ends, f.IntoElement)
	}
	for _, code := range ends {
		i := slices.IndexFunc(r.Elements, func(e domain.Element) bool { return e.Code == code })
		if i < 0 {
			tb.Errorf("%s names %q, and there is no such piece", f.Code, code)
			continue
		}
		box := r.Elements[i].Box()
		for _, p := range f.Run.Points() {
			reach := float64(farthestMm)
			if r.Elements[i].Kind == domain.Hanger {
				reach = hangerWingsMm // its box is the seat; the wings that take the nails stand off it
			}
			if far := away(box, p); far > reach {
				tb.Errorf("%s: a head at %.0f is %.0f mm from %s (%s)", f.Code, p, far, code, r.Elements[i].Kind)
				break
			}
		}
	}
}

// farthestMm is how far a head may be from a piece that it holds or goes into: through a stud, the gap to the next and a board.
const farthestMm = 100

func away(b domain.Box, p domain.Vector) float64 {
	d := p.Sub(b.Centre)
	sum := 0.0
	for i, a := range b.Axes {
		if out := math.Abs(d.Dot(a)) - b.Half[i]; out > 0 {
			sum += out * out
		}
	}
	return math.Sqrt(sum)
}

// Every sort of wall comes apart again: sound as built, and its strip-out replays clean.
func TestWallsComeOut(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		filmMm float64 // how far bevel cuts may run into each other
		change func(p *StudWall)
	}{
		{"as worked", 1, func(*StudWall) {}},
		{"light door", 1, func(p *StudWall) {
			p.Openings = []Opening{{AtMm: 1500, LeafWidthMm: 762, LeafHeightMm: 1981, LeafMassKg: 14}}
			p.FaceA.ShareCut, p.FaceB.ShareCut = true, true
		}},
		{"heavy door, insulated", 1, func(p *StudWall) {
			p.Openings = []Opening{{AtMm: 1500, LeafWidthMm: 838, LeafHeightMm: 1981, LeafMassKg: 42}}
			p.FaceA.ShareCut, p.FaceB.ShareCut = true, true
			p.Insulation = "rw-45-50"
		}},
		{"faces staggered", 1, func(p *StudWall) { p.FaceB.StaggerMm = 600 }},
		{"at 400", 1, func(p *StudWall) { p.StudCentresMm = 400 }},
		{"mid noggings", 1, func(p *StudWall) { p.MidNoggings = true }},
		{"boards laid along the wall", 1, func(p *StudWall) { p.FaceA.Lay, p.FaceB.Lay = "laid", "laid" }},
		{"raked", 7, func(p *StudWall) { clampedHead(p); p.HeightMm, p.EndHeightMm = 2600, 3041 }},
		{"raked, falling the other way", 7, func(p *StudWall) { clampedHead(p); p.HeightMm, p.EndHeightMm = 3041, 2600 }},
		{"floor falls to a gully", 3, func(p *StudWall) { p.EndFloorMm, p.EndHeightMm = -60, 2780 }},
		{"floor falls, sole packed", 3, func(p *StudWall) { p.EndFloorMm, p.EndHeightMm, p.Sole = -60, 2780, "packed" }},
		{"deflection head under purlins", 1, func(p *StudWall) { clampedHead(p); p.Head.Kind = "deflection" }},
		{"raked deflection head", 7, func(p *StudWall) {
			clampedHead(p)
			p.Head.Kind, p.HeightMm, p.EndHeightMm = "deflection", 2600, 3041
		}},
		{"raked deflection head whose line of screws comes down beside the last of a stud's", 7, func(p *StudWall) {
			clampedHead(p)
			p.Head.Kind, p.LengthMm, p.HeightMm, p.EndHeightMm = "deflection", 5575, 2202, 2917
			p.StudCentresMm, p.Section = 300, "c16-sawn-47x75"
			p.FaceA, p.FaceB = nil, &WallFace{Board: "pb-a-12", ShareCut: true}
			p.Start, p.End = WallEnd{Meets: "free"}, WallEnd{Meets: "free"}
		}},
		{"half height", 1, func(p *StudWall) { p.HalfHeight, p.Head, p.HeightMm = true, nil, 1200 }},
		{"half height in frames, a free end", 1, func(p *StudWall) {
			p.HalfHeight, p.Head, p.HeightMm, p.Frames = true, nil, 1200, true
			p.End = WallEnd{Meets: "free"}
		}},
		{"full height in frames with a door", 1, func(p *StudWall) {
			p.Frames = true
			p.Openings = []Opening{{AtMm: 700, LeafWidthMm: 762, LeafHeightMm: 1981}}
		}},
		{"longer than stock", 1, func(p *StudWall) { p.LengthMm = 13200; p.End = WallEnd{Meets: "free"} }},
		{"plasterboard", 1, func(p *StudWall) { p.FaceA.Board, p.FaceB.Board = "pb-a-12", "pb-a-12" }},
		{"900 boards at 450", 1, func(p *StudWall) {
			p.StudCentresMm, p.LengthMm = 450, 3600
			p.FaceA.Board, p.FaceB.Board = "pb-a-12-900", "pb-a-12-900"
		}},
		{"askew", 2, func(p *StudWall) {
			p.Origin, p.Along = domain.Point{X: 9000, Y: 3000}, domain.Direction{X: 3, Y: 4}
			p.Start, p.End = WallEnd{Meets: "free"}, WallEnd{Meets: "free"}
		}},
		{"askew and raked", 7, func(p *StudWall) {
			clampedHead(p)
			p.Origin, p.Along = domain.Point{X: 9000, Y: 3000}, domain.Direction{X: 17, Y: -5}
			p.HeightMm, p.EndHeightMm = 2600, 3041
			p.Start, p.End = WallEnd{Meets: "free"}, WallEnd{Meets: "free"}
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := worked()
			tt.change(&p)
			r, made := built(t, under(premises(), p), "W1", "stud-wall", p)
			sound(t, r, made, tt.filmMm)
			workable(t, r)
		})
	}
}

// clampedHead hangs the head of a wall on purlins instead of the soffit.
func clampedHead(p *StudWall) {
	p.Head = &Head{Crossings: []Crossing{{"PURLIN1", 300}, {"PURLIN2", 2200}, {"PURLIN1", 3900}}}
}

// under takes away the soffit where a wall does not stand under it, and lays the floor on the slope of the wall's.
func under(r *domain.Register, p StudWall) *domain.Register {
	out := *r
	out.Hosts = slices.Clone(r.Hosts)
	if p.Head == nil || p.Head.Host != "SOFFIT" {
		out.Hosts = slices.DeleteFunc(out.Hosts, func(h domain.HostSurface) bool { return h.Code == "SOFFIT" })
	}
	for i := range out.Hosts {
		if h := &out.Hosts[i]; h.Code == "SLAB" && p.EndFloorMm != 0 {
			h.Origin = domain.Point{X: 0, Y: -20000, Z: 0}
			h.U = domain.Direction{X: p.LengthMm, Z: p.EndFloorMm}
		}
	}
	for i := range out.Hosts {
		if h := &out.Hosts[i]; h.Code == "FAR" {
			h.Origin.X = p.LengthMm
			if p.End.Meets == "free" {
				h.Origin.X = 90000
			}
		}
	}
	return &out
}
