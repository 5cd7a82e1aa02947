package freeing_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/freeing"
	"unpick/domain/recipe"
)

func demo(tb testing.TB) *domain.Register {
	tb.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "demo.json"))
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// TestDemo frees things of the demo as a carpenter would: what has to be out, and nothing that has not.
func TestDemo(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	box := func(x, y, z, a, b, c int) *freeing.Space {
		return &freeing.Space{From: domain.Point{X: x, Y: y, Z: z}, To: domain.Point{X: a, Y: b, Z: c}}
	}
	stud := element(t, r, "W1-S5").Box()
	lo, hi := stud.Bounds() // 38 along the wall, which runs along y
	for _, tt := range []struct {
		name          string
		target        freeing.Target
		out, stays    []string // must come out; must not
		propped, back []string
		most          int // pieces out
	}{
		{"a cable on clips", freeing.Target{Element: "E1-V1"}, []string{"E1-V1"}, nil, nil, nil, 1},
		{"a pipe under the roof that nothing hides", freeing.Target{Element: "SPR1"}, nil, []string{"SPR1"}, nil, nil, 0},
		{"a stud: one side opened, its noggings, no other stud; the boards of the other side stay, let go of it", freeing.Target{Element: "W1-S5"}, []string{"W1-S5", "W1-B2b", "W1-B3b", "W1-N4", "W1-N5"}, []string{"W1-S4", "W1-S6", "W1-SP1", "W1-B2a", "W1-B3a"}, nil, []string{"W1-B2b"}, 17},
		{"the nails of a hanger, which are to be seen", freeing.Target{Fixing: "M1-F90"}, nil, nil, nil, nil, 0},
		{"board screws behind the skirting, which the board's own leaving waits for in any case", freeing.Target{Fixing: "W1-F93"}, []string{"T1-TR1"}, []string{"W1-B1a", "T1-TR2"}, nil, []string{"T1-TR1"}, 2},
		{"a hanger: the joist on props, the deck stays", freeing.Target{Element: "M1-HG19"}, []string{"M1-HG19"}, []string{"M1-J6", "M1-DK1"}, []string{"M1-J6"}, nil, 1},
		{"a lining, and nothing else", freeing.Target{Assembly: "L1"}, []string{"L1-B1", "L1-BT1"}, []string{"W1-B1a"}, nil, nil, 6},
		{"a stud under a floor: the wall plate on props, the floor stays", freeing.Target{Element: "W3-S6"}, []string{"W3-S6", "W3-B2a"}, []string{"M1-WP1", "M1-J6", "M1-DK1"}, []string{"M1-WP1"}, []string{"W3-B2a"}, 12},
		{"the cavity beside a stud: one side of the wall opened", freeing.Target{Box: box(int(lo.X)+20, int(hi.Y)+60, 1200, int(hi.X)-20, int(hi.Y)+160, 1400)}, nil, []string{"W1-S5", "W1-S6"}, nil, nil, 8},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, err := ground.Free(tt.target, freeing.UsualWork)
			if err != nil {
				t.Fatal(err)
			}
			if !a.Exact && a.AboveMinutes > 20 {
				t.Errorf("not the least: up to %d min above", a.AboveMinutes)
			}
			if len(a.Out) > tt.most {
				t.Errorf("%d pieces out, want at most %d: %v", len(a.Out), tt.most, a.Out)
			}
			for _, code := range tt.out {
				if !slices.Contains(a.Out, code) {
					t.Errorf("%s stays in; out: %v", code, a.Out)
				}
			}
			for _, code := range tt.stays {
				if slices.Contains(a.Out, code) {
					t.Errorf("%s comes out; out: %v", code, a.Out)
				}
			}
			if !slices.Equal(a.Propped, append([]string{}, tt.propped...)) {
				t.Errorf("propped %v, want %v", a.Propped, tt.propped)
			}
			for _, code := range tt.back {
				if !slices.ContainsFunc(a.Back, func(b freeing.Back) bool { return slices.Contains(b.Elements, code) }) {
					t.Errorf("%s does not go back: %v", code, a.Back)
				}
			}
		})
	}
}

func element(tb testing.TB, r *domain.Register, code string) domain.Element {
	tb.Helper()
	i := slices.IndexFunc(r.Elements, func(e domain.Element) bool { return e.Code == code })
	if i < 0 {
		tb.Fatalf("no element %s", code)
	}
	return r.Elements[i]
}

// TestRefused: what cannot be freed is said plainly.
func TestRefused(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	point := func(v int) domain.Point { return domain.Point{X: v, Y: v, Z: v} }
	for _, tt := range []struct {
		name   string
		target freeing.Target
		want   domain.Code
	}{
		{"nothing", freeing.Target{}, domain.Invalid},
		{"two things", freeing.Target{Element: "W1-S5", Host: "SLAB2"}, domain.Invalid},
		{"no such piece", freeing.Target{Element: "W9-S1"}, domain.NotFound},
		{"no such fixing", freeing.Target{Fixing: "W9-F1"}, domain.NotFound},
		{"no such assembly", freeing.Target{Assembly: "W9"}, domain.NotFound},
		{"no such surface", freeing.Target{Host: "W9"}, domain.NotFound},
		{"a flat box", freeing.Target{Box: &freeing.Space{From: point(0), To: domain.Point{X: 100, Y: 100}}}, domain.Invalid},
		{"a box as big as a street", freeing.Target{Box: &freeing.Space{From: point(-900000), To: point(900000)}}, domain.Invalid},
	} {
		if _, err := ground.Free(tt.target, 1000); domain.CodeOf(err) != tt.want {
			t.Errorf("%s: %v, want code %q", tt.name, err, tt.want)
		}
	}
}

// TestEverything frees each thing of the demo, since the whole of it comes out: every piece and set of fixings that is the
// tenant's, every assembly, every surface. What the landlord's own piece holds by is refused by name, and nothing else is.
func TestEverything(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	asked, least := 0, 0
	free := func(target freeing.Target, code string) {
		asked++
		a, err := ground.Free(target, freeing.UsualWork)
		switch {
		case err != nil:
			t.Errorf("%s: %v", code, err)
		case a.Exact:
			least++
		}
	}
	standing := map[string]bool{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() {
			standing[e.Assembly] = true
			free(freeing.Target{Element: e.Code}, e.Code)
		}
	}
	links := r.Link()
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if !f.InPlace() {
			continue
		}
		if r.Elements[links.Holds[i]].Owner == domain.LandlordOwns {
			if _, err := ground.Free(freeing.Target{Fixing: f.Code}, freeing.UsualWork); domain.CodeOf(err) != domain.Refused {
				t.Errorf("%s holds a piece of the landlord's: %v", f.Code, err)
			}
			continue
		}
		free(freeing.Target{Fixing: f.Code}, f.Code)
	}
	for i := range r.Assemblies {
		if code := r.Assemblies[i].Code; standing[code] {
			free(freeing.Target{Assembly: code}, code)
		}
	}
	for i := range r.Hosts {
		free(freeing.Target{Host: r.Hosts[i].Code}, r.Hosts[i].Code)
	}
	t.Logf("%d of %d proven to be the least", least, asked)
	if 100*least < 97*asked {
		t.Errorf("%d of %d proven to be the least, want nearly all", least, asked)
	}
}
