package replay

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"unpick/domain"
)

// platform is a small mezzanine: two posts bolted to the slab at their feet, a beam on them, a wall plate on the
// block wall, two joists between, tongued deck boards, a guard and a ladder that serve the deck, a loose crate
// of packers on the deck, a landlord's pipe through a joist, and a cover screwed over the wall plate's bolts.
func platform() *domain.Register {
	var b builder
	b.host("SLAB", vec{-1000, -1000, -200}, vec{5000, 5000, 200}, up)
	b.host("BLOCK", vec{-200, -1000, 0}, vec{200, 5000, 4000}, east)
	for i := range 2 {
		post := fmt.Sprintf("P%d", i+1)
		b.piece(post, domain.Post, vec{2000, i * 1800, 0}, vec{100, 100, 2200})
		b.fix(post, "SLAB", vec{2000, i*1800 + 50, 50}, up, []int{0, 60}, west, east)
	}
	b.piece("BEAM", domain.Beam, vec{2000, 0, 2200}, vec{100, 1900, 200})
	b.fix("BEAM", "P1", vec{2000, 50, 2180}, north, []int{0}, west, east)
	b.fix("BEAM", "P2", vec{2000, 1850, 2180}, north, []int{0}, west, east)
	b.piece("WP", domain.WallPlate, vec{0, 0, 2200}, vec{50, 1900, 200})
	b.fix("WP", "BLOCK", vec{50, 450, 2300}, north, []int{0, 900}, east)
	for i := range 2 {
		joist := fmt.Sprintf("J%d", i+1)
		b.piece(joist, domain.Joist, vec{50, i * 1800, 2200}, vec{1950, 50, 200})
		b.fix(joist, "WP", vec{70, i*1800 + 25, 2400}, north, []int{0}, up)
		b.fix(joist, "BEAM", vec{1980, i*1800 + 25, 2400}, north, []int{0}, up)
	}
	for i := range 3 {
		deck := fmt.Sprintf("D%d", i+1)
		b.piece(deck, domain.DeckBoard, vec{i * 700, 0, 2400}, vec{700, 1900, 22})
		for k := range 2 {
			b.fix(deck, fmt.Sprintf("J%d", k+1), vec{i*700 + 100, k*1800 + 25, 2422}, east, []int{0, 400}, up)
		}
		if i > 0 {
			b.relate(deck, domain.Interlocks, fmt.Sprintf("D%d", i))
		}
	}
	b.piece("COVER", domain.Trim, vec{50, 300, 2250}, vec{20, 1300, 100})
	b.fix("COVER", "WP", vec{70, 350, 2300}, north, []int{0, 1200}, east)
	b.piece("GUARD", domain.GuardRail, vec{2060, 0, 3300}, vec{40, 1900, 90})
	b.fix("GUARD", "BEAM", vec{2100, 100, 3345}, north, []int{0, 1700}, east)
	b.piece("LADDER", domain.StairString, vec{2200, 800, 0}, vec{100, 400, 2300})
	b.fix("LADDER", "BEAM", vec{2200, 1000, 2290}, north, []int{0}, east)
	b.piece("CRATE", domain.OtherPiece, vec{300, 300, 2422}, vec{300, 300, 200})
	b.piece("PACK", domain.Packer, vec{320, 320, 2622}, vec{100, 100, 30})
	b.piece("PIPE", domain.Pipe, vec{1000, -500, 2290}, vec{30, 3000, 30}).Owner = domain.LandlordOwns
	b.relate("PIPE", domain.RunsThrough, "J1")
	for i := range 3 {
		b.relate("GUARD", domain.Serves, fmt.Sprintf("D%d", i+1))
	}
	b.relate("LADDER", domain.Serves, "D3")
	b.relate("J1", domain.Steadies, "BEAM")
	b.relate("J2", domain.Steadies, "BEAM")
	b.relate("GUARD", domain.Hides, b.r.Fixings[2].Code)
	b.relate("CRATE", domain.Traps, "D2")
	return &b.r
}

// drawRegister draws a heap of boxes on a coarse grid, standing, lying, stacked and side by side, with fixings
// and relations between them at random, on a slab and beside a wall. Much of it could not be built; the rules
// mean something all the same.
func drawRegister(t *rapid.T) *domain.Register {
	var b builder
	b.host("SLAB", vec{-100, -100, -100}, vec{1800, 1800, 100}, up)
	b.host("BLOCK", vec{-200, -100, 0}, vec{200, 1800, 2400}, east)
	b.r.Assemblies = []domain.Assembly{{Code: "A"}}
	n := rapid.IntRange(2, 8).Draw(t, "pieces")
	kinds := []domain.ElementKind{domain.Stud, domain.Board, domain.SolePlate, domain.OtherPiece, domain.Cable, domain.Post, domain.Insulation}
	sizes := []vec{{100, 100, 1600}, {400, 100, 100}, {100, 400, 100}, {400, 12, 800}, {100, 100, 100}}
	for i := range n {
		at := vec{rapid.IntRange(0, 3).Draw(t, "x") * 100, rapid.IntRange(0, 3).Draw(t, "y") * 100, rapid.SampledFrom([]int{0, 0, 100, 200, 800, 1600, 1601, 1603}).Draw(t, "z")}
		e := b.piece(fmt.Sprintf("E%d", i), rapid.SampledFrom(kinds).Draw(t, "kind"), at, rapid.SampledFrom(sizes).Draw(t, "size"))
		e.Assembly = rapid.SampledFrom([]string{"", "A", "A"}).Draw(t, "assembly")
		e.Subassembly = rapid.SampledFrom([]string{"", "", "", "FR"}).Draw(t, "subassembly")
		e.Owner = rapid.SampledFrom([]domain.Owner{"", "", "", "", domain.LandlordOwns}).Draw(t, "owner")
		e.State = rapid.SampledFrom([]domain.ElementState{"", "", "", "", "", domain.TakenDown}).Draw(t, "state")
	}
	any := func(label string) string { return fmt.Sprintf("E%d", rapid.IntRange(0, n-1).Draw(t, label)) }
	for range rapid.IntRange(0, 2*n).Draw(t, "fixings") {
		holds, into := any("holds"), rapid.SampledFrom([]string{"SLAB", "BLOCK", any("into"), any("into")}).Draw(t, "in")
		if holds == into {
			continue
		}
		head := vec{rapid.IntRange(0, 8).Draw(t, "x") * 50, rapid.IntRange(0, 8).Draw(t, "y") * 50, rapid.IntRange(0, 17).Draw(t, "z") * 100}
		sides := rapid.SliceOfNDistinct(rapid.SampledFrom([]vec{up, east, west, north, south}), 0, 3, func(v vec) vec { return v }).Draw(t, "undo")
		f := b.fix(holds, into, head, up, []int{0, 60}, sides...)
		if through := any("through"); through != holds && through != into && rapid.Bool().Draw(t, "passes") {
			f.Through = []string{through}
		}
		f.State = rapid.SampledFrom([]domain.FixingState{"", "", "", "", domain.FixingUndone}).Draw(t, "state")
	}
	for range rapid.IntRange(0, 4).Draw(t, "relations") {
		from, to := any("from"), any("to")
		if from == to {
			continue
		}
		kind := rapid.SampledFrom(domain.RelationKinds()).Draw(t, "kind")
		if kind == domain.Hides && len(b.r.Fixings) > 0 && rapid.Bool().Draw(t, "fixing") {
			to = rapid.SampledFrom(b.r.Fixings).Draw(t, "of").Code
		}
		x := b.relate(from, kind, to)
		x.Origin = rapid.SampledFrom([]domain.RelationOrigin{domain.FromLog, domain.FromRecipe, domain.FromGeometry}).Draw(t, "origin")
		x.Struck = rapid.IntRange(0, 9).Draw(t, "struck") == 0
	}
	return &b.r
}

// brief is a register in few lines, for the message of a test that fails.
func brief(r *domain.Register) string {
	var b strings.Builder
	for _, e := range r.Elements {
		c := cuboidOf(e.Box())
		fmt.Fprintf(&b, "%s %s %v %v in %q with %q %s %s\n", e.Code, e.Kind, c.lo, c.hi, e.Assembly, e.Subassembly, e.Owner, e.State)
	}
	for _, f := range r.Fixings {
		fmt.Fprintf(&b, "%s holds %s in %s%s through %v at %v undo %v %s\n", f.Code, f.Holds, f.IntoElement, f.IntoHost, f.Through, f.Run.Start, f.Undo, f.State)
	}
	for _, x := range r.Relations {
		fmt.Fprintf(&b, "%s %s %s %s %s\n", x.Code, x.From, x.Kind, x.To, x.Origin)
	}
	return b.String()
}

// hatch is two deck boards at 2.5 m, a hole between them shut by a cover that is screwed to both, walls of the
// landlord's on three sides and a rail on the fourth. The hold is on the first step, since the cover lies on the boards.
func hatch() *domain.Register {
	var b builder
	b.host("SLAB", vec{-1000, -1000, -200}, vec{4000, 4000, 200}, up)
	b.host("WEST", vec{-200, -1000, 0}, vec{200, 4000, 4000}, east)
	b.host("SOUTH", vec{-1000, -200, 0}, vec{4000, 200, 4000}, north)
	b.host("NORTH", vec{-1000, 600, 0}, vec{4000, 200, 4000}, south)
	for i := range 2 {
		deck := fmt.Sprintf("D%d", 2-i)
		b.piece(deck, domain.DeckBoard, vec{i * 1200, 0, 2500}, vec{600, 600, 22})
		b.fix(deck, "SOUTH", vec{i*1200 + 300, 10, 2522}, east, []int{0}, up)
	}
	b.piece("RAIL", domain.GuardRail, vec{1860, 0, 3400}, vec{40, 600, 90})
	b.fix("RAIL", "SOUTH", vec{1880, 10, 3490}, east, []int{0}, up)
	b.piece("COVER", domain.OtherPiece, vec{500, 0, 2522}, vec{800, 600, 18})
	for i := range 2 {
		b.fix("COVER", fmt.Sprintf("D%d", i+1), vec{1240 - 680*i, 300, 2540}, north, []int{0}, up)
	}
	return &b.r
}

// ledger is a floor on a plate of two plies that is screwed to two studs with a nogging between them.
func ledger() *domain.Register {
	var b builder
	b.host("SLAB", vec{-1000, -1000, -200}, vec{4000, 4000, 200}, up)
	b.host("BLOCK", vec{-1000, -200, 0}, vec{4000, 200, 4000}, north)
	for i := range 2 {
		stud := fmt.Sprintf("S%d", i+1)
		b.piece(stud, domain.Stud, vec{i * 600, 0, 0}, vec{38, 89, 2400})
		b.fix(stud, "BLOCK", vec{i*600 + 19, 89, 200}, up, []int{0, 2000}, north)
	}
	b.piece("NOG", domain.Nogging, vec{38, 0, 1500}, vec{562, 89, 38})
	b.piece("WP", domain.WallPlate, vec{0, 89, 1000}, vec{638, 47, 200})
	for i := range 2 {
		b.fix("NOG", fmt.Sprintf("S%d", i+1), vec{60 + 520*i, 45, 1540}, north, []int{0}, up)
		b.fix("WP", fmt.Sprintf("S%d", i+1), vec{600*i + 19, 136, 1050}, up, []int{0, 60}, north)
	}
	b.piece("PLY", domain.WallPlate, vec{0, 136, 1000}, vec{638, 47, 200})
	b.fix("PLY", "WP", vec{100, 183, 1100}, east, []int{0, 400}, north)
	b.piece("D1", domain.DeckBoard, vec{0, 89, 1200}, vec{638, 600, 22})
	b.fix("D1", "WP", vec{50, 110, 1222}, east, []int{0, 500}, up)
	return &b.r
}

// sliding is two boarded studs on a sole plate, under a head plate that they slide in.
func sliding() *domain.Register {
	var b builder
	b.host("SLAB", vec{-1000, -1000, -200}, vec{4000, 4000, 200}, up)
	b.host("SOFFIT", vec{-1000, -1000, 2500}, vec{4000, 4000, 200}, down)
	b.piece("SP", domain.SolePlate, vec{0, 0, 0}, vec{638, 89, 38})
	b.fix("SP", "SLAB", vec{300, 45, 38}, east, []int{0}, north)
	b.piece("HP", domain.HeadPlate, vec{0, 0, 2462}, vec{638, 89, 38})
	b.fix("HP", "SOFFIT", vec{300, 45, 2462}, east, []int{0}, north)
	for i := range 2 {
		stud := fmt.Sprintf("S%d", i+1)
		b.piece(stud, domain.Stud, vec{i * 600, 0, 38}, vec{38, 89, 2400})
		b.fix(stud, "SP", vec{i*600 + 19, 45, 60}, north, []int{0}, north)
	}
	b.piece("BD", domain.Board, vec{0, 89, 40}, vec{638, 11, 2380})
	for i := range 2 {
		b.fix("BD", fmt.Sprintf("S%d", i+1), vec{i*600 + 19, 100, 100}, up, []int{0, 2000}, north)
	}
	return &b.r
}
