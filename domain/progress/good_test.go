package progress_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/progress"
)

// TestMakeGoodAccounts: whatever comes out, is made good, is taken back and is found besides, in whatever order, every
// hole face of the register is in one row; those owed are priced or lack a rate; those made good are signed for; and
// what the register holds never gets fewer.
func TestMakeGoodAccounts(t *testing.T) {
	t.Parallel()
	start := demo(t)
	faces := 0
	for i := range start.Holes {
		if start.Holes[i].State != domain.HoleStruck {
			faces += start.Holes[i].Count
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		r := start
		for range rapid.IntRange(1, 25).Draw(t, "edits") {
			r = edited(t, r)
			b := makinggood.Make(r).Balance
			if !b.Agrees || b.Register+b.Inherited+b.AtDefects+b.Kept+b.Done != faces || b.Priced+b.NoRate != b.Register || b.Signed != b.Done {
				t.Fatalf("of %d hole faces: %+v", faces, b)
			}
		}
	})
}

// edited is the register after one thing that happens on site.
func edited(t *rapid.T, r *domain.Register) *domain.Register {
	on := "2029-02-01"
	switch rapid.SampledFrom([]string{"out", "good", "back"}).Draw(t, "edit") {
	case "out":
		var codes []string
		for i := range r.Elements {
			if r.Elements[i].ComesOut() {
				codes = append(codes, r.Elements[i].Code)
			}
		}
		if len(codes) == 0 {
			return r
		}
		some := rapid.SliceOfNDistinct(rapid.SampledFrom(codes), 1, min(40, len(codes)), rapid.ID).Draw(t, "pieces")
		c, err := progress.Tick(r, progress.Done{What: "out", Elements: some, Minutes: 5, By: "Ada Roe", On: on})
		if err != nil {
			t.Fatal(err)
		}
		return applied(r, c)
	case "good":
		var codes []string
		signed := domain.AboutOf(r.Signed(domain.MadeGood))
		for i := range r.Holes {
			if h := &r.Holes[i]; signed[h.Code] {
				continue
			} else if h.State == domain.HoleEmpty || h.State == domain.HoleAbandoned || h.State == domain.HoleInherited {
				codes = append(codes, h.Code)
			}
		}
		if len(codes) == 0 {
			return r
		}
		some := rapid.SliceOfNDistinct(rapid.SampledFrom(codes), 1, min(5, len(codes)), rapid.ID).Draw(t, "holes")
		c, err := progress.MakeGood(r, progress.Good{About: some, By: "Ada Roe", NoPhoto: "none was taken", On: on})
		if err != nil {
			t.Fatal(err)
		}
		return applied(r, c)
	}
	signed := r.Signed(domain.MadeGood)
	if len(signed) == 0 {
		return r
	}
	c, err := progress.Withdraw(r, progress.Withdrawal{Code: rapid.SampledFrom(signed).Draw(t, "signature").Code, By: "Ada Roe", On: on, Why: "it sank"})
	if err != nil {
		t.Fatal(err)
	}
	return applied(r, c)
}

func TestMakeGoodRefuses(t *testing.T) {
	t.Parallel()
	r := demo(t)
	inUse := slices.IndexFunc(r.Holes, func(h domain.Hole) bool { return h.State == domain.HoleInUse })
	before := slices.IndexFunc(r.Holes, func(h domain.Hole) bool { return h.State == domain.HoleInherited })
	for name, tt := range map[string]struct {
		good progress.Good
		code domain.Code
	}{
		"no name":           {progress.Good{About: []string{r.Holes[before].Code}}, domain.Invalid},
		"no photo":          {progress.Good{By: "Ada Roe", About: []string{r.Holes[before].Code}}, domain.Invalid},
		"nothing":           {progress.Good{By: "Ada Roe", NoPhoto: "none was taken"}, domain.Invalid},
		"still in use":      {progress.Good{By: "Ada Roe", NoPhoto: "none was taken", About: []string{r.Holes[inUse].Code}}, domain.Refused},
		"no such thing":     {progress.Good{By: "Ada Roe", NoPhoto: "none was taken", About: []string{"NOPE"}}, domain.NotFound},
		"twice":             {progress.Good{By: "Ada Roe", NoPhoto: "none was taken", About: []string{r.Holes[before].Code, r.Holes[before].Code}}, domain.Invalid},
		"painted too early": {progress.Good{By: "Ada Roe", NoPhoto: "none was taken", About: []string{r.Holes[inUse].Host}}, domain.Refused},
		"a fixing in place": {progress.Good{By: "Ada Roe", NoPhoto: "none was taken", About: []string{r.Fixings[0].Code}}, domain.Refused},
	} {
		if _, err := progress.MakeGood(r, tt.good); domain.CodeOf(err) != tt.code {
			t.Errorf("%s: %v, want %s", name, err, tt.code)
		}
	}
}

// TestRepaintedOnce: a painted wall is owed one redecoration until it is signed for; a repair after that owes it again.
func TestRepaintedOnce(t *testing.T) {
	t.Parallel()
	r := demo(t)
	r.Holes = slices.DeleteFunc(slices.Clone(r.Holes), func(h domain.Hole) bool { return h.Host != "BLK-REAR" })
	for i := range r.Holes {
		if r.Holes[i].Charged() {
			r.Holes[i].State = domain.HoleEmpty
		}
	}
	owed := func() bool {
		for _, p := range makinggood.Make(r).Planes {
			if p.Host == "BLK-REAR" {
				return p.Done == ""
			}
		}
		t.Fatal("the rear wall is painted, and no redecoration is listed")
		return false
	}
	good := func(codes ...string) {
		c, err := progress.MakeGood(r, progress.Good{About: codes, By: "Ada Roe", NoPhoto: "none was taken", On: "2029-02-01"})
		if err != nil {
			t.Fatal(err)
		}
		r = applied(r, c)
	}
	var holes []string
	for _, h := range r.Holes {
		if h.Charged() {
			holes = append(holes, h.Code)
		}
	}
	good(holes[1:]...)
	if !owed() {
		t.Error("one hole is still open, and the wall counts as painted")
	}
	good(holes[0])
	if !owed() {
		t.Error("every hole is filled, and nobody has painted")
	}
	good("BLK-REAR")
	if owed() {
		t.Error("signed for as painted, and still owed")
	}
	c, err := progress.Withdraw(r, progress.Withdrawal{Code: r.Signed(domain.MadeGood)[1].Code, By: "Ada Roe", On: "2029-02-02", Why: "it sank"})
	if err != nil {
		t.Fatal(err)
	}
	r = applied(r, c)
	if !owed() {
		t.Error("a hole sank and is owed again, and the wall counts as painted")
	}
	good(holes[0])
	if !owed() {
		t.Error("filled again after the paint, and the wall counts as painted")
	}
}
