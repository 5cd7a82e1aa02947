package evidence

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

// bay is one stud on a slab, screwed down, with a cable beside it, and a board on its face a at y = 89: the room that it
// closes up runs to y = 0, where nothing is yet.
func bay() *domain.Register {
	up, along := domain.Direction{Z: 1}, domain.Direction{X: 1}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F"},
		Hosts:  []domain.HostSurface{{Code: "SLAB", Kind: "concrete-slab", U: along, V: domain.Direction{Y: 1}, Origin: domain.Point{X: -5000, Y: -5000}, UMm: 10000, VMm: 10000, Rule: domain.Allowed}},
		Elements: []domain.Element{
			{Code: "STUD", Kind: domain.Stud, LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Placement: domain.Placement{Origin: domain.Point{X: 581}, Along: up, Across: domain.Direction{Y: 1}}, BuiltOrder: 1},
			{Code: "WIRE", Kind: domain.Cable, LengthMm: 1000, WidthMm: 10, ThicknessMm: 10, Placement: domain.Placement{Origin: domain.Point{X: 100, Y: 40, Z: 500}, Along: along, Across: domain.Direction{Y: 1}}, BuiltOrder: 2, Known: domain.Assumed},
			{Code: "BOARD", Kind: domain.Board, Face: "a", LengthMm: 2400, WidthMm: 1200, ThicknessMm: 12, Placement: domain.Placement{Origin: domain.Point{Y: 89}, Along: up, Across: along}, BuiltOrder: 3},
		},
		Fixings: []domain.Fixing{
			{Code: "FOOT", Type: "wood-screw-5", Count: 2, Holds: "STUD", IntoHost: "SLAB", Known: domain.Assumed,
				Run: domain.Run{Start: domain.Point{X: 600, Y: 20, Z: 40}, Along: domain.Direction{Y: 1}, PositionsMm: []int{0, 50}}},
			{Code: "HIGH", Type: "wood-screw-5", Count: 1, Holds: "STUD", IntoHost: "SLAB", Known: domain.Measured,
				Run: domain.Run{Start: domain.Point{X: 600, Y: 20, Z: 2600}, Along: domain.Direction{Y: 1}, PositionsMm: []int{0}}},
			{Code: "OWN", Type: "sheet-screw-4-5x50", Count: 1, Holds: "BOARD", IntoElement: "STUD",
				Run: domain.Run{Start: domain.Point{X: 600, Y: 101, Z: 300}, Along: up, PositionsMm: []int{0}}},
		},
		Catalogue: catalogue.Default(),
	}
}

// other is a board on face b, at y = 0.
func other() domain.Element {
	return domain.Element{Code: "BACK", Kind: domain.Board, Face: "b", LengthMm: 2400, WidthMm: 1200, ThicknessMm: 12, BuiltOrder: 4,
		Placement: domain.Placement{Origin: domain.Point{Y: -12}, Along: domain.Direction{Z: 1}, Across: domain.Direction{X: 1}}}
}

type told struct {
	Code   string
	Hidden int
	Open   bool
}

func behind(r *domain.Register, boards ...string) []told {
	out := []told{}
	for _, t := range Behind(r, boards) {
		out = append(out, told{t.Code, t.Hidden, t.Open})
	}
	return out
}

func TestBehind(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(*domain.Register)
		boards []string
		want   []told
	}{
		{"one face: the other is open still", nil, []string{"BOARD"}, []told{{"FOOT", 2, true}, {"WIRE", 1, true}}},
		{"the second face", func(r *domain.Register) { r.Elements = append(r.Elements, other()) }, []string{"BOARD"}, []told{{"FOOT", 2, false}, {"WIRE", 1, false}}},
		{"against the landlord's wall", func(r *domain.Register) {
			r.Hosts = append(r.Hosts, domain.HostSurface{Code: "WALL", U: domain.Direction{X: -1}, V: domain.Direction{Z: 1}, Origin: domain.Point{X: 5000, Y: -10}, UMm: 9000, VMm: 3000})
		}, []string{"BOARD"}, []told{{"FOOT", 2, false}, {"WIRE", 1, false}}},
		{"a board between hides them already", func(r *domain.Register) {
			e := other()
			e.Code, e.Placement.Origin.Y = "BETWEEN", 74
			r.Elements = append(r.Elements, e)
		}, []string{"BOARD"}, []told{}},
		{"somebody looked: it does not hide the foot", func(r *domain.Register) {
			r.Relations = []domain.Relation{{Code: "R", Kind: domain.Hides, From: "BOARD", To: "FOOT", Struck: true, Reason: "seen"}}
		}, []string{"BOARD"}, []told{{"WIRE", 1, true}}},
		{"somebody says that it hides one above it", func(r *domain.Register) {
			r.Relations = []domain.Relation{{Code: "R", Kind: domain.Hides, From: "BOARD", To: "HIGH"}}
		}, []string{"BOARD"}, []told{{"FOOT", 2, true}, {"HIGH", 1, false}, {"WIRE", 1, true}}},
		{"one screw of two beside it", func(r *domain.Register) { r.Fixings[0].Run.PositionsMm = []int{0, 90} }, []string{"BOARD"}, []told{{"FOOT", 1, true}, {"WIRE", 1, true}}},
		{"nobody knows where they are", func(r *domain.Register) { r.Fixings[0].Run.PositionsMm = nil }, []string{"BOARD"}, []told{{"FOOT", 2, true}, {"WIRE", 1, true}}},
		{"a wall of something else below: in sight, and none of it closed up", func(r *domain.Register) {
			r.Assemblies = []domain.Assembly{{Code: "OTHER"}}
			r.Elements[0].Assembly = "OTHER"
			r.Fixings[2].IntoElement = "WIRE"
		}, []string{"BOARD"}, []told{{"WIRE", 1, true}}},
		{"out already", func(r *domain.Register) {
			r.Fixings[0].State, r.Elements[1].State = domain.FixingUndone, domain.TakenDown
		}, []string{"BOARD"}, []told{}},
		{"no such board", nil, []string{"NOBODY"}, []told{}},
	} {
		r := bay()
		if tt.change != nil {
			tt.change(r)
		}
		if diff := cmp.Diff(tt.want, behind(r, tt.boards...)); diff != "" {
			t.Errorf("%s: Behind (-want +got):\n%s", tt.name, diff)
		}
	}
}

// TestDemoWall: of the demo's first wall, lined both sides, each face closes up what holds its frame, and nothing that
// holds the boards.
func TestDemoWall(t *testing.T) {
	t.Parallel()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	index := r.Index()
	faces := 0
	for _, c := range Covers(r) {
		if c.Assembly != "W1" {
			continue
		}
		faces++
		things := Behind(r, c.Pieces)
		soles := false
		for _, thing := range things {
			if thing.Fixing == nil {
				continue
			}
			holder := r.Elements[index.Elements[thing.Fixing.Holds]]
			soles = soles || holder.Kind == domain.SolePlate && holder.Assembly == "W1"
			if sheet(&holder) && holder.Assembly == "W1" {
				t.Errorf("face %s closes up %s, which holds a board", c.Face, thing.Code)
			}
			overhead := strings.HasPrefix(thing.Fixing.IntoHost, "PUR") // clamps to the purlins, above the boards
			if thing.Open && holder.Assembly == "W1" && !overhead {
				t.Errorf("face %s: %s is said to be in sight still, and both faces are lined", c.Face, thing.Code)
			}
		}
		if !soles {
			t.Errorf("face %s of W1 closes up no fixing of a sole plate: %d things", c.Face, len(things))
		}
	}
	if faces != 2 {
		t.Errorf("W1 has %d lined faces, want 2", faces)
	}
}

// The list does not depend on the order of the register.
func TestBehindIgnoresOrder(t *testing.T) {
	t.Parallel()
	r := bay()
	r.Elements = append(r.Elements, other())
	want := behind(r, "BOARD")
	rapid.Check(t, func(t *rapid.T) {
		again := *r
		again.Elements = rapid.Permutation(r.Elements).Draw(t, "elements")
		again.Fixings = rapid.Permutation(r.Fixings).Draw(t, "fixings")
		if diff := cmp.Diff(want, behind(&again, "BOARD")); diff != "" {
			t.Errorf("Behind after a shuffle (-want +got):\n%s", diff)
		}
	})
}

func TestClose(t *testing.T) {
	t.Parallel()
	good := Closing{Boards: []string{"BOARD"}, Shown: []string{"FOOT", "WIRE"}, Known: domain.Seen, By: "Jo", On: "2026-03-14", Photos: []string{strings.Repeat("a", 64)}}
	c, err := Close(bay(), good)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Put.Fixings) != 1 || c.Put.Fixings[0].Known != domain.Seen || len(c.Put.Elements) != 1 || c.Put.Elements[0].Known != domain.Seen {
		t.Errorf("Close put %+v", c.Put)
	}
	o := c.Add.SignOffs[0]
	if diff := cmp.Diff([]string{"BOARD", "FOOT", "WIRE"}, o.About); diff != "" || o.Kind != domain.ClosedUp || o.Photos[0] != good.Photos[0] || o.By != "Jo" {
		t.Errorf("signed %+v %s", o, diff)
	}
	after := bay().With(c.Add)
	after.Fixings[0], after.Elements[1] = c.Put.Fixings[0], c.Put.Elements[0]
	if covers := Covers(after); !covers[0].Signed {
		t.Errorf("the board that was signed for is offered again: %+v", covers)
	}
	if of := Of(after, "FOOT"); len(of) != 1 || of[0].Code != o.Code {
		t.Errorf("evidence of FOOT: %+v", of)
	}
	for _, tt := range []struct {
		name   string
		change func(*Closing)
		code   domain.Code
		field  string
	}{
		{"no name", func(c *Closing) { c.By = " " }, domain.Invalid, "/by"},
		{"no photo", func(c *Closing) { c.Photos = nil }, domain.Invalid, "/photo"},
		{"neither seen nor measured", func(c *Closing) { c.Known = domain.Assumed }, domain.Invalid, "/known"},
		{"another list was shown", func(c *Closing) { c.Shown = []string{"FOOT"} }, domain.Stale, ""},
		{"no such board", func(c *Closing) { c.Boards = []string{"<script>"} }, domain.NotFound, "/boards"},
		{"a piece that closes up nothing", func(c *Closing) { c.Boards = []string{"WIRE"} }, domain.Refused, ""},
	} {
		again := good
		tt.change(&again)
		_, err := Close(bay(), again)
		if domain.CodeOf(err) != tt.code || tt.field != "" && !strings.Contains(err.Error(), tt.field) {
			t.Errorf("%s: Close = %v (%q), want %q at %q", tt.name, err, domain.CodeOf(err), tt.code, tt.field)
		}
	}
}

// What was measured before does not become less by being seen.
func TestCloseKeepsMeasured(t *testing.T) {
	t.Parallel()
	r := bay()
	r.Fixings[0].Known = domain.Measured
	c, err := Close(r, Closing{Boards: []string{"BOARD"}, Shown: []string{"FOOT", "WIRE"}, Known: domain.Seen, By: "Jo", On: "2026-03-14", Photos: []string{"x"}})
	if err != nil || slices.ContainsFunc(c.Put.Fixings, func(f domain.Fixing) bool { return f.Code == "FOOT" }) {
		t.Errorf("Close = %+v, %v", c.Put.Fixings, err)
	}
}

func TestPhotograph(t *testing.T) {
	t.Parallel()
	for _, code := range []string{"STUD", "FOOT", "SLAB"} {
		c, err := Photograph(bay(), Picture{Of: code, Sum: "s", By: "Jo", On: "2026-03-14"})
		if err != nil || c.Add.SignOffs[0].Kind != domain.Photographed || c.Add.SignOffs[0].What == "" {
			t.Errorf("Photograph(%s) = %+v, %v", code, c, err)
		}
	}
	if _, err := Photograph(bay(), Picture{Of: "NOBODY"}); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("Photograph of nothing = %v", err)
	}
}
