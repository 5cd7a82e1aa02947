package recipe

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

// drawWall draws a wall of any sort that the recipe knows. Many are refused; those are drawn again.
func drawWall(t *rapid.T) StudWall {
	p := worked()
	p.LengthMm = rapid.IntRange(600, 9000).Draw(t, "length")
	p.HeightMm = rapid.IntRange(2150, 4200).Draw(t, "height")
	p.StudCentresMm = rapid.SampledFrom([]int{300, 400, 600}).Draw(t, "centres")
	p.SetOutMm = rapid.SampledFrom([]int{0, 0, 0, 100, 250}).Draw(t, "set out")
	p.Section = rapid.SampledFrom([]string{"c16-cls-38x63", "c16-cls-38x89", "c16-sawn-47x75"}).Draw(t, "section")
	p.Head = &Head{Host: "BEAM"}
	p.MidNoggings = rapid.Bool().Draw(t, "mid noggings")
	if rapid.Bool().Draw(t, "raked") {
		p.EndHeightMm = max(2150, p.HeightMm+rapid.IntRange(-p.LengthMm/4, p.LengthMm/4).Draw(t, "rise")) // to 14 degrees
	}
	if rapid.IntRange(0, 3).Draw(t, "floor") == 0 {
		p.EndFloorMm = rapid.IntRange(-80, 80).Draw(t, "fall")
		p.Sole = rapid.SampledFrom([]string{"follows", "packed"}).Draw(t, "sole")
	}
	switch rapid.IntRange(0, 4).Draw(t, "sort") {
	case 0:
		p.HalfHeight, p.Head, p.HeightMm, p.EndHeightMm = true, nil, rapid.IntRange(900, 1500).Draw(t, "half"), 0
	case 1:
		p.Head.Kind = "deflection"
	case 2:
		p.Frames = true
	}
	p.FaceA = drawFace(t, "a")
	p.FaceB = drawFace(t, "b")
	drawEnd(t, &p.Start, "start")
	drawEnd(t, &p.End, "end")
	if !p.HalfHeight && p.LengthMm > 2000 && rapid.Bool().Draw(t, "door") {
		p.Openings = []Opening{{
			AtMm: rapid.IntRange(100, p.LengthMm-1000).Draw(t, "door at"), LeafWidthMm: 762, LeafHeightMm: 1981,
			LeafMassKg: float64(rapid.IntRange(10, 45).Draw(t, "leaf")),
		}}
	}
	if rapid.IntRange(0, 3).Draw(t, "extra") == 0 {
		p.ExtraStudsMm = []int{rapid.IntRange(100, p.LengthMm-100).Draw(t, "extra at")}
	}
	if rapid.IntRange(0, 3).Draw(t, "junction") == 0 {
		p.Junctions = []Junction{{AtMm: rapid.IntRange(100, p.LengthMm-200).Draw(t, "junction at"), WidthMm: 89, Face: "a"}}
	}
	p.Insulation = rapid.SampledFrom([]string{"", "", "rw-45-50"}).Draw(t, "insulation")
	return p
}

func drawFace(t *rapid.T, name string) *WallFace {
	board := rapid.SampledFrom([]string{"", "osb3-11-metric", "osb3-18-metric", "pb-a-12", "ply-struct-12-metric"}).Draw(t, "board "+name)
	if board == "" {
		return nil
	}
	return &WallFace{
		Board: board, ShareCut: rapid.IntRange(0, 4).Draw(t, "share "+name) > 0,
		Lay: rapid.SampledFrom([]string{"", "", "laid"}).Draw(t, "lay "+name),
	}
}

func drawEnd(t *rapid.T, e *WallEnd, name string) {
	if rapid.Bool().Draw(t, name+" free") {
		*e = WallEnd{Meets: "free"}
	}
}

// drawBuilt draws walls until one is not refused, and checks that what is refused says why at a pointer.
func drawBuilt(t *rapid.T) (StudWall, *domain.Register, domain.Records) {
	p := drawWall(t)
	r := bareSite(p)
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	a := domain.Assembly{Code: "W1", Name: "W1", Recipe: "stud-wall", Params: text}
	made, err := Expand(r, a)
	if err != nil {
		if code := domain.CodeOf(err); code != domain.Refused && code != domain.Invalid {
			t.Fatalf("a refusal without a code that a person may be told: %v", err)
		}
		t.Skip(err)
	}
	all := domain.Records{Assemblies: []domain.Assembly{a}}
	all.Append(made)
	return p, r.With(all), made
}

// bareSite is the landlord's unit round a drawn wall: a floor on its slope, blocks at its ends, steel out of the way.
func bareSite(p StudWall) *domain.Register {
	r := under(premises(), p)
	for i := range r.Hosts {
		switch h := &r.Hosts[i]; {
		case h.Code == "BEAM" && p.Head != nil: // the underside of the roof, on its slope
			q := p.withDefaults()
			h.Origin, h.V = domain.Point{Y: 40000, Z: p.HeightMm}, domain.Direction{Y: -1}
			h.U = domain.Direction{X: p.LengthMm, Z: q.EndFloorMm + q.EndHeightMm - p.HeightMm}
			h.UMm, h.VMm = 2*p.LengthMm, 60000
		case h.Code == "BLOCK" && p.Start.Meets == "free":
			h.Origin.X = -90000
		}
	}
	return r
}

// rise is how far a bevel cut runs into its neighbour: the depth of a stud or a plate on the steeper of the two slopes.
func bevelMm(p StudWall) float64 {
	q := p.withDefaults()
	slope := math.Abs(float64(q.EndFloorMm+q.EndHeightMm-q.HeightMm)) / float64(q.LengthMm)
	slope = max(slope, math.Abs(float64(q.EndFloorMm))/float64(q.LengthMm))
	return 1.5 + 50*slope
}

// A wall conserves: nothing stands outside it, nothing overlaps but the bevel cuts, everything is held, and every
// board's screws lie inside it.
func TestWallsAreSound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, r, made := drawBuilt(t)
		sound(t, r, made, bevelMm(p))
		top := p.withDefaults().topMost()
		for _, e := range made.Elements {
			lo, hi := e.Box().Bounds()
			if slack := bevelMm(p); lo.X < -slack || hi.X > float64(p.LengthMm)+slack || lo.Z < float64(min(0, p.EndFloorMm))-slack || hi.Z > top+slack {
				t.Errorf("%s (%s) reaches outside the wall: %v to %v", e.Code, e.Kind, lo, hi)
			}
		}
		boardsHeld(t, r, made)
	})
}

// edgePitchMm is the pitch of screws round the edge of a wood-based board: no corner is further from its nearest one,
// even where that slid clear of a tight gap (design, section 4).
const edgePitchMm = 150

// boardsHeld fails where a board lacks a screw near one of its four corners: it would flap there.
func boardsHeld(t *rapid.T, r *domain.Register, made domain.Records) {
	heads := map[string][]domain.Vector{}
	for _, f := range made.Fixings {
		heads[f.Holds] = append(heads[f.Holds], f.Run.Points()...)
	}
	for _, e := range made.Elements {
		if e.Kind != domain.Board || len(e.Outline) > 0 {
			continue
		}
		lo, hi := e.Box().Bounds()
		for _, x := range []float64{lo.X, hi.X} {
			for _, z := range []float64{lo.Z, hi.Z} {
				near := math.Inf(1)
				for _, p := range heads[e.Code] {
					near = min(near, math.Hypot(p.X-x, p.Z-z))
				}
				if near > edgePitchMm {
					t.Errorf("%s: the screw nearest its corner at %.0f, %.0f is %.0f mm away", e.Code, x, z, near)
				}
			}
		}
	}
}

// Every joint lies on solid timber that both boards bear on.
func TestJointsFallOnStuds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, _, made := drawBuilt(t)
		var studs []span
		for _, e := range made.Elements {
			if e.Kind == domain.Stud {
				lo, hi := e.Box().Bounds()
				studs = append(studs, span{round(lo.X), round(hi.X)})
			}
		}
		for _, e := range made.Elements {
			if e.Kind != domain.Board {
				continue
			}
			lo, hi := e.Box().Bounds()
			for _, x := range []float64{lo.X + 10, hi.X - 10} {
				if len(e.Outline) > 0 && x != lo.X+10 {
					continue // a raked board may run out to nothing at one end
				}
				on := false
				for _, s := range studs {
					on = on || s.x0-missMm <= round(x) && round(x) <= s.x1+missMm
				}
				low := hi.Z-lo.Z < 200 // over a doorway, held by its head and the head plate
				if !on && !low && len(e.Outline) == 0 {
					t.Errorf("%s: the line of screws at %.0f of a wall of %d misses the studs %v", e.Code, x, p.LengthMm, studs)
				}
			}
		}
	})
}

// The strip-out of every wall that the recipe builds replays clean.
func TestDrawnWallsComeOut(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		_, r, _ := drawBuilt(t)
		workable(t, r)
	})
}

// The same parameters always make the same records, and another turn of the register moves only the build order.
func TestExpandRepeats(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, r, made := drawBuilt(t)
		text, _ := json.Marshal(p)
		again, err := Expand(bareSite(p), domain.Assembly{Code: "W1", Recipe: "stud-wall", Params: text})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(made, again); diff != "" {
			t.Errorf("Expand twice (-first +second):\n%s", diff)
		}
		later, err := Expand(r, domain.Assembly{Code: "W2", Recipe: "stud-wall", Params: text})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := later.Elements[0].BuiltOrder, r.LastBuilt()+1; got != want {
			t.Errorf("a second wall starts at build order %d, want %d", got, want)
		}
	})
}

// Positions: ceil((l - 2e)/p) + 1 of them and at least two, the first at e and the last at l - e, none further apart
// than p (design, section 4).
func TestPositionsRule(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.IntRange(8, 20000).Draw(t, "length")
		pitch := rapid.IntRange(50, 1200).Draw(t, "pitch")
		end := rapid.IntRange(0, 300).Draw(t, "end")
		got := Positions(length, pitch, end)
		e := end
		if length <= 2*end {
			e = length / 4
		}
		want := max(2, int(math.Ceil(float64(length-2*e)/float64(pitch)))+1)
		if len(got) != want || got[0] != e || got[len(got)-1] != length-e {
			t.Fatalf("Positions(%d, %d, %d) = %v: want %d of them from %d to %d", length, pitch, end, got, want, e, length-e)
		}
		for i := 1; i < len(got); i++ {
			if gap := got[i] - got[i-1]; gap <= 0 || gap > pitch {
				t.Fatalf("Positions(%d, %d, %d) = %v: a gap of %d", length, pitch, end, got, gap)
			}
		}
	})
}

// Sliding clear of studs loses no fixing, keeps them in order on the piece and leaves alone what was clear.
func TestSlideClear(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.IntRange(400, 6000).Draw(t, "length")
		from := Positions(length, 600, 150)
		centres := rapid.SliceOfN(rapid.IntRange(0, length), 0, 8).Draw(t, "centres")
		got := slideClear(from, centres, length)
		if len(got) != len(from) {
			t.Fatalf("slideClear(%v, %v) = %v", from, centres, got)
		}
		for i, at := range got {
			if at < 0 || at > length || i > 0 && at <= got[i-1] {
				t.Fatalf("slideClear(%v, %v) = %v: out of order or off the piece", from, centres, got)
			}
		}
	})
}
