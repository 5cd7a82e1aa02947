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
	index    *domain.Index
	holder   []int32 // fixing -> element it holds, -1
	into     []int32 // fixing -> element it goes into, -1
	intoHost []int32 // fixing -> host it goes into, -1
	near     *space.Index
	walls    *space.Index // the host surfaces, as thin slabs behind their faces
	placeOf  []int32      // box in near -> element
	grounded []bool       // node reaches a host
	carried  lists        // what each piece carries by fixings and relations
	denied   map[[2]string]bool
	spans    map[string]bounds // assembly -> upright bounds of its pieces in place
	ancestry ancestry
	boarded  map[int32]bool // elements that boards are held to
}

type bounds struct{ lo, hi domain.Vector }

// Build derives the release graph of everything in place that comes out. Facts are read in order of trust:
// fixings, logged and recipe relations, and only then the boxes. It needs a register that passes domain.Check
// and grows about linearly with elements and fixings.
func Build(r *domain.Register) *Graph {
	b := &builder{Graph: &Graph{Register: r}, index: r.Index()}
	b.addPieces()
	b.addFixings()
	b.sortNodes()
	b.addRelations()
	b.fileBoxes()
	b.readBearings()
	b.readSteadying()
	b.ancestry = newAncestry(b.Graph)
	for n := range b.Nodes {
		if b.Nodes[n].Kind != Piece {
			continue
		}
		b.ancestry.of(int32(n))
		for _, f := range b.Nodes[n].Fixings {
			b.readHiding(int32(n), f)
		}
		b.readTrap(int32(n))
	}
	return b.Graph
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
		n, known := int32(len(b.Nodes)), false
		if e.Subassembly != "" {
			var first int32
			if first, known = together[e.Subassembly]; known {
				n = first
			} else {
				together[e.Subassembly] = n
			}
		}
		if !known {
			code := e.Code
			if e.Subassembly != "" {
				code = e.Subassembly
			}
			b.Nodes = append(b.Nodes, Node{Kind: Piece, Code: code, Item: -1})
		}
		b.Nodes[n].Elements = append(b.Nodes[n].Elements, int32(i))
		b.Nodes[n].Built = max(b.Nodes[n].Built, e.BuiltOrder)
		b.PieceOf[i] = n
	}
}

func (b *builder) addFixings() {
	r := b.Register
	b.UndoOf = filled(len(r.Fixings))
	b.holder, b.into, b.intoHost = filled(len(r.Fixings)), filled(len(r.Fixings)), filled(len(r.Fixings))
	b.Arcs = make([]Arc, 0, 3*len(r.Fixings))
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if !f.InPlace() {
			continue
		}
		b.holder[i] = b.inPlace(f.Holds)
		b.into[i] = b.inPlace(f.IntoElement)
		if at, ok := b.index.Hosts[f.IntoHost]; ok {
			b.intoHost[i] = int32(at)
		}
		if b.holder[i] < 0 || b.PieceOf[b.holder[i]] < 0 {
			continue
		}
		b.addFixing(int32(i), f)
	}
}

// sortNodes puts what belongs to a node in the order in which it was built, so that a register means the same in
// whatever order its records come.
func (b *builder) sortNodes() {
	r := b.Register
	fixings := func(x, y int32) int {
		f, g := &r.Fixings[x], &r.Fixings[y]
		return cmp.Or(cmp.Compare(f.BuiltOrder, g.BuiltOrder), cmp.Compare(f.Code, g.Code))
	}
	for n := range b.Nodes {
		node := &b.Nodes[n]
		slices.SortFunc(node.Fixings, fixings)
		slices.SortFunc(node.Inside, fixings)
		slices.SortFunc(node.Elements, func(x, y int32) int {
			e, g := &r.Elements[x], &r.Elements[y]
			return cmp.Or(cmp.Compare(e.BuiltOrder, g.BuiltOrder), cmp.Compare(e.Code, g.Code))
		})
	}
}

// addFixing gives a fixing its node and the arcs that it states by itself.
func (b *builder) addFixing(i int32, f *domain.Fixing) {
	held := b.PieceOf[b.holder[i]]
	if b.into[i] >= 0 && b.PieceOf[b.into[i]] == held {
		b.Nodes[held].Inside = append(b.Nodes[held].Inside, i)
		return
	}
	n := int32(len(b.Nodes))
	b.Nodes = append(b.Nodes, Node{Kind: Undo, Code: f.Code, Item: i, Built: f.BuiltOrder})
	b.UndoOf[i] = n
	b.Nodes[held].Fixings = append(b.Nodes[held].Fixings, i)
	b.arc(n, held, Undone, i, -1)
	if b.into[i] >= 0 {
		b.arc(held, b.PieceOf[b.into[i]], Carried, i, -1)
	}
	for _, code := range f.Through {
		if e := b.inPlace(code); e >= 0 {
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
	} else if f, ok := b.index.Fixings[rel.To]; ok {
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
	if code == "" {
		return -1
	}
	if i, ok := b.index.Elements[code]; ok && b.Register.Elements[i].IsInPlace() {
		return int32(i)
	}
	return -1
}

// fileBoxes files every piece in place, the landlord's too, and the host surfaces.
func (b *builder) fileBoxes() {
	r := b.Register
	b.spans = map[string]bounds{}
	boxes := make([]domain.Box, 0, len(r.Elements))
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.IsInPlace() {
			continue
		}
		box := e.Box()
		boxes = append(boxes, box)
		b.placeOf = append(b.placeOf, int32(i))
		if e.Assembly != "" {
			lo, hi := box.Bounds()
			if s, ok := b.spans[e.Assembly]; ok {
				lo, hi = space.Around(0, s.lo, s.hi, lo, hi)
			}
			b.spans[e.Assembly] = bounds{lo, hi}
		}
	}
	b.near = space.New(boxes)
	slabs := make([]domain.Box, len(r.Hosts))
	for i, h := range r.Hosts {
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
