package drawing_test

import (
	"math"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/reports/drawing"
)

// corner is one corner of a drawn outline, in millimetres of the fit-out: along the wall and up.
func nearCorner(points [][2]float64, x, z float64) bool {
	return slices.ContainsFunc(points, func(p [2]float64) bool { return math.Abs(p[0]-x) < .11 && math.Abs(-p[1]-z) < .11 })
}

// TestRakedAsCut: a stud cut 6 degrees is drawn as its polygon, not as its box, and a head plate on the rake with plumb
// ends. The corners are worked out by hand: over 38 mm the cut falls 38 tan 6 = 3.99; a plate of 1000 along a slope of
// 6 degrees, 38 thick, with plumb ends whose middle is its box.
func TestRakedAsCut(t *testing.T) {
	t.Parallel()
	up, across := domain.Direction{Z: 1}, domain.Direction{Y: -1} // thickness then runs along +X
	slope := domain.Direction{X: 100000, Z: 10510}                // tan 6 = 0.10510
	r := &domain.Register{
		Catalogue:  &domain.Catalogue{},
		Assemblies: []domain.Assembly{{Code: "W"}},
		Elements: []domain.Element{
			{Code: "UP", Kind: domain.Stud, Assembly: "W", LengthMm: 2000, WidthMm: 89, ThicknessMm: 38, EndCutDeg: 6, Placement: domain.Placement{Origin: domain.Point{X: 100, Y: 89}, Along: up, Across: across}},
			{Code: "DOWN", Kind: domain.Stud, Assembly: "W", LengthMm: 2000, WidthMm: 89, ThicknessMm: 38, StartCutDeg: -6, EndCutDeg: -6, Placement: domain.Placement{Origin: domain.Point{X: 500, Y: 89}, Along: up, Across: across}},
			{Code: "HP", Kind: domain.HeadPlate, Assembly: "W", LengthMm: 1000, WidthMm: 89, ThicknessMm: 38, StartCutDeg: 6, EndCutDeg: 6, Placement: domain.Placement{Origin: domain.Point{Z: 2000}, Along: slope, Across: domain.Direction{Y: 1}}},
		},
	}
	s := parse(t, drawn(t, elevation(r, "W")))
	fall := 38 * math.Tan(6*math.Pi/180)
	cos, sin := math.Cos(math.Atan(.10510)), math.Sin(math.Atan(.10510))
	along := func(at, over float64) [2]float64 { return [2]float64{at*cos - over*sin, 2000 + at*sin + over*cos} }
	want := map[string][][2]float64{
		"UP":   {{100, 0}, {138, 0}, {138, 2000}, {100, 2000 - fall}},
		"DOWN": {{500, fall}, {538, 0}, {538, 2000 - fall}, {500, 2000}},
		"HP":   {along(-fall/2, 0), along(1000-fall/2, 0), along(1000+fall/2, 38), along(fall/2, 38)},
	}
	found := 0
	for _, p := range s.polygons {
		for _, c := range want[p.code] {
			if !nearCorner(p.points, c[0], c[1]) {
				t.Errorf("%s has no corner at %.1f, %.1f: %v", p.code, c[0], c[1], p.points)
			}
		}
		if want[p.code] != nil {
			found++
			if len(p.points) != 4 {
				t.Errorf("%s is drawn with %d corners, want 4", p.code, len(p.points))
			}
		}
	}
	if found != 3 {
		t.Errorf("%d pieces are drawn, want 3", found)
	}
}

// TestIsometricIsTrue: along each of the three axes a metre is drawn as long, sqrt(2/3) of a metre (from memory: the
// foreshortening of an isometric projection), and 120 degrees apart.
func TestIsometricIsTrue(t *testing.T) {
	t.Parallel()
	cube := domain.Element{Code: "C", Kind: domain.OtherPiece, LengthMm: 1000, WidthMm: 1000, ThicknessMm: 1000, Placement: domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}
	r := &domain.Register{Catalogue: &domain.Catalogue{}, Elements: []domain.Element{cube}}
	all := nodes(t, drawn(t, view(r, drawing.View{Kind: drawing.IsometricView}, drawing.Options{})))
	faces := 0
	for i, n := range all {
		if n.has["data-code"] != "C" {
			continue
		}
		for _, face := range all[i+2 : i+5] { // behind the group's title
			steps := relative(t, face.has["d"])
			for _, s := range steps {
				if got, want := math.Hypot(s[0], s[1]), 1000*math.Sqrt(2./3); math.Abs(got-want) > 1.5 {
					t.Errorf("an edge of 1000 is drawn %.1f long, want %.1f", got, want)
				}
			}
			faces++
		}
	}
	if faces != 3 {
		t.Errorf("%d faces of a cube are drawn, want 3", faces)
	}
}

// relative reads the steps of a path that begins at a point and goes on by relative lines.
func relative(tb testing.TB, d string) [][2]float64 {
	tb.Helper()
	from := slices.Index([]byte(d), 'l')
	if from < 0 || d[len(d)-1] != 'z' {
		tb.Fatalf("path %q", d)
	}
	n := numbers(tb, d[from+1:len(d)-1])
	var out [][2]float64
	for i := 0; i+1 < len(n); i += 2 {
		out = append(out, [2]float64{n[i], n[i+1]})
	}
	return out
}
