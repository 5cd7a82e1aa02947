package advice

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// TestHolesTooNear: the figures wanted are the trade's. Ten diameters of an expansion anchor: a trade article on fastening to
// concrete; three diameters of the drill for a screw: common practice, no source.
func TestHolesTooNear(t *testing.T) {
	t.Parallel()
	const screw, sleeve = "concrete-screw-6", "sleeve-anchor-m8"
	set := func(code, slug, assembly string, x int, positions ...int) (domain.Fixing, domain.Hole) {
		run := domain.Run{Start: domain.Point{X: x, Y: 1000}, Along: domain.Direction{X: 1}, PositionsMm: positions}
		d := map[string]float64{screw: 6, sleeve: 10}[slug]
		return domain.Fixing{Code: code, Type: slug, Count: len(positions), Holds: "P", IntoHost: "SLAB", Run: run, Assembly: assembly, Reason: "as agreed"},
			domain.Hole{Code: code + "-H1", Host: "SLAB", Face: domain.FrontFace, DiameterMm: d, DepthMm: 55, Count: len(positions), Run: run, State: domain.HoleInUse, Fixing: code, Assembly: assembly}
	}
	for _, tt := range []struct {
		name, was, is string
		x             int
		change        func(old, fresh *domain.Hole)
		severity      domain.Severity
		want          string
	}{
		{"on top of it", screw, screw, 0, nil, domain.Stop, "there is already a hole of OLD 0 mm from one of NEW in SLAB (3 holes): they run into each other; was it logged twice?"},
		{"1 mm beside it", screw, screw, 1, nil, domain.Stop, "there is already a hole of OLD 1 mm from one of NEW in SLAB (3 holes): they run into each other; was it logged twice?"},
		{"10 mm beside it", screw, screw, 10, nil, domain.Warning, "3 holes of NEW in SLAB: 10 mm from a hole of OLD, and 18 mm is wanted between them; was it logged twice?"},
		{"three diameters", screw, screw, 18, nil, "", ""},
		{"an anchor beside a screw", screw, sleeve, 79, nil, domain.Warning, "3 holes of NEW in SLAB: 79 mm from a hole of OLD, and 80 mm is wanted between them; was it logged twice?"},
		{"a screw beside an anchor", sleeve, screw, 79, nil, domain.Warning, "3 holes of NEW in SLAB: 79 mm from a hole of OLD, and 80 mm is wanted between them; was it logged twice?"},
		{"ten diameters", sleeve, sleeve, 80, nil, "", ""},
		{"between two of a run", screw, screw, 150, nil, "", ""},
		{"in the other face", screw, screw, 0, func(old, _ *domain.Hole) { old.Face = domain.BackFace }, "", ""},
		{"where one was struck", screw, screw, 0, func(old, _ *domain.Hole) { old.State = domain.HoleStruck }, "", ""},
		{"where one was left empty", screw, screw, 0, func(old, _ *domain.Hole) { old.State = domain.HoleAbandoned }, domain.Note,
			"3 holes of NEW in SLAB run into holes that OLD has there, in which nothing is (abandoned): the same hole would be counted twice"},
		{"beside one left empty", screw, screw, 7, func(old, _ *domain.Hole) { old.State = domain.HoleAbandoned }, "", ""},
		{"found twice", screw, screw, 2, func(old, fresh *domain.Hole) { old.State, fresh.State = domain.HoleInherited, domain.HoleInherited }, domain.Note,
			"3 holes of NEW in SLAB run into holes that OLD has there, in which nothing is (inherited): the same hole would be counted twice"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := emptyRoom()
			was, old := set("OLD", tt.was, "", 0, 0, 300, 600)
			is, fresh := set("NEW", tt.is, "", tt.x, 0, 300, 600)
			if tt.change != nil {
				tt.change(&old, &fresh)
			}
			r.Fixings, r.Holes = []domain.Fixing{was}, []domain.Hole{old}
			severity, text := domain.Severity(""), ""
			for _, a := range For(r, domain.Records{Fixings: []domain.Fixing{is}, Holes: []domain.Hole{fresh}}) {
				if a.Kind == NearHole {
					severity, text = a.Severity, a.Text
				}
			}
			if severity != tt.severity || text != tt.want {
				t.Errorf("%s: %s\nwant %s: %s", severity, text, tt.severity, tt.want)
			}
		})
	}
}

// TestRunTwice: screws into timber have no hole in the landlord's fabric; the same run again is told all the same.
func TestRunTwice(t *testing.T) {
	t.Parallel()
	screws := func(code, into string, x int) domain.Fixing {
		return domain.Fixing{Code: code, Type: "wood-screw-5", Count: 3, Holds: "BOARD", IntoElement: into,
			Run: domain.Run{Start: domain.Point{X: x}, Along: domain.Direction{X: 1}, PositionsMm: []int{0, 300, 600}}}
	}
	for _, tt := range []struct {
		name  string
		fresh domain.Fixing
		want  []string
	}{
		{"again", screws("NEW", "STUD", 1), []string{"NEW holds BOARD where OLD does already, 3 of its 3 heads in the same places: was it logged twice?"}},
		{"between them", screws("NEW", "STUD", 150), []string{}},
		{"into the next stud", screws("NEW", "STUD2", 1), []string{}},
	} {
		r := emptyRoom()
		r.Fixings = []domain.Fixing{screws("OLD", "STUD", 0)}
		got := []string{}
		for _, a := range For(r, domain.Records{Fixings: []domain.Fixing{tt.fresh}}) {
			if a.Kind == NearHole {
				got = append(got, a.Text)
			}
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}
