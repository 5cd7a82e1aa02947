package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	planner "unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/reports/drawing"
)

func demo(tb testing.TB) *domain.Register {
	tb.Helper()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatalf("reading the demo: %v", err)
	}
	return r
}

func view(r *domain.Register, v drawing.View, o drawing.Options) func(io.Writer) error {
	return func(w io.Writer) error { return drawing.Draw(w, r, v, o) }
}

// node is one element of a drawing with its attributes, by name.
type node struct {
	name string
	has  map[string]string
}

func nodes(tb testing.TB, raw []byte) []node {
	tb.Helper()
	var out []node
	d := xml.NewDecoder(bytes.NewReader(raw))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			tb.Fatalf("not well-formed: %v", err)
		}
		if e, ok := token.(xml.StartElement); ok {
			n := node{e.Name.Local, map[string]string{}}
			for _, a := range e.Attr {
				n.has[a.Name.Local] = a.Value
			}
			out = append(out, n)
		}
	}
}

var reference = regexp.MustCompile(`url\(#([^)]*)\)`)

// TestOnAPage: inlined, no drawing of the demo has a style, an event or a script in it; ids are unique and begin with
// the prefix, every reference finds its id, every class is in the stylesheet, every piece and fixing is a link.
func TestOnAPage(t *testing.T) {
	t.Parallel()
	r := demo(t)
	sheet := drawing.Stylesheet()
	for _, v := range drawing.Views(r) {
		raw := drawn(t, view(r, v, drawing.Options{Inline: true, ID: "p7", WidthPx: 900, Link: linked}))
		ids, links := map[string]bool{}, 0
		all := nodes(t, raw)
		for _, n := range all {
			for name := range n.has {
				if name == "style" || strings.HasPrefix(name, "on") {
					t.Errorf("%s: %s has the attribute %s", v.Title, n.name, name)
				}
			}
			if n.name == "style" || n.name == "script" {
				t.Errorf("%s: has the element %s", v.Title, n.name)
			}
			if id := n.has["id"]; id != "" {
				if ids[id] || !strings.HasPrefix(id, "p7-") {
					t.Errorf("%s: id %q is there twice or begins otherwise", v.Title, id)
				}
				ids[id] = true
			}
			for _, class := range strings.Fields(n.has["class"]) {
				if !strings.Contains(sheet, "."+class+"{") {
					t.Errorf("%s: class %q is not in the stylesheet", v.Title, class)
				}
			}
			if code := n.has["data-code"]; code != "" && n.name == "a" {
				links++
				if want := linked(n.has["data-kind"], code); n.has["href"] != want || n.has["aria-label"] == "" {
					t.Errorf("%s: %s links to %q (%q), want %q", v.Title, code, n.has["href"], n.has["aria-label"], want)
				}
			} else if code != "" {
				t.Errorf("%s: %s is no link", v.Title, code)
			}
		}
		for _, m := range reference.FindAllStringSubmatch(string(raw), -1) {
			if !ids[m[1]] {
				t.Errorf("%s: nothing has the id %q", v.Title, m[1])
			}
		}
		if links < 4 || all[0].has["role"] != "group" || !ids[all[0].has["aria-labelledby"][:len("p7-title")]] {
			t.Errorf("%s: %d links, root %v", v.Title, links, all[0].has)
		}
		if len(raw) > 300_000 {
			t.Errorf("%s: %d bytes, want at most 300,000", v.Title, len(raw))
		}
	}
}

// TestFileOfItsOwn: without a page a drawing carries its style with plain numbers, is a picture to who hears it, and
// has no links.
func TestFileOfItsOwn(t *testing.T) {
	t.Parallel()
	r := demo(t)
	for _, v := range drawing.Views(r) {
		raw := drawn(t, view(r, v, drawing.Options{}))
		all := nodes(t, raw)
		if all[0].has["role"] != "img" || !bytes.Contains(raw, []byte("<style>")) || bytes.Contains(raw, []byte("var(")) || bytes.Contains(raw, []byte("$")) {
			t.Errorf("%s: root %v, or its style is not plain", v.Title, all[0].has)
		}
		if slices.ContainsFunc(all, func(n node) bool { return n.name == "a" }) {
			t.Errorf("%s: has links", v.Title)
		}
	}
}

// TestThroughTheSteps runs the demo's strip-out: the page never changes its size, what is gone is not drawn, what is
// left is, and at the end the tenant's pieces are gone and every hole that the tenant made on plan is shown.
func TestThroughTheSteps(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p, err := planner.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	steps := p.Sequence.Steps
	plan := drawing.View{Kind: drawing.PlanView}
	iso := drawing.View{Kind: drawing.IsometricView}
	for _, v := range []drawing.View{plan, iso, {Kind: drawing.ElevationView, Assembly: "W1"}} {
		width := ""
		for done := 0; done <= len(steps); done += 7 {
			state := drawing.After(steps, done)
			all := nodes(t, drawn(t, view(r, v, drawing.Options{State: state})))
			box := strings.Fields(all[0].has["viewBox"])
			if width == "" {
				width = box[2]
			} else if box[2] != width {
				t.Errorf("%s after %d steps is %s wide, before %s", v.Kind, done, box[2], width)
			}
			shown := map[string]bool{}
			for _, n := range all {
				shown[n.has["data-code"]] = true
			}
			for _, e := range r.Elements {
				if state.Gone[e.Code] && shown[e.Code] {
					t.Errorf("%s after %d steps: %s is out and drawn", v.Kind, done, e.Code)
				}
				if !state.Gone[e.Code] && e.IsInPlace() && v.Kind != drawing.ElevationView && !shown[e.Code] {
					t.Errorf("%s after %d steps: %s stands and is not drawn", v.Kind, done, e.Code)
				}
			}
		}
	}
	end := nodes(t, drawn(t, view(r, plan, drawing.Options{State: drawing.After(steps, len(steps))})))
	holes := map[string]bool{}
	for _, n := range end {
		if n.has["data-kind"] == "hole" {
			holes[n.has["data-code"]] = true
		}
		if code := n.has["data-code"]; n.has["data-kind"] == "element" {
			i := slices.IndexFunc(r.Elements, func(e domain.Element) bool { return e.Code == code })
			if r.Elements[i].ComesOut() {
				t.Errorf("at the end %s is still drawn", code)
			}
		}
	}
	for _, h := range r.Holes {
		if h.Charged() && len(h.Run.PositionsMm) > 0 && !holes[h.Code] {
			t.Errorf("at the end the hole %s is not shown", h.Code)
		}
	}
}

// TestPropsShow: while a step holds something up, its drawing says so.
func TestPropsShow(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "mezzanine")
	var beam string
	for _, e := range r.Elements {
		if e.Kind == domain.Beam || e.Kind == domain.Joist {
			beam = e.Code
		}
	}
	if beam == "" {
		t.Fatal("the mezzanine has nothing to hold")
	}
	for _, v := range []drawing.View{{Kind: drawing.PlanView}, {Kind: drawing.IsometricView}, {Kind: drawing.ElevationView, Assembly: "M1"}} {
		s := parse(t, drawn(t, view(r, v, drawing.Options{State: drawing.State{Held: map[string]bool{beam: true}}})))
		if s.classes["prop"] != 2 { // the props, and the legend's
			t.Errorf("%s: %d of class prop, want 2", v.Kind, s.classes["prop"])
		}
	}
}

// TestPreview: the records of a recipe alone, not stored anywhere, can be drawn from every side.
func TestPreview(t *testing.T) {
	t.Parallel()
	r := demo(t)
	at := slices.IndexFunc(r.Assemblies, func(a domain.Assembly) bool { return a.Code == "W2" })
	a := r.Assemblies[at]
	a.Code = "NEW"
	made, err := recipe.Expand(r, a)
	if err != nil {
		t.Fatal(err)
	}
	alone := (&domain.Register{FitOut: r.FitOut, Catalogue: r.Catalogue, Assemblies: []domain.Assembly{a}}).With(made)
	for _, v := range drawing.Views(alone) {
		s := nodes(t, drawn(t, view(alone, v, drawing.Options{Inline: true})))
		if len(s) < 20 {
			t.Errorf("%s: only %d parts", v.Title, len(s))
		}
	}
	if got := len(drawing.Views(alone)); got != 4 {
		t.Errorf("%d views of a wall alone, want plan, isometric, elevation and setting out", got)
	}
}

// TestCodesStayApart: codes that look alike when odd letters are dropped still make different ids.
func TestCodesStayApart(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	for i, code := range []string{"S 1", "S_1", "S/1", "S_20_1", "S.1"} {
		r.Elements[i].Code = code
	}
	ids := map[string]bool{}
	for _, n := range nodes(t, drawn(t, plan(r))) {
		if id := n.has["id"]; id != "" {
			if ids[id] || strings.ContainsAny(id, " \t/") {
				t.Errorf("id %q is there twice or has a gap", id)
			}
			ids[id] = true
		}
	}
}
