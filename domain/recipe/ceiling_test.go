package recipe

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// underFloor is a plasterboard ceiling under the worked mezzanine, between its wall plate and its beam.
func underFloor() Ceiling {
	return Ceiling{Origin: domain.Point{X: 47, Y: 6000}, Along: domain.Direction{Y: -1}, AlongMm: 4800, AcrossMm: 3200, Joists: "M1", Board: "pb-a-12"}
}

func batten() Ceiling {
	return Ceiling{
		Origin: domain.Point{X: 10, Y: 100}, Along: domain.Direction{X: 1}, AlongMm: 4000, AcrossMm: 6000, Board: "osb3-11-metric",
		Battens: &CeilingBattens{Section: Section{Material: "c16-batten-25x50"}, CentresMm: 400, Host: "SOFFIT", Fixing: "concrete-screw-6", PitchMm: 600},
	}
}

func tiles() Ceiling {
	return Ceiling{
		Origin: domain.Point{X: 10, Y: 100}, Along: domain.Direction{X: 1}, AlongMm: 3140, AcrossMm: 4400, Board: "ceiling-tile-600",
		Grid: &CeilingGrid{Host: "SOFFIT", LevelMm: 2400, Fixing: "drop-in-m6"},
	}
}

// Every sort of ceiling comes apart again: sound as built, and its strip-out replays clean.
func TestCeilingsComeOut(t *testing.T) {
	t.Parallel()
	t.Run("under a mezzanine", func(t *testing.T) {
		t.Parallel()
		r, _ := built(t, openUnit(), "M1", "mezzanine", floor())
		r, made := built(t, r, "C1", "ceiling", underFloor())
		sound(t, r, made, 1)
		workable(t, r)
	})
	t.Run("on battens", func(t *testing.T) {
		t.Parallel()
		r, made := built(t, premises(), "C1", "ceiling", batten())
		sound(t, r, made, 1)
		workable(t, r)
	})
	t.Run("tiles in a grid", func(t *testing.T) {
		t.Parallel()
		r, made := built(t, premises(), "C1", "ceiling", tiles())
		sound(t, r, made, 1)
		workable(t, r)
		// By hand: 3140 is 5 bays and one of 140, so lines at 2 ... 3000, 3138: 6 x 8 bays. Mains on lines 0, 2, 4 and the
		// last, each of 3600 and 800.
		want := map[domain.ElementKind]int{domain.Board: 48, domain.Batten: 4*2 + 9*3 + 3*8, domain.Hanger: 4 * (4 + 2)}
		if diff := cmp.Diff(want, kinds(made)); diff != "" {
			t.Errorf("pieces (-want +got):\n%s", diff)
		}
	})
}

// trade-facts.md: a 1200 x 2400 plasterboard overhead, ends on joists: 39 screws on joists at 600, 53 at 400.
func TestCeilingScrews(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ centres, want int }{{600, 39}, {400, 53}} {
		c := batten()
		c.Board, c.AlongMm, c.AcrossMm, c.Battens.CentresMm = "pb-a-12", 7200, 2400, tt.centres
		r := premises()
		r.Hosts = slices.DeleteFunc(r.Hosts, func(h domain.HostSurface) bool { return h.Code == "FAR" })
		_, made := built(t, r, "C1", "ceiling", c)
		whole := 0
		for _, e := range made.Elements {
			if e.Kind != domain.Board || e.LengthMm != 2400 || e.WidthMm != 1200 {
				continue
			}
			n := 0
			for _, f := range made.Fixings {
				if f.Holds == e.Code {
					n += f.Count
					if diff := cmp.Diff([]domain.Direction{{Z: -1}}, f.Undo); diff != "" {
						t.Errorf("%s is undone from elsewhere than below:\n%s", f.Code, diff)
					}
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

func TestCeilingRefusals(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		give   Ceiling
		change func(c *Ceiling)
		field  string
		mend   string
	}{
		{"onto nothing", batten(), func(c *Ceiling) { c.Battens = nil }, "/params", "give joists, battens or grid"},
		{"no joists there", underFloor(), func(c *Ceiling) { c.Origin.X = 5000 }, "/params/joists", "mend origin"},
		{"along the joists", underFloor(), func(c *Ceiling) {
			c.Origin, c.Along, c.AlongMm, c.AcrossMm = domain.Point{X: 47, Y: 1200}, domain.Direction{X: 1}, 3200, 4800
		}, "/params/along", "90 degrees"},
		{"wider than its joists", underFloor(), func(c *Ceiling) { c.AlongMm = 5200 }, "/params/along_mm", "add a bearer"},
		{"soffit is a wall", batten(), func(c *Ceiling) { c.Battens.Host = "BLOCK" }, "/params/battens/host", "level soffit"},
		{"no room over the tiles", tiles(), func(c *Ceiling) { c.Grid.LevelMm = 2650 }, "/params/grid/level_mm", "lifted in"},
		{"sliver of a tile", tiles(), func(c *Ceiling) { c.AlongMm = 3050 }, "/params", "under 100"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := premises()
			if tt.give.Joists != "" {
				r, _ = built(t, openUnit(), "M1", "mezzanine", floor())
			}
			c := tt.give
			tt.change(&c)
			_, err := Expand(r, assemble(t, "C1", "ceiling", c))
			if err == nil || !strings.Contains(err.Error(), tt.field+": ") || !strings.Contains(err.Error(), tt.mend) {
				t.Errorf("Expand = %v, want a refusal at %s that says %q", err, tt.field, tt.mend)
			}
		})
	}
}
