package freeing_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/freeing"
	"unpick/domain/recipe"
	"unpick/domain/salvage"
	"unpick/domain/strip"
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

// TestBackIsTheReverse: what goes back is what came out less what was wanted and what has lost its place, last out first,
// and nails are new.
func TestBackIsTheReverse(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	a, err := ground.Free(freeing.Target{Element: "M1-J6"}, freeing.UsualWork)
	if err != nil {
		t.Fatal(err)
	}
	var back []string
	for _, b := range a.Back {
		back = append(back, b.Elements...)
	}
	var want []string
	for _, code := range slices.Backward(a.Out) {
		if code != "M1-J6" && !slices.Contains(a.StaysOut, code) {
			want = append(want, code)
		}
	}
	if len(want) == 0 || !slices.Equal(back, want) {
		t.Errorf("back = %v, want %v", back, want)
	}
	hanger, err := ground.Free(freeing.Target{Element: "M1-HG19"}, freeing.UsualWork)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range hanger.NewFixings {
		if strings.Contains(f.Type, "nail") && f.New != f.Count {
			t.Errorf("%d of %d nails are new, want all", f.New, f.Count)
		}
	}
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

// TestBackOnLess: what spanned over the place of what was taken stays out, and what stands on it: no deck goes back over the gap
// of a joist, no stair to a deck that is not there.
func TestBackOnLess(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	a, err := ground.Free(freeing.Target{Element: "M1-J5"}, freeing.UsualWork)
	if err != nil {
		t.Fatal(err)
	}
	for _, code := range a.OnOneEnd {
		if slices.Contains(a.Out, code) && !slices.Contains(a.StaysOut, code) {
			t.Errorf("%s goes back on one end", code)
		}
	}
	if len(a.OnOneEnd) == 0 || len(a.StaysOut) == 0 {
		t.Errorf("on one end %v, stays out %v: want some of both", a.OnOneEnd, a.StaysOut)
	}
}

// TestBackIsHeld: nothing goes back that could be fixed at one end only, or with half of what held it or less; no seal without
// what it is on, no service put on again that stays out, and no deck on joists whose props stay.
func TestBackIsHeld(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name   string
		target freeing.Target
		stays  []string
	}{
		{"a stud: its noggings have one end to nothing", freeing.Target{Element: "W1-S5"}, []string{"W1-N4", "W1-N5"}},
		{"the slab: a door set would hang on one jamb, a cable on two clips of fourteen, a seal on no wall", freeing.Target{Host: "SLAB2"},
			[]string{"D1-D1", "E1-V1", "Q2-SL1", "M1-HG17", "W3-B10a", "W3-N12"}},
		{"a joist: its strutting", freeing.Target{Element: "M1-J6"}, []string{"M1-SU1", "M1-SU2"}},
		{"a beam: no deck on joists that wait on props", freeing.Target{Element: "M1-BM1"}, []string{"M1-DK5", "M1-DK15"}},
	} {
		a, err := ground.Free(tt.target, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		away := slices.Concat(a.Wanted, a.StaysOut)
		for _, code := range tt.stays {
			if !slices.Contains(a.StaysOut, code) {
				t.Errorf("%s: %s goes back", tt.name, code)
			}
		}
		for _, b := range a.Back {
			if b.People < 1 || b.Access == "" {
				t.Errorf("%s: %q has no people or access", tt.name, b.Title)
			}
			for _, code := range b.Elements {
				if slices.Contains(away, code) {
					t.Errorf("%s: %s stays out, and %q", tt.name, code, b.Title)
				}
			}
		}
	}
}

// TestMeanwhile: holes in a floor that is walked on again are named, and what it lacks of what carried it.
func TestMeanwhile(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		element string
		want    []string // what each line names, in order
	}{
		{"M1-DK5", []string{"open holes where M1-DK5 came out"}},
		{"M1-J1", []string{"open holes where M1-DK5, M1-DK12 came out", "without M1-J1:"}},
		{"M1-P2", []string{"without M1-P2:"}},
		{"W3-S6", []string{"without W3-S6:"}},
		{"W1-N4", []string{"W1-B2a, W1-B2b, W1-B9a hang on the rest of their fixings"}},
		{"W1-HP1", nil},
		{"M1-GR1", nil},
	} {
		a, err := ground.Free(freeing.Target{Element: tt.element}, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Meanwhile) != len(tt.want) {
			t.Errorf("%s out: %q, want %d lines", tt.element, a.Meanwhile, len(tt.want))
			continue
		}
		for i, want := range tt.want {
			if !strings.Contains(a.Meanwhile[i], want) {
				t.Errorf("%s out: %q, want %q in it", tt.element, a.Meanwhile[i], want)
			}
		}
	}
}

// TestKeepOffTheFloor: a stair serves a floor by one board of it in the register; people are kept off all of it.
func TestKeepOffTheFloor(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	a, err := ground.Free(freeing.Target{Element: "M1-TD5"}, freeing.UsualWork)
	if err != nil {
		t.Fatal(err)
	}
	said := 0
	for _, s := range a.Steps {
		for _, h := range s.Holds {
			if h.Kind == "keep-off" {
				said++
				if !strings.Contains(h.Text, "all of the floor of M1") {
					t.Errorf("the stair is out, and the hold says %q", h.Text)
				}
			}
		}
	}
	if said == 0 {
		t.Error("the stair is out, and nobody is kept off the floor")
	}
}

// TestBattensBack: battens come off at the minutes of battens, and are not called props.
func TestBattensBack(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	a, err := ground.Free(freeing.Target{Element: "W1-HP1"}, freeing.UsualWork)
	if err != nil {
		t.Fatal(err)
	}
	seen := false
	for _, b := range a.Back {
		if b.Title == "Take away the battens" {
			seen = true
			if want := int(r.Catalogue.WorkRates["stay-strike"].Minutes) * len(b.Elements); b.PersonMinutes != want {
				t.Errorf("%d battens come off in %d min, want %d", len(b.Elements), b.PersonMinutes, want)
			}
		}
	}
	if !seen {
		t.Error("no battens came off")
	}
}

// TestLetGoOntoProps: what lies on a joist leaves before the joist is let go onto props; the head of each fixing is clear by then,
// though its own piece stays; and whoever undoes it reaches it.
func TestLetGoOntoProps(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	a, err := ground.Free(freeing.Target{Element: "W4-CP1"}, freeing.UsualWork) // joists on props, a beam, hangers, and the whole deck up
	if err != nil {
		t.Fatal(err)
	}
	decked, let := -1, len(a.Steps)
	for i, s := range a.Steps {
		switch {
		case slices.ContainsFunc(s.Elements, func(code string) bool { return strings.HasPrefix(code, "M1-DK") }):
			decked = i
		case len(s.Elements) == 0:
			let = min(let, i)
		}
	}
	if decked < 0 || let == len(a.Steps) || let < decked {
		t.Errorf("deck boards up until step %d, and joists let go onto props from step %d of %d", decked+1, let+1, len(a.Steps))
	}
	for _, tt := range []struct {
		element string
		propped []string
		most    int // pieces out
		access  strip.Access
	}{
		{"W4-S4", []string{"W4-CP1"}, 70, strip.FromSteps}, // the cap's screws are under the edge joist: that and the deck, not the mezzanine
		{"W4-S3", []string{"W4-CP1"}, 85, strip.FromSteps},
		{"M1-P1", []string{"M1-BM1", "M1-BM2"}, 1, strip.FromSteps},
		{"W3-S6", []string{"M1-WP1"}, 9, strip.FromSteps},
	} {
		a, err := ground.Free(freeing.Target{Element: tt.element}, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(a.Propped, tt.propped) || len(a.Out) > tt.most {
			t.Errorf("%s: %d pieces out, propped %v, want at most %d and %v", tt.element, len(a.Out), a.Propped, tt.most, tt.propped)
		}
		for _, s := range a.Steps {
			if len(s.Elements) == 0 && s.Access != tt.access {
				t.Errorf("%s: %q is reached from %s, want %s", tt.element, s.Title, s.Access, tt.access)
			}
		}
	}
}

// TestLetGoOfLinings: a stud or a nogging comes out of the side that is opened; the screws into it are backed out of the boards on
// the other, which keep more than half of theirs, and are back in once a nogging is.
func TestLetGoOfLinings(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, code := range []string{"W1-N4", "W1-S5", "W2-S3", "W5-S4"} {
		a, err := ground.Free(freeing.Target{Element: code}, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		all, undone, into := map[string]int{}, map[string]int{}, map[string]bool{}
		for i := range r.Fixings {
			all[r.Fixings[i].Holds] += r.Fixings[i].Count
		}
		index := r.Index()
		for _, s := range a.Steps {
			if len(s.Elements) > 0 {
				continue
			}
			for _, w := range s.Fixings {
				for _, c := range w.Codes {
					f := &r.Fixings[index.Fixings[c]]
					undone[f.Holds] += f.Count
					into[f.IntoElement] = true
				}
			}
		}
		let := 0
		for board, n := range undone {
			if r.Elements[index.Elements[board]].Kind != domain.Board || slices.Contains(a.Out, board) {
				continue
			}
			let++
			if 2*n >= all[board] {
				t.Errorf("%s out: %s stays on %d of %d fixings", code, board, all[board]-n, all[board])
			}
		}
		if let == 0 || !into[code] {
			t.Errorf("%s out: %d boards are let go of, of it: %v", code, let, into[code])
		}
	}
}

// TestWhatLeavesIsNotLetGo: what comes out comes off whole, before what it is held to; and the cap of a wall all of whose studs leave
// is propped, not held by a batten to nothing.
func TestWhatLeavesIsNotLetGo(t *testing.T) {
	t.Parallel()
	r := demo(t)
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	index := r.Index()
	for _, target := range []freeing.Target{{Assembly: "W1"}, {Assembly: "M1"}, {Host: "SLAB2"}, {Element: "W1-S5"}} {
		a, err := ground.Free(target, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range a.Steps {
			if s.Kind == strip.Prop && s.ByBatten() && slices.Contains(s.Elements, "W4-CP1") {
				t.Errorf("%+v: %s", target, s.Title)
			}
			for _, w := range s.Fixings {
				for _, code := range w.Codes {
					if holds := r.Fixings[index.Fixings[code]].Holds; len(s.Elements) == 0 && slices.Contains(a.Wanted, holds) {
						t.Errorf("%+v: %s comes out, and is let go of: %s", target, holds, s.Title)
					}
				}
			}
		}
	}
}

// TestPropsStay: props are struck only where what they stood in for goes back, and nothing is fixed again to what is gone.
func TestPropsStay(t *testing.T) {
	t.Parallel()
	ground, err := freeing.New(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		target freeing.Target
		want   []string
	}{
		{freeing.Target{Element: "M1-HG19"}, []string{"M1-J6"}},
		{freeing.Target{Element: "W3-S6"}, []string{"M1-WP1"}},
		{freeing.Target{Element: "E1-V1"}, []string{}},
	} {
		a, err := ground.Free(tt.target, freeing.UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(a.StaysPropped, tt.want) {
			t.Errorf("%s out: props stay under %v, want %v", tt.target.Element, a.StaysPropped, tt.want)
		}
		for _, b := range a.Back {
			if strings.HasPrefix(b.Title, "Strike the props") || strings.HasPrefix(b.Title, "Fix again") {
				t.Errorf("%s out, and putting back says %q", tt.target.Element, b.Title)
			}
		}
	}
}

// TestNewPieces: what nails or glue spoil has to be new to go back; what is only too small to be kept for another place has not.
func TestNewPieces(t *testing.T) {
	t.Parallel()
	r := demo(t)
	small := map[string]bool{}
	for _, p := range salvage.Take(r).Pieces {
		small[p.Code] = p.OnlySmall
	}
	ground, err := freeing.New(r)
	if err != nil {
		t.Fatal(err)
	}
	sound := 0
	for _, assembly := range []string{"W1", "W5"} {
		for i := range r.Elements {
			if e := &r.Elements[i]; e.Assembly != assembly || e.Kind != domain.Stud {
				continue
			}
			a, err := ground.Free(freeing.Target{Element: r.Elements[i].Code}, freeing.UsualWork)
			if err != nil {
				t.Fatal(err)
			}
			for _, code := range a.Out {
				if small[code] {
					sound++
					if slices.Contains(a.NewPieces, code) {
						t.Errorf("%s out: %s is to be new, and is only small", r.Elements[i].Code, code)
					}
				}
			}
		}
	}
	if sound == 0 {
		t.Error("no piece that is only small came out")
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
	if 100*least < 98*asked {
		t.Errorf("%d of %d proven to be the least, want nearly all", least, asked)
	}
}
