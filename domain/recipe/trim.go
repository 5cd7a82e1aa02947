package recipe

import (
	"cmp"
	"slices"
	"strconv"

	"unpick/domain"
)

// Trim are the parameters of a skirting or another level trim along a face of a stud wall. It stops at doorways and at
// architraves, and is joined on a stud where it is longer than stock.
type Trim struct {
	Wall     string `json:"wall"`
	Face     string `json:"face" jsonschema:"enum=a,enum=b"`
	Section  string `json:"section,omitempty" jsonschema_description:"trim from the catalogue; empty reads as trim-sw-19x94"`
	Kind     string `json:"kind,omitempty" jsonschema:"enum=skirting,enum=trim" jsonschema_description:"empty reads as skirting"`
	HeightMm int    `json:"height_mm,omitempty" jsonschema:"minimum=0,maximum=12000" jsonschema_description:"underside above the floor; 0 stands on it"`
	FromMm   int    `json:"from_mm,omitempty" jsonschema:"minimum=0,maximum=60000"`
	ToMm     int    `json:"to_mm,omitempty" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"0 reads as the far end of the wall"`
	Screw    string `json:"screw,omitempty" jsonschema_description:"empty reads as trim-screw-4x50"`
}

// leastTrimMm is the shortest piece of trim that is still put up (common practice, no source).
const leastTrimMm = 50

// twoRowsMm is the depth from which a trim takes two screws at each stud (common practice, no source).
const twoRowsMm = 60

func buildTrim(b *builder, p Trim) error {
	p.Section = cmp.Or(p.Section, "trim-sw-19x94")
	p.Kind = cmp.Or(p.Kind, "skirting")
	p.Screw = cmp.Or(p.Screw, "trim-screw-4x50")
	w := standingWall(b, p.Wall, "/params/wall")
	m := b.needMaterial(p.Section, "/params/section")
	b.needFixing(p.Screw, "/params/screw")
	if len(b.faults) > 0 {
		return nil
	}
	if m.WidthMm == 0 || m.ThicknessMm == 0 {
		b.faults.Addf(domain.Invalid, "/params/section", "%s has no section: it needs a width and a thickness", m.Code)
		return nil
	}
	p.ToMm = cmp.Or(p.ToMm, w.p.LengthMm)
	if p.FromMm >= p.ToMm || p.ToMm > w.p.LengthMm {
		b.faults.Addf(domain.Invalid, "/params/to_mm", "runs from %d to %d on a wall of %d", p.FromMm, p.ToMm, w.p.LengthMm)
		return nil
	}
	for _, s := range w.trimStretches(p, m) {
		for _, piece := range w.inStock(s, m) {
			w.addTrim(p, m, piece)
		}
	}
	if len(w.made.Elements) == 0 {
		b.faults.Addf(domain.Refused, "/params", "leaves no piece of trim: doorways and other pieces take up all of it")
	}
	return nil
}

// trimStretches are what is left of a run between doorways, architraves and whatever else stands on the face there.
func (w *wallPlan) trimStretches(p Trim, m domain.Material) []span {
	which, _ := side(p.Face)
	y0, y1 := outwards(which, w.faceY(which), thickMm(m))
	z0 := w.floor.at(float64(p.FromMm)) + float64(p.HeightMm)
	z1 := z0 + float64(m.WidthMm)
	var taken []span
	for _, d := range w.doorways {
		if z0 < float64(d.headMm) {
			taken = append(taken, span{d.x0, d.x1})
		}
	}
	for i := range w.register.Elements {
		e := &w.register.Elements[i]
		lo, hi := w.blockOf(*e)
		if e.IsInPlace() && hi.X > 0 && lo.X < float64(w.p.LengthMm) && hi.Y > float64(y0)+1 && lo.Y < float64(y1)-1 && hi.Z > z0+1 && lo.Z < z1-1 {
			taken = append(taken, span{round(lo.X), round(hi.X)})
		}
	}
	slices.SortStableFunc(taken, func(a, b span) int { return cmp.Or(a.x0-b.x0, a.x1-b.x1) })
	var out []span
	from := p.FromMm
	for _, t := range append(taken, span{p.ToMm, p.ToMm}) {
		if to := min(t.x0, p.ToMm); to-from >= leastTrimMm {
			out = append(out, span{from, to})
		}
		from = max(from, t.x1)
	}
	return out
}

// inStock cuts a stretch into pieces no longer than sold, joined on studs where there are any to join on.
func (w *wallPlan) inStock(s span, m domain.Material) []span {
	longest := m.LengthMm
	if len(m.StockLengthsMm) > 0 {
		longest = slices.Max(m.StockLengthsMm)
	}
	var out []span
	for longest > 0 && s.length() > longest {
		to := s.x0 + longest
		for _, u := range w.uprights {
			if c := u.x0 + w.t/2; c > s.x0+longest/2 && c <= s.x0+longest {
				to = c
			}
		}
		out = append(out, span{s.x0, to})
		s.x0 = to
	}
	return append(out, s)
}

// addTrim puts up one piece and screws it at every stud that it crosses, through the board.
func (w *wallPlan) addTrim(p Trim, m domain.Material, s span) {
	which, outward := side(p.Face)
	y0, y1 := outwards(which, w.faceY(which), thickMm(m))
	z0 := round(w.floor.at(float64(s.x0))) + p.HeightMm
	e := w.lay(newBlock(s.x0, s.x1, y0, y1, z0, z0+m.WidthMm), xAxis, zAxis)
	if w.floor.rise != 0 {
		e.Placement.Along = w.direction(w.rise(w.floor))
	}
	e.Kind, e.Material, e.Face = domain.ElementKind(p.Kind), m.Code, p.Face
	code := w.add("TR", e)
	heights := []int{m.WidthMm / 2}
	if m.WidthMm >= twoRowsMm {
		heights = []int{m.WidthMm / 4, m.WidthMm - m.WidthMm/4}
	}
	headY := y0
	if which == 1 {
		headY = y1
	}
	boards := w.boardsOn(which)
	sets := map[string][]screwed{}
	var order []string
	for _, x := range w.trimPlaces(s, boards, float64(z0+m.WidthMm/2)) {
		for _, up := range heights {
			z := w.floor.at(float64(x)) + float64(p.HeightMm+up)
			m, ok := w.behind(float64(x), z, nil)
			if !ok {
				continue
			}
			key := m.code + " " + strconv.Itoa(up) + " " + boardAt(boards, float64(x), z)
			if sets[key] == nil {
				order = append(order, key)
			}
			sets[key] = append(sets[key], screwed{float64(x), z, m.code})
		}
	}
	for _, key := range order {
		set := sets[key]
		var through []string
		if board := boardAt(boards, set[0].x, set[0].z); board != "" {
			through = []string{board}
		}
		w.fix(joint{
			typ: p.Screw, lengthMm: 50, holds: code, through: through, into: set[0].into,
			start: domain.Vector{X: set[0].x, Y: float64(headY), Z: set[0].z}, along: heading(set), positions: runOf(set),
			undo: []domain.Direction{outward},
		})
	}
	if len(order) == 0 {
		w.faults.Addf(domain.Refused, "/params", "finds nothing of %s behind the piece from %d to %d to screw into: end it on a stud", p.Wall, s.x0, s.x1)
	}
}

// trimPlaces are the studs that a piece of trim is screwed at: every one that it crosses, a little in from its ends,
// and beside a joint of the boards rather than in it.
func (w *wallPlan) trimPlaces(s span, boards []found, z float64) []int {
	var out []int
	for _, u := range w.uprights {
		centre := min(max(u.x0+w.t/2, s.x0+10), s.x1-10)
		if centre <= u.x0 || centre >= u.x0+w.t || u.role == shortStud {
			continue
		}
		for _, x := range []int{centre, centre + w.t/4, centre - w.t/4} {
			if len(boards) == 0 || boardAt(boards, float64(x), z) != "" {
				centre = x
				break
			}
		}
		if !slices.Contains(out, centre) {
			out = append(out, centre)
		}
	}
	return out
}

// boardAt is the board of a face at a place, "" where it is bare.
func boardAt(boards []found, x, z float64) string {
	for _, b := range boards {
		if b.lo.X <= x && x <= b.hi.X && b.lo.Z <= z && z <= b.hi.Z {
			return b.element.Code
		}
	}
	return ""
}
