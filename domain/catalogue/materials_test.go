package catalogue

import (
	"math"
	"strings"
	"testing"

	"unpick/domain"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// EN 338:2016 Table 1: mean density C16 370, C24 420. 310 and 350 are the characteristic ones: never for weighing.
func TestTimberHasMeanDensity(t *testing.T) {
	t.Parallel()
	for code, m := range Default().Materials {
		want := 0.0
		switch {
		case strings.HasPrefix(code, "c16-"), code == "softwood-c16", code == "softwood-treated":
			want = 370
		case strings.HasPrefix(code, "c24-"), code == "softwood-c24":
			want = 420
		}
		if want > 0 && m.DensityKgM3 != want {
			t.Errorf("%s: density %v, want the mean, %v", code, m.DensityKgM3, want)
		}
		if m.Kind == "timber" && (m.DensityKgM3 == 310 || m.DensityKgM3 == 350) {
			t.Errorf("%s: density %v is the characteristic one", code, m.DensityKgM3)
		}
	}
}

// Mean densities of boards: EN 13986 gives OSB 650, particleboard 650-700; plywood, MDF, glass (EN 572-1) and steel
// (EN 1991-1-1) from memory.
func TestDensities(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]float64{
		"osb3-18-metric": 650, "p5-22-tg": 700, "ply-struct-18": 550, "mdf-18": 750, "glass-10": 2500, "steel": 7850, "gl24h-90x225": 420,
	} {
		if got := Default().Materials[code].DensityKgM3; got != want {
			t.Errorf("%s: density %v, want %v", code, got, want)
		}
	}
}

func TestMassesAgreeWithDensityAndSize(t *testing.T) {
	t.Parallel()
	for code, m := range Default().Materials {
		width, length := float64(m.WidthMm)/1000, float64(m.LengthMm)/1000
		thick := m.ThicknessMm / 1000
		if m.MassKgM2 > 0 && m.DensityKgM3 > 0 && thick > 0 && !near(m.MassKgM2, m.DensityKgM3*thick, 0.03) {
			t.Errorf("%s: %v kg/m2, but %v kg/m3 x %v m is %.3f", code, m.MassKgM2, m.DensityKgM3, thick, m.DensityKgM3*thick)
		}
		if m.MassKgM > 0 && m.DensityKgM3 > 0 && thick > 0 && width > 0 && !near(m.MassKgM, m.DensityKgM3*thick*width, 0.03) {
			t.Errorf("%s: %v kg/m, but density by section is %.3f", code, m.MassKgM, m.DensityKgM3*thick*width)
		}
		if m.UnitMassKg > 0 && m.MassKgM2 > 0 && width*length > 0 && !near(m.UnitMassKg, m.MassKgM2*width*length, 0.03) {
			t.Errorf("%s: %v kg a piece, but mass by area is %.2f", code, m.UnitMassKg, m.MassKgM2*width*length)
		}
		if m.UnitMassKg > 0 && m.MassKgM > 0 && length > 0 && !near(m.UnitMassKg, m.MassKgM*length, 0.03) {
			t.Errorf("%s: %v kg a piece, but mass by length is %.2f", code, m.UnitMassKg, m.MassKgM*length)
		}
		if m.MassKgM2+m.MassKgM+m.UnitMassKg+m.DensityKgM3 == 0 {
			t.Errorf("%s cannot be weighed", code)
		}
	}
}

// Boards and lengths weighed as pieces, worked from density by size.
func TestPiecesWeigh(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		material                   string
		kind                       domain.ElementKind
		lengthMm, widthMm, thickMm int
		want                       float64
	}{
		{"osb3-18-metric", domain.Board, 2397, 1197, 18, 33.57}, // 650 x 0.018 x 2.8692
		{"osb3-11-metric", domain.Board, 2397, 1197, 11, 20.5},
		{"pb-a-12", domain.Board, 2400, 1200, 13, 24.77}, // 8.6 kg/m2
		{"p5-22-tg", domain.DeckBoard, 2400, 600, 22, 22.18},
		{"p6-38-tg", domain.DeckBoard, 2400, 600, 38, 38.3},
		{"c16-cls-38x89", domain.Stud, 3524, 89, 38, 4.41},
		{"c24-sawn-47x200", domain.Joist, 4800, 200, 47, 18.95},
		{"door-leaf-fd30-838", domain.DoorLeaf, 1981, 838, 44, 42},
		{"steel-shs-100x100x5", domain.Post, 3000, 100, 100, 43.2}, // EN 10219-2: 14.4 kg/m (from memory)
		{"hanger-47", domain.Hanger, 200, 75, 47, 0.45},
	} {
		e := domain.Element{Kind: tt.kind, Material: tt.material, LengthMm: tt.lengthMm, WidthMm: tt.widthMm, ThicknessMm: tt.thickMm}
		if got, ok := e.MassOf(Default().Materials[tt.material]); !ok || !near(got, tt.want, 0.003) {
			t.Errorf("%s %d x %d weighs %.2f kg (%v), want %v", tt.material, tt.lengthMm, tt.widthMm, got, ok, tt.want)
		}
	}
}

// Metal sections by the standards' tables, from memory, beside what geometry and 7850 kg/m3 give.
func TestMetalByTheMetre(t *testing.T) {
	t.Parallel()
	ring := func(outsideMm, wallMm, density float64) float64 {
		return math.Pi * (outsideMm - wallMm) * wallMm * density / 1e6
	}
	for _, tt := range []struct {
		code   string
		want   float64
		within float64
	}{
		{"pipe-steel-dn25", ring(33.7, 3.2, 7850), 0.01}, // EN 10255 medium
		{"pipe-copper-22", ring(22, 0.9, 8940), 0.01},    // EN 1057
		{"conduit-steel-20", ring(20, 1.6, 7850), 0.02},  // EN 61386-21
		{"conduit-pvc-20", ring(20, 1.8, 1400), 0.05},
		{"steel-shs-100x100x5", 4 * 95 * 5 * 7850.0 / 1e6, 0.04}, // corners of a cold-formed section are rounder
		{"steel-shs-80x80x4", 4 * 76 * 4 * 7850.0 / 1e6, 0.04},
		{"steel-angle-50x50x5", 95 * 5 * 7850.0 / 1e6, 0.02}, // EN 10056-1
		{"rod-m8", 36.6 * 7850.0 / 1e6, 0.12},                // stress section; the rolled rod is a little more
		// One side of EN 14195 tracks, 0.5 mm: web and two legs.
		{"track-72-32", 136 * 0.5 * 7850.0 / 1e6, 0.05},
		{"track-148-32", 212 * 0.5 * 7850.0 / 1e6, 0.05},
	} {
		if got := Default().Materials[tt.code].MassKgM; !near(got, tt.want, tt.within) {
			t.Errorf("%s: %v kg/m, geometry gives %.3f", tt.code, got, tt.want)
		}
	}
}

// EN 16449 with carbon share 0.5: C16 at 12 % holds 605.7 kg CO2 a cubic metre, C24 687.5, OSB 1029.2, P5 1050.0.
func TestBiogenicCarbon(t *testing.T) {
	t.Parallel()
	for code, perM3 := range map[string]float64{"c16-cls-38x89": 605.7, "c24-sawn-47x200": 687.5, "osb3-18-metric": 1029.2, "p5-22-tg": 1050} {
		m := Default().Materials[code]
		if got := m.BiogenicPerKg * m.DensityKgM3; !near(got, perM3, 0.001) {
			t.Errorf("%s stores %.1f kg CO2/m3, want %v", code, got, perM3)
		}
	}
}

func TestMaterialsThere(t *testing.T) {
	t.Parallel()
	for kind, codes := range map[string][]string{
		"timber": {"c16-cls-38x89", "c16-sawn-47x100", "c24-sawn-47x200", "c24-sawn-75x200", "c16-post-100x100", "c24-post-150x150",
			"redwood-par-32x225", "c24-sawn-38x225", "toeboard-ply-18x150", "packer-deflection-18x89", "lining-sw-32x138", "softwood-treated"},
		"board":      {"osb3-18-metric", "p5-22-tg", "p6-38-tg", "pb-a-12", "pb-a-12-900", "ply-struct-18-metric", "ceiling-tile-600"},
		"insulation": {"rw-45-50", "rw-45-100"},
		"metal":      {"steel-shs-100x100x5", "hanger-47", "bracket-angle-90", "clamp-beam", "packer-plastic", "rod-m8", "stud-70-05"},
		"door":       {"door-set-fd30-838", "door-set-hollow-762", "door-leaf-fd30-838", "door-leaf-solid-838"},
		"trim":       {"trim-sw-19x69", "trim-mdf-18x95", "trim-sw-15x45"},
		"sealant":    {"seal-acrylic-bead", "seal-dust-foam-10x20", "seal-intumescent-strip-15x4"},
		"service":    {"cable-twin-2-5", "cable-swa-3c-2-5", "conduit-steel-20", "pipe-steel-dn25"},
	} {
		for _, code := range codes {
			m := Default().Materials[code]
			if m.Kind != kind {
				t.Errorf("material %s: kind %q, want %q", code, m.Kind, kind)
			}
			if m.WasteCode == "" {
				t.Errorf("material %s has no waste code", code)
			}
			if (kind == "timber" || kind == "service" && strings.HasPrefix(code, "pipe")) && len(m.StockLengthsMm) == 0 {
				t.Errorf("material %s is sold by length, in none", code)
			}
		}
	}
}
