package detachability

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The published scores and formula (source above Score) worked by hand for eleven cases. No official worked example of
// the method could be read: these check that the formula is the published one, and differ from a plain mean by more
// than the last figure.
func TestScoreByHand(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name                                     string
		tc, ac, id, ge                           float64
		wantConnection, wantComposition, wantAll float64
	}{
		{"loose tile in a grid", 1, 1, 1, 1, 1, 1, 1},
		{"sheet, bare screws", .8, 1, 1, 1, .8889, 1, .9412},
		{"board, filled screw heads", .8, .6, 1, 1, .6857, 1, .8136},
		{"stud behind one demountable lining", .8, .8, 1, .4, .8, .5714, .6667},
		{"the same with a cable through it", .8, .8, .4, .4, .8, .4, .5333},
		{"joist in a nailed hanger under a screwed deck", .6, .8, 1, .4, .6857, .5714, .6234},
		{"nailed stud, board lost getting there", .6, .4, 1, .4, .48, .5714, .5217},
		{"edge sealed with silicone", .2, 1, 1, .4, .3333, .5714, .4211},
		{"resin stud in a slab", .1, 1, 1, 1, .1818, 1, .3077},
		{"glued tongued deck board", .1, .4, 1, .1, .16, .1818, .1702},
		{"all worst", .1, .1, .1, .1, .1, .1, .1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := Of(tt.tc, tt.ac, tt.id, tt.ge)
			if got.OfConnection != tt.wantConnection || got.OfComposition != tt.wantComposition || got.Product != tt.wantAll {
				t.Errorf("connection %v, composition %v, product %v; want %v, %v, %v", got.OfConnection, got.OfComposition, got.Product, tt.wantConnection, tt.wantComposition, tt.wantAll)
			}
		})
	}
}

// Worked by hand from unrounded indices: weights 10, 30, 60 on a bare-screwed sheet, a stud and a glued board: 0.3962.
func TestGroupWeighsUnrounded(t *testing.T) {
	t.Parallel()
	var g Group
	for i, s := range []Score{Of(.8, 1, 1, 1), Of(.8, .8, 1, .4), Of(.1, .4, 1, .1)} {
		g.count(Rating{Code: string(rune('A' + i)), Scored: true, Score: &s, MassKnown: true, MassKg: []float64{10, 30, 60}[i]})
	}
	g.count(Rating{Code: "D", Why: "nobody has seen it", MassKnown: true, MassKg: 1000})
	got := g.ended()
	if got.ByMass != 0.3962 || got.LowestCode != "C" || got.Lowest != 0.1702 || got.NotScored != 1 || got.Pieces != 4 {
		t.Errorf("%+v; want mean 0.3962, lowest C at 0.1702, one of four not scored", got)
	}
}

// Whatever the factors, the index lies between their least and their greatest, never above their plain mean, and rises
// with none that falls.
func TestScoreProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SliceOfN(rapid.Float64Range(0.1, 1), 4, 4).Draw(t, "factors")
		p := Of(f[0], f[1], f[2], f[3]).Exact()
		least, most := min(f[0], f[1], f[2], f[3]), max(f[0], f[1], f[2], f[3])
		if p < least-1e-9 || p > most+1e-9 || p > (f[0]+f[1]+f[2]+f[3])/4+1e-9 {
			t.Fatalf("%v gives %v", f, p)
		}
		i := rapid.IntRange(0, 3).Draw(t, "which")
		f[i] = math.Max(0.1, f[i]*rapid.Float64Range(0.1, 1).Draw(t, "less"))
		if worse := Of(f[0], f[1], f[2], f[3]).Exact(); worse > p+1e-12 {
			t.Fatalf("a lower factor raised the index from %v to %v", p, worse)
		}
	})
}
