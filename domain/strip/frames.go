package strip

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

// tallMm is how tall a stud must be before it can fall and hurt (common practice, no source).
const tallMm = 1500

// framesOf lists what has to be held before a piece leaves that ties a frame together, however much else still ties it:
// by that piece, what it ties. A row of posts with its beam stands sideways only by the joists that hang on it, and nobody
// counts on the last of them; the studs of a half-height wall stand by their cap plate, and after it by two skew screws.
func framesOf(g *release.Graph) map[int32][]int32 {
	f := frames{g, map[int32][]int32{}}
	f.rows()
	f.caps()
	for by := range f.ties {
		slices.Sort(f.ties[by])
		f.ties[by] = slices.Compact(f.ties[by])
	}
	return f.ties
}

// lost are the ties of frames that lose every one of them: where some stay, the frame stands by those.
func lost(ties map[int32][]int32, leaves []bool) map[int32][]int32 {
	stands := map[int32]bool{}
	for by, tied := range ties {
		if !leaves[by] {
			for _, n := range tied {
				stands[n] = true
			}
		}
	}
	out := map[int32][]int32{}
	for by, tied := range ties {
		for _, n := range tied {
			if leaves[by] && !stands[n] {
				out[by] = append(out[by], n)
			}
		}
	}
	return out
}

type frames struct {
	g    *release.Graph
	ties map[int32][]int32
}

// kind is what a node of one element is, "" for one that leaves as a whole of several.
func (f *frames) kind(n int32) domain.ElementKind {
	if n < 0 || len(f.g.Elements(n)) != 1 {
		return ""
	}
	return f.g.Register.Elements[f.g.Elements(n)[0]].Kind
}

// standsOn are the nodes that a node is fixed into or bears on, and whether it is fixed to the landlord's fabric.
func (f *frames) standsOn(bearings map[int32][]release.Bearing, n int32) (on []int32, fabric bool) {
	links := f.g.Links
	for _, i := range f.g.Fixings(n) {
		x := &f.g.Register.Fixings[i]
		if f.g.PieceOf[domain.Place(links.Elements, x.Holds)] != n {
			continue
		}
		if x.IntoHost != "" {
			fabric = true
		} else if e := domain.Place(links.Elements, x.IntoElement); e >= 0 && f.g.PieceOf[e] >= 0 {
			on = append(on, f.g.PieceOf[e])
		}
	}
	for _, b := range bearings[n] {
		if b.Host >= 0 {
			fabric = true
		} else if b.On >= 0 && f.g.PieceOf[b.On] >= 0 {
			on = append(on, f.g.PieceOf[b.On])
		}
	}
	return on, fabric
}

// rows ties each beam that stands on nothing but posts, or on such beams, to the joists that reach it, by hangers too.
func (f *frames) rows() {
	bearings := map[int32][]release.Bearing{}
	for _, b := range f.g.Bearings {
		if n := f.g.PieceOf[b.Element]; n >= 0 {
			bearings[n] = append(bearings[n], b)
		}
	}
	on := map[int32][]int32{}
	free := map[int32]bool{} // beams that no fabric and no wall holds
	for n := range int32(f.g.Pieces()) {
		switch f.kind(n) {
		case domain.Beam:
			stands, fabric := f.standsOn(bearings, n)
			on[n] = stands
			free[n] = !fabric && len(stands) > 0 && !slices.ContainsFunc(stands, func(m int32) bool { k := f.kind(m); return k != domain.Post && k != domain.Beam && k != domain.Bracket })
		case domain.Joist, domain.Trimmer, domain.Hanger:
			on[n], _ = f.standsOn(bearings, n)
		}
	}
	for n := range int32(f.g.Pieces()) {
		if f.kind(n) != domain.Joist {
			continue
		}
		for _, m := range on[n] {
			reached := []int32{m}
			if f.kind(m) == domain.Hanger {
				reached = on[m]
			}
			for _, beam := range reached {
				if free[beam] {
					f.ties[n] = append(f.ties[n], beam)
				}
			}
		}
	}
}

// caps ties the tall studs under a cap plate to it, but for those that fabric or another wall holds.
func (f *frames) caps() {
	r, links := f.g.Register, f.g.Links
	for i := range r.Fixings {
		x := &r.Fixings[i]
		if !x.InPlace() || x.IntoElement == "" {
			continue
		}
		cap, stud := f.node(links, x.Holds), f.node(links, x.IntoElement)
		if f.kind(cap) != domain.CapPlate || f.kind(stud) != domain.Stud {
			continue
		}
		if e := &r.Elements[f.g.Elements(stud)[0]]; e.LengthMm >= tallMm && !f.heldElsewhere(stud, e.Assembly) {
			f.ties[cap] = append(f.ties[cap], stud)
		}
	}
}

func (f *frames) node(links *domain.Links, code string) int32 {
	if e := domain.Place(links.Elements, code); e >= 0 {
		return f.g.PieceOf[e]
	}
	return -1
}

// heldElsewhere reports whether a stud is fixed to the landlord's fabric or to a piece of another assembly.
func (f *frames) heldElsewhere(stud int32, assembly string) bool {
	r := f.g.Register
	return slices.ContainsFunc(f.g.Fixings(stud), func(i int32) bool {
		x := &r.Fixings[i]
		if x.IntoHost != "" {
			return true
		}
		e := domain.Place(f.g.Links.Elements, x.IntoElement)
		return e >= 0 && r.Elements[e].Assembly != assembly
	})
}
