package move_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/salvage"
)

// store is three boarded walls in a U, turned and moved; frames says that they are raised in frames.
func store(code string, x, y int, turned, frames bool, exits string, centres int) string {
	wall := func(name string, ox, oy, ax, ay, long int) string {
		if turned { // a quarter to the left
			ox, oy, ax, ay = -oy, ox, -ay, ax
		}
		return fmt.Sprintf(`{"code": "%s", "name": "Store wall", "recipe": "stud-wall", "params": {"origin": {"x": %d, "y": %d, "z": 0}, "along": {"x": %d, "y": %d, "z": 0}, "length_mm": %d, "height_mm": 2700, "stud_centres_mm": %d, "frames": %v, "face_a": {"board": "osb3-11-metric"}, "face_b": {"board": "osb3-11-metric"}, "foot": {"host": "SLAB"}, "head": {"host": "SOFFIT"}, "start": {"meets": "free"}, "end": {"meets": "free"}}}`,
			name, x+ox, y+oy, ax, ay, long, centres, frames)
	}
	return fmt.Sprintf(`{"format": "unpick-fitout", "format_version": 3, "fit_out": {"code": "%s", "name": "A store", "premises": {"built_year": 2004}, "currency": "GBP", "crew": {"people": 3}, "exits": [%s]},
 "host_surfaces": [
  {"code": "SLAB", "name": "Slab", "kind": "concrete-slab", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": 1, "z": 0}, "u_mm": 20000, "v_mm": 20000, "thickness_mm": 150, "rule": "allowed", "agreed_holes": 500},
  {"code": "SOFFIT", "name": "Soffit", "kind": "concrete-slab", "origin": {"x": 0, "y": 20000, "z": 2700}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": -1, "z": 0}, "u_mm": 20000, "v_mm": 20000, "thickness_mm": 200, "rule": "allowed", "agreed_holes": 500}
 ], "assemblies": [%s, %s, %s], "prices": [{"key": "material:c16-cls-38x89", "amount_minor": 265, "unit": "m"}, {"key": "material:osb3-11-metric", "amount_minor": 610, "unit": "m2"}]}`,
		code, exits, wall("W1", 0, 0, 1, 0, 2400), wall("W2", 0, 200, 0, 1, 2400), wall("W3", 0, 3000, 1, 0, 1200))
}

func storeMove(t *testing.T, from, to string, terms move.Terms) (move.Source, *domain.Register, *move.Plan) {
	t.Helper()
	here, there := read(t, []byte(from)), read(t, []byte(to))
	source := move.Source{Register: here, Inventory: salvage.Take(here)}
	p, err := move.Make(source, there, terms)
	if err != nil {
		t.Fatal(err)
	}
	hold(t, source, there, p)
	wholesHold(t, here, there, p)
	return source, there, p
}

// wholesHold checks that what goes up as it stood stands as it stood: every two pieces of it are as far apart in both, and turned
// to one another alike; and what is carried as one is lifted within the guideline figures for men close to the body at hip
// height (HSE L23: 25 kg for one, 33.3 for two, 37.5 for three; the catalogue says what of it is from memory).
func wholesHold(t *testing.T, from, to *domain.Register, p *move.Plan) {
	t.Helper()
	here, there := from.Index(), to.Index()
	for _, w := range p.Wholes {
		for i, a := range w.Becomes {
			x := from.Elements[here.Elements[a.Stock]]
			u := to.Elements[there.Elements[a.Makes[0]]]
			if x.LengthMm != u.LengthMm || x.WidthMm != u.WidthMm || x.Material != u.Material || x.Kind != u.Kind {
				t.Errorf("%s goes back as %s, which is another piece", a.Stock, a.Makes[0])
			}
			for _, b := range w.Becomes[:i] {
				y := from.Elements[here.Elements[b.Stock]]
				v := to.Elements[there.Elements[b.Makes[0]]]
				was, is := x.Box().Centre.Sub(y.Box().Centre).Length(), u.Box().Centre.Sub(v.Box().Centre).Length()
				if was-is > 6 || is-was > 6 || was != 0 && (x.Box().Centre.Z-y.Box().Centre.Z)-(u.Box().Centre.Z-v.Box().Centre.Z) > 6 {
					t.Errorf("%s and %s stood %.0f apart, and as %s and %s stand %.0f apart", a.Stock, b.Stock, was, a.Makes[0], b.Makes[0], is)
				}
			}
		}
		for _, c := range w.Carried {
			most := map[int]float64{1: 25, 2: 33.4, 3: 37.5}[c.People]
			if c.AsOne() && (c.MassKg > most || len(c.Pieces) < 2) {
				t.Errorf("%s is carried by %d people: %+v", c.Code, c.People, c)
			}
		}
	}
}

// TestStoreGoesUpAgain: a boarded store moved to the same layout, turned and elsewhere, goes up as it stood, noggings that are
// downgraded for their holes with it: nothing is bought.
func TestStoreGoesUpAgain(t *testing.T) {
	t.Parallel()
	source, to, p := storeMove(t, store("HERE", 2000, 2000, false, false, "", 600), store("THERE", 9000, 4000, true, false, "", 600), move.Usual())
	downgraded := 0
	for _, q := range source.Inventory.Pieces {
		if q.Condition() == salvage.Downgraded {
			downgraded++
		}
	}
	if downgraded == 0 {
		t.Error("nothing is downgraded: the test shows nothing")
	}
	if len(p.Wholes) != 3 || len(p.Buying) != 0 || len(p.Cannot) != 0 || p.Total.FromSalvage != p.Total.Pieces {
		t.Errorf("%d walls go up again, buying %+v, cannot %+v, %d of %d pieces", len(p.Wholes), p.Buying, p.Cannot, p.Total.FromSalvage, p.Total.Pieces)
	}
	for _, w := range p.Wholes {
		if w.From != w.To || len(w.New) != 0 || w.Leaves || !strings.Contains(w.How, "own holes") {
			t.Errorf("%s goes up as %s: %s", w.From, w.To, w.How)
		}
	}
	_ = to
	// With studs at other centres no frame is the same.
	if _, _, p = storeMove(t, store("HERE", 2000, 2000, false, false, "", 600), store("THERE", 9000, 4000, true, false, "", 400), move.Usual()); len(p.Wholes) != 0 {
		t.Errorf("at other centres %+v go up again", p.Wholes)
	}
}

// TestFramesAreCarried: raised frames leave, ride and go up in one piece, where they pass the openings at both ends, lie on the
// bed and are within what the crew may lift; a piece that is lost stops its own wall alone, a lost board only itself.
func TestFramesAreCarried(t *testing.T) {
	t.Parallel()
	const gate, hatch = `{"code": "GATE", "name": "Gate", "width_mm": 3000, "height_mm": 3000}`, `{"code": "HATCH", "name": "Hatch", "width_mm": 900, "height_mm": 900, "reach_mm": 1500}`
	here, there := store("HERE", 2000, 2000, false, true, gate, 600), store("THERE", 9000, 4000, true, true, gate, 600)
	tall := with(func(terms *move.Terms) { terms.Vehicle.BedHeightMm = 2500 })
	against := func(p *move.Plan) (words []string, asOne int) {
		for _, w := range p.Wholes {
			for _, c := range w.Carried {
				if c.AsOne() {
					asOne++
				} else {
					words = append(words, c.Against)
				}
			}
		}
		return words, asOne
	}
	_, _, p := storeMove(t, here, there, tall)
	words, asOne := against(p)
	if len(p.Wholes) != 3 || asOne == 0 {
		t.Fatalf("%d walls, %d frames as one, against the rest %v", len(p.Wholes), asOne, words)
	}
	// What holds a frame together stays in it: neither undone, nor needed, nor bought.
	_, to, loose := storeMove(t, here, strings.Replace(there, gate, hatch, 1), tall)
	need := func(p *move.Plan) (n int) {
		for _, f := range p.Fixings {
			n += f.Need
		}
		return n
	}
	frame, inside := map[string]string{}, 0
	for _, w := range p.Wholes {
		for _, c := range w.Carried {
			for _, b := range w.Becomes {
				if c.AsOne() && slices.Contains(c.Pieces, b.Stock) {
					frame[b.Makes[0]] = c.Code
				}
			}
		}
	}
	for i := range to.Fixings {
		if f := &to.Fixings[i]; f.InPlace() && frame[f.Holds] != "" && frame[f.Holds] == frame[f.IntoElement] {
			inside += f.Count
		}
	}
	if inside == 0 || need(loose)-need(p) != inside {
		t.Errorf("%d fixings are needed piece by piece, %d with frames that ride as one, which hold %d", need(loose), need(p), inside)
	}
	for name, tt := range map[string]struct {
		to    string
		terms move.Terms
		want  string
	}{
		"a hatch":   {strings.Replace(there, gate, hatch, 1), tall, "passes no opening of THERE"},
		"low bed":   {there, with(func(terms *move.Terms) { terms.Vehicle.BedLengthMm, terms.Vehicle.BedWidthMm = 2000, 1000 }), "bed"},
		"one man":   {strings.Replace(there, `"people": 3`, `"people": 1`, 1), tall, "guideline"},
		"small van": {there, with(func(terms *move.Terms) { terms.Vehicle.BedHeightMm, terms.Vehicle.PayloadKg = 2500, 155 }), "may load"},
	} {
		_, _, p := storeMove(t, here, tt.to, tt.terms)
		if words, _ := against(p); len(p.Wholes) != 3 || !slices.ContainsFunc(words, func(w string) bool { return strings.Contains(w, tt.want) }) {
			t.Errorf("%s: %d walls, against %v, want %q", name, len(p.Wholes), words, tt.want)
		}
	}
	source := move.Source{Register: read(t, []byte(here))}
	for code, want := range map[string][2]int{"W1-S2": {2, 0}, "W1-B1a": {3, 1}} {
		source.Inventory = salvage.Take(source.Register)
		source.Inventory.Pieces = slices.DeleteFunc(source.Inventory.Pieces, func(q salvage.Piece) bool { return q.Code == code })
		p, err := move.Make(source, read(t, []byte(there)), tall)
		if err != nil {
			t.Fatal(err)
		}
		anew := 0
		for _, w := range p.Wholes {
			anew += len(w.New)
		}
		if len(p.Wholes) != want[0] || anew != want[1] {
			t.Errorf("without %s: %d walls go up again, %d pieces anew, want %v", code, len(p.Wholes), anew, want)
		}
	}
}

// TestSamePiecesOtherPlaces: the same sizes in other places are no frame that goes up as it stood: its holes would not meet.
func TestSamePiecesOtherPlaces(t *testing.T) {
	t.Parallel()
	frame := func(second int, turned bool) []domain.Element {
		at := func(x int) domain.Point { return domain.Point{X: x} }
		along, across := domain.Direction{X: 1}, domain.Direction{Y: 1}
		if turned {
			at = func(x int) domain.Point { return domain.Point{X: 5000, Y: 1000 + x} }
			along, across = domain.Direction{Y: 1}, domain.Direction{X: -1}
		}
		plate := stud("P", 2000, 0, 0)
		plate.Kind, plate.Placement = domain.SolePlate, domain.Placement{Origin: at(0), Along: along, Across: across}
		out := []domain.Element{plate}
		for i, x := range []int{0, second, 1962} {
			e := stud(fmt.Sprintf("S%d", i), 2400, 0, 0)
			e.Placement = domain.Placement{Origin: at(x), Along: domain.Direction{Z: 1}, Across: across}
			out = append(out, e)
		}
		for i := range out {
			out[i].Assembly = "F"
		}
		return out
	}
	for _, tt := range []struct {
		second int
		turned bool
		want   int
	}{{600, false, 1}, {600, true, 1}, {602, true, 1}, {610, true, 0}, {640, false, 0}, {640, true, 0}} {
		if p := planned(t, frame(600, false), frame(tt.second, tt.turned)); len(p.Wholes) != tt.want {
			t.Errorf("studs at 600 and at %d, turned %v: %d frames go up as they stood, want %d", tt.second, tt.turned, len(p.Wholes), tt.want)
		}
	}
}
