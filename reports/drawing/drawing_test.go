package drawing_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/reports/drawing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func readRegister(tb testing.TB, name string) *domain.Register {
	tb.Helper()
	raw, err := os.ReadFile(filepath.Join("../../testdata/keys", name+".json"))
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: catalogue.Default()}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}

// svg is a drawing read back.
type svg struct {
	polygons []polygon
	texts    []text
	classes  map[string]int
	width    float64 // mm on paper
	box      []float64
	blockTop float64
}

type polygon struct {
	class, code string
	points      [][2]float64
}

type text struct {
	class, words string
	x, y         float64
	inBlock      bool
}

// parse reads a drawing back and fails where it is not well-formed XML.
func parse(tb testing.TB, raw []byte) svg {
	tb.Helper()
	out := svg{classes: map[string]int{}}
	d := xml.NewDecoder(bytes.NewReader(raw))
	inBlock, inText := false, false
	var codes []string // of the groups that are open
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			tb.Fatalf("not well-formed: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			has := map[string]string{}
			for _, a := range e.Attr {
				has[a.Name.Local] = a.Value
			}
			has["class"] = strings.TrimPrefix(has["class"], "d-")
			out.classes[has["class"]]++
			switch e.Name.Local {
			case "svg":
				if has["width"] != "" { // a drawing on a page has no size of its own
					out.width = numbers(tb, strings.TrimSuffix(has["width"], "mm"))[0]
				}
				out.box = numbers(tb, has["viewBox"])
			case "polygon":
				p := polygon{class: has["class"]}
				if len(codes) > 0 {
					p.code = codes[len(codes)-1]
				}
				n := numbers(tb, strings.ReplaceAll(has["points"], ",", " "))
				for i := 0; i+1 < len(n); i += 2 {
					p.points = append(p.points, [2]float64{n[i], n[i+1]})
				}
				out.polygons = append(out.polygons, p)
			case "g", "a":
				codes = append(codes, has["data-code"])
				if has["data-top"] != "" {
					inBlock, out.blockTop = true, numbers(tb, has["data-top"])[0]
				}
			case "text":
				inText = true
				out.texts = append(out.texts, text{class: has["class"], x: numbers(tb, has["x"])[0], y: numbers(tb, has["y"])[0], inBlock: inBlock})
			}
		case xml.CharData:
			if inText {
				out.texts[len(out.texts)-1].words += string(e)
			}
		case xml.EndElement:
			inText = false
			if e.Name.Local == "g" || e.Name.Local == "a" {
				codes = codes[:len(codes)-1]
			}
		}
	}
}

func numbers(tb testing.TB, s string) []float64 {
	tb.Helper()
	var out []float64
	for _, f := range strings.Fields(s) {
		n, err := strconv.ParseFloat(f, 64)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, n)
	}
	return out
}

func drawn(tb testing.TB, draw func(io.Writer) error) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := draw(&out); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

func elevation(r *domain.Register, code string) func(io.Writer) error {
	return func(w io.Writer) error { return drawing.Elevation(w, r, code, drawing.Options{}) }
}

func plan(r *domain.Register) func(io.Writer) error {
	return func(w io.Writer) error { return drawing.Plan(w, r, drawing.Options{}) }
}

// TestGolden holds drawings to files that were looked at before they were committed.
func TestGolden(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, register string
		view           drawing.View
		options        drawing.Options
	}{
		{"wall-with-door-W1", "wall-with-door", drawing.View{Kind: drawing.ElevationView, Assembly: "W1"}, drawing.Options{}},
		{"wall-with-door-plan", "wall-with-door", drawing.View{Kind: drawing.PlanView}, drawing.Options{}},
		{"raked-head-W1", "raked-head", drawing.View{Kind: drawing.ElevationView, Assembly: "W1"}, drawing.Options{}},
		{"mezzanine-M1", "mezzanine", drawing.View{Kind: drawing.ElevationView, Assembly: "M1"}, drawing.Options{}},
		{"mezzanine-plan", "mezzanine", drawing.View{Kind: drawing.PlanView}, drawing.Options{}},
		{"mezzanine-isometric", "mezzanine", drawing.View{Kind: drawing.IsometricView}, drawing.Options{}},
		{"wall-with-door-setting-out", "wall-with-door", drawing.View{Kind: drawing.SettingOutView, Assembly: "W1"}, drawing.Options{}},
		{"wall-with-door-inline", "wall-with-door", drawing.View{Kind: drawing.ElevationView, Assembly: "W1"}, drawing.Options{
			Inline: true, Bare: true, ID: "free", WidthPx: 390, Link: linked,
			State: drawing.State{
				Gone: map[string]bool{"BA3": true}, Held: map[string]bool{"HP1": true}, Dim: true,
				Highlight: map[string]drawing.Emphasis{"BA1": drawing.Chosen, "S2": drawing.Out, "N1": drawing.Falls, "SK1": drawing.PutBack, "S3": drawing.Added},
			},
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := readRegister(t, tt.register)
			golden(t, tt.name, drawn(t, func(w io.Writer) error { return drawing.Draw(w, r, tt.view, tt.options) }))
		})
	}
}

func linked(kind, code string) string { return "/f/" + kind + "/" + url.PathEscape(code) }

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name+".svg")
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s has changed; look at it, then run with -update (-want +got):\n%.3000s", name, diff)
	}
}

// TestPiecesAreWhereTheyAre: in every drawing of every key register each piece in place is drawn once, and reaches as
// far as its corners, worked out here from the placement, within 0.1 mm. Elevations look along +Y or -Y or +X or -X.
func TestPiecesAreWhereTheyAre(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/keys/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no registers (%v)", err)
	}
	for _, file := range files {
		r := readRegister(t, strings.TrimSuffix(filepath.Base(file), ".json"))
		p := parse(t, drawn(t, plan(r)))
		checkPieces(t, file+" plan", p, r.Elements, func(v domain.Vector) [2]float64 { return [2]float64{v.X, -v.Y} })
		checkBlock(t, file+" plan", p)
		for _, a := range r.Assemblies {
			var pieces []domain.Element
			for _, e := range r.Elements {
				if e.Assembly == a.Code {
					pieces = append(pieces, e)
				}
			}
			if len(pieces) == 0 {
				continue
			}
			e := parse(t, drawn(t, elevation(r, a.Code)))
			checkBlock(t, file+" "+a.Code, e)
			// Which way it looks is the drawing's choice: one of four, and then all pieces must agree with it.
			var faults []string
			for _, right := range []domain.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				fault := misplaced(e, pieces, func(v domain.Vector) [2]float64 { return [2]float64{v.Dot(right), -v.Z} })
				if fault == "" {
					faults = nil
					break
				}
				faults = append(faults, fault)
			}
			if faults != nil {
				t.Errorf("%s %s: from no side are the pieces where they are: %v", file, a.Code, faults)
			}
		}
	}
}

func checkPieces(t *testing.T, what string, s svg, pieces []domain.Element, project func(domain.Vector) [2]float64) {
	t.Helper()
	if fault := misplaced(s, pieces, project); fault != "" {
		t.Errorf("%s: %s", what, fault)
	}
}

// misplaced says what is drawn elsewhere than it is by more than 0.1 mm, "" when nothing is.
func misplaced(s svg, pieces []domain.Element, project func(domain.Vector) [2]float64) string {
	return misplacedBy(s, pieces, .1, project)
}

func misplacedBy(s svg, pieces []domain.Element, byMm float64, project func(domain.Vector) [2]float64) string {
	found := map[string][]polygon{}
	for _, p := range s.polygons {
		if p.code != "" {
			found[p.code] = append(found[p.code], p)
		}
	}
	for _, e := range pieces {
		if !e.IsInPlace() {
			continue
		}
		if len(found[e.Code]) != 1 {
			return fmt.Sprintf("%s is drawn %d times", e.Code, len(found[e.Code]))
		}
		want, got := newBounds(), newBounds()
		for _, c := range e.Box().Corners() {
			want.add(project(c))
		}
		for _, p := range found[e.Code][0].points {
			got.add(p)
		}
		if slack := cutSlack(e); len(e.Outline) > 0 || slack > 0 { // cut down from its box: inside it, but for half a plumb cut
			for i, most := range []float64{want[0] - got[0], want[1] - got[1], got[2] - want[2], got[3] - want[3]} {
				if most > slack/2+byMm {
					return fmt.Sprintf("%s is drawn over %v, its box is %v (side %d)", e.Code, got, want, i)
				}
			}
			continue
		}
		for i := range want {
			if math.Abs(want[i]-got[i]) > byMm {
				return fmt.Sprintf("%s is drawn over %v, is at %v", e.Code, got, want)
			}
		}
	}
	return ""
}

// cutSlack is how much longer one side of a piece is than the other where its ends are cut at an angle.
func cutSlack(e domain.Element) float64 {
	deg := max(math.Abs(e.StartCutDeg), math.Abs(e.EndCutDeg))
	return float64(e.ThicknessMm) * math.Tan(deg*math.Pi/180)
}

// bounds are least x, least y, greatest x, greatest y.
type bounds [4]float64

func newBounds() *bounds { return &bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (b *bounds) add(p [2]float64) {
	b[0], b[1], b[2], b[3] = min(b[0], p[0]), min(b[1], p[1]), max(b[2], p[0]), max(b[3], p[1])
}

// checkBlock: nothing drawn reaches into the title block, and nothing leaves the page.
func checkBlock(t *testing.T, what string, s svg) {
	t.Helper()
	for _, p := range s.polygons {
		for _, at := range p.points {
			if at[1] > s.blockTop || at[0] < s.box[0] || at[0] > s.box[0]+s.box[2] || at[1] < s.box[1] {
				t.Errorf("%s: %s %s at %v leaves its part of the page (block from %v, page %v)", what, p.class, p.code, at, s.blockTop, s.box)
			}
		}
	}
	for _, w := range s.texts {
		if !w.inBlock && w.y > s.blockTop || w.x < s.box[0] || w.x > s.box[0]+s.box[2] || w.y > s.box[1]+s.box[3] {
			t.Errorf("%s: %q at %v, %v leaves its part of the page", what, w.words, w.x, w.y)
		}
	}
}

// TestScale: a millimetre of the drawing is 1/25 or 1/50 on paper.
func TestScale(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	for _, tt := range []struct {
		name string
		draw func(io.Writer) error
		want float64
	}{{"plan", plan(r), 50}, {"elevation", elevation(r, "W1"), 25}} {
		s := parse(t, drawn(t, tt.draw))
		if got := s.box[2] / s.width; math.Abs(got-tt.want) > .05 {
			t.Errorf("%s is at 1:%.2f, want 1:%v", tt.name, got, tt.want)
		}
	}
}

// TestElevationShows: the opening with its size and the door in it, floor and soffit, far lining dashed, dimensions, and marks.
func TestElevationShows(t *testing.T) {
	t.Parallel()
	s := parse(t, drawn(t, elevation(readRegister(t, "wall-with-door"), "W1")))
	for class, least := range map[string]int{"door": 1, "fabric": 4, "board-far": 3, "mark": 15, "mark-host": 6, "measure": 10} {
		if s.classes[class] < least {
			t.Errorf("%d of class %s, want at least %d", s.classes[class], class, least)
		}
	}
	// The register: studs' near edges at 0, 600, 1476 and 2062, the short one at 1181; 2100 long, 2400 high; the
	// opening 838 between studs, 2025 to the head.
	var words []string
	for _, w := range s.texts {
		words = append(words, w.words)
	}
	for _, want := range []string{"0", "600", "1181", "1476", "2062", "2100", "2400", "838 x 2025", "SLAB", "SOFFIT"} {
		if !slices.Contains(words, want) {
			t.Errorf("%q is not on the drawing: %q", want, words)
		}
	}
}

// TestSlopesAsTheyAre: a soffit that falls is drawn falling, by as much as the register says.
func TestSlopesAsTheyAre(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	for i := range r.Hosts {
		if h := &r.Hosts[i]; h.Code == "SOFFIT" {
			h.U = domain.Direction{X: 10, Z: 1} // rises one in ten along the wall
		}
	}
	s := parse(t, drawn(t, elevation(r, "W1")))
	slope := 0.0
	for _, p := range s.polygons {
		if p.class == "fabric" && p.points[0][1] < -2300 {
			a, b := p.points[0], p.points[1]
			slope = -(b[1] - a[1]) / (b[0] - a[0])
		}
	}
	if math.Abs(slope-.1) > 1e-3 {
		t.Errorf("the soffit rises %.4f along the wall, want 0.1", slope)
	}
}

// TestNoWordsOverWords: codes and labels stand clear of each other.
func TestNoWordsOverWords(t *testing.T) {
	t.Parallel()
	for _, register := range []string{"wall-with-door", "half-height-frames", "mezzanine", "raked-head"} {
		r := readRegister(t, register)
		for _, a := range r.Assemblies {
			s := parse(t, drawn(t, elevation(r, a.Code)))
			for i, w := range s.texts {
				for _, v := range s.texts[:i] {
					if math.Hypot(w.x-v.x, w.y-v.y) < 30 { // a code is 45 high
						t.Errorf("%s %s: %q lies over %q", register, a.Code, w.words, v.words)
					}
				}
			}
		}
	}
}

// TestHostileWords: markup stays words, what XML cannot hold goes, and the words are there.
func TestHostileWords(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	hostile := "</text><script>alert(1)</script>&\"'\x00\x0b\xff\ufffe" + strings.Repeat("x", 40000)
	r.FitOut.Name, r.FitOut.Premises.Address = hostile, hostile
	r.Assemblies[0].Name = hostile
	for i := range r.Hosts {
		r.Hosts[i].Name = hostile
	}
	for i := range r.Zones {
		r.Zones[i].Name = hostile
	}
	for i := range r.Elements {
		r.Elements[i].Code = r.Elements[i].Code + "<&\""
	}
	for name, draw := range map[string]func(io.Writer) error{"plan": plan(r), "elevation": elevation(r, "W1")} {
		raw := drawn(t, draw)
		if bytes.Contains(raw, []byte("<script")) || bytes.Contains(raw, []byte("%!")) {
			t.Errorf("%s: words came through as markup", name)
		}
		s := parse(t, raw)
		if !slices.ContainsFunc(s.texts, func(w text) bool { return strings.Contains(w.words, "<script>") }) {
			t.Errorf("%s: the words are not there to be read", name)
		}
	}
}

// TestNothingToDraw: an assembly that is not there, or of which nothing is left, is told in words; an empty fit-out
// has a plan that says so.
func TestNothingToDraw(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "wall-with-door")
	if got := domain.CodeOf(drawing.Elevation(io.Discard, r, "NONE", drawing.Options{})); got != domain.NotFound {
		t.Errorf("Elevation of NONE: code %q, want %q", got, domain.NotFound)
	}
	for i := range r.Elements {
		r.Elements[i].State = domain.Stored
	}
	if got := domain.CodeOf(drawing.Elevation(io.Discard, r, "W1", drawing.Options{})); got != domain.NotFound {
		t.Errorf("Elevation of W1 with all in store: code %q, want %q", got, domain.NotFound)
	}
	s := parse(t, drawn(t, plan(&domain.Register{Catalogue: r.Catalogue})))
	if len(s.texts) == 0 || s.texts[0].words != "nothing to draw" {
		t.Errorf("plan of nothing: %v, want \"nothing to draw\"", s.texts)
	}
}

// TestOrderOfRegisterDoesNotShow: the same records in another order give the same drawing.
func TestOrderOfRegisterDoesNotShow(t *testing.T) {
	t.Parallel()
	r := readRegister(t, "raked-head")
	turned := readRegister(t, "raked-head")
	slices.Reverse(turned.Elements)
	for name, draws := range map[string][2]func(io.Writer) error{
		"plan": {plan(r), plan(turned)}, "elevation": {elevation(r, "W1"), elevation(turned, "W1")},
	} {
		if diff := cmp.Diff(string(drawn(t, draws[0])), string(drawn(t, draws[1]))); diff != "" {
			t.Errorf("%s changes with the order of the elements:\n%s", name, diff)
		}
	}
}

// TestIsometricPiecesAreWhereTheyAre: in the isometric view of every key register each piece in place is drawn once, and
// reaches as far as its corners, worked out here from the placement, within a millimetre and a half (its outlines are of
// whole millimetres). Seen from a corner at 45 degrees and as high as the diagonal of a cube, a point lies to the right by
// its way along the diagonal of the plan, and up by sqrt(2/3) of its height less 1/sqrt(3) of its way from the eye on plan
// (from memory: the isometric projection).
func TestIsometricPiecesAreWhereTheyAre(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/keys/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no registers (%v)", err)
	}
	for _, file := range files {
		r := readRegister(t, strings.TrimSuffix(filepath.Base(file), ".json"))
		s := isometricOf(t, drawn(t, view(r, drawing.View{Kind: drawing.IsometricView}, drawing.Options{})))
		var faults []string
		for _, eye := range []domain.Vector{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}} {
			fault := misplacedBy(s, r.Elements, 1.5, func(v domain.Vector) [2]float64 {
				near := (v.X*eye.X + v.Y*eye.Y) / math.Sqrt2
				right := (-v.X*eye.Y + v.Y*eye.X) / math.Sqrt2
				return [2]float64{right, -(v.Z*math.Sqrt(2./3) - near/math.Sqrt(3))}
			})
			if fault == "" {
				faults = nil
				break
			}
			faults = append(faults, fault)
		}
		if faults != nil {
			t.Errorf("%s: from no corner are the pieces where they are: %v", file, faults)
		}
	}
}

// isometricOf reads the pieces of an isometric view: all sides and all parts of one are one outline here.
func isometricOf(tb testing.TB, raw []byte) svg {
	tb.Helper()
	at := map[string]int{}
	out := svg{}
	code := ""
	for _, n := range nodes(tb, raw) {
		switch {
		case n.name == "g" || n.name == "a":
			code = n.has["data-code"]
		case n.name == "path" && code != "" && strings.HasPrefix(n.has["class"], "d-iso-"):
			if _, ok := at[code]; !ok {
				at[code] = len(out.polygons)
				out.polygons = append(out.polygons, polygon{code: code})
			}
			p := &out.polygons[at[code]]
			start := numbers(tb, strings.TrimPrefix(n.has["d"][:strings.IndexByte(n.has["d"], 'l')], "M"))
			here := [2]float64{start[0], start[1]}
			p.points = append(p.points, here)
			for _, step := range relative(tb, n.has["d"]) {
				here = [2]float64{here[0] + step[0], here[1] + step[1]}
				p.points = append(p.points, here)
			}
		}
	}
	return out
}
