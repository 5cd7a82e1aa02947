package licence_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/licence"
)

// unit has a slab with 10 holes agreed, at most 10 across and 60 deep, and a wall with 4.
func unit(items ...domain.LicenceItem) *domain.Register {
	surface := func(code string, agreed int) domain.HostSurface {
		return domain.HostSurface{Code: code, Name: code, Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 5000, VMm: 3000, ThicknessMm: 150,
			Rule: domain.Allowed, AgreedHoles: agreed, MaxDiameterMm: 10, MaxDepthMm: 60}
	}
	r := &domain.Register{Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{surface("SLAB", 10), surface("WALL", 4)}}
	r.FitOut.Tenancy.Items = items
	return r
}

// works adds an assembly under an item with one set of holes made by a concrete screw.
func works(r *domain.Register, code, item, host string, order, count int, diameterMm float64, depthMm int) {
	r.Assemblies = append(r.Assemblies, domain.Assembly{Code: code, Name: "partition", Recipe: "stud-wall", Licensed: item, BuiltOrder: order})
	r.Elements = append(r.Elements, domain.Element{Code: code + "-P", Assembly: code})
	r.Fixings = append(r.Fixings, domain.Fixing{Code: code + "-F", Type: "concrete-screw-6", Count: count, Holds: code + "-P", IntoHost: host, Assembly: code})
	r.Holes = append(r.Holes, domain.Hole{Code: code + "-H", Host: host, Face: domain.FrontFace, DiameterMm: diameterMm, DepthMm: depthMm, Count: count,
		State: domain.HoleInUse, Fixing: code + "-F", Assembly: code, BuiltOrder: order})
}

// One partition is licensed with 6 holes in the slab. What goes beyond is worked out by hand.
func TestWhatTheItemAllows(t *testing.T) {
	t.Parallel()
	one := domain.LicenceItem{Item: "item 1", What: "one partition on line B", Count: 1, Recipe: "stud-wall", Hosts: []string{"SLAB"}, Holes: 6, MaxDiameterMm: 8, MaxDepthMm: 50, Fixings: []string{"masonry"}}
	for _, tt := range []struct {
		name  string
		build func(r *domain.Register)
		item  domain.LicenceItem
		says  []string // all that is beyond
		not   int      // holes not covered
	}{
		{"as licensed", func(r *domain.Register) { works(r, "W1", "item 1", "SLAB", 1, 6, 8, 50) }, one, nil, 0},
		{"a second partition", func(r *domain.Register) {
			works(r, "W1", "item 1", "SLAB", 1, 4, 8, 50)
			works(r, "W2", "item 1", "SLAB", 2, 2, 8, 50)
		}, one, []string{"works W2 partition: it names \"item 1\", which is used up", "item item 1: one partition on line B: it allows 1 and 2 stand: W2 is past it",
			"holes SLAB: 6 of 10 agreed; 2 in works without a licence item"}, 2},
		{"the item's count of holes", func(r *domain.Register) { works(r, "W1", "item 1", "SLAB", 1, 9, 8, 50) }, one,
			[]string{"item item 1: one partition on line B: 3 holes past the 6 that it allows", "holes SLAB: 9 of 10 agreed; 3 beyond the item of their works"}, 3},
		{"larger than the item says, within the surface's limit", func(r *domain.Register) { works(r, "W1", "item 1", "SLAB", 1, 2, 10, 50) }, one,
			[]string{"item item 1: one partition on line B: 2 holes larger than Ø 8 mm", "holes SLAB: 2 of 10 agreed; 2 beyond the item of their works"}, 2},
		{"too large and too deep for surface and item: not covered once", func(r *domain.Register) { works(r, "W1", "item 1", "SLAB", 1, 2, 12, 80) }, one,
			[]string{"item item 1: one partition on line B: 2 holes larger than Ø 8 mm", "item item 1: one partition on line B: 2 holes deeper than 50 mm",
				"holes SLAB: 2 of 10 agreed; 2 too big, 2 too deep, 2 beyond the item of their works"}, 2},
		{"on another surface", func(r *domain.Register) { works(r, "W1", "item 1", "WALL", 1, 2, 8, 50) }, one,
			[]string{"item item 1: one partition on line B: 2 holes on a surface that it does not name", "holes WALL: 2 of 4 agreed; 2 beyond the item of their works"}, 2},
		{"another item than there is", func(r *domain.Register) { works(r, "W1", "item 7", "SLAB", 1, 2, 8, 50) }, one,
			[]string{"works W1 partition: it names \"item 7\", which is no item of the licence", "holes SLAB: 2 of 10 agreed; 2 in works without a licence item"}, 2},
		{"kinds of fixing", func(r *domain.Register) { works(r, "W1", "item 1", "SLAB", 1, 2, 8, 50) },
			domain.LicenceItem{Item: "item 1", What: "one partition on line B", Fixings: []string{"steel"}},
			[]string{"item item 1: one partition on line B: 2 holes for a kind of fixing that it does not allow", "holes SLAB: 2 of 10 agreed; 2 beyond the item of their works"}, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := unit(tt.item)
			tt.build(r)
			c := licence.Compare(r)
			var says []string
			for _, b := range c.Beyond {
				says = append(says, fmt.Sprintf("%s %s: %s", b.Kind, b.What, b.Says))
			}
			if diff := cmp.Diff(tt.says, says); diff != "" {
				t.Errorf("beyond (-want +got):\n%s", diff)
			}
			not := 0
			for _, n := range c.Without {
				not += n
			}
			if not != tt.not {
				t.Errorf("not covered = %d, want %d", not, tt.not)
			}
		})
	}
}

// A fixing that makes no hole is held to the kinds allowed all the same.
func TestFixingsWithoutHoles(t *testing.T) {
	t.Parallel()
	r := unit()
	r.Hosts[0].Fixings = []string{"masonry"}
	r.Assemblies = []domain.Assembly{{Code: "W1", Name: "partition", Licensed: "item 1"}}
	r.Fixings = []domain.Fixing{{Code: "G", Type: "grab-adhesive", Count: 1, IntoHost: "SLAB", Assembly: "W1"}}
	c := licence.Compare(r)
	if len(c.Beyond) != 1 || c.Beyond[0].Kind != "fixing" || c.Beyond[0].Codes[0] != "G" {
		t.Errorf("beyond = %+v, want the glue on the slab", c.Beyond)
	}
}

// Whatever is built: a hole is not covered at most once, surfaces add up to the sets, what stands first is beyond, and the
// order in which the register lists things changes nothing.
func TestComparisonAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := unit(domain.LicenceItem{Item: "item 1", What: "walls", Holes: rapid.IntRange(0, 9).Draw(t, "holes"), Count: rapid.IntRange(0, 3).Draw(t, "count"), MaxDiameterMm: 9},
			domain.LicenceItem{Item: "item 2", What: "floors", Hosts: []string{"SLAB"}})
		for i := range rapid.IntRange(0, 8).Draw(t, "works") {
			works(r, fmt.Sprint("W", i), rapid.SampledFrom([]string{"", "item 1", "item 2", "item 3"}).Draw(t, "item"), rapid.SampledFrom([]string{"SLAB", "WALL"}).Draw(t, "host"),
				rapid.IntRange(0, 5).Draw(t, "order"), rapid.IntRange(1, 6).Draw(t, "n"), rapid.SampledFrom([]float64{6, 10, 12}).Draw(t, "d"), rapid.SampledFrom([]int{40, 80}).Draw(t, "deep"))
		}
		c := licence.Compare(r)
		built, not := map[string]int{}, map[string]int{}
		for _, h := range r.Holes {
			built[h.Host] += h.Count
			not[h.Host] += c.Without[h.Code]
			if n := c.Without[h.Code]; n < 0 || n > h.Count {
				t.Fatalf("%s: %d of %d not covered", h.Code, n, h.Count)
			}
		}
		for i, s := range c.Surfaces {
			if s.Built != built[s.Host] || s.Unlicensed != not[s.Host] || s.Built-s.Unlicensed > s.Agreed {
				t.Fatalf("%+v: built %d, not covered %d by the sets", s, built[s.Host], not[s.Host])
			}
			if i > 0 && s.Unlicensed > c.Surfaces[i-1].Unlicensed {
				t.Fatalf("%s stands behind %s, which has less beyond", s.Host, c.Surfaces[i-1].Host)
			}
		}
		shuffled := *r
		shuffled.Holes = rapid.Permutation(r.Holes).Draw(t, "holes in order")
		shuffled.Assemblies = rapid.Permutation(r.Assemblies).Draw(t, "assemblies in order")
		if diff := cmp.Diff(c.Without, licence.Compare(&shuffled).Without); diff != "" {
			t.Fatalf("not covered, in another order (-want +got):\n%s", diff)
		}
	})
}
