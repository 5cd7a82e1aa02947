package replay

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// builder makes small registers by hand: boxes square to the fit-out's axes, given by their least corner and size.
type builder struct {
	r     domain.Register
	order int
	fixes int
	facts int
	hosts map[string]bool
}

type vec [3]int

func (v vec) point() domain.Point         { return domain.Point{X: v[0], Y: v[1], Z: v[2]} }
func (v vec) direction() domain.Direction { return domain.Direction{X: v[0], Y: v[1], Z: v[2]} }

var (
	east, west   = vec{1, 0, 0}, vec{-1, 0, 0}
	north, south = vec{0, 1, 0}, vec{0, -1, 0}
	up, down     = vec{0, 0, 1}, vec{0, 0, -1}
)

// place is the placement and the sizes, longest first, of a box with this least corner and these sizes.
func place(at, size vec) (domain.Placement, vec) {
	axes := []int{0, 1, 2}
	slices.SortStableFunc(axes, func(a, b int) int { return size[b] - size[a] })
	var along, across vec
	along[axes[0]], across[axes[1]] = 1, 1
	origin := at
	if third := (axes[0]+1)%3 != axes[1]; third { // along x across points the other way: measure from the far corner
		origin[axes[2]] += size[axes[2]]
	}
	return domain.Placement{Origin: origin.point(), Along: along.direction(), Across: across.direction()},
		vec{size[axes[0]], size[axes[1]], size[axes[2]]}
}

func (b *builder) piece(code string, kind domain.ElementKind, at, size vec) *domain.Element {
	b.order++
	placement, sizes := place(at, size)
	b.r.Elements = append(b.r.Elements, domain.Element{Code: code, Kind: kind, Placement: placement,
		LengthMm: sizes[0], WidthMm: sizes[1], ThicknessMm: sizes[2], BuiltOrder: b.order})
	return &b.r.Elements[len(b.r.Elements)-1]
}

// host is a host surface of which the fabric fills this box; normal points out of it into the room.
func (b *builder) host(code string, at, size, normal vec) {
	axis := slices.IndexFunc(normal[:], func(n int) bool { return n != 0 })
	u, v := (axis+1)%3, (axis+2)%3
	if normal[axis] < 0 {
		u, v = v, u
	}
	var du, dv vec
	du[u], dv[v] = 1, 1
	origin := at
	if normal[axis] > 0 {
		origin[axis] += size[axis]
	}
	if b.hosts == nil {
		b.hosts = map[string]bool{}
	}
	b.hosts[code] = true
	b.r.Hosts = append(b.r.Hosts, domain.HostSurface{Code: code, Origin: origin.point(), U: du.direction(), V: dv.direction(),
		UMm: size[u], VMm: size[v], ThicknessMm: size[axis]})
}

// fix holds one piece to a piece or a host, with heads along a line, to be undone from any of these sides.
func (b *builder) fix(holds, into string, head, along vec, positions []int, undo ...vec) *domain.Fixing {
	b.fixes++
	b.order++
	f := domain.Fixing{Code: fmt.Sprintf("F%d", b.fixes), Type: "wood-screw-5", Count: max(1, len(positions)), Holds: holds,
		IntoElement: into, Run: domain.Run{Start: head.point(), Along: along.direction(), PositionsMm: positions}, BuiltOrder: b.order}
	if b.hosts[into] {
		f.IntoElement, f.IntoHost = "", into
	}
	for _, d := range undo {
		f.Undo = append(f.Undo, d.direction())
	}
	b.r.Fixings = append(b.r.Fixings, f)
	return &b.r.Fixings[len(b.r.Fixings)-1]
}

func (b *builder) relate(from string, kind domain.RelationKind, to string) *domain.Relation {
	b.facts++
	b.r.Relations = append(b.r.Relations, domain.Relation{Code: fmt.Sprintf("R%d", b.facts), Kind: kind, From: from, To: to, Origin: domain.FromLog})
	return &b.r.Relations[len(b.r.Relations)-1]
}

// wall is what a straight wall is made with.
type wall struct {
	name                 string
	at                   vec
	bays                 int // studs at 600
	heightMm             int
	faceB                bool // boards on the far face too
	insulated, skirting  bool
	noggings, cable      bool
	seal, framed, loosed bool // framed: plates and studs are one subassembly; loosed: nobody knows the boards' screws
}

const (
	studMm  = 38
	depthMm = 89
	boardMm = 12
)

// site gives the landlord's fabric around a wall: slab, soffit, and a block wall at its start.
func (b *builder) site(w wall) {
	length := w.bays*600 + studMm
	at := w.at
	b.host(w.name+"-SLAB", vec{at[0] - 2000, at[1] - 2000, at[2] - 200}, vec{length + 4000, 4000 + depthMm, 200}, up)
	b.host(w.name+"-SOFFIT", vec{at[0] - 2000, at[1] - 2000, at[2] + w.heightMm}, vec{length + 4000, 4000 + depthMm, 200}, down)
	b.host(w.name+"-BLOCK", vec{at[0] - 200, at[1] - 2000, at[2]}, vec{200, 4000 + depthMm, w.heightMm}, east)
}

// wall builds one, in the order in which a carpenter would.
func (b *builder) wall(w wall) {
	b.site(w)
	first := len(b.r.Elements)
	b.frame(w)
	if w.cable {
		b.cable(w)
	}
	if w.faceB {
		b.boards(w, "B", depthMm, north)
	}
	if w.insulated {
		for i := range w.bays {
			b.piece(fmt.Sprintf("%s-INS%d", w.name, i+1), domain.Insulation,
				vec{w.at[0] + i*600 + studMm, w.at[1], w.at[2] + studMm}, vec{600 - studMm, depthMm, w.heightMm/2 - studMm})
		}
	}
	b.boards(w, "A", -boardMm, south)
	if w.skirting {
		b.skirting(w)
	}
	if w.seal {
		code := w.name + "-SL"
		b.piece(code, domain.Seal, vec{w.at[0], w.at[1] - boardMm - 5, w.at[2] + 200}, vec{5, 5, w.heightMm - 300})
		b.fix(code, w.name+"-BA1", vec{w.at[0], w.at[1] - boardMm - 5, w.at[2] + 200}, up, []int{0}, south)
		b.relate(code, domain.Seals, w.name+"-BA1")
	}
	for i := range b.r.Elements[first:] {
		b.r.Elements[first+i].Assembly = w.name
	}
}

func (b *builder) frame(w wall) {
	x, y, z := w.at[0], w.at[1], w.at[2]
	length, top := w.bays*600+studMm, z+w.heightMm
	sole, head := w.name+"-SP", w.name+"-HP"
	var bays []int
	for i := range w.bays {
		bays = append(bays, i*600+150, i*600+450)
	}
	b.piece(sole, domain.SolePlate, vec{x, y, z}, vec{length, depthMm, studMm})
	b.fix(sole, w.name+"-SLAB", vec{x, y + 45, z + studMm}, east, bays, up)
	b.piece(head, domain.HeadPlate, vec{x, y, top - studMm}, vec{length, depthMm, studMm})
	b.fix(head, w.name+"-SOFFIT", vec{x, y + 45, top - studMm}, east, bays, down)
	from := len(b.r.Elements) - 2
	for i := range w.bays + 1 {
		stud, at := fmt.Sprintf("%s-S%d", w.name, i+1), x+i*600
		side, face := east, at+studMm
		if i == w.bays {
			side, face = west, at
		}
		b.piece(stud, domain.Stud, vec{at, y, z + studMm}, vec{studMm, depthMm, w.heightMm - 2*studMm})
		b.fix(stud, sole, vec{face, y + 25, z + studMm + 30}, north, []int{0, 40}, side)
		b.fix(stud, head, vec{face, y + 25, top - studMm - 30}, north, []int{0, 40}, side)
		if i == 0 {
			b.fix(stud, w.name+"-BLOCK", vec{face, y + 45, z}, up, []int{200, w.heightMm - 200}, east)
		}
	}
	if w.framed {
		for i := range b.r.Elements[from:] {
			b.r.Elements[from+i].Subassembly = w.name + "-FR"
		}
	}
	if !w.noggings {
		return
	}
	for i := range w.bays {
		code := fmt.Sprintf("%s-N%d", w.name, i+1)
		left, right := x+i*600+studMm, x+(i+1)*600
		b.piece(code, domain.Nogging, vec{left, y, z + w.heightMm/2}, vec{right - left, depthMm, studMm})
		for k, to := range []int{i + 1, i + 2} {
			at := []int{left + 20, right - 20}[k]
			b.fix(code, fmt.Sprintf("%s-S%d", w.name, to), vec{at, y, z + w.heightMm/2 + 19}, up, []int{0}, south)
			b.fix(code, fmt.Sprintf("%s-S%d", w.name, to), vec{at, y + depthMm, z + w.heightMm/2 + 19}, up, []int{0}, north)
		}
	}
}

// boards lines one face with a board for every two bays, joints on studs.
func (b *builder) boards(w wall, face string, offset int, out vec) {
	x, y, z := w.at[0], w.at[1]+offset, w.at[2]
	surface := y
	if out == north {
		surface = y + boardMm
	}
	for i := 0; i < w.bays; i += 2 {
		bays := min(2, w.bays-i)
		left, right := x+i*600+20, x+(i+bays)*600+18
		if i == 0 {
			left = x
		}
		if i+bays == w.bays {
			right = x + w.bays*600 + studMm
		}
		code := fmt.Sprintf("%s-B%s%d", w.name, face, i/2+1)
		b.piece(code, domain.Board, vec{left, y, z + 10}, vec{right - left, boardMm, w.heightMm - 20}).Face = face
		for k := i; k <= i+bays; k++ {
			at := x + k*600 + 19
			switch {
			case k == i && i > 0:
				at += 10
			case k == i+bays && i+bays < w.bays:
				at -= 10
			}
			f := b.fix(code, fmt.Sprintf("%s-S%d", w.name, k+1), vec{at, surface, z}, up, []int{50, w.heightMm / 3, w.heightMm - 100}, out)
			if w.loosed {
				f.Run.PositionsMm, f.Undo, f.Known = nil, nil, domain.Unknown
			}
		}
		b.fix(code, w.name+"-SP", vec{left, surface, z + 20}, east, []int{200, right - left - 200}, out)
		b.fix(code, w.name+"-HP", vec{left, surface, z + w.heightMm - 20}, east, []int{200, right - left - 200}, out)
	}
}

func (b *builder) skirting(w wall) {
	x, y, z := w.at[0], w.at[1], w.at[2]
	code := w.name + "-SK"
	b.piece(code, domain.Skirting, vec{x, y - boardMm - 15, z}, vec{w.bays*600 + studMm, 15, 100})
	for i := range w.bays + 1 {
		board := fmt.Sprintf("%s-BA%d", w.name, min(i/2, (w.bays-1)/2)+1)
		b.fix(code, fmt.Sprintf("%s-S%d", w.name, i+1), vec{x + i*600 + 19, y - boardMm - 15, z + 60}, up, []int{0}, south).Through = []string{board}
	}
}

func (b *builder) cable(w wall) {
	x, y, z := w.at[0], w.at[1], w.at[2]
	code := w.name + "-CA"
	b.piece(code, domain.Cable, vec{x + studMm, y + 40, z + w.heightMm/2 - 200}, vec{w.bays*600 - studMm - 20, 10, 10})
	b.fix(code, w.name+"-S1", vec{x + studMm + 20, y + 40, z + w.heightMm/2 - 195}, up, []int{0}, south, north)
	for i := 1; i < w.bays; i++ {
		b.relate(code, domain.RunsThrough, fmt.Sprintf("%s-S%d", w.name, i+1))
	}
}

// fullWall has a bit of everything.
func fullWall() *domain.Register {
	var b builder
	b.wall(wall{name: "W", bays: 2, heightMm: 2400, faceB: true, insulated: true, skirting: true, noggings: true, cable: true, seal: true})
	return &b.r
}

// lastFirst is the plan of somebody who takes everything out in the opposite order to that in which it was built:
// services dead first, one step to a piece, or to a subassembly at the place of its first piece.
func lastFirst(r *domain.Register) []Step {
	held := map[string][]string{}
	for _, f := range r.Fixings {
		held[f.Holds] = append(held[f.Holds], f.Code)
	}
	members := map[string][]string{}
	var dead []string
	elements := slices.Clone(r.Elements)
	slices.SortFunc(elements, func(a, b domain.Element) int { return b.BuiltOrder - a.BuiltOrder })
	for _, e := range elements {
		if e.Subassembly != "" {
			members[e.Subassembly] = append(members[e.Subassembly], e.Code)
		}
		if e.Kind.IsService() {
			dead = append(dead, e.Code)
		}
	}
	var steps []Step
	if len(dead) > 0 {
		steps = append(steps, Step{Kind: MakeDead, Services: dead})
	}
	for i, e := range elements {
		out := []string{e.Code}
		if e.Subassembly != "" {
			if out = members[e.Subassembly]; out[len(out)-1] != e.Code {
				continue
			}
		}
		if !elements[i].ComesOut() {
			continue
		}
		var undo []string
		for _, code := range out {
			undo = append(undo, held[code]...)
		}
		steps = append(steps, Step{Kind: Remove, Elements: out, Fixings: undo})
	}
	for i := range steps {
		steps[i].Code = fmt.Sprintf("%d", i+1)
	}
	return steps
}
