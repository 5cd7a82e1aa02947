package progress_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/progress"
)

// downs is two studs that are out, one in place and one of the landlord's.
func downs() *domain.Register {
	piece := func(code string, lengthMm int, state domain.ElementState, owner domain.Owner) domain.Element {
		return domain.Element{Code: code, Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: lengthMm, WidthMm: 89, ThicknessMm: 38, State: state, Owner: owner,
			Placement: domain.Placement{Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}}
	}
	return &domain.Register{FitOut: domain.FitOut{Code: "F", Name: "F", Currency: "GBP"}, Catalogue: catalogue.Default(), Elements: []domain.Element{
		piece("A", 2400, domain.TakenDown, ""), piece("B", 2000, domain.Stored, ""), piece("IN", 2400, "", ""), piece("LL", 2400, domain.TakenDown, domain.LandlordOwns)}}
}

// TestGrade: what was found is one sign-off that only adds, and passes every check of a register; what cannot be is
// refused at its field.
func TestGrade(t *testing.T) {
	t.Parallel()
	r := downs()
	c, err := progress.Grade(r, progress.Graded{Elements: []string{"A", "B", "A"}, As: domain.Cut, UsableMm: 1900, Note: "nailed foot", By: "Jo", On: "2029-01-08"})
	if err != nil {
		t.Fatal(err)
	}
	want := domain.Records{SignOffs: []domain.SignOff{{Code: "S-1", Kind: domain.PieceFound, What: "2 pieces found cut, 1900 mm good", About: []string{"A", "B"}, By: "Jo", On: "2029-01-08", Note: "nailed foot", Found: domain.Cut, UsableMm: 1900}}}
	if diff := cmp.Diff(want, c.Add); diff != "" || c.Kind != domain.Append {
		t.Errorf("a %s (-want +got):\n%s", c.Kind, diff)
	}
	if faults := domain.Check(r.With(c.Add)); len(faults) > 0 {
		t.Errorf("the register with it: %v", faults)
	}
	for _, tt := range []struct {
		name  string
		g     progress.Graded
		field string
		code  domain.Code
	}{
		{"no piece", progress.Graded{As: domain.Whole, By: "Jo"}, "/elements", domain.Invalid},
		{"unknown", progress.Graded{Elements: []string{"X"}, As: domain.Whole, By: "Jo"}, "/elements", domain.Invalid},
		{"in place", progress.Graded{Elements: []string{"IN"}, As: domain.Whole, By: "Jo"}, "/elements", domain.Refused},
		{"the landlord's", progress.Graded{Elements: []string{"LL"}, As: domain.Whole, By: "Jo"}, "/elements", domain.Refused},
		{"no condition", progress.Graded{Elements: []string{"A"}, As: "fine", By: "Jo"}, "/condition", domain.Invalid},
		{"cut to nothing said", progress.Graded{Elements: []string{"A"}, As: domain.Cut, By: "Jo"}, "/usable_mm", domain.Invalid},
		{"cut to its own length", progress.Graded{Elements: []string{"A", "B"}, As: domain.Cut, UsableMm: 2000, By: "Jo"}, "/usable_mm", domain.Invalid},
		{"material with a length", progress.Graded{Elements: []string{"A"}, As: domain.Recycle, UsableMm: 5, By: "Jo"}, "/usable_mm", domain.Invalid},
		{"below nothing", progress.Graded{Elements: []string{"A"}, As: domain.Whole, UsableMm: -1, By: "Jo"}, "/usable_mm", domain.Invalid},
		{"by nobody", progress.Graded{Elements: []string{"A"}, As: domain.Whole, By: " "}, "/by", domain.Invalid},
	} {
		_, err := progress.Grade(r, tt.g)
		faults, ok := err.(domain.Errors)
		if !ok || len(faults) != 1 || faults[0].Field != tt.field || faults[0].Code != tt.code {
			t.Errorf("%s: %v, want one fault at %s", tt.name, err, tt.field)
		}
	}
}

// TestAssess: a code of the pieces' own pair, with what it rests on; anything else is refused.
func TestAssess(t *testing.T) {
	t.Parallel()
	r := downs()
	c, err := progress.Assess(r, progress.Assessed{Elements: []string{"A"}, Code: "17 02 04*", Note: "report 7", By: "Jo", On: "2029-01-08"})
	if err != nil || c.Add.SignOffs[0].WasteCode != "17 02 04*" {
		t.Fatalf("%+v, %v", c, err)
	}
	if faults := domain.Check(r.With(c.Add)); len(faults) > 0 {
		t.Errorf("the register with it: %v", faults)
	}
	for name, a := range map[string]progress.Assessed{
		"gypsum, of wood":  {Elements: []string{"A"}, Code: "17 08 02", Note: "seen", By: "Jo"},
		"resting on air":   {Elements: []string{"A"}, Code: "17 02 01", By: "Jo"},
		"by nobody":        {Elements: []string{"A"}, Code: "17 02 01", Note: "seen"},
		"of what is not":   {Elements: []string{"X"}, Code: "17 02 01", Note: "seen", By: "Jo"},
		"the landlord's":   {Elements: []string{"LL"}, Code: "17 02 01", Note: "seen", By: "Jo"},
		"of nothing":       {Code: "17 02 01", Note: "seen", By: "Jo"},
		"with no code yet": {Elements: []string{"A"}, Note: "seen", By: "Jo"},
	} {
		if _, err := progress.Assess(r, a); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// TestGradedSignOffsAreChecked: a file cannot say of a hold what pieces are fit for, nor find what is no piece.
func TestGradedSignOffsAreChecked(t *testing.T) {
	t.Parallel()
	good := domain.SignOff{Code: "S-1", Kind: domain.PieceFound, What: "found", About: []string{"A"}, By: "Jo", On: "2029-01-08", Found: domain.Whole}
	for name, spoil := range map[string]func(*domain.SignOff){
		"no condition":            func(o *domain.SignOff) { o.Found = "" },
		"another kind":            func(o *domain.SignOff) { o.Kind = domain.HoldMet },
		"no piece":                func(o *domain.SignOff) { o.About = nil },
		"a waste code":            func(o *domain.SignOff) { o.WasteCode = "17 02 01" },
		"an entry that is none":   func(o *domain.SignOff) { o.Kind, o.Found, o.WasteCode = domain.WasteAssessed, "", "99 99 99" },
		"a length below nothing":  func(o *domain.SignOff) { o.UsableMm = -1 },
		"a condition that is not": func(o *domain.SignOff) { o.Found = "fine" },
	} {
		o := good
		spoil(&o)
		r := downs()
		r.SignOffs = []domain.SignOff{o}
		if faults := domain.Check(r); len(faults) == 0 {
			t.Errorf("%s: no fault", name)
		}
	}
}
