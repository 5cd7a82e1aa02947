package plan_test

import (
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

// What the properties above once found, by hand (common practice, no source).

// A joist that lies dry in its seats is not carried by the ceiling board screwed up under it: the board leaves
// first. Wool on that board is carried by it, though the joist that holds the board is grounded only after.
func TestCeilingUnderDryJoists(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(2000, 3000, 3000)}
	c.start("M1", "ceiling")
	for k, x := range []int{0, 1953} {
		plate := c.piece([]string{"WP1", "WP2"}[k], domain.WallPlate, "c16-sawn-47x100", triple{x, 0, 2000}, triple{47, 1000, 100})
		c.fix("concrete-screw-10", plate, []string{"WEST", "EAST"}[k], heads{triple{[]int{47, 1953}[k], 100, 2050}, back, []int{0, 800}}, []triple{{[]int{1, -1}[k], 0, 0}})
	}
	for i, y := range []int{100, 500} {
		c.piece([]string{"J1", "J2"}[i], domain.Joist, "c16-sawn-47x175", triple{0, y, 2100}, triple{2000, 47, 175})
	}
	c.piece("CB", domain.Board, "pb-a-12", triple{60, 50, 2087}, triple{1880, 550, 13})
	for i, y := range []int{123, 523} {
		c.fix("drywall-screw-timber-3-5", "CB", []string{"J1", "J2"}[i], heads{triple{100, y, 2087}, right, []int{0, 230, 460}}, []triple{below})
	}
	c.piece("A-WOOL", domain.Insulation, "rw-45-100", triple{200, 150, 2100}, triple{1000, 340, 100})
	p, err := plan.Make(c.r)
	if err != nil {
		t.Fatal(err)
	}
	order := leaving(p)
	for _, pair := range [][2]string{{"A-WOOL", "CB"}, {"CB", "J1"}, {"CB", "J2"}, {"J1", "WP1"}} {
		if slices.Index(order, pair[0]) > slices.Index(order, pair[1]) {
			t.Errorf("Make: the order is %v, want %s before %s", order, pair[0], pair[1])
		}
	}
	for _, w := range p.Warnings {
		if w.Kind == "not-held" {
			t.Errorf("Make: %s, want every piece held", w.Text)
		}
	}
}

// A stud whose foot screw nobody saw may have it on any side: the wool against its foot leaves first.
func TestWoolAgainstAFixingNobodySaw(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(2000, 3000, 3000)}
	c.start("W1", "wall")
	c.piece("SP", domain.SolePlate, "c16-cls-38x89", triple{0, 1000, 0}, triple{1000, 89, 38})
	c.fix("concrete-screw-6", "SP", "SLAB", heads{triple{100, 1045, 38}, right, []int{0, 800}}, []triple{above})
	c.piece("S1", domain.Stud, "c16-cls-38x89", triple{0, 1000, 38}, triple{38, 89, 862})
	c.fix("wood-screw-5x100", "S1", "SP", heads{triple{19, 1000, 53}, right, nil}, nil)
	c.r.Fixings[1].Count, c.r.Fixings[1].Known = 1, domain.Assumed
	c.piece("WOOL", domain.Insulation, "rw-45-50", triple{38, 1005, 38}, triple{500, 50, 300})
	p, err := plan.Make(c.r)
	if err != nil {
		t.Fatal(err)
	}
	if order := leaving(p); slices.Index(order, "WOOL") > slices.Index(order, "S1") {
		t.Errorf("Make: the order is %v, want WOOL before S1", order)
	}
}

// A post said to bear on another tall one is no post that only its foot holds: the beam that lies on it does not
// count as what steadies it, so that the strut logged as steadying it asks for props when it leaves.
func TestPostThatLeansOnAnother(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(3000, 3000, 4000)}
	c.start("M1", "posts")
	for k, code := range []string{"P1", "P2"} {
		c.piece(code, domain.Post, "c16-post-100x100", triple{1000 * k, 0, 0}, triple{100, 100, 2000})
		c.fix("concrete-screw-10", code, "SLAB", one(triple{1000*k + 100, 50, 40}), []triple{right})
	}
	c.piece("BM", domain.Beam, "c24-sawn-75x200", triple{0, 0, 2000}, triple{1100, 75, 200})
	c.piece("STRUT", domain.OtherPiece, "c16-sawn-47x100", triple{2000, 500, 0}, triple{100, 47, 900})
	c.r.Relations = []domain.Relation{
		{Code: "R1", Kind: domain.BearsOn, From: "P2", To: "P1", Origin: domain.FromLog},
		{Code: "R2", Kind: domain.Steadies, From: "STRUT", To: "P2", Origin: domain.FromLog},
	}
	if _, err := plan.Make(c.r); err != nil {
		t.Fatal(err)
	}
}

// A stud that nothing holds at its foot is not kept from falling by a head that it could slide in: what was logged as
// steadying it asks for props when it leaves.
func TestStudThatNothingHolds(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(3000, 3000, 2000)}
	c.start("W1", "wall")
	c.piece("HP", domain.HeadPlate, "c16-cls-38x89", triple{0, 1000, 1962}, triple{1000, 89, 38})
	c.fix("concrete-screw-6", "HP", "SOFFIT", heads{triple{100, 1045, 1962}, right, []int{0, 800}}, []triple{below})
	for i, x := range []int{0, 600} {
		stud := []string{"S1", "S2"}[i]
		c.piece(stud, domain.Stud, "c16-cls-38x89", triple{x, 1000, 38}, triple{38, 89, 1924})
		if i == 0 {
			c.fix("wood-screw-5x100", stud, "HP", one(triple{x + 19, 1000, 1940}), []triple{front})
		}
	}
	c.piece("NOG", domain.Nogging, "c16-cls-38x89", triple{38, 1000, 400}, triple{562, 89, 38})
	c.fix("wood-screw-5x100", "NOG", "S1", one(triple{53, 1000, 419}), []triple{front})
	c.fix("wood-screw-5x100", "NOG", "S2", one(triple{585, 1000, 419}), []triple{front})
	c.r.Relations = []domain.Relation{{Code: "R1", Kind: domain.Steadies, From: "NOG", To: "S2", Origin: domain.FromLog}}
	p, err := plan.Make(c.r)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(p.Sequence.Steps, func(s strip.Step) bool { return s.Kind == strip.Prop && slices.Contains(s.Elements, "S2") }) {
		t.Error("Make: no props under S2, want them before NOG leaves")
	}
}

// A stud under a head is steadied by the wall that is screwed to it as well, boards elsewhere on its own wall or not:
// the head may leave while that stands.
func TestStudHeldByAnotherWall(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(3000, 3000, 2000)}
	c.start("W1", "wall")
	c.piece("SP", domain.SolePlate, "c16-cls-38x89", triple{0, 1000, 0}, triple{1000, 89, 38})
	c.fix("concrete-screw-6", "SP", "SLAB", heads{triple{100, 1045, 38}, right, []int{0, 800}}, []triple{above})
	for i, x := range []int{0, 600} {
		stud := []string{"S1", "S2"}[i]
		c.piece(stud, domain.Stud, "c16-cls-38x89", triple{x, 1000, 38}, triple{38, 89, 1924})
		c.fix("wood-screw-5x100", stud, "SP", one(triple{x + 19, 1000, 53}), []triple{front})
	}
	c.piece("BD", domain.Board, "osb3-11-metric", triple{3, 989, 10}, triple{400, 11, 1980})
	c.fix("sheet-screw-4-5x50", "BD", "S1", heads{triple{19, 989, 0}, above, []int{100, 1900}}, []triple{front})
	c.start("W2", "wall")
	c.piece("T1", domain.Stud, "c16-cls-38x89", triple{575, 1089, 0}, triple{89, 38, 1962})
	c.fix("concrete-screw-6", "T1", "SLAB", one(triple{620, 1127, 40}), []triple{back})
	c.fix("wood-screw-5x100", "T1", "S2", heads{triple{619, 1127, 0}, above, []int{200, 900, 1600}}, []triple{back})
	c.start("W1", "wall")
	c.piece("HP", domain.HeadPlate, "c16-cls-38x89", triple{0, 1000, 1962}, triple{1000, 89, 38})
	c.fix("concrete-screw-6", "HP", "SOFFIT", heads{triple{100, 1045, 1962}, right, []int{0, 800}}, []triple{below})
	c.fix("wood-screw-5x100", "HP", "S2", one(triple{619, 1000, 1947}), []triple{front}) // logged the wrong way round
	c.r.Relations = []domain.Relation{{Code: "R1", Kind: domain.Traps, From: "HP", To: "T1", Origin: domain.FromLog}}
	if _, err := plan.Make(c.r); err != nil {
		t.Fatal(err)
	}
}

// A piece that a post behind it catches by 3 mm has that post in its way: both draw the piece in by one sliver of 2 mm,
// and nothing more for what it slides past.
func TestCaughtByAnEdge(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(4000, 4000, 3000)}
	c.start("W1", "recess")
	around := map[string][2]triple{
		"LEFT": {{900, 950, 0}, {98, 150, 400}}, "RIGHT": {{1302, 950, 0}, {98, 150, 400}},
		"FRONT": {{1000, 900, 0}, {300, 40, 400}}, "TOP": {{1000, 950, 352}, {300, 150, 47}}, "BACK": {{1297, 1100, 0}, {100, 47, 400}},
	}
	for _, code := range []string{"LEFT", "RIGHT", "FRONT", "TOP", "BACK"} {
		at, size := around[code][0], around[code][1]
		c.piece(code, domain.OtherPiece, "c16-sawn-47x100", at, size)
		c.fix("concrete-screw-6", code, "SLAB", one(triple{at[0] + size[0]/2, at[1] + size[1]/2, at[2] + size[2]}), []triple{above})
	}
	c.piece("SHELF", domain.OtherPiece, "c16-sawn-47x100", triple{1000, 980, 0}, triple{300, 100, 100})
	p, err := plan.Make(c.r)
	if err != nil {
		t.Fatal(err)
	}
	if order := leaving(p); order[0] == "SHELF" {
		t.Errorf("Make: the order is %v, want something to leave before SHELF", order)
	}
}

// What lies in the thickness of a board is not over the heads of its screws, though nobody saw where those are.
func TestCableInTheThicknessOfABoard(t *testing.T) {
	t.Parallel()
	c := &carpenter{r: unit(3000, 3000, 3000)}
	c.start("W1", "wall")
	c.piece("S1", domain.Stud, "c16-cls-38x89", triple{0, 1000, 0}, triple{38, 89, 900})
	c.fix("concrete-screw-6", "S1", "WEST", heads{triple{38, 1045, 0}, above, []int{150, 700}}, []triple{right})
	c.piece("BD", domain.Board, "osb3-11-metric", triple{3, 989, 3}, triple{600, 11, 890})
	c.fix("sheet-screw-4-5x50", "BD", "S1", heads{triple{19, 989, 0}, above, nil}, nil)
	c.r.Fixings[1].Count, c.r.Fixings[1].Known = 4, domain.Assumed
	c.piece("CB", domain.Cable, "cable-twin-2-5", triple{20, 992, 200}, triple{500, 8, 12})
	c.fix("wood-screw-5x100", "CB", "S1", one(triple{25, 992, 206}), []triple{front})
	c.r.Relations = []domain.Relation{{Code: "R1", Kind: domain.Traps, From: "BD", To: "CB", Origin: domain.FromLog}}
	if _, err := plan.Make(c.r); err != nil {
		t.Fatal(err)
	}
}

// leaving lists the codes of pieces in the order in which they leave.
func leaving(p *plan.Plan) []string {
	var out []string
	for _, s := range p.Sequence.Steps {
		if s.Kind == strip.Remove {
			out = append(out, s.Elements...)
		}
	}
	return out
}
