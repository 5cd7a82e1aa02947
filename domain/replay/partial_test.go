package replay

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// upTo is the plan up to and with the step that takes a piece out.
func upTo(steps []Step, piece string) []Step {
	return steps[:1+slices.IndexFunc(steps, func(s Step) bool { return slices.Contains(s.Elements, piece) })]
}

func TestCheckPartial(t *testing.T) {
	t.Parallel()
	steps := lastFirst(fullWall())
	propped, _ := workable(platform(), true, builtLast(platform()))
	for _, tt := range []struct {
		name   string
		r      *domain.Register
		steps  []Step
		wanted []string
		want   []fault
	}{
		{"nothing to do", fullWall(), nil, nil, nil},
		{"the cable behind the boards", fullWall(), upTo(steps, "W-CA"), []string{"W-CA"}, nil},
		{"a stud still in place", fullWall(), upTo(steps, "W-CA"), []string{"W-S2"}, []fault{{Never, "W-S2"}}},
		{"a screw within reach", fullWall(), upTo(steps, "W-BA1"), []string{"F5"}, []fault{{Never, "F5"}}}, // insulation lies over it
		{"a screw within reach, insulation out", fullWall(), upTo(steps, "W-INS1"), []string{"F5"}, nil},
		{"a whole wall", fullWall(), steps, []string{"W"}, nil},
		{"a wall of which the plate stays", fullWall(), steps[:len(steps)-1], []string{"W"}, []fault{{Never, "W-SP"}}},
		{"something nobody knows", fullWall(), nil, []string{"X"}, []fault{{NoSuchCode, "X"}}},
		{"support may stay under what stays", platform(), propped[:2+slices.IndexFunc(propped, func(s Step) bool { return s.Kind == Prop })], nil, nil},
		{"a guard off a deck that stays", platform(), upTo(onPlatformFirst("GUARD"), "GUARD"), []string{"GUARD"}, []fault{{Unserved, "GUARD"}, {Unserved, "GUARD"}, {Unserved, "GUARD"}}}, // one for each board
		{"a guard off a deck that people are kept off", platform(), with(upTo(onPlatformFirst("GUARD"), "GUARD"), 0, func(s *Step) { s.KeepOff = []string{"D1", "D2", "D3"} }), []string{"GUARD"}, nil},
		{"people kept off too few boards", platform(), with(upTo(onPlatformFirst("GUARD"), "GUARD"), 0, func(s *Step) { s.KeepOff = []string{"D1", "D3"} }), []string{"GUARD"}, []fault{{Unserved, "GUARD"}}},
		{"a step that breaks a rule all the same", fullWall(), before(steps, "W-BA1", "W-SK")[:3], nil, []fault{{Clamped, "W-BA1"}, {Hidden, "F24"}, {Hidden, "F25"}, {Hidden, "F26"}, {Hidden, "F27"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, faultsOf(CheckPartial(tt.r, tt.steps, tt.wanted...))); diff != "" {
				t.Errorf("CheckPartial wanting %v (-want +got):\n%s", tt.wanted, diff)
			}
		})
	}
}

// onPlatformFirst is the plan of the platform with one piece of it first.
func onPlatformFirst(piece string) []Step {
	steps, _ := workable(platform(), false, builtLast(platform()))
	at := slices.IndexFunc(steps, func(s Step) bool { return slices.Contains(s.Elements, piece) })
	first := steps[at]
	first.OpenEdges = []string{"D1", "D2", "D3"}
	return slices.Insert(slices.Delete(slices.Clone(steps), at, at+1), 0, first)
}

// TestUnknownHeads: where nobody knows where a fixing's heads are, whatever lies over the joint covers it, and
// nothing else does.
func TestUnknownHeads(t *testing.T) {
	t.Parallel()
	build := func(known domain.Known) *domain.Register {
		var b builder
		b.host("SLAB", vec{-1000, -1000, -200}, vec{5000, 5000, 200}, up)
		unknown := func(holds, into string) {
			f := b.fix(holds, into, vec{}, up, nil)
			f.Known = known
		}
		b.piece("PLATE", domain.SolePlate, vec{0, 0, 0}, vec{2000, 89, 38})
		unknown("PLATE", "SLAB")
		b.piece("STUD", domain.Stud, vec{0, 0, 38}, vec{38, 89, 2400})
		unknown("STUD", "PLATE")
		b.piece("BOARD", domain.Board, vec{0, -12, 10}, vec{1200, 12, 2400})
		unknown("BOARD", "STUD")
		b.piece("NEXT", domain.Board, vec{1200, -12, 10}, vec{800, 12, 2400}) // butts against BOARD: not over its joints
		unknown("NEXT", "PLATE")
		b.piece("OVER", domain.Trim, vec{0, -24, 100}, vec{60, 12, 1000}) // over the board's edge on the stud, stood on a block
		b.piece("BLOCK", domain.OtherPiece, vec{0, -60, 0}, vec{60, 40, 100})
		unknown("BLOCK", "SLAB")
		b.piece("SLEEVE", domain.OtherPiece, vec{38, 20, 38}, vec{30, 30, 100}) // beside the stud's foot, on the plate
		return &b.r
	}
	out := func(codes ...string) []Step {
		var steps []Step
		for _, code := range codes {
			s := Step{Code: code, Kind: Remove, Elements: []string{code}}
			for _, f := range build("").Fixings {
				if f.Holds == code {
					s.Fixings = append(s.Fixings, f.Code)
				}
			}
			steps = append(steps, s)
		}
		return steps
	}
	for _, tt := range []struct {
		name  string
		known domain.Known
		steps []Step
		want  []fault
	}{
		{"worst case kept", domain.Unknown, out("OVER", "BOARD", "NEXT", "SLEEVE", "STUD", "PLATE", "BLOCK"), nil},
		{"boards the other way round", domain.Unknown, out("NEXT", "OVER", "BOARD", "SLEEVE", "STUD", "PLATE", "BLOCK"), nil},
		{"a board under its trim", domain.Assumed, out("BOARD", "OVER", "NEXT", "SLEEVE", "STUD", "PLATE", "BLOCK"), []fault{{Hidden, "F3"}}},
		{"a stud with something at its foot", domain.Unknown, out("OVER", "BOARD", "NEXT", "STUD", "SLEEVE", "PLATE", "BLOCK"), []fault{{Hidden, "F2"}}},
		{"seen, and nothing said: no worst case", domain.Seen, out("BOARD", "OVER", "NEXT", "STUD", "SLEEVE", "PLATE", "BLOCK"), nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, faultsOf(Check(build(tt.known), tt.steps))); diff != "" {
				t.Errorf("Check (-want +got):\n%s", diff)
			}
		})
	}
}

// TestSecondOpinion: the replay imports the nouns and nothing else of ours, so that no planner's mistake is in it too.
func TestSecondOpinion(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatalf("parsing %s: %v", name, err)
		}
		for _, i := range file.Imports {
			path, err := strconv.Unquote(i.Path.Value)
			if err != nil || strings.HasPrefix(path, "unpick/") && path != "unpick/domain" {
				t.Errorf("%s imports %s (%v)", name, path, err)
			}
		}
	}
}
