package catalogue

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
)

// Volume of a round hole, pi/4 d^2 depth, worked by hand.
func TestHoleVolume(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		diameterMm float64
		depthMm    int
		want       float64
	}{{6, 55, 1.56}, {8, 50, 2.51}, {8, 60, 3.02}, {10, 60, 4.71}, {12, 70, 7.92}, {16, 80, 16.08}} {
		if got := HoleVolumeMl(tt.diameterMm, float64(tt.depthMm)); !near(got, tt.want, 0.004) {
			t.Errorf("HoleVolumeMl(%v, %d) = %.3f, want %v", tt.diameterMm, tt.depthMm, got, tt.want)
		}
	}
	// A crater 20 wide and 10 deep: a third of 3.14 ml, and a fifth for waste.
	if got := SpallVolumeMl(20, 10); !near(got, 1.257, 0.001) {
		t.Errorf("SpallVolumeMl(20, 10) = %.4f, want 1.257", got)
	}
}

func TestRepairVolume(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		repair     string
		diameterMm float64
		depthMm    int
		want       float64
	}{
		{"concrete-fill-small", 6, 55, 2.02}, // 1.555 x 1.3
		{"concrete-fill-small", 5, 40, 2},    // the least
		{"concrete-fill-medium", 10, 60, 6.126},
		{"concrete-fill-large", 16, 80, 20.91},
		{"block-fill", 8, 50, 3.267},
		{"aircrete-fill", 8, 75, 5.881},      // 3.770 x 1.3 x 1.2
		{"concrete-stud-cap", 10, 90, 4.084}, // 20 wide, 10 deep, whatever the depth
		{"masonry-stud-cap", 3.7, 25, 2},     // 1.92, under the least
		{"steel-hole-grommet", 10, 3, 0.314}, // two coats of 80 micron on a disc of 50
		{"pb-fill", 8, 30, 5},
		{"composite-inner-skin-plug", 5, 1, 5},
		{"sheet-patch", 50, 1, 0}, // goes by the plate, not by the hole
		{"engineer-only", 8, 50, 0},
	} {
		if got := RepairVolumeMl(Default().Repairs[tt.repair], tt.diameterMm, tt.depthMm); !near(got, tt.want, 0.003) {
			t.Errorf("RepairVolumeMl(%s, %v, %d) = %.3f, want %v", tt.repair, tt.diameterMm, tt.depthMm, got, tt.want)
		}
	}
}

func TestRepairFor(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		host       string
		diameterMm float64
		residue    string
		want       string // "" is a decision for a person
	}{
		{"concrete-slab", 6, "", "concrete-fill-small"},
		{"concrete-slab", 7.9, "plug", "concrete-fill-small"},
		{"concrete-slab", 8, "", "concrete-fill-medium"}, // from <= d < to
		{"concrete-slab", 10, "sleeve", "concrete-fill-medium"},
		{"concrete-slab", 18, "", "concrete-fill-large"},
		{"concrete-slab", 10, "stud", "concrete-stud-cap"},
		{"concrete-slab", 10, "stud and clip stay for good; grind 5-10 mm below the surface and cap", "concrete-stud-cap"},
		{"concrete-slab", 12, "steel shell stays flush; plug or cap it", "concrete-fill-medium"},
		{"concrete-slab", 3.7, "spall cone 10-30 mm in concrete; stub in steel", "concrete-stud-cap"},
		{"concrete-slab", 20, "spall", "concrete-fill-large"},
		{"concrete-slab", 50, "", ""},
		{"concrete-slab", 6, "something odd", ""},
		{"concrete-slab", 0, "adhesive", "adhesive-residue-area"},
		{"concrete-slab", -1, "", ""},
		{"slab-hardened", 8, "", "hardened-slab-fill"}, {"slab-hardened", 10, "stub", "concrete-stud-cap"},
		{"resin-floor", 12, "stud", "resin-floor-patch"},
		{"pt-unknown-slab", 6, "", "engineer-only"}, {"asbestos-cement-sheet", 4, "plug", "engineer-only"}, {"trussed-rafter", 4, "", "engineer-only"},
		{"dense-block", 8, "plug usually stays: pull with the screw half in, or drive 10 mm deep and fill over", "block-fill"},
		{"dense-block", 40, "", "render-making-good"}, {"dense-block", 14, "stud", "masonry-stud-cap"}, {"dense-block", 10, "clean", "block-fill"},
		{"aircrete-block", 8, "plugs", "aircrete-fill"}, {"brick", 16, "sleeve", "brick-fill"},
		{"hot-rolled-steel", 13.5, "", "steel-hole-bolt-left"}, {"hot-rolled-steel", 4.1, "", "steel-screw-hole"},
		{"hot-rolled-steel", 0, "paint bruise: touch up", "paint-touch-up"}, {"hot-rolled-steel", 3.7, "pin", "steel-stub-ground"},
		{"cold-formed-purlin", 9, "", "steel-hole-grommet"}, {"profiled-sheet", 4.8, "", "sheet-sealed-fastener"}, {"profiled-sheet", 20, "", "sheet-patch"},
		{"composite-panel", 5, "", "composite-inner-skin-plug"}, {"plasterboard-ceiling", 10, "shell", "pb-patch"}, {"plasterboard-ceiling", 4, "", "pb-fill"},
		{"timber-member", 17, "", "timber-plug"}, {"timber-member", 30, "", ""},
		{"glazing", 0, "thin film each side", "sealant-residue"},
		{"moon", 6, "", ""},
	} {
		r, ok := RepairFor(Default(), tt.host, tt.diameterMm, tt.residue)
		if r.Slug != tt.want || ok != (tt.want != "") {
			t.Errorf("RepairFor(%s, %v, %q) = %q, %v; want %q", tt.host, tt.diameterMm, tt.residue, r.Slug, ok, tt.want)
		}
	}
}

// What a fixing type is known to leave is made good in every host it is used in.
func TestEveryFixingHasARepair(t *testing.T) {
	t.Parallel()
	hosts := map[string][]string{
		"masonry": {"concrete-slab", "slab-hardened", "dense-block", "aircrete-block", "brick", "plastered-wall", "sand-cement-screed", "resin-floor"},
		"steel":   {"hot-rolled-steel", "cold-formed-purlin"},
		"timber":  {"timber-member"},
		"lining":  {"plasterboard-ceiling"},
	}
	for slug, f := range Default().FixingTypes {
		if !f.MakesHole() || slug == "shot-fired-pin" || slug == "pop-rivet-4-8" {
			continue
		}
		for _, host := range hosts[f.Family] {
			left := f.Residue
			if f.Release == domain.UndoClean {
				left = ""
			}
			if _, ok := RepairFor(Default(), host, f.HoleInHostMm, left); !ok {
				t.Errorf("nothing makes good a %v mm hole of %s in %s (%q)", f.HoleInHostMm, slug, host, left)
			}
		}
	}
}

func TestHostsAgreeWithRepairs(t *testing.T) {
	t.Parallel()
	for slug, h := range Default().HostKinds {
		r := Default().Repairs[h.DefaultRepair]
		if len(r.Residues) > 0 && !slices.Contains(r.Residues, string(Clean)) {
			t.Errorf("%s: the usual repair %s does not take an empty hole", slug, r.Slug)
		}
		if h.Rule == domain.Never && h.MaxDepthMm > 0 {
			t.Errorf("%s is never to be drilled, yet has a depth of %d", slug, h.MaxDepthMm)
		}
	}
	used := map[string]bool{}
	for _, h := range Default().HostKinds {
		used[h.DefaultRepair] = true
		for _, r := range h.OtherRepairs {
			used[r] = true
		}
	}
	for slug, r := range Default().Repairs {
		if !used[slug] {
			t.Errorf("no host kind uses repair %s", slug)
		}
		h := Default().HostKinds[r.Host]
		if h.DefaultRepair != slug && !slices.Contains(h.OtherRepairs, slug) {
			t.Errorf("repair %s is for %s, which does not list it", slug, r.Host)
		}
	}
}

// A repair always takes what it is chosen for, and a deeper or wider hole never wants less filler.
func TestRepairProperties(t *testing.T) {
	t.Parallel()
	hosts := make([]string, 0, len(Default().HostKinds))
	for slug := range Default().HostKinds {
		hosts = append(hosts, slug)
	}
	slices.Sort(hosts)
	rapid.Check(t, func(t *rapid.T) {
		host := rapid.SampledFrom(hosts).Draw(t, "host")
		diameter := rapid.Float64Range(0, 200).Draw(t, "diameter")
		depth := rapid.IntRange(0, 400).Draw(t, "depth")
		residue := rapid.SampledFrom([]Residue{Clean, PlugStays, SleeveStays, StudStays, PinStays, AdhesiveStays, FilmStays, BruiseStays}).Draw(t, "residue")
		r, ok := RepairFor(Default(), host, diameter, string(residue))
		if !ok {
			return
		}
		if diameter < r.FromMm || diameter >= r.ToMm || !takes(r, residue) {
			t.Fatalf("RepairFor(%s, %v, %s) = %s, for %v to %v and %q", host, diameter, residue, r.Slug, r.FromMm, r.ToMm, r.Residues)
		}
		one := RepairVolumeMl(r, diameter, depth)
		if one < 0 || RepairVolumeMl(r, diameter+1, depth) < one || RepairVolumeMl(r, diameter, depth+1) < one {
			t.Fatalf("%s: filler falls as the hole of %v x %d grows", r.Slug, diameter, depth)
		}
	})
}

func TestResidueOf(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]Residue{
		"": Clean, "  ": Clean, "none": Clean, "dust only; threaded wall of hole": Clean, "Plug": PlugStays, "sleeves": SleeveStays,
		"screw half in, pinned": "", "spinning": "", "...": "", "pins": PinStays,
	} {
		if got, ok := ResidueOf(text); got != want || ok != (want != "") {
			t.Errorf("ResidueOf(%q) = %q, %v; want %q", text, got, ok, want)
		}
	}
}
