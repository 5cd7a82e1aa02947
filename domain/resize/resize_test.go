package resize_test

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/domain/resize"
)

// room is a unit of 12 x 8 m, 2.4 m high, with assemblies in it.
func room(assemblies ...string) string {
	return `{"format": "unpick-fitout", "format_version": 1, "fit_out": {"code": "ROOM", "name": "A room", "premises": {"built_year": 2004}, "currency": "GBP"},
 "host_surfaces": [
  {"code": "SLAB", "name": "Slab", "kind": "concrete-slab", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": 1, "z": 0}, "u_mm": 12000, "v_mm": 8000, "thickness_mm": 150, "rule": "allowed", "agreed_holes": 200},
  {"code": "SOFFIT", "name": "Soffit", "kind": "concrete-slab", "origin": {"x": 0, "y": 8000, "z": 2400}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": -1, "z": 0}, "u_mm": 12000, "v_mm": 8000, "thickness_mm": 200, "rule": "allowed", "agreed_holes": 100},
  {"code": "WEST", "name": "West", "kind": "dense-block", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 0, "y": 1, "z": 0}, "v": {"x": 0, "y": 0, "z": 1}, "u_mm": 8000, "v_mm": 2400, "thickness_mm": 140, "rule": "allowed", "agreed_holes": 60},
  {"code": "NORTH", "name": "North", "kind": "dense-block", "origin": {"x": 0, "y": 8000, "z": 0}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": 0, "z": 1}, "u_mm": 12000, "v_mm": 2400, "thickness_mm": 140, "rule": "allowed", "agreed_holes": 60},
  {"code": "EAST", "name": "East", "kind": "dense-block", "origin": {"x": 12000, "y": 8000, "z": 0}, "u": {"x": 0, "y": -1, "z": 0}, "v": {"x": 0, "y": 0, "z": 1}, "u_mm": 8000, "v_mm": 2400, "thickness_mm": 140, "rule": "allowed", "agreed_holes": 60}
 ], "assemblies": [` + strings.Join(assemblies, ",\n") + `]}`
}

// wall is a stud wall out from WEST with a free end.
func wall(code string, y, lengthMm int, more string) string {
	return fmt.Sprintf(`{"code": %q, "name": "Wall %s", "recipe": "stud-wall", "params": {"origin": {"x": 0, "y": %d, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "length_mm": %d, "height_mm": 2400, "face_a": {"board": "osb3-11-metric", "share_cut": true}, "foot": {"host": "SLAB"}, "head": {"host": "SOFFIT"}, "start": {"meets": "host", "code": "WEST"}, "end": {"meets": "free"}%s}}`,
		code, code, y, lengthMm, more)
}

func read(tb testing.TB, text string) *domain.Register {
	tb.Helper()
	r, err := fitoutfile.Read(strings.NewReader(text), catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// pieces are what stands in a register, in words, whatever the order.
func pieces(r *domain.Register) []string {
	var out []string
	for i := range r.Elements {
		e := &r.Elements[i]
		out = append(out, fmt.Sprintf("%s %s %d x %d x %d at %v", e.Code, e.Material, e.LengthMm, e.WidthMm, e.ThicknessMm, e.Placement))
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		out = append(out, fmt.Sprintf("%s %d %s into %s%s", f.Code, f.Count, f.Type, f.IntoElement, f.IntoHost))
	}
	slices.Sort(out)
	return out
}

func sizeOf(tb testing.TB, r *domain.Register, assembly string, d resize.Dimension) *resize.Size {
	tb.Helper()
	can, fixed := resize.Sizes(r)
	at := slices.IndexFunc(can, func(s resize.Size) bool { return s.Assembly == assembly && s.Dimension == d })
	if at < 0 {
		tb.Fatalf("the %s of %s is no size; fixed: %+v", d, assembly, fixed)
	}
	return &can[at]
}

func whyFixed(r *domain.Register, assembly string, d resize.Dimension) string {
	_, fixed := resize.Sizes(r)
	for _, f := range fixed {
		if f.Assembly == assembly && f.Dimension == d {
			return f.Why
		}
	}
	return ""
}

const (
	door  = `, "openings": [{"at_mm": 1900, "leaf_width_mm": 762, "leaf_height_mm": 1981, "leaf_mass_kg": 18}]`
	doorE = `{"code": "E1", "name": "Door", "recipe": "door-set", "params": {"wall": "W1", "leaf": "door-leaf-hollow-762"}}`
	skirt = `{"code": "T1", "name": "Skirting", "recipe": "trim", "params": {"wall": "W1", "face": "a"}}`
)

// TestAsDescribedAgain: a layout at another size is, piece by piece and fixing by fixing, the layout that is read from a file
// which says that size: the other way there, through the file's own expansion of everything.
func TestAsDescribedAgain(t *testing.T) {
	t.Parallel()
	corner, err := os.ReadFile("../../testdata/examples/corner.json")
	if err != nil {
		t.Fatal(err)
	}
	deck := `{"code": "M1", "name": "Deck", "recipe": "mezzanine", "params": {"origin": {"x": 4000, "y": 1000, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "along_mm": 3000, "across_mm": 2400, "level_mm": 1200, "carriers": [` +
		carrier("near") + "," + carrier("far") + `], "joists": {"section": {"material": "c24-sawn-47x200"}, "centres_mm": 600, "carried": "bearing"}, "deck": {"material": "p5-22-tg"}, "edges": {"near": {"is": "open", "unguarded_reason": "test"}, "far": {"is": "open", "unguarded_reason": "test"}, "left": {"is": "open", "unguarded_reason": "test"}, "right": {"is": "open", "unguarded_reason": "test"}}}}`
	for _, tt := range []struct {
		name, text, assembly string
		dimension            resize.Dimension
		mm                   int
		moves                []string
		edit                 []string // pairs: what the file says, and what it says then
	}{
		{"a free end", room(wall("W1", 3000, 3750, door), doorE, skirt), "W1", resize.Length, 3600, nil, []string{`"length_mm": 3750`, `"length_mm": 3600`}},
		{"a low wall", strings.Replace(room(wall("W1", 3000, 3750, `, "half_height": true`)), `, "head": {"host": "SOFFIT"}`, "", 1), "W1", resize.Height, 2250, nil, []string{`"height_mm": 2400`, `"height_mm": 2250`}},
		{"the end it is set out from", room(`{"code": "W1", "name": "Out from the north", "recipe": "stud-wall", "params": {"origin": {"x": 5000, "y": 4000, "z": 0}, "along": {"x": 0, "y": 1, "z": 0}, "length_mm": 4000, "height_mm": 2400, "foot": {"host": "SLAB"}, "head": {"host": "SOFFIT"}, "start": {"meets": "free"}, "end": {"meets": "host", "code": "NORTH"}`+door+`}}`, doorE),
			"W1", resize.Length, 3850, nil, []string{`"length_mm": 4000`, `"length_mm": 3850`, `"y": 4000`, `"y": 4150`, `"at_mm": 1900`, `"at_mm": 1750`}},
		{"a return wall slides with the end", string(corner), "W1", resize.Length, 2250, []string{"W2"}, []string{`"length_mm": 2400`, `"length_mm": 2250`, `"at_mm": 2311`, `"at_mm": 2161`, `"x": 2400, "y": 3089`, `"x": 2250, "y": 3089`}},
		{"the wall it ends at slides", string(corner), "W2", resize.Length, 2800, []string{"W1"}, []string{`"length_mm": 2911`, `"length_mm": 2800`, `"x": 0, "y": 3000`, `"x": 0, "y": 3111`, `"x": 2400, "y": 3089`, `"x": 2400, "y": 3200`}},
		{"a deck along", room(deck), "M1", resize.Along, 2800, nil, []string{`"along_mm": 3000`, `"along_mm": 2800`, `"at_mm": 2800`, `"at_mm": 2600`}},
		{"a deck across", room(deck), "M1", resize.Across, 2200, nil, []string{`"across_mm": 2400`, `"across_mm": 2200`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s := sizeOf(t, read(t, tt.text), tt.assembly, tt.dimension)
			if diff := cmp.Diff(tt.moves, s.Moves); diff != "" {
				t.Errorf("what slides with it:\n%s", diff)
			}
			got, err := s.At(tt.mm)
			if err != nil {
				t.Fatal(err)
			}
			want := read(t, strings.NewReplacer(tt.edit...).Replace(tt.text))
			if diff := cmp.Diff(pieces(want), pieces(got)); diff != "" {
				t.Errorf("at %d (-read from a file, +made anew):\n%s", tt.mm, diff)
			}
		})
	}
}

func carrier(side string) string {
	post := func(at int) string {
		return fmt.Sprintf(`{"at_mm": %d, "section": {"material": "c24-post-100x100"}, "host": "SLAB", "base": {"type": "concrete-screw-10", "count": 2, "length_mm": 100}}`, at)
	}
	return fmt.Sprintf(`{"kind": "beam", "side": %q, "section": {"material": "c24-sawn-47x200"}, "plies": 2, "posts": [%s, %s]}`, side, post(200), post(2800))
}

// TestFixed: a size that is not ours to choose says why.
func TestFixed(t *testing.T) {
	t.Parallel()
	onto := func(code, wall string, y, lengthMm int) string {
		return fmt.Sprintf(`{"code": %q, "name": "Return %s", "recipe": "stud-wall", "params": {"origin": {"x": 3000, "y": %d, "z": 0}, "along": {"x": 0, "y": 1, "z": 0}, "length_mm": %d, "height_mm": 2400, "foot": {"host": "SLAB"}, "head": {"host": "SOFFIT"}, "start": {"meets": "wall", "code": %q, "onto": "studs"}, "end": {"meets": "wall", "code": "W9", "onto": "studs"}}}`, code, code, y, lengthMm, wall)
	}
	bare := func(text string) string {
		return strings.ReplaceAll(text, `"face_a": {"board": "osb3-11-metric", "share_cut": true}, `, "")
	}
	junction := func(at int, face string) string {
		return fmt.Sprintf(`, "junctions": [{"at_mm": %d, "width_mm": 89, "face": %q}]`, at, face)
	}
	between := bare(room(wall("W1", 2000, 3000, junction(2911, "b")), wall("W9", 6000, 3000, junction(2911, "a")), onto("W5", "W1", 2089, 3911)))
	hand := read(t, room(wall("W1", 3000, 3750, "")))
	for i := range hand.Elements {
		if hand.Elements[i].Kind == domain.Stud {
			hand.Elements[i].LengthMm -= 5
			break
		}
	}
	shelf := `{"code": "L1", "name": "Shelf", "recipe": "loose", "params": {"elements": [{"code": "L1-A", "kind": "batten", "material": "c16-batten-25x50", "length_mm": 600, "width_mm": 50, "thickness_mm": 25, "placement": {"origin": {"x": 1000, "y": 2950, "z": 1000}, "along": {"x": 1, "y": 0, "z": 0}, "across": {"x": 0, "y": 1, "z": 0}}}], "relations": [{"code": "L1-R", "kind": "bears-on", "from": "L1-A", "to": "W1-S1"}]}}`
	for _, tt := range []struct {
		name     string
		register *domain.Register
		assembly string
		d        resize.Dimension
		why      string
	}{
		{"both ends the building's", read(t, strings.Replace(room(wall("W1", 3000, 12000, "")), `{"meets": "free"}`, `{"meets": "host", "code": "EAST"}`, 1)), "W1", resize.Length, "^the building gives it: it runs from WEST to EAST$"},
		{"a full height", read(t, room(wall("W1", 3000, 3750, ""))), "W1", resize.Height, "^the building gives it: its head is fixed to SOFFIT$"},
		{"a wall that would slide meets another too", read(t, between), "W1", resize.Length, "W5 would have to move, and meets W9 too"},
		{"amended by hand", hand, "W1", resize.Length, "W1 is not as its recipe makes it now: it was amended by hand"},
		{"something stands on it", read(t, room(wall("W1", 3000, 3750, ""), shelf)), "W1", resize.Length, "L1 stands on it"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got := whyFixed(tt.register, tt.assembly, tt.d); !regexp.MustCompile(tt.why).MatchString(got) {
				t.Errorf("the %s of %s is fixed because %q, want %q", tt.d, tt.assembly, got, tt.why)
			}
		})
	}
}

// TestRefused: sizes that nobody could build are refused with the reason: a doorway that keeps its place, another wall in
// the way, the end of what was measured, a floor that is larger.
func TestRefused(t *testing.T) {
	t.Parallel()
	across := strings.NewReplacer(`{"x": 0, "y": 5000, "z": 0}, "along": {"x": 1`, `{"x": 4000, "y": 2000, "z": 0}, "along": {"x": 1`).Replace(wall("W2", 5000, 2000, ""))
	across = strings.NewReplacer(`"along": {"x": 1, "y": 0`, `"along": {"x": 0, "y": 1`, `"start": {"meets": "host", "code": "WEST"}`, `"start": {"meets": "free"}`).Replace(across)
	for _, tt := range []struct {
		name, text string
		mm         int
		why        string
	}{
		{"a doorway keeps its place", room(wall("W1", 3000, 3000, door), doorE), 2700, "rough opening"},
		{"another wall in the way", room(wall("W1", 3000, 3750, ""), across), 4000, "W1 and W2 would be in each other's way"},
		{"out of the building", room(wall("W1", 3000, 11800, "")), 12100, "further than the surfaces"},
		{"shorter than the recipe allows", room(wall("W1", 3000, 3750, "")), 50, "."},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := sizeOf(t, read(t, tt.text), "W1", resize.Length).At(tt.mm)
			if domain.CodeOf(err) == "" || !regexp.MustCompile(tt.why).MatchString(err.Error()) {
				t.Errorf("at %d: %v, want it refused for %q", tt.mm, err, tt.why)
			}
		})
	}
}
