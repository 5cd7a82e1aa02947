package recipe

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// oneBoard is a wall just as long and high as one board with its gaps.
func oneBoard(board string, length, height, centres int) StudWall {
	p := worked()
	zero := 0
	p.LengthMm, p.HeightMm, p.StudCentresMm, p.FaceB = length, height, centres, nil
	p.FaceA = &WallFace{Board: board, FootGapMm: &zero, HeadGapMm: &zero}
	return p
}

// Trade facts, "Sheets and screws" (run rule; corners and crossings once; computed there).
func TestScrewsABoard(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		board                   string
		length, height, centres int
		want                    int
	}{
		{"osb3-11-metric", 1200, 2400, 600, 55},
		{"osb3-11-metric", 1200, 2400, 400, 62},
		{"osb3-11-metric", 1200, 1200, 600, 35},
		{"osb3-11-metric", 1200, 1200, 400, 38},
		{"pb-a-12", 1200, 2400, 600, 31},
		{"pb-a-12", 1200, 2400, 400, 38},
	} {
		t.Run(fmt.Sprint(tt.board, tt.length, "x", tt.height, " at ", tt.centres), func(t *testing.T) {
			t.Parallel()
			_, made := built(t, premises(), "W1", "stud-wall", oneBoard(tt.board, tt.length, tt.height, tt.centres))
			if got := screws(made, domain.Board); got != tt.want {
				t.Errorf("screws: got %d, want %d", got, tt.want)
			}
		})
	}
}

// Trade facts: 1200 boards land on studs at 400 and 600 and a wall four modules long takes four boards a row uncut; a
// metric board is 3 mm under its module both ways.
func TestFourModules(t *testing.T) {
	t.Parallel()
	p := worked()
	p.LengthMm, p.HeightMm = 4800, 2420
	_, made := built(t, premises(), "W1", "stud-wall", p)
	sizes, _ := boardSizes(made, "a")
	if diff := cmp.Diff(map[string]int{"1197 x 2397": 4}, sizes); diff != "" {
		t.Errorf("boards (-want +got):\n%s", diff)
	}
	var joints []int
	studs := map[int]bool{}
	for _, e := range made.Elements {
		lo, hi := e.Box().Bounds()
		switch {
		case e.Kind == domain.Stud:
			studs[round((lo.X+hi.X)/2)] = true
		case e.Kind == domain.Board && e.Face == "a" && lo.X > 10:
			joints = append(joints, round(lo.X)-1) // half the gap before the board
		}
	}
	if diff := cmp.Diff([]int{1200, 2400, 3600}, joints); diff != "" {
		t.Errorf("joints (-want +got):\n%s", diff)
	}
	for _, x := range joints {
		if !studs[x] {
			t.Errorf("no stud is centred on the joint at %d", x)
		}
	}
}

// The worked wall wants 8 boards for both sides with a 3 mm cut (design, section 4).
func TestBoardsToBuy(t *testing.T) {
	t.Parallel()
	_, made := built(t, premises(), "W1", "stud-wall", worked())
	if got := boardsToBuy(made, 1197, 2397, 3); got != 8 {
		t.Errorf("boards to buy: %d, want 8", got)
	}
}

// boardsToBuy is a first-order count: pieces by falling height, then width, each into the first shelf or the first
// board that takes it. The cutting planner does better where better can be done.
func boardsToBuy(made domain.Records, width, length, kerf int) int {
	type shelf struct{ height, left int }
	type board struct {
		left    int
		shelves []shelf
	}
	var pieces [][2]int
	for height := length; height > 0; height-- {
		for _, e := range made.Elements {
			if e.Kind == domain.Board && e.LengthMm == height {
				pieces = append(pieces, [2]int{e.WidthMm, e.LengthMm})
			}
		}
	}
	var boards []board
	place := func(w, h int) bool {
		for i := range boards {
			for k := range boards[i].shelves {
				if s := &boards[i].shelves[k]; s.height >= h && s.left >= w {
					s.left -= w + kerf
					return true
				}
			}
			if boards[i].left >= h {
				boards[i].shelves = append(boards[i].shelves, shelf{h, width - w - kerf})
				boards[i].left -= h + kerf
				return true
			}
		}
		return false
	}
	for _, p := range pieces {
		if !place(p[0], p[1]) {
			boards = append(boards, board{left: length})
			place(p[0], p[1])
		}
	}
	return len(boards)
}

// A face that starts half a board over has its joints half a board over.
func TestStaggeredFaces(t *testing.T) {
	t.Parallel()
	p := worked()
	p.FaceB.StaggerMm = 600
	_, made := built(t, premises(), "W1", "stud-wall", p)
	a, _ := boardSizes(made, "a")
	b, _ := boardSizes(made, "b")
	if diff := cmp.Diff(map[string]int{"1197 x 2397": 3, "597 x 2397": 1, "1197 x 297": 3, "597 x 297": 1}, a); diff != "" {
		t.Errorf("face a (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(map[string]int{"597 x 2397": 1, "1197 x 2397": 3, "597 x 297": 1, "1197 x 297": 3}, b); diff != "" {
		t.Errorf("face b (-want +got):\n%s", diff)
	}
	first := map[string]int{}
	for _, e := range made.Elements {
		if e.Kind == domain.Board && first[e.Face] == 0 {
			first[e.Face] = e.WidthMm
		}
	}
	if diff := cmp.Diff(map[string]int{"a": 1197, "b": 597}, first); diff != "" {
		t.Errorf("first boards (-want +got):\n%s", diff)
	}
}

// A raked board is recorded with its outline, and its area is what is left of it.
func TestRakedBoards(t *testing.T) {
	t.Parallel()
	p := worked()
	clampedHead(&p)
	p.LengthMm, p.HeightMm, p.EndHeightMm = 1200, 2000, 2200
	p.Head.Crossings = []Crossing{{"PURLIN1", 600}}
	_, made := built(t, under(premises(), p), "W1", "stud-wall", p)
	for _, e := range made.Elements {
		if e.Kind != domain.Board {
			continue
		}
		// By hand: piece 1 to 1198, foot at 11; head 12 (10 and 2 of the gap) under 2000.2 and 2199.7.
		want := []domain.FacePoint{{AlongMm: 0, AcrossMm: 0}, {AlongMm: 0, AcrossMm: 1197}, {AlongMm: 2177, AcrossMm: 1197}, {AlongMm: 1977, AcrossMm: 0}}
		if diff := cmp.Diff(want, e.Outline); diff != "" {
			t.Errorf("%s: outline (-want +got):\n%s", e.Code, diff)
		}
		if got := e.FaceAreaM2(); got < 2.48 || got > 2.49 { // 1.197 x (1.977 + 2.177)/2
			t.Errorf("%s: area %.3f m2, want 2.486", e.Code, got)
		}
	}
}
