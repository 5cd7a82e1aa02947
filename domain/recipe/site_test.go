package recipe

import (
	"encoding/json"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// premises is a landlord's unit to build in: a slab, block walls either side, steel and a soffit overhead.
func premises() *domain.Register {
	flat := func(code, kind string, z int, v domain.Direction) domain.HostSurface {
		origin := domain.Point{X: -20000, Y: -20000, Z: z}
		if v.Y < 0 {
			origin.Y = 40000
		}
		return domain.HostSurface{Code: code, Name: code, Kind: kind, Origin: origin, U: domain.Direction{X: 1}, V: v, UMm: 60000, VMm: 60000, ThicknessMm: 150, Rule: domain.Allowed}
	}
	upright := func(code, kind string, x int, u domain.Direction) domain.HostSurface {
		y := -20000
		if u.Y < 0 {
			y = 40000
		}
		return domain.HostSurface{Code: code, Name: code, Kind: kind, Origin: domain.Point{X: x, Y: y}, U: u, V: domain.Direction{Z: 1}, UMm: 60000, VMm: 10000, ThicknessMm: 140, Rule: domain.Allowed}
	}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F", Name: "Unit", Currency: "GBP"},
		Zones:  []domain.Zone{{Code: "Z", Name: "Works"}},
		Hosts: []domain.HostSurface{
			flat("SLAB", "concrete-slab", 0, domain.Direction{Y: 1}),
			flat("SOFFIT", "concrete-slab", 2720, domain.Direction{Y: -1}),
			upright("BLOCK", "dense-block", 0, domain.Direction{Y: 1}),
			upright("FAR", "dense-block", 4200, domain.Direction{Y: -1}),
			{Code: "AIRCRETE", Name: "AIRCRETE", Kind: "aircrete-block", Origin: domain.Point{X: -100000}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 1000, VMm: 1000, Rule: domain.Ask},
			{Code: "BEAM", Name: "BEAM", Kind: "hot-rolled-steel", Origin: domain.Point{X: -100000}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 1000, VMm: 1000, Rule: domain.Ask},
			{Code: "PURLIN1", Name: "PURLIN1", Kind: "cold-formed-purlin", Origin: domain.Point{X: -100000}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 1000, VMm: 1000, Rule: domain.Ask},
			{Code: "PURLIN2", Name: "PURLIN2", Kind: "cold-formed-purlin", Origin: domain.Point{X: -100000}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 1000, VMm: 1000, Rule: domain.Ask},
			{Code: "PANEL", Name: "PANEL", Kind: "composite-panel", Origin: domain.Point{X: -100000}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: 1000, VMm: 1000, Rule: domain.Ask},
		},
		Catalogue: catalogue.Default(),
	}
}

// worked is the wall worked by hand in the design, section 4.
func worked() StudWall {
	face := WallFace{Board: "osb3-11-metric"}
	other := face
	return StudWall{
		Along: domain.Direction{X: 1}, LengthMm: 4200, HeightMm: 2720, FaceA: &face, FaceB: &other,
		Foot: Contact{Host: "SLAB"}, Head: &Head{Host: "SOFFIT"},
		Start: WallEnd{Meets: "host", Code: "BLOCK"}, End: WallEnd{Meets: "host", Code: "FAR"},
	}
}

// assemble gives an assembly its parameters.
func assemble(tb testing.TB, code, recipe string, params any) domain.Assembly {
	tb.Helper()
	text, err := json.Marshal(params)
	if err != nil {
		tb.Fatalf("writing parameters of %s: %v", code, err)
	}
	return domain.Assembly{Code: code, Name: code, Recipe: recipe, Params: text, Zone: "Z"}
}

// built expands an assembly and puts it into the register with what it made.
func built(tb testing.TB, r *domain.Register, code, recipe string, params any) (*domain.Register, domain.Records) {
	tb.Helper()
	a := assemble(tb, code, recipe, params)
	made, err := Expand(r, a)
	if err != nil {
		tb.Fatalf("Expand(%s): %v", code, err)
	}
	all := domain.Records{Assemblies: []domain.Assembly{a}}
	all.Append(made)
	return r.With(all), made
}

// lengths are the lengths of the pieces of a kind, in the order built.
func lengths(made domain.Records, kind domain.ElementKind) []int {
	var out []int
	for _, e := range made.Elements {
		if e.Kind == kind {
			out = append(out, e.LengthMm)
		}
	}
	return out
}

// screws is how many fixings hold pieces of a kind to other pieces.
func screws(made domain.Records, kind domain.ElementKind) int {
	kinds := map[string]domain.ElementKind{}
	for _, e := range made.Elements {
		kinds[e.Code] = e.Kind
	}
	n := 0
	for _, f := range made.Fixings {
		if f.IntoElement != "" && kinds[f.Holds] == kind {
			n += f.Count
		}
	}
	return n
}

// into is how many fixings go into a host surface.
func into(made domain.Records, host string) int {
	n := 0
	for _, f := range made.Fixings {
		if f.IntoHost == host {
			n += f.Count
		}
	}
	return n
}
