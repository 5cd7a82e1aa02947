package freeing_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/freeing"
	"unpick/domain/strip"
)

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
