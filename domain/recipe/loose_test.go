package recipe

import (
	"strings"
	"testing"

	"unpick/domain"
)

// shelf is a board on two brackets, screwed into the block wall.
func shelf() Loose {
	bracket := func(code string, y int) domain.Element {
		return domain.Element{Code: code, Kind: domain.Bracket, Material: "steel", LengthMm: 200, WidthMm: 30, ThicknessMm: 4,
			Placement: domain.Placement{Origin: domain.Point{Y: y, Z: 1000}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}
	}
	into := func(code, holds string, y int) domain.Fixing {
		return domain.Fixing{Code: code, Type: "nylon-plug-6", Count: 2, Holds: holds, IntoHost: "BLOCK", Undo: []domain.Direction{{X: 1}},
			Run: domain.Run{Start: domain.Point{Y: y, Z: 950}, Along: domain.Direction{Z: 1}, PositionsMm: []int{0, 40}}}
	}
	hole := func(code, fixing string, y int) domain.Hole {
		return domain.Hole{Code: code, Host: "BLOCK", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 40, Count: 2, State: domain.HoleInUse, Fixing: fixing,
			Run: domain.Run{Start: domain.Point{Y: y, Z: 950}, Along: domain.Direction{Z: 1}, PositionsMm: []int{0, 40}}}
	}
	return Loose{
		Elements: []domain.Element{
			bracket("SHELF-L", 200), bracket("SHELF-R", 800),
			{Code: "SHELF", Kind: domain.OtherPiece, Name: "shelf", Material: "mdf-18", LengthMm: 900, WidthMm: 200, ThicknessMm: 18,
				Placement: domain.Placement{Origin: domain.Point{Y: 1000, Z: 1004}, Along: domain.Direction{Y: -1}, Across: domain.Direction{X: 1}}},
		},
		Fixings:   []domain.Fixing{into("SF1", "SHELF-L", 215), into("SF2", "SHELF-R", 815)},
		Holes:     []domain.Hole{hole("SH1", "SF1", 215), hole("SH2", "SF2", 815)},
		Relations: []domain.Relation{{Code: "SR1", Kind: domain.BearsOn, From: "SHELF", To: "SHELF-L"}, {Code: "SR2", Kind: domain.BearsOn, From: "SHELF", To: "SHELF-R"}},
	}
}

func TestLooseKeepsCodes(t *testing.T) {
	t.Parallel()
	r, made := built(t, openUnit(), "L1", "loose", shelf())
	workable(t, r)
	for _, e := range made.Elements {
		if !strings.HasPrefix(e.Code, "SHELF") || e.Assembly != "L1" || e.Zone != "Z" || e.BuiltOrder == 0 {
			t.Errorf("%s: assembly %q, zone %q, built %d", e.Code, e.Assembly, e.Zone, e.BuiltOrder)
		}
	}
	if made.Relations[0].Origin != domain.FromLog {
		t.Errorf("origin %q, want %q", made.Relations[0].Origin, domain.FromLog)
	}
}

func TestLooseRefusals(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *Loose)
		field  string
	}{
		{"nothing", func(p *Loose) { *p = Loose{} }, "/params: "},
		{"another assembly", func(p *Loose) { p.Elements[0].Assembly = "W9" }, "/params/elements/0/assembly: "},
		{"code taken", func(p *Loose) { p.Elements[1].Code = "M1-J1" }, "/params/elements/1/code: "},
		{"no such holder", func(p *Loose) { p.Fixings[1].Holds = "SHELF-X" }, "/params/fixings/1/holds: "},
		{"no such type", func(p *Loose) { p.Fixings[0].Type = "nylon-plug-66" }, "/params/fixings/0/type: "},
		{"no such host", func(p *Loose) { p.Holes[0].Host = "MOON" }, "/params/holes/0/host: "},
		{"relation to nothing", func(p *Loose) { p.Relations[1].To = "SHELF-X" }, "/params/relations/1/to: "},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r, _ := built(t, openUnit(), "M1", "mezzanine", floor())
			p := shelf()
			tt.change(&p)
			_, err := Expand(r, assemble(t, "L1", "loose", p))
			if err == nil || !strings.Contains(err.Error(), tt.field) {
				t.Errorf("Expand = %v, want a refusal at %s", err, tt.field)
			}
		})
	}
}
