package catalogue

import (
	"math"
	"strings"
	"testing"

	"unpick/domain"
)

// What a fit-out is held together with: every family is there, by the slugs that recipes use.
func TestFixingTypesThere(t *testing.T) {
	t.Parallel()
	for family, slugs := range map[string][]string{
		"masonry": {"concrete-screw-6", "frame-screw-7-5", "nylon-plug-6", "frame-fixing-10", "hammer-fixing-6", "sleeve-anchor-m8",
			"wedge-anchor-m10", "drop-in-m8", "resin-stud-m12", "resin-mesh-m10", "aircrete-plug-8", "through-bolt-masonry-m10",
			"through-bolt-masonry-m12", "shot-fired-pin"},
		"steel": {"self-drill-st5-5", "self-drill-heavy-5-5", "self-tap-st4-8-predrilled", "wafer-screw-3-5x13", "pop-rivet-4-8",
			"beam-clamp-m10", "purlin-clamp-m8", "purlin-wrap-hanger", "through-bolt-m12", "threaded-rod-m8"},
		"timber": {"wood-screw-5", "wood-screw-5x80", "wood-screw-5x100", "structural-screw-8", "coach-screw-10", "timber-bolt-m12",
			"hanger-nail-3-75x30", "connector-screw-5x40", "gun-nail-3-1x90", "wire-nail-3x50", "brad-16ga", "staple-10", "door-hinge"},
		"lining":   {"drywall-screw-timber-3-5", "drywall-screw-steel-3-5", "sheet-screw-4-5x50", "hollow-wall-anchor-m5"},
		"adhesive": {"grab-adhesive", "pva-floor", "tape-double"},
		"seal":     {"acrylic-caulk", "silicone-line", "intumescent-mastic", "expanding-foam", "compressible-seal"},
		"dry":      {"wedge-packer", "folding-wedges", "packer", "friction-fit", "pinch-jack", "clip", "bearing", "slide-deflection"},
		"service":  {"cable-tie", "pipe-clip", "conduit-saddle"},
	} {
		for _, slug := range slugs {
			if got := Default().FixingTypes[slug].Family; got != family {
				t.Errorf("fixing type %s: family %q, want %q", slug, got, family)
			}
		}
	}
	if got := Default().FixingTypes["acrylic-caulk"].UndoUnit; got != "m" {
		t.Errorf("acrylic-caulk is undone by %q, want m", got)
	}
}

// A fixing's name, its hole and its clearance are three fields; mixing them is the oldest mistake of the trade.
func TestHolesOfAnchors(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		slug                string
		nominal, hole, pass float64
	}{
		// Setting table of sleeve anchors, read on a trade page: thread M6 8 10 12 wants a drill of 8 10 12 16.
		{"sleeve-anchor-m6", 6, 8, 9}, {"sleeve-anchor-m8", 8, 10, 11}, {"sleeve-anchor-m10", 10, 12, 13}, {"sleeve-anchor-m12", 12, 16, 17},
		// EN 1992-4 Table 6.1, largest clearance for an anchor of 8 10 12 16: 9 12 14 18 (from memory). Drill equals thread.
		{"wedge-anchor-m8", 8, 8, 9}, {"wedge-anchor-m10", 10, 10, 12}, {"wedge-anchor-m12", 12, 12, 14}, {"wedge-anchor-m16", 16, 16, 18},
		// Drop-in shells: M6 8 10 12 in 8 10 12 15 (from memory).
		{"drop-in-m6", 6, 8, 7}, {"drop-in-m8", 8, 10, 9}, {"drop-in-m10", 10, 12, 12}, {"drop-in-m12", 12, 15, 14},
		// Frame screws go by their thread: 7.5 wants a 6 mm drill (design.md, section 12). Concrete screws go by the drill.
		{"frame-screw-7-5", 7.5, 6, 6.5}, {"concrete-screw-6", 6, 6, 8}, {"concrete-screw-10", 10, 10, 14},
		// EN 1995-1-1 10.4.3: at most 1 mm over the bolt (from memory).
		{"timber-bolt-m10", 10, 11, 11}, {"timber-bolt-m12", 12, 13, 13}, {"timber-bolt-m16", 16, 17, 17},
	} {
		f := Default().FixingTypes[tt.slug]
		if f.NominalMm != tt.nominal || f.HoleInHostMm != tt.hole || f.HoleInFixtureMm != tt.pass {
			t.Errorf("%s: nominal %v, hole %v, clearance %v; want %v, %v, %v", tt.slug, f.NominalMm, f.HoleInHostMm, f.HoleInFixtureMm, tt.nominal, tt.hole, tt.pass)
		}
	}
}

// ISO 273:1979, medium series: M8 9, M10 11, M12 13.5, M16 17.5.
func TestBoltsHaveISO273Holes(t *testing.T) {
	t.Parallel()
	for slug, size := range map[string]string{"through-bolt-m8": "M8", "through-bolt-m10": "M10", "through-bolt-m12": "M12", "through-bolt-m16": "M16"} {
		want, ok := Clearance(size)
		f := Default().FixingTypes[slug]
		if !ok || f.HoleInHostMm != want.MediumMm || f.HoleInFixtureMm != want.MediumMm || !f.ThroughHost {
			t.Errorf("%s: hole %v, clearance %v, through %v; want the medium hole of %s, %v", slug, f.HoleInHostMm, f.HoleInFixtureMm, f.ThroughHost, size, want.MediumMm)
		}
	}
}

// ISO 15480:1999, drill points ST3.5 4.2 4.8 5.5 6.3: 2.8 3.6 4.1 4.8 5.8, and DIN 7998 core diameters of wood screws.
func TestDrillPointsAndCores(t *testing.T) {
	t.Parallel()
	for slug, want := range map[string]float64{
		"self-drill-st3-5": 2.8, "self-drill-st4-2": 3.6, "self-drill-st4-8": 4.1, "self-drill-st5-5": 4.8, "self-drill-st6-3": 5.8,
		"wood-screw-3-5": 2.4, "wood-screw-4": 2.8, "wood-screw-4-5": 3.1, "wood-screw-5": 3.5, "wood-screw-6": 4.2,
		"coach-screw-8": 5.6, "coach-screw-10": 7, "coach-screw-12": 9,
	} {
		if got := Default().FixingTypes[slug].HoleInHostMm; got != want {
			t.Errorf("%s: hole in the host %v, want %v", slug, got, want)
		}
	}
	for slug, want := range map[string]string{"self-tap-st4-8-predrilled": "ST4.8", "self-tap-st5-5-predrilled": "ST5.5", "self-tap-st6-3-predrilled": "ST6.3"} {
		h, ok := TappingHole(want, 3, 300)
		if got := Default().FixingTypes[slug].HoleInHostMm; !ok || got != h.HoleMm {
			t.Errorf("%s: pilot %v, want that of %s in 3 mm steel of about 300 N/mm2, %v", slug, got, want, h.HoleMm)
		}
	}
}

// Type-of-connection scores of the Dutch detachability method, version 2.0.
func TestDetachability(t *testing.T) {
	t.Parallel()
	for slug, want := range map[string]float64{
		"friction-fit": 1, "clip": 1, "beam-clamp-m10": 0.8, "sheet-screw-4-5x50": 0.8, "through-bolt-m10": 0.8,
		"gun-nail-3-1x90": 0.6, "hanger-nail-3-75x30": 0.6, "acrylic-caulk": 0.2, "expanding-foam": 0.2, "grab-adhesive": 0.1, "resin-stud-m12": 0.1,
	} {
		if got := Default().FixingTypes[slug].Detachability; got != want {
			t.Errorf("%s: connection score %v, want %v", slug, got, want)
		}
	}
	for slug, f := range Default().FixingTypes {
		switch f.Detachability {
		case 1, 0.8, 0.6, 0.2, 0.1:
		default:
			t.Errorf("%s: %v is no score of the method", slug, f.Detachability)
		}
	}
}

func TestFixingTypesAgreeWithThemselves(t *testing.T) {
	t.Parallel()
	for slug, f := range Default().FixingTypes {
		left, ok := ResidueOf(f.Residue)
		if !ok {
			t.Errorf("%s: residue %q names none of the residues", slug, f.Residue)
		}
		if strings.Contains(slug, "clamp") && (f.MakesHole() || left != BruiseStays) {
			t.Errorf("%s: a clamp makes no hole and leaves a bruise, got hole %v, residue %q", slug, f.HoleInHostMm, left)
		}
		if f.Release == domain.Destructive && f.ReuseFraction > 0 {
			t.Errorf("%s is spoilt when it is undone, yet %v of them are fit to use again", slug, f.ReuseFraction)
		}
		// A hole is never far off the fixing; mesh sleeves and hollow-wall anchors are the widest.
		if f.Family == "masonry" && (f.HoleInHostMm < f.NominalMm*0.8 || f.HoleInHostMm > f.NominalMm+6) {
			t.Errorf("%s: hole %v for a nominal %v", slug, f.HoleInHostMm, f.NominalMm)
		}
		if f.Family == "masonry" && !f.ThroughHost && f.HoleDepthMm == 0 {
			t.Errorf("%s: a blind hole without a depth", slug)
		}
		if (f.Family == "dry" || f.Family == "seal" || f.Family == "adhesive") && f.MakesHole() {
			t.Errorf("%s: family %s makes no hole, got %v", slug, f.Family, f.HoleInHostMm)
		}
		if f.ThroughHost && f.HoleDepthMm > 0 {
			t.Errorf("%s goes right through, yet has a depth of %d", slug, f.HoleDepthMm)
		}
	}
}

// Undoing a 30-nail hanger takes minutes, not most of an hour; a screwed sheet of 55 screws about 22 minutes.
func TestUndoTimesArePlausible(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		slug     string
		count    float64
		from, to float64 // minutes
	}{
		{"hanger-nail-3-75x30", 30, 8, 20},
		{"sheet-screw-4-5x50", 55, 15, 25},
		{"brad-16ga", 36, 8, 15},
		{"acrylic-caulk", 10, 10, 20},
		{"wedge-anchor-m10", 4, 15, 30},
	} {
		got := tt.count / Default().FixingTypes[tt.slug].UndoPerHour * 60
		if got < tt.from || got > tt.to || math.IsInf(got, 0) {
			t.Errorf("undoing %v of %s takes %.1f minutes, want %v to %v", tt.count, tt.slug, got, tt.from, tt.to)
		}
	}
}
