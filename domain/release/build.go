package release

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// builder holds what building needs and the finished graph does not.
type builder struct {
	*Graph
	earlier  []string // codes of pieces in the order that a crew has, nil where there is none
	holder   []int32  // fixing -> element it holds, -1
	into     []int32  // fixing -> element it goes into, -1
	near     *space.Index
	walls    *space.Index // the host surfaces, as thin slabs behind their faces
	placeOf  []int32      // box in near -> element
	boxOf    []int32      // element -> box in near, -1
	grounded []bool       // node reaches a host
	carried  lists        // the arcs to what each piece carries by fixings and relations
	denied   map[[2]string]bool
	spans    []bounds          // assembly -> upright bounds of its pieces in place
	boarded  []bool            // elements that boards are held to
	rests    map[int32]float64 // element -> top of what it bears on
}

type bounds struct{ lo, hi domain.Vector }

// Build derives the release graph of everything in place that comes out. Facts are read in order of trust:
// fixings, logged and recipe relations, and only then the boxes. It needs a register that passes domain.Check
// and grows about linearly with elements and fixings.
func Build(r *domain.Register) *Graph { return BuildLinked(r.Link()) }

// BuildLinked is Build for a register whose codes are looked up already.
func BuildLinked(l *domain.Links) *Graph { return BuildKeeping(l, nil) }

// BuildKeeping is BuildLinked for a crew that has an earlier order in its hands, given as the codes of its pieces in that
// order: of the facts that not all can be kept, those give way that gave way in it.
func BuildKeeping(l *domain.Links, earlier []string) *Graph {
	b := carrying(l)
	b.earlier = earlier
	b.readSteadying()
	b.readHeads()
	b.readWays()
	b.prefer()
	b.losses = &looked{whole: b.Graph}
	return b.Graph
}

// carrying is a graph that says what carries what, and no more.
func carrying(l *domain.Links) *builder {
	b := &builder{Graph: &Graph{Register: l.Register, Links: l}}
	b.addPieces()
	b.addFixings()
	b.sortNodes()
	b.addRelations()
	b.fileBoxes()
	b.readBearings()
	return b
}

func (b *builder) addPieces() {
	r := b.Register
	b.PieceOf = filled(len(r.Elements))
	b.DeadOf = filled(len(r.Elements))
	together := map[string]int32{}
	b.Nodes = make([]Node, 0, len(r.Elements)+len(r.Fixings))
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.ComesOut() {
			continue
		}
		n, known, code := int32(len(b.Nodes)), false, e.Code
		if e.Subassembly != "" {
			var first int32
			if first, known = together[e.Subassembly]; known {
				n = first
			}
			together[e.Subassembly], code = n, e.Subassembly
		}
		if !known {
			b.Nodes = append(b.Nodes, Node{Kind: Piece, Code: code, Item: -1})
		}
		b.Nodes[n].Built = max(b.Nodes[n].Built, e.BuiltOrder)
		b.PieceOf[i] = n
	}
	b.elements = gather(len(b.Nodes), len(r.Elements), func(i int) int32 { return b.PieceOf[i] })
}

// addFixings gives the fixings in place that hold a piece their nodes, or files them inside it.
func (b *builder) addFixings() {
	r := b.Register
	b.UndoOf = filled(len(r.Fixings))
	b.holder, b.into = filled(len(r.Fixings)), filled(len(r.Fixings))
	b.Arcs = make([]Arc, 0, 3*len(r.Fixings))
	outside, inside := filled(len(r.Fixings)), filled(len(r.Fixings))
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if !f.InPlace() {
			continue
		}
		b.holder[i] = b.standing(b.Links.Holds[i])
		b.into[i] = b.standing(b.Links.IntoElement[i])
		if b.holder[i] < 0 || b.PieceOf[b.holder[i]] < 0 {
			continue
		}
		held := b.PieceOf[b.holder[i]]
		if b.into[i] >= 0 && b.PieceOf[b.into[i]] == held {
			inside[i] = held
			continue
		}
		outside[i] = held
		b.addFixing(int32(i), held, f)
	}
	b.fixings = gather(b.Pieces(), len(r.Fixings), func(i int) int32 { return outside[i] })
	b.inside = gather(b.Pieces(), len(r.Fixings), func(i int) int32 { return inside[i] })
}

// sortNodes puts what belongs to a piece in the order in which it was built, so that a register means the same in
// whatever order its records come.
func (b *builder) sortNodes() {
	r := b.Register
	fixings := func(x, y int32) int {
		f, g := &r.Fixings[x], &r.Fixings[y]
		return cmp.Or(cmp.Compare(f.BuiltOrder, g.BuiltOrder), cmp.Compare(f.Code, g.Code))
	}
	for n := range int32(b.Pieces()) {
		slices.SortFunc(b.Fixings(n), fixings)
		slices.SortFunc(b.Inside(n), fixings)
		slices.SortFunc(b.Elements(n), func(x, y int32) int {
			e, g := &r.Elements[x], &r.Elements[y]
			return cmp.Or(cmp.Compare(e.BuiltOrder, g.BuiltOrder), cmp.Compare(e.Code, g.Code))
		})
	}
}

// addFixing gives a fixing its node and the arcs that it states by itself.
func (b *builder) addFixing(i, held int32, f *domain.Fixing) {
	n := int32(len(b.Nodes))
	b.Nodes = append(b.Nodes, Node{Kind: Undo, Code: f.Code, Item: i, Built: f.BuiltOrder})
	b.UndoOf[i] = n
	b.arc(n, held, Undone, i, -1)
	if b.into[i] >= 0 {
		b.arc(held, b.PieceOf[b.into[i]], Carried, i, -1)
	}
	for _, through := range b.Links.Through(i) {
		if e := b.standing(through); e >= 0 {
			b.arc(held, b.PieceOf[e], Clamped, i, -1)
		}
	}
}

// arc adds a fact between two different nodes that both come out.
func (b *builder) arc(before, after int32, reason Reason, fixing, relation int32) {
	if before >= 0 && after >= 0 && before != after {
		b.Arcs = append(b.Arcs, Arc{before, after, reason, fixing, relation})
	}
}

func (b *builder) addRelations() {
	b.denied = map[[2]string]bool{}
	for i := range b.Register.Relations {
		rel := &b.Register.Relations[i]
		if rel.Struck {
			b.denied[[2]string{rel.From, rel.To}] = true // somebody looked, and it is not so
			continue
		}
		b.addRelation(int32(i), rel)
	}
	for i := range b.Register.Elements {
		if e := &b.Register.Elements[i]; e.Kind.IsService() && b.PieceOf[i] >= 0 {
			b.arc(b.dead(int32(i)), b.PieceOf[i], Live, -1, -1)
		}
	}
}

func (b *builder) addRelation(i int32, rel *domain.Relation) {
	from, to := b.inPlace(rel.From), b.inPlace(rel.To)
	if from < 0 {
		return
	}
	before, after := b.PieceOf[from], int32(-1)
	if to >= 0 {
		after = b.PieceOf[to]
	} else if f, ok := b.Links.Fixings[rel.To]; ok {
		after = b.UndoOf[f]
	}
	switch rel.Kind {
	case domain.BearsOn:
		b.arc(before, after, Carried, -1, i)
	case domain.Hides:
		b.arc(before, after, Hidden, -1, i)
	case domain.Traps:
		b.arc(before, after, Trapped, -1, i)
	case domain.Interlocks:
		b.arc(before, after, Tongued, -1, i)
	case domain.Seals:
		b.arc(before, after, Sealed, -1, i)
	case domain.Serves:
		b.arc(after, before, Served, -1, i)
	case domain.Steadies:
		if before >= 0 && after >= 0 && before != after {
			b.Steadyings = append(b.Steadyings, Steadying{before, after, i})
		}
	case domain.RunsThrough:
		b.arc(before, after, Running, -1, i)
		if before < 0 && after >= 0 { // the landlord's service stays, but is made safe before work round it
			b.arc(b.dead(from), after, Live, -1, i)
		}
	}
}

// dead is the node at which a service is proved dead, made when first asked for.
func (b *builder) dead(service int32) int32 {
	if b.DeadOf[service] < 0 {
		b.DeadOf[service] = int32(len(b.Nodes))
		b.Nodes = append(b.Nodes, Node{Kind: Dead, Code: b.Register.Elements[service].Code, Item: service})
	}
	return b.DeadOf[service]
}

// inPlace is the place of an element that still stands, -1 for anything else.
func (b *builder) inPlace(code string) int32 {
	return b.standing(domain.Place(b.Links.Elements, code))
}

// standing is an element that is known and still stands, -1 for any other.
func (b *builder) standing(element int32) int32 {
	if element >= 0 && b.Register.Elements[element].IsInPlace() {
		return element
	}
	return -1
}

// fileBoxes files every piece in place, the landlord's too, and the host surfaces.
func (b *builder) fileBoxes() {
	r := b.Register
	b.spans = make([]bounds, len(r.Assemblies))
	known := make([]bool, len(r.Assemblies))
	boxes := make([]domain.Box, 0, len(r.Elements))
	b.placeOf, b.boxOf = make([]int32, 0, len(r.Elements)), filled(len(r.Elements))
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.IsInPlace() {
			continue
		}
		box := e.Box()
		b.boxOf[i] = int32(len(boxes))
		boxes, b.placeOf = append(boxes, box), append(b.placeOf, int32(i))
		if a := b.Links.AssemblyOf[i]; a >= 0 {
			lo, hi := box.Bounds()
			if known[a] {
				lo, hi = space.Around(0, b.spans[a].lo, b.spans[a].hi, lo, hi)
			}
			b.spans[a], known[a] = bounds{lo, hi}, true
		}
	}
	b.near = space.New(boxes)
	slabs := make([]domain.Box, len(r.Hosts))
	for i := range r.Hosts {
		h := &r.Hosts[i]
		slabs[i] = domain.NewBox(h.Plane(), h.UMm, h.VMm, hostSlabMm)
		slabs[i].Centre = slabs[i].Centre.Sub(slabs[i].Axes[2].Scale(hostSlabMm))
	}
	b.walls = space.New(slabs)
}

// hostSlabMm is how thick a host surface is taken to be where only its face is known.
const hostSlabMm = 40

func filled(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = -1
	}
	return out
}
