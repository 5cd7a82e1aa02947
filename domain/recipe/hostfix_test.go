package recipe_test

import (
	"testing"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
)

// What the recipe takes where nobody says otherwise is not advised against for its depth. 55 mm is what a concrete
// screw 6 takes with room for dust, 50 mm the usual limit of a slab (both rows of the catalogue).
func TestUsualFixingKeepsWithinTheUsualLimit(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, kind, fixing string
		licenceMm, want    int
	}{
		{"slab, nothing said", "concrete-slab", "", 0, 50},
		{"polished slab, nothing said", "slab-hardened", "", 0, 50},
		{"slab, the licence takes more", "concrete-slab", "", 60, 55},
		{"a fixing asked for is drilled as it wants", "concrete-slab", "concrete-screw-8", 0, 70},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := &domain.Register{Catalogue: catalogue.Default(), FitOut: domain.FitOut{Code: "F", Name: "f", Currency: "GBP"},
				Hosts: []domain.HostSurface{{Code: "SLAB", Name: "slab", Kind: tt.kind, U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 6000, VMm: 6000,
					Rule: domain.Allowed, AgreedHoles: 100, MaxDepthMm: tt.licenceMm}}}
			params := `{"origin": {"x": 500, "y": 500, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "length_mm": 2400, "height_mm": 1200, "half_height": true,
				"foot": {"host": "SLAB", "fixing": "` + tt.fixing + `"}, "start": {"meets": "free"}, "end": {"meets": "free"}}`
			made, err := recipe.Expand(r, domain.Assembly{Code: "W", Name: "w", Recipe: "stud-wall", Params: []byte(params)})
			if err != nil {
				t.Fatal(err)
			}
			if len(made.Holes) == 0 || made.Holes[0].DepthMm != tt.want {
				t.Fatalf("holes = %+v, want %d deep", made.Holes, tt.want)
			}
			deep := false
			for _, a := range advice.For(r, made) {
				deep = deep || a.Kind == advice.TooDeep
			}
			if deep != (tt.fixing != "") {
				t.Errorf("advised against for depth: %t, want %t", deep, tt.fixing != "")
			}
		})
	}
}
