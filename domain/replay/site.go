package replay

import (
	"unpick/domain"
)

// none stands for "no such piece".
const none = domain.Nowhere

// site is the register as numbers: elements, fixings and hosts by their place in the register's slices.
type site struct {
	register *domain.Register
	links    *domain.Links

	in      []bool   // by element: it stands in the fit-out
	stays   []bool   // by element: the landlord's, it never leaves
	bodies  []body   // by element
	fabric  []body   // the host surfaces, then the landlord's pieces
	standIn []int32  // by fabric: the landlord's piece, none for a host surface
	groupOf []int32  // by element: pieces of one subassembly share a group
	members lists    // by group: its elements in place
	fixed   []fixing // by fixing
	related []related
	arcs    []arc // who carries whom

	pieceTree  *tree // what comes out
	fabricTree *tree // what never leaves
}

// fixing is a register fixing as numbers.
type fixing struct {
	holds, into, host int32
	in                bool
}

// related is a relation whose ends are both known; to is a fixing where onFixing is set, a host where onHost is.
type related struct {
	kind     domain.RelationKind
	from, to int32
	index    int32
	onFixing bool
	onHost   bool
}

// newSite reads a register. Records that name codes nobody knows are left out: the register's own check reports
// those, and a plan cannot answer for them.
func newSite(l *domain.Links) *site {
	s := &site{register: l.Register, links: l}
	s.readElements()
	s.readFabric()
	s.readFixings()
	s.readRelations()
	s.pieceTree = newTree(s.bodies, func(e int) bool { return s.in[e] && !s.stays[e] })
	s.fabricTree = newTree(s.fabric, func(int) bool { return true })
	s.readCarrying()
	return s
}

func (s *site) readElements() {
	n := len(s.register.Elements)
	s.in, s.stays = make([]bool, n), make([]bool, n)
	s.bodies, s.groupOf = make([]body, n), make([]int32, n)
	groups := map[string]int32{}
	next := int32(0)
	for i := range s.register.Elements {
		e := &s.register.Elements[i]
		s.in[i], s.stays[i] = e.IsInPlace(), e.Owner == domain.LandlordOwns
		s.bodies[i] = newBody(e.Box())
		group, shared := next, false
		if e.Subassembly != "" && e.ComesOut() {
			group, shared = groups[e.Subassembly], true
			if _, ok := groups[e.Subassembly]; !ok {
				group, shared = next, false
				groups[e.Subassembly] = next
			}
		}
		s.groupOf[i] = group
		if !shared {
			next++
		}
	}
	s.members = gather(int(next), n, func(i int) int32 {
		if !s.in[i] {
			return none
		}
		return s.groupOf[i]
	})
}

// thinnestHostMm is how thick a host is taken to be where nobody knows: enough that nothing passes through it.
const thinnestHostMm = 10

func (s *site) readFabric() {
	s.fabric, s.standIn = make([]body, len(s.register.Hosts)), fill(len(s.register.Hosts), none)
	for i := range s.register.Hosts {
		h := &s.register.Hosts[i]
		thick := max(h.ThicknessMm, thinnestHostMm)
		box := domain.NewBox(h.Plane(), h.UMm, h.VMm, thick)
		box.Centre = box.Centre.Sub(box.Axes[2].Scale(float64(thick))) // the fabric lies behind the plane
		s.fabric[i] = newBody(box)
	}
	for e := range s.in {
		if s.in[e] && s.stays[e] {
			s.fabric, s.standIn = append(s.fabric, s.bodies[e]), append(s.standIn, int32(e))
		}
	}
}

func (s *site) readFixings() {
	s.fixed = make([]fixing, len(s.register.Fixings))
	for f := range s.fixed {
		s.fixed[f] = fixing{s.links.Holds[f], s.links.IntoElement[f], s.links.IntoHost[f], s.register.Fixings[f].InPlace()}
	}
}

// derived reports whether relations of a kind are read from geometry here: one in the register that was read
// from geometry by somebody else is then not believed.
func derived(kind domain.RelationKind) bool {
	switch kind {
	case domain.BearsOn, domain.Hides, domain.Traps, domain.Steadies:
		return true
	}
	return false
}

func (s *site) readRelations() {
	for i := range s.register.Relations {
		r := &s.register.Relations[i]
		if r.Struck || r.Origin == domain.FromGeometry && derived(r.Kind) {
			continue
		}
		x := related{kind: r.Kind, from: s.element(r.From), to: s.element(r.To), index: int32(i)}
		if x.to == none && r.Kind == domain.Hides {
			x.to, x.onFixing = domain.Place(s.links.Fixings, r.To), true
		}
		if x.to == none && r.Kind == domain.BearsOn {
			x.to, x.onFixing, x.onHost = domain.Place(s.links.Hosts, r.To), false, true
		}
		if x.from == none || x.to == none || !s.in[x.from] || !x.onFixing && !x.onHost && !s.in[x.to] {
			continue
		}
		s.related = append(s.related, x)
	}
}

func (s *site) element(code string) int32 { return domain.Place(s.links.Elements, code) }

func (s *site) throughOf(f int32) []int32 { return s.links.Through(f) }

// lists holds one list of numbers for each of many keys in two slices, as planners on slices do.
type lists struct {
	start []int32
	items []int32
}

// of is the list of one key, in ascending order.
func (l *lists) of(key int32) []int32 { return l.items[l.start[key]:l.start[key+1]] }

// gather lists the numbers 0 to n-1 under the key of each; those with the key none are left out.
func gather(keys, n int, key func(i int) int32) lists {
	l := lists{start: make([]int32, keys+1)}
	for i := range n {
		if k := key(i); k != none {
			l.start[k+1]++
		}
	}
	for k := range keys {
		l.start[k+1] += l.start[k]
	}
	l.items = make([]int32, l.start[keys])
	next := append([]int32(nil), l.start[:keys]...)
	for i := range n {
		if k := key(i); k != none {
			l.items[next[k]] = int32(i)
			next[k]++
		}
	}
	return l
}
