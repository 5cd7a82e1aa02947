package freeing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/space"
)

// Target is the one thing to free. Exactly one of its fields is filled.
type Target struct {
	Element  string // comes out; where it is the landlord's it is laid bare
	Fixing   string // is laid bare, ready to be undone
	Assembly string // comes out whole
	Host     string // everything off this host surface
	Box      *Space // everything out of this space, and a way to it
}

// Space is an upright box, two opposite corners in millimetres.
type Space struct{ From, To domain.Point }

// IsZero reports whether nothing was named.
func (t Target) IsZero() bool { return t == Target{} }

// goal is a target as nodes: all of these happen, and one way of each gate is open.
type goal struct {
	wanted []int32
	bare   int32       // a fixing that is laid bare, -1
	ways   [][][]int32 // for each place that is laid bare the ways to it, of which one must be open
	words  string
	codes  []string // what the second opinion looks for
}

// goalOf reads a target. What does not exist, is out already or can never be reached is refused with the mend.
func (g *Ground) goalOf(t Target) (goal, error) {
	given := 0
	for _, is := range []bool{t.Element != "", t.Fixing != "", t.Assembly != "", t.Host != "", t.Box != nil} {
		if is {
			given++
		}
	}
	if given != 1 {
		return goal{}, domain.Errorf(domain.Invalid, "name exactly one thing to free: an element, a fixing, an assembly, a host surface or a box")
	}
	switch {
	case t.Element != "":
		return g.element(t.Element)
	case t.Fixing != "":
		return g.fixing(t.Fixing)
	case t.Assembly != "":
		return g.assembly(t.Assembly)
	case t.Host != "":
		return g.host(t.Host)
	}
	return g.space(*t.Box)
}

func (g *Ground) element(code string) (goal, error) {
	r := g.graph.Register
	i := domain.Place(g.graph.Links.Elements, code)
	if i < 0 {
		return goal{}, domain.FieldErrorf(domain.NotFound, "/element", "there is no piece %s in this fit-out: look its code up in a drawing or in the register", code)
	}
	e := &r.Elements[i]
	if !e.IsInPlace() {
		return goal{}, domain.FieldErrorf(domain.Refused, "/element", "%s is out already", code)
	}
	if n := g.graph.PieceOf[i]; n >= 0 {
		return g.out([]int32{n}, "Take out "+code), nil
	}
	bare := goal{bare: -1, words: "Lay bare " + code + ", which is the landlord's and stays"}
	for _, part := range stretches(e.Box()) {
		ways := g.waysTo(&part)
		if len(ways) == 0 {
			return goal{}, domain.FieldErrorf(domain.Refused, "/element", "%s is the landlord's, and his fabric shuts a part of it in on every side: nothing of yours that comes out lays it bare", code)
		}
		bare.ways = append(bare.ways, ways)
	}
	return bare, nil
}

func (g *Ground) fixing(code string) (goal, error) {
	i := domain.Place(g.graph.Links.Fixings, code)
	if i < 0 {
		return goal{}, domain.FieldErrorf(domain.NotFound, "/fixing", "there is no fixing %s in this fit-out: look its code up in a drawing or in the register", code)
	}
	f := &g.graph.Register.Fixings[i]
	if !f.InPlace() {
		return goal{}, domain.FieldErrorf(domain.Refused, "/fixing", "fixing %s is undone already", code)
	}
	if slices.Contains(g.graph.Unreachable, i) {
		return goal{}, domain.FieldErrorf(domain.Refused, "/fixing", "no side leaves room to undo fixing %s, whatever comes out: say from which side it can be reached, or free %s", code, f.Holds)
	}
	n := g.graph.UndoOf[i]
	if n >= 0 {
		return goal{bare: n, ways: [][][]int32{g.graph.Covers(i)}, words: "Lay bare fixing " + code, codes: []string{code}}, nil
	}
	if held := g.graph.Links.Holds[i]; held >= 0 && g.graph.PieceOf[held] >= 0 { // inside a set: got at once that is down
		out := g.out([]int32{g.graph.PieceOf[held]}, "Take out "+g.graph.Nodes[g.graph.PieceOf[held]].Code+", to get at fixing "+code+" inside it")
		return out, nil
	}
	return goal{}, domain.FieldErrorf(domain.Refused, "/fixing", "fixing %s holds a piece of the landlord's: ask for that piece", code)
}

func (g *Ground) assembly(code string) (goal, error) {
	a := domain.Place(g.graph.Links.Assemblies, code)
	if a < 0 {
		return goal{}, domain.FieldErrorf(domain.NotFound, "/assembly", "there is no assembly %s in this fit-out", code)
	}
	var nodes []int32
	for i := range g.graph.Register.Elements {
		if g.graph.Links.AssemblyOf[i] == a && g.graph.PieceOf[i] >= 0 {
			nodes = append(nodes, g.graph.PieceOf[i])
		}
	}
	if len(nodes) == 0 {
		return goal{}, domain.FieldErrorf(domain.Refused, "/assembly", "nothing of %s is in place", code)
	}
	slices.Sort(nodes)
	name := g.graph.Register.Assemblies[a].Name
	return g.out(slices.Compact(nodes), "Take out "+cmp.Or(name, "all of it")+" ("+code+")"), nil
}

func (g *Ground) host(code string) (goal, error) {
	h := domain.Place(g.graph.Links.Hosts, code)
	if h < 0 {
		return goal{}, domain.FieldErrorf(domain.NotFound, "/host", "there is no host surface %s in this fit-out", code)
	}
	return g.out(g.on(h), "Clear everything off "+cmp.Or(g.graph.Register.Hosts[h].Name, "the surface")+" ("+code+")"), nil
}

// mostSpaceMm is the longest side of a space that is asked for.
const mostSpaceMm = 100000

func (g *Ground) space(s Space) (goal, error) {
	lo, hi := s.From.Vector(), s.To.Vector()
	lo, hi = domain.Vector{X: min(lo.X, hi.X), Y: min(lo.Y, hi.Y), Z: min(lo.Z, hi.Z)}, domain.Vector{X: max(lo.X, hi.X), Y: max(lo.Y, hi.Y), Z: max(lo.Z, hi.Z)}
	size := hi.Sub(lo)
	if min(size.X, size.Y, size.Z) < 2*touchMm || max(size.X, size.Y, size.Z) > mostSpaceMm {
		return goal{}, domain.FieldErrorf(domain.Invalid, "/box", "a box is from %d mm to %d mm each way: give two opposite corners", 2*touchMm, mostSpaceMm)
	}
	x, y, z := domain.Vector{X: 1}, domain.Vector{Y: 1}, domain.Vector{Z: 1}
	box := space.Of(domain.Box{Centre: lo.Add(hi).Scale(0.5), Axes: [3]domain.Vector{x, y, z}, Half: [3]float64{size.X / 2, size.Y / 2, size.Z / 2}})
	out := g.out(g.inside(&box), "Clear the space and lay it open")
	ways := g.waysTo(&box)
	if out.ways = append(out.ways, ways); len(ways) == 0 {
		return goal{}, domain.FieldErrorf(domain.Refused, "/box", "the landlord's fabric shuts this space in on every side: nothing of yours that comes out opens it")
	}
	return out, nil
}

// out is the goal that some pieces leave.
func (g *Ground) out(nodes []int32, words string) goal {
	out := goal{wanted: nodes, bare: -1, words: words}
	for _, n := range nodes {
		for _, e := range g.graph.Elements(n) {
			out.codes = append(out.codes, g.graph.Register.Elements[e].Code)
		}
	}
	return out
}

// Same reports whether two targets ask for the same thing.
func (t Target) Same(other Target) bool {
	if (t.Box == nil) != (other.Box == nil) || t.Box != nil && *t.Box != *other.Box {
		return false
	}
	t.Box, other.Box = nil, nil
	return t == other
}

// ParseSpace reads two opposite corners in millimetres, as "x,y,z,x,y,z".
func ParseSpace(text string) (Space, error) {
	parts := strings.Split(text, ",")
	var at [6]int
	for i := range at {
		var err error
		if len(parts) == len(at) {
			at[i], err = strconv.Atoi(strings.TrimSpace(parts[i]))
		}
		if len(parts) != len(at) || err != nil || at[i] < -mostAwayMm || at[i] > mostAwayMm {
			return Space{}, domain.FieldErrorf(domain.Invalid, "/box", "a box is six whole millimetres with commas between, two opposite corners: 0,0,0,1000,600,2400")
		}
	}
	return Space{domain.Point{X: at[0], Y: at[1], Z: at[2]}, domain.Point{X: at[3], Y: at[4], Z: at[5]}}, nil
}

// mostAwayMm is how far from the origin a corner may be.
const mostAwayMm = 1000000
