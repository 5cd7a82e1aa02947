package advice

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// room is a floor of 6 x 4 m and its four walls facing in.
func room() *domain.Register {
	wall := func(code string, x, y, ux, uy, long int) domain.HostSurface {
		return domain.HostSurface{Code: code, Kind: "dense-block", Origin: domain.Point{X: x, Y: y}, U: domain.Direction{X: ux, Y: uy}, V: domain.Direction{Z: 1}, UMm: long, VMm: 3000, Rule: domain.Ask}
	}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F", Premises: domain.Premises{BuiltYear: 2010}}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{
			{Code: "SLAB", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 6000, VMm: 4000, Rule: domain.Ask},
			wall("S", 6000, 0, -1, 0, 6000), wall("N", 0, 4000, 1, 0, 6000), wall("W", 0, 0, 0, 1, 4000), wall("E", 6000, 4000, 0, -1, 4000),
		},
	}
}

func placeKinds(said []domain.Advice) []string {
	out := []string{}
	for _, a := range said {
		out = append(out, a.Kind)
	}
	return out
}

func TestPlaceOfNewSurface(t *testing.T) {
	t.Parallel()
	up := domain.Direction{Z: 1}
	for _, tt := range []struct {
		name string
		host domain.HostSurface
		want []string
	}{
		{"a column in the room", domain.HostSurface{Origin: domain.Point{X: 3000, Y: 2000}, U: domain.Direction{X: 1}, V: up, UMm: 300, VMm: 3000}, nil},
		{"a wall along the edge that faces out", domain.HostSurface{U: domain.Direction{X: 1}, V: up, UMm: 6000, VMm: 3000}, []string{FacesAway}},
		{"a wall beyond the edge that faces out", domain.HostSurface{U: domain.Direction{X: -1}, V: up, UMm: 6000, VMm: 3000, Origin: domain.Point{X: 6000, Y: 4200}}, []string{FacesAway}},
		{"the ceiling", domain.HostSurface{Origin: domain.Point{Y: 4000, Z: 3000}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 6000, VMm: 4000}, nil},
		{"a ceiling typed outside the unit", domain.HostSurface{Origin: domain.Point{Z: 3000}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 6000, VMm: 4000}, []string{LiesApart}},
		{"a ceiling that faces up", domain.HostSurface{Origin: domain.Point{Z: 3000}, U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 6000, VMm: 4000}, []string{FacesAway}},
		{"a wall far off", domain.HostSurface{Origin: domain.Point{X: 20000, Y: 4000}, U: domain.Direction{X: 1}, V: up, UMm: 6000, VMm: 3000}, []string{LiesApart}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			tt.host.Code, tt.host.Kind, tt.host.Rule = "NEW", "dense-block", domain.Ask
			if tt.want == nil {
				tt.want = []string{}
			}
			if diff := cmp.Diff(tt.want, placeKinds(For(room(), domain.Records{Hosts: []domain.HostSurface{tt.host}}))); diff != "" {
				t.Errorf("advice (-want +got):\n%s", diff)
			}
		})
	}
	first := domain.Records{Hosts: []domain.HostSurface{room().Hosts[1]}}
	bare := &domain.Register{Catalogue: catalogue.Default(), FitOut: room().FitOut}
	if said := For(bare, first); len(said) > 0 {
		t.Errorf("the first surface of all: %+v, want nothing to hold it against", said)
	}
}

// A new place says what becomes of what is fixed there: a clamp without a hole would hang in the air, what still lies on the
// surface is only counted.
func TestSurfaceMovedUnderFixings(t *testing.T) {
	t.Parallel()
	r := unit()
	wider := r.Hosts[0]
	wider.UMm += 500
	if diff := cmp.Diff([]string{SurfaceMoved}, placeKinds(ForHost(r, wider))); diff != "" {
		t.Errorf("made wider: %s", diff)
	}
	if said := ForHost(r, wider); said[0].Severity != domain.Note {
		t.Errorf("made wider: %+v, want a note", said)
	}
	back := r.Hosts[0]
	back.Origin.X -= 200
	said := ForHost(r, back)
	if len(said) != 1 || said[0].Kind != SurfaceMoved || said[0].Severity != domain.Warning || said[0].Codes[0] != "OLDF" {
		t.Errorf("moved back 200 mm: %+v, want a warning that names OLDF", said)
	}
	if said := ForHost(r, r.Hosts[0]); len(said) > 0 {
		t.Errorf("nothing changed: %+v", said)
	}
}
