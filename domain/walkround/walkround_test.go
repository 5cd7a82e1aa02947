package walkround_test

import (
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/walkround"
)

// wall has one surface with holes 1 to 3 in use and 4 from before the tenant.
func wall() *domain.Register {
	r := &domain.Register{Catalogue: catalogue.Default(), FitOut: domain.FitOut{Code: "F", Name: "Fit-out", Currency: "GBP"},
		Hosts: []domain.HostSurface{{Code: "WALL", Name: "Wall", Kind: "dense-block", U: domain.Direction{X: 1}, V: domain.Direction{Z: 1}, UMm: 4000, VMm: 3000, Rule: domain.Allowed}}}
	at := func(along ...int) domain.Run {
		return domain.Run{Start: domain.Point{Z: 1000}, Along: domain.Direction{X: 1}, PositionsMm: along}
	}
	r.Holes = domain.Numbered(nil, []domain.Hole{
		{Code: "A", Host: "WALL", Face: domain.FrontFace, DiameterMm: 8, DepthMm: 50, Count: 3, State: domain.HoleEmpty, Run: at(100, 700, 1300), BuiltOrder: 1},
		{Code: "B", Host: "WALL", Face: domain.FrontFace, DiameterMm: 8, DepthMm: 50, Count: 1, State: domain.HoleInherited, Run: at(2000), BuiltOrder: 2}})
	return r
}

// say lets a party answer, and holds the register to its rules.
func say(tb rapid.TB, r *domain.Register, number int, party domain.Party, agrees bool, note string) *domain.Register {
	tb.Helper()
	c, err := walkround.Say(r, walkround.Answer{Host: "WALL", Number: number, Party: party, Agrees: agrees, Note: note, By: "N.N.", On: "2031-03-24"})
	if err != nil {
		tb.Fatalf("Say(%d, %s): %v", number, party, err)
	}
	return with(tb, r, c)
}

func with(tb rapid.TB, r *domain.Register, c domain.Change) *domain.Register {
	tb.Helper()
	after := r.With(c.Add)
	if faults := domain.Check(after); len(faults) > 0 {
		tb.Fatalf("after %q: %v", c.What, faults)
	}
	return after
}

// A hole is agreed when both agree, disputed as soon as one disputes, open until both have answered.
func TestStateOfAHole(t *testing.T) {
	t.Parallel()
	r := wall()
	r = say(t, r, 1, domain.TenantSide, true, "")
	r = say(t, r, 1, domain.LandlordSide, true, "")
	r = say(t, r, 2, domain.TenantSide, true, "")
	r = say(t, r, 2, domain.LandlordSide, false, "larger than 8")
	r = say(t, r, 3, domain.TenantSide, true, "")
	s := walkround.Of(r)[0]
	want := []walkround.State{walkround.Agreed, walkround.Disputed, walkround.Open, walkround.Open}
	for i, h := range s.Holes {
		if h.Number != i+1 || h.State != want[i] {
			t.Errorf("hole %d is %s, want %d %s", h.Number, h.State, i+1, want[i])
		}
	}
	if s.Agreed != 1 || s.Disputed != 1 || s.Open != 2 {
		t.Errorf("surface: %d agreed, %d disputed, %d open; want 1, 1, 2", s.Agreed, s.Disputed, s.Open)
	}
	if _, next, before, err := s.Find(3, domain.TenantSide); err != nil || next != 4 || before != 2 {
		t.Errorf("after hole 3 the tenant goes to %d (before: %d, %v), want 4 (2)", next, before, err)
	}
	if _, next, _, _ := s.Find(4, domain.LandlordSide); next != 3 {
		t.Errorf("after hole 4 the surveyor goes to %d, want 3, which was skipped", next)
	}
}

// Who thinks again keeps both answers in the day book; the later one counts. What was taken back is open again.
func TestThinkingAgain(t *testing.T) {
	t.Parallel()
	r := say(t, wall(), 1, domain.LandlordSide, false, "not there at the start")
	r = say(t, r, 1, domain.LandlordSide, true, "")
	if got := walkround.Of(r)[0].Holes[0].Surveyor; got == nil || got.Kind != domain.HoleAgreed {
		t.Errorf("surveyor's answer = %+v, want the later one", got)
	}
	if len(r.SignOffs) != 3 || r.SignOffs[1].Withdraws != r.SignOffs[0].Code {
		t.Errorf("day book = %+v, want the answer, its withdrawal, the new answer", r.SignOffs)
	}
	c, err := walkround.Withdraw(r, walkround.Answer{Host: "WALL", Number: 1, Party: domain.LandlordSide, By: "N.N.", On: "2031-03-24"})
	if err != nil {
		t.Fatal(err)
	}
	r = with(t, r, c)
	if got := walkround.Of(r)[0].Holes[0].Surveyor; got != nil {
		t.Errorf("surveyor's answer = %+v after it was taken back", got)
	}
	if _, err := walkround.Withdraw(r, walkround.Answer{Host: "WALL", Number: 1, Party: domain.LandlordSide, By: "N.N."}); domain.CodeOf(err) != domain.Refused {
		t.Errorf("taking back twice: %v, want refused", err)
	}
}

func TestRefusedAnswers(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		a     walkround.Answer
		code  domain.Code
		field string
	}{
		{"nobody's", walkround.Answer{Host: "WALL", Number: 1, Party: "agent", Agrees: true, By: "N.N."}, domain.Invalid, "/party"},
		{"no name", walkround.Answer{Host: "WALL", Number: 1, Party: domain.TenantSide, Agrees: true, By: " "}, domain.Invalid, "/by"},
		{"disputed without a word", walkround.Answer{Host: "WALL", Number: 1, Party: domain.TenantSide, By: "N.N."}, domain.Invalid, "/note"},
		{"no such hole", walkround.Answer{Host: "WALL", Number: 5, Party: domain.TenantSide, Agrees: true, By: "N.N."}, domain.NotFound, ""},
		{"no such surface", walkround.Answer{Host: "ROOF", Number: 1, Party: domain.TenantSide, Agrees: true, By: "N.N."}, domain.NotFound, ""},
	} {
		_, err := walkround.Say(wall(), tt.a)
		if got := domain.CodeOf(err); got != tt.code {
			t.Errorf("%s: %v, want %s", tt.name, err, tt.code)
		}
		if many, ok := err.(domain.Errors); ok && many[0].Field != tt.field {
			t.Errorf("%s: field %s, want %s", tt.name, many[0].Field, tt.field)
		}
	}
}

// Whatever is said, in whatever order: each hole has the state of the parties' last words, and the counts are the holes'.
func TestLastWordsCount(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := wall()
		last := map[int]map[domain.Party]bool{1: {}, 2: {}, 3: {}, 4: {}}
		for range rapid.IntRange(0, 20).Draw(t, "answers") {
			n, party, agrees := rapid.IntRange(1, 4).Draw(t, "hole"), rapid.SampledFrom(domain.Parties()).Draw(t, "party"), rapid.Bool().Draw(t, "agrees")
			if _, said := last[n][party]; said && rapid.Bool().Draw(t, "take back") {
				c, err := walkround.Withdraw(r, walkround.Answer{Host: "WALL", Number: n, Party: party, By: "N.N.", On: "2031-03-24"})
				if err != nil {
					t.Fatal(err)
				}
				r = with(t, r, c)
				delete(last[n], party)
				continue
			}
			r = say(t, r, n, party, agrees, "why")
			last[n][party] = agrees
		}
		s := walkround.Of(r)[0]
		for _, h := range s.Holes {
			want, said := walkround.Agreed, last[h.Number]
			switch {
			case len(said) > 0 && (!said[domain.TenantSide] && has(said, domain.TenantSide) || !said[domain.LandlordSide] && has(said, domain.LandlordSide)):
				want = walkround.Disputed
			case len(said) < 2:
				want = walkround.Open
			}
			if h.State != want {
				t.Fatalf("hole %d is %s, want %s after %v", h.Number, h.State, want, said)
			}
		}
		if s.Agreed+s.Disputed+s.Open != 4 {
			t.Fatalf("counts = %+v", s)
		}
	})
}

func has(said map[domain.Party]bool, p domain.Party) bool { _, ok := said[p]; return ok }
