package freeing_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/freeing"
	"unpick/domain/salvage"
)

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
