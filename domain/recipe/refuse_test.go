package recipe

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// fault is the first fault of an error that a person may be told.
func fault(tb testing.TB, err error) *domain.Error {
	tb.Helper()
	e, ok := errors.AsType[*domain.Error](err)
	if !ok {
		tb.Fatalf("not an error that a person may be told: %v", err)
	}
	return e
}

func TestWallsRefused(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *StudWall)
		code   domain.Code
		field  string
		says   []string // the ways out
	}{
		{"a strip under 100", func(p *StudWall) { p.LengthMm = 4890 }, domain.Refused, "/params/face_a",
			[]string{"set_out_mm 150", "stagger_mm 600", "share_cut"}},
		{"a row under 100", func(p *StudWall) { p.HeightMm = 2480 }, domain.Refused, "/params/face_a",
			[]string{"share_cut", "sheet_length_mm", "the other way"}},
		{"centres that do not divide", func(p *StudWall) { p.StudCentresMm = 450 }, domain.Refused, "/params/stud_centres_mm",
			[]string{"300 or 400 or 600"}},
		{"an imperial sheet", func(p *StudWall) { p.FaceA.Board = "osb3-11-imperial" }, domain.Refused, "/params/face_a/board",
			[]string{"1200"}},
		{"stagger off the studs", func(p *StudWall) { p.FaceB.StaggerMm = 500 }, domain.Refused, "/params/face_b/stagger_mm",
			[]string{"multiple"}},
		{"expansion anchor in aircrete", func(p *StudWall) { p.Start = WallEnd{Meets: "host", Code: "AIRCRETE", Fixing: "sleeve-anchor-m8"} },
			domain.Refused, "/params/start/fixing", []string{"aircrete-plug-8"}},
		{"screw into steel", func(p *StudWall) { p.Head = &Head{Host: "BEAM", Fixing: "self-drill-heavy-5-5"} }, domain.Refused, "/params/head/fixing",
			[]string{"beam-clamp-m10", "engineer_agreed"}},
		{"a panel that must not be drilled", func(p *StudWall) { p.Head = &Head{Host: "PANEL"} }, domain.Refused, "/params/head/fixing",
			[]string{"the landlord has agreed"}},
		{"no such host", func(p *StudWall) { p.Foot.Host = "NONE" }, domain.Invalid, "/params/foot/host", []string{"add it first"}},
		{"full height without a head", func(p *StudWall) { p.Head = nil }, domain.Invalid, "/params/head", []string{"half_height"}},
		{"half height with a head", func(p *StudWall) { p.HalfHeight = true }, domain.Invalid, "/params/head", []string{"leave it out"}},
		{"door past the end", func(p *StudWall) { p.Openings = []Opening{{AtMm: 3800, LeafWidthMm: 762, LeafHeightMm: 1981}} },
			domain.Invalid, "/params/openings/0/at_mm", []string{"4200"}},
		{"door too high", func(p *StudWall) { p.Openings = []Opening{{AtMm: 1000, LeafWidthMm: 762, LeafHeightMm: 2640}} },
			domain.Invalid, "/params/openings/0/leaf_height_mm", []string{"lower the leaf"}},
		{"insulation thicker than the studs", func(p *StudWall) { p.Insulation = "rw-45-100" }, domain.Refused, "/params/insulation", []string{"thinner"}},
		{"overlapping studs", func(p *StudWall) { p.ExtraStudsMm = []int{1000, 1020} }, domain.Invalid, "/params/extra_studs_mm", []string{"stand together"}},
		{"a wall that is not there", func(p *StudWall) { p.End = WallEnd{Meets: "wall", Code: "W9"} }, domain.Invalid, "/params/end/code", []string{"build it first"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := worked()
			tt.change(&p)
			_, err := Expand(premises(), assemble(t, "W1", "stud-wall", p))
			if err == nil {
				t.Fatal("Expand: no refusal")
			}
			got := fault(t, err)
			if got.Code != tt.code || got.Field != tt.field {
				t.Errorf("Expand: %q at %s, want %q at %s (%v)", got.Code, got.Field, tt.code, tt.field, err)
			}
			for _, words := range tt.says {
				if !strings.Contains(got.Text, words) {
					t.Errorf("%q does not say %q", got.Text, words)
				}
			}
		})
	}
}

// What a refusal offers is not refused in turn.
func TestWaysOutWork(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(p *StudWall){
		"slide the set-out":      func(p *StudWall) { p.SetOutMm = 150 },
		"start joints further":   func(p *StudWall) { p.FaceA.StaggerMm, p.FaceB.StaggerMm = 600, 600 },
		"share the cut":          func(p *StudWall) { p.FaceA.ShareCut, p.FaceB.ShareCut = true, true },
		"engineer agreed":        func(p *StudWall) { agreedSteel(p) },
		"share the cut of a row": func(p *StudWall) { p.LengthMm, p.HeightMm, p.FaceA.ShareCut, p.FaceB.ShareCut = 4200, 2480, true, true },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := worked()
			p.LengthMm = 4890
			change(&p)
			_, made := built(t, premises(), "W1", "stud-wall", p)
			if len(made.Elements) == 0 {
				t.Error("nothing built")
			}
		})
	}
}

func agreedSteel(p *StudWall) {
	p.LengthMm = 4200
	p.Head = &Head{Host: "BEAM", Fixing: "self-drill-heavy-5-5", EngineerAgreed: "letter 12"}
}

// A hole in the landlord's steel carries the reference under which it was agreed; without one, clamps leave no hole.
func TestSteelHeads(t *testing.T) {
	t.Parallel()
	p := worked()
	agreedSteel(&p)
	_, made := built(t, premises(), "W1", "stud-wall", p)
	i := slices.IndexFunc(made.Fixings, func(f domain.Fixing) bool { return f.IntoHost == "BEAM" })
	if got := made.Fixings[i].Reason; got != "landlord's engineer agreed: letter 12" {
		t.Errorf("reason: %q", got)
	}
	clamps := worked()
	clamps.Head = &Head{Host: "BEAM"}
	_, made = built(t, premises(), "W1", "stud-wall", clamps)
	for _, h := range made.Holes {
		if h.Host == "BEAM" {
			t.Errorf("%s: a clamp makes no hole", h.Code)
		}
	}
	if got := into(made, "BEAM"); got != 8 {
		t.Errorf("clamps: %d, want 8", got)
	}
}

// The deflection head holds neither studs nor boards to the head plate, and leaves the gap that was asked.
func TestDeflectionHead(t *testing.T) {
	t.Parallel()
	p := worked()
	clampedHead(&p)
	p.Head.Kind, p.Head.MovementMm = "deflection", 25
	_, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	if diff := cmp.Diff(slices.Repeat([]int{2619}, 8), lengths(made, domain.Stud)); diff != "" { // 2644 - 25
		t.Errorf("studs (-want +got):\n%s", diff)
	}
	for _, f := range made.Fixings {
		if f.IntoElement == "W1-HP1" {
			t.Errorf("%s holds %s to the head plate", f.Code, f.Holds)
		}
	}
}

func TestStrictParameters(t *testing.T) {
	t.Parallel()
	whole, err := json.Marshal(worked())
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, from, to string
		field          string
	}{
		{"unknown field", `"length_mm":4200`, `"length_mm":4200,"colour":"red"`, "/params/colour"},
		{"unknown field inside", `"meets":"host"`, `"meets":"host","screw":"x"`, "/params/end/screw"},
		{"missing field", `"length_mm":4200,`, ``, "/params/length_mm"},
		{"too long", `"length_mm":4200`, `"length_mm":60001`, "/params/length_mm"},
		{"not whole", `"length_mm":4200`, `"length_mm":4200.5`, "/params/length_mm"},
		{"not a number", `"length_mm":4200`, `"length_mm":"4200"`, "/params/length_mm"},
		{"not one of the words", `"meets":"host"`, `"meets":"steel"`, "/params/end/meets"},
		{"more behind", `}`, `}`, "/params"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			text := strings.Replace(string(whole), tt.from, tt.to, -1)
			if tt.name == "more behind" {
				text = string(whole) + "{}"
			}
			_, err := Expand(premises(), domain.Assembly{Code: "W1", Recipe: "stud-wall", Params: json.RawMessage(text)})
			if err == nil {
				t.Fatal("Expand: no refusal")
			}
			fields := []string{}
			var all domain.Errors
			if errors.As(err, &all) {
				for _, e := range all {
					fields = append(fields, e.Field)
				}
			} else {
				fields = append(fields, fault(t, err).Field)
			}
			if !slices.Contains(fields, tt.field) {
				t.Errorf("faults at %v, want one at %s (%v)", fields, tt.field, err)
			}
		})
	}
	if _, err := Expand(premises(), domain.Assembly{Code: "X", Recipe: "castle"}); domain.CodeOf(err) != domain.Invalid {
		t.Errorf("unknown recipe: %v", err)
	}
}

// Walls that do not stand alone are warned of, and by which piece.
func TestNotStableAlone(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *StudWall)
		want   []string // codes warned of
	}{
		{"between two blocks", func(*StudWall) {}, nil},
		{"free far end", func(p *StudWall) { p.End = WallEnd{Meets: "free"} }, []string{"W1-S8"}},
		{"free set-out end", func(p *StudWall) { p.Start = WallEnd{Meets: "free"} }, []string{"W1-S1"}},
		{"half height", func(p *StudWall) { p.HalfHeight, p.Head, p.HeightMm = true, nil, 1200 }, []string{"W1-CP1"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := worked()
			tt.change(&p)
			r := under(premises(), p)
			a := assemble(t, "W1", "stud-wall", p)
			made, err := Expand(r, a)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, w := range Warnings(r, a, made) {
				if w.Kind == NotStableAlone {
					got = append(got, w.Codes...)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("warned of (-want +got):\n%s", diff)
			}
		})
	}
}

// Every recipe has parameters that the schema can be made from.
func TestParamsListed(t *testing.T) {
	t.Parallel()
	listed := Params()
	for _, name := range []string{"stud-wall", "lining", "door-set", "trim", "insulation", "seal"} {
		if listed[name] == nil {
			t.Errorf("no parameters for %s", name)
		}
	}
}
