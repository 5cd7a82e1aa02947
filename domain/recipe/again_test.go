package recipe

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

// followed is the register once an amendment is made: what is put counts a version up, as the database does.
func followed(r *domain.Register, f Following) *domain.Register {
	out := *r
	out.Assemblies = replaced(r.Assemblies, f.Put.Assemblies, func(a *domain.Assembly) string { return a.Code }, func(a *domain.Assembly) *int { return &a.Version })
	out.Elements = replaced(r.Elements, f.Put.Elements, elementAgain.code, elementAgain.version)
	out.Fixings = replaced(r.Fixings, f.Put.Fixings, fixingAgain.code, fixingAgain.version)
	out.Holes = replaced(r.Holes, f.Put.Holes, holeAgain.code, holeAgain.version)
	out.Relations = replaced(r.Relations, f.Put.Relations, relationAgain.code, relationAgain.version)
	return out.With(f.Add)
}

func replaced[T any](records, put []T, code func(*T) string, version func(*T) *int) []T {
	out := slices.Clone(records)
	at := byCode(out, code)
	for i := range put {
		if into := at[code(&put[i])]; into != nil {
			*into = put[i]
			*version(into) = max(2, *version(into)+1)
		}
	}
	return out
}

// inForce are the lines, without codes and versions, that say what stands of an assembly: pieces and holes in use.
func inForce(r *domain.Register, assembly string) []string {
	var out []string
	for _, e := range r.Elements {
		if e.Assembly == assembly && e.State != domain.Struck {
			e.Code, e.Version, e.BuiltOrder = "", 0, 0
			out = append(out, asText(e))
		}
	}
	for _, h := range r.Holes {
		if h.Assembly == assembly && h.State == domain.HoleInUse {
			h.Code, h.Fixing, h.Version, h.BuiltOrder = "", "", 0, 0
			out = append(out, asText(h))
		}
	}
	slices.Sort(out)
	return out
}

// TestDescribedAgainIsAsDescribed describes a wall anew again and again: what stands is what the last description makes,
// the register is sound, no code names two things, and nothing that was logged is gone.
func TestDescribedAgainIsAsDescribed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		r, _ := built(t, premises(), "W1", "stud-wall", worked())
		codes := map[string]bool{}
		for range rapid.IntRange(1, 4).Draw(rt, "times") {
			p := worked()
			p.StudCentresMm = rapid.SampledFrom([]int{400, 600}).Draw(rt, "centres")
			p.FixPitchMm = rapid.SampledFrom([]int{0, 400, 900}).Draw(rt, "pitch")
			p.MidNoggings = rapid.Bool().Draw(rt, "noggings")
			if rapid.Bool().Draw(rt, "one side") {
				p.FaceB = nil
			}
			now := assemble(t, "W1", "stud-wall", p)
			drilled := rapid.Bool().Draw(rt, "drilled")
			before := len(r.Elements) + len(r.Fixings) + len(r.Holes) + len(r.Relations)
			f, err := Again(r, Amendment{Now: now, Drilled: drilled})
			if err != nil {
				rt.Fatalf("Again: %v", err)
			}
			r = followed(r, f)
			if faults := domain.Check(r); len(faults) > 0 {
				rt.Fatalf("the register is not sound: %v", faults)
			}
			if after := len(r.Elements) + len(r.Fixings) + len(r.Holes) + len(r.Relations); after != before+len(codesOf(f.Add)) {
				rt.Fatalf("%d records became %d with %d added", before, after, len(codesOf(f.Add)))
			}
			for _, code := range codesOf(f.Add) {
				if codes[code] {
					rt.Fatalf("code %s is given twice", code)
				}
				codes[code] = true
			}
			fresh, _ := built(t, premises(), "W1", "stud-wall", p)
			if diff := cmp.Diff(inForce(fresh, "W1"), inForce(r, "W1")); diff != "" {
				rt.Fatalf("what stands (-described +register):\n%s", diff)
			}
		}
	})
}

// TestDescribedAgainTheSame changes nothing where the description says the same.
func TestDescribedAgainTheSame(t *testing.T) {
	t.Parallel()
	r, _ := built(t, premises(), "W1", "stud-wall", worked())
	r, _ = built(t, r, "W2", "stud-wall", func() StudWall { p := worked(); p.Origin.Y = 4000; return p }())
	f, err := Again(r, Amendment{Now: r.Assemblies[0]})
	if err != nil {
		t.Fatal(err)
	}
	f.Put.Assemblies = nil
	if diff := cmp.Diff(Following{}, f); diff != "" {
		t.Errorf("Again of the same description (-want +got):\n%s", diff)
	}
}

// TestDescribedAgainHoles: a pitch of 1000 in place of 600 leaves 5 holes in a plate of 4200 with ends of 150 where
// there were 8 (ceil((l - 2e)/p) + 1, design, section 4); those drilled at other places stay.
func TestDescribedAgainHoles(t *testing.T) {
	t.Parallel()
	for _, drilled := range []bool{false, true} {
		r, _ := built(t, premises(), "W1", "stud-wall", worked())
		p := worked()
		p.FixPitchMm = 1000
		f, err := Again(r, Amendment{Now: assemble(t, "W1", "stud-wall", p), Drilled: drilled})
		if err != nil {
			t.Fatal(err)
		}
		inUse, abandoned := 0, 0
		for _, h := range followed(r, f).Holes {
			switch {
			case h.Host != "SLAB":
			case h.State == domain.HoleInUse:
				inUse += h.Count
			case h.State == domain.HoleAbandoned:
				abandoned += h.Count
			}
		}
		if inUse != 5+1 && inUse != 5 { // the last goes at l - e
			t.Errorf("holes in use in the slab = %d, want 5 or 6", inUse)
		}
		if (abandoned > 0) != drilled || f.Lost == 0 {
			t.Errorf("drilled %t: %d abandoned, %d lost", drilled, abandoned, f.Lost)
		}
	}
}

// TestDescribedAgainRefuses: what people amended, and what others name, is not taken away in silence.
func TestDescribedAgainRefuses(t *testing.T) {
	t.Parallel()
	closer := worked()
	closer.StudCentresMm = 400
	wider := worked()
	for _, tt := range []struct {
		name      string
		spoil     func(*domain.Register)
		to        StudWall
		overwrite bool
		names     string // "" is done
	}{
		{"a stud moved by hand", func(r *domain.Register) { e := stud(r, 3); e.Placement.Origin.X += 10; e.Version = 2 }, closer, false, "W1-S3"},
		{"the same, to be overwritten", func(r *domain.Register) { e := stud(r, 3); e.Placement.Origin.X += 10; e.Version = 2 }, closer, true, ""},
		{"a note on a stud", func(r *domain.Register) {
			e := stud(r, 3)
			e.Note, e.Known, e.Version = "knot at the foot", domain.Measured, 2
		}, closer, false, ""},
		{"a stud taken down", func(r *domain.Register) { e := stud(r, 3); e.State, e.Version = domain.TakenDown, 2 }, closer, false, "W1-S3"},
		{"a relation somebody logged", func(r *domain.Register) {
			r.Relations = append(r.Relations, domain.Relation{Code: "R1", Kind: domain.Hides, From: "W1-S8", To: "W1-S1", Origin: domain.FromLog})
		}, func() StudWall { p := worked(); p.LengthMm, p.End = 1800, WallEnd{Meets: "free"}; return p }(), false, "R1"},
		{"a code given by hand", func(r *domain.Register) { e := *stud(r, 8); e.Code = "W1-S9"; r.Elements = append(r.Elements, e) }, closer, false, "W1-S9"},
		{"a hand amendment, the same description", func(r *domain.Register) { e := stud(r, 3); e.LengthMm--; e.Version = 2 }, wider, false, "W1-S3"},
	} {
		r, _ := built(t, premises(), "W1", "stud-wall", worked())
		tt.spoil(r)
		f, err := Again(r, Amendment{Now: assemble(t, "W1", "stud-wall", tt.to), Overwrite: tt.overwrite})
		switch {
		case tt.names == "" && err != nil:
			t.Errorf("%s: %v, want it done", tt.name, err)
		case tt.names != "" && (err == nil || !strings.Contains(err.Error(), tt.names)):
			t.Errorf("%s: %v, want it refused with %s", tt.name, err, tt.names)
		}
		if tt.name == "a note on a stud" {
			if e := stud(followed(r, f), 3); e.Note != "knot at the foot" || e.Known != domain.Measured {
				t.Errorf("the note is lost: %+v", e)
			}
		}
	}
}

func stud(r *domain.Register, number int) *domain.Element {
	return &r.Elements[r.Index().Elements["W1-S"+string(rune('0'+number))]]
}

func asText(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(text)
}
