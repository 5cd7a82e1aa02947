package choice

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// held is a plate of 2400 that a set of fixings of one type holds to a stud.
func held(slug string, count int) (*domain.Register, domain.Records) {
	piece := func(code string) domain.Element {
		return domain.Element{Code: code, Kind: domain.SolePlate, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38,
			Placement: domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}
	}
	r := &domain.Register{Catalogue: catalogue.Default(), Elements: []domain.Element{piece("B")}}
	positions := make([]int, count)
	for i := range positions {
		positions[i] = 100 + i*2200/(count-1)
	}
	return r, domain.Records{Elements: []domain.Element{piece("A")}, Fixings: []domain.Fixing{{
		Code: "F1", Type: slug, Count: count, Holds: "A", IntoElement: "B", Run: domain.Run{Along: domain.Direction{X: 1}, PositionsMm: positions}}}}
}

func TestFor(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, slug string
		count      int
		want       []Choice
	}{
		// Rates from work_rates.csv and fixing_types.csv: 20 gun nails at 40 an hour are 30 min, 20 screws at 150 an hour 8 min;
		// two plates of 2.4 m nailed along their length want 1 min a metre of drawing. Now: 20 x (0.25 - 0.1) = 3 min.
		{"gun nails", "gun-nail-3-1x90", 20, []Choice{{
			Type: "gun-nail-3-1x90", Count: 20, Instead: "wood-screw-5", InsteadCount: 20, NowMinutes: 3, LaterMinutes: 27,
			Worse: []Piece{{Code: "A", Chosen: salvage.Downgraded, Instead: salvage.Whole, LengthMm: 2400}, {Code: "B", Chosen: salvage.Downgraded, Instead: salvage.Whole, LengthMm: 2400}},
		}}},
		{"screws have no better", "wood-screw-5", 20, nil},
		{"an anchor is the designer's", "wedge-anchor-m10", 4, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r, add := held(tt.slug, tt.count)
			got := For(r, add)
			for i := range got {
				got[i].Name, got[i].InsteadName = "", ""
				for k := range got[i].Worse {
					got[i].Worse[k].Because = ""
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("For(%s) (-want +got):\n%s", tt.slug, diff)
			}
			if add.Fixings[0].Type != tt.slug {
				t.Error("For changed the records that it was asked about")
			}
		})
	}
}

// A glue line of 1200 is given up for screws at 300: five of them (by hand).
func TestGlueForScrews(t *testing.T) {
	t.Parallel()
	r, add := held("pva-floor", 2)
	add.Fixings[0].Count, add.Fixings[0].BeadMm = 1, 1200
	got := For(r, add)
	if len(got) != 1 || got[0].InsteadCount != 5 {
		t.Fatalf("For a line of glue: %+v, want 5 screws instead", got)
	}
}

// Every fixing named as serving instead comes out clean, and is in the catalogue.
func TestInsteadComesOut(t *testing.T) {
	t.Parallel()
	c := catalogue.Default()
	for slug := range instead {
		s, ok := insteadOf(c, slug)
		if !ok || c.FixingTypes[slug].Slug == "" {
			t.Errorf("%s or what serves instead is not in the catalogue", slug)
		}
		if c.FixingTypes[s.slug].Release != domain.UndoClean {
			t.Errorf("%s serves instead of %s and does not come out clean", s.slug, slug)
		}
	}
}
