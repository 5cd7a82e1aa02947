package move

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/salvage"
)

// matcher holds two registers against one another.
type matcher struct {
	from, to              *domain.Register
	saved                 map[string]*salvage.Piece
	holesHere, holesThere map[string]string
}

// placeMm is how far a piece may be from its place by its neighbours: places are whole millimetres, and slopes are rounded.
const placeMm = 3

// cell is a piece of one shape in a small cube of space.
type cell struct {
	words   string
	x, y, z int
}

func cellOf(words string, c domain.Vector) cell {
	at := func(v float64) int { return int(math.Floor(v / (4 * placeMm))) }
	return cell{words, at(c.X), at(c.Y), at(c.Z)}
}

// motion carries one upright thing onto another: turned about the vertical, then moved.
type motion struct {
	turn [3]domain.Vector // what the axes become
	move domain.Vector
}

func (m motion) direction(v domain.Vector) domain.Vector {
	return m.turn[0].Scale(v.X).Add(m.turn[1].Scale(v.Y)).Add(m.turn[2].Scale(v.Z))
}

func (m motion) point(v domain.Vector) domain.Vector { return m.direction(v).Add(m.move) }

// carryingOver is the motion that carries the box of one piece onto another's of the same size; not ok where it would not stay upright.
func carryingOver(a, b domain.Box) (m motion, ok bool) {
	for i, axis := range [3]domain.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		for k := range 3 {
			m.turn[i] = m.turn[i].Add(b.Axes[k].Scale(a.Axes[k].Dot(axis)))
		}
	}
	m.move = b.Centre.Sub(m.direction(a.Centre))
	return m, m.turn[2].Z > 0.9999
}

// stands finds the motion that lays every piece of a frame on one of the other's, and answers which piece goes where, cover
// included where it lies alike too. Nil where there is none, or a piece of the frame is not fit for its place.
func (m *matcher) stands(mine, theirs parts) map[int]int {
	if len(mine.frame) != len(theirs.frame) || len(mine.frame) == 0 {
		return nil
	}
	there := map[cell][]int{}
	for _, i := range slices.Concat(theirs.frame, theirs.cover) {
		e := &m.to.Elements[i]
		c := cellOf(pieceWords(e), e.Box().Centre)
		there[c] = append(there[c], i)
	}
	first, others := m.rarest(mine.frame, theirs.frame)
	for _, i := range others {
		over, ok := carryingOver(m.from.Elements[first].Box(), m.to.Elements[i].Box())
		if !ok {
			continue
		}
		taken := map[int]bool{}
		pairs := m.lay(mine.frame, over, there, taken)
		if len(pairs) < len(mine.frame) {
			continue
		}
		for i, k := range m.lay(mine.cover, over, there, taken) {
			pairs[i] = k
		}
		return pairs
	}
	return nil
}

// rarest is a piece of the one frame of whose shape there are fewest, and those of the other of that shape.
func (m *matcher) rarest(mine, theirs []int) (first int, others []int) {
	by := map[string][]int{}
	for _, i := range theirs {
		words := pieceWords(&m.to.Elements[i])
		by[words] = append(by[words], i)
	}
	first = slices.MinFunc(mine, func(a, b int) int {
		x, y := &m.from.Elements[a], &m.from.Elements[b]
		return cmp.Or(cmp.Compare(len(by[pieceWords(x)]), len(by[pieceWords(y)])), cmp.Compare(x.Code, y.Code))
	})
	others = by[pieceWords(&m.from.Elements[first])]
	slices.SortFunc(others, func(a, b int) int { return cmp.Compare(m.to.Elements[a].Code, m.to.Elements[b].Code) })
	return first, others[:min(len(others), mostTried)]
}

// mostTried is how many ways of laying one frame on another are tried.
const mostTried = 32

// lay finds for each row the piece of the other register that lies where the motion carries it and for which it is fit.
func (m *matcher) lay(rows []int, over motion, there map[cell][]int, taken map[int]bool) map[int]int {
	out := map[int]int{}
	for _, i := range rows {
		e := &m.from.Elements[i]
		box := e.Box()
		at := over.point(box.Centre)
		k := m.find(pieceWords(e), at, [2]domain.Vector{over.direction(box.Axes[0]), over.direction(box.Axes[1])}, there, taken)
		if k < 0 || !m.fit(e, &m.to.Elements[k]) {
			continue
		}
		taken[k] = true
		out[i] = k
	}
	return out
}

func (m *matcher) find(words string, at domain.Vector, axes [2]domain.Vector, there map[cell][]int, taken map[int]bool) int {
	middle := cellOf(words, at)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for dz := -1; dz <= 1; dz++ {
				for _, k := range there[cell{words, middle.x + dx, middle.y + dy, middle.z + dz}] {
					box := m.to.Elements[k].Box()
					if !taken[k] && box.Centre.Sub(at).Length() <= placeMm && box.Axes[0].Dot(axes[0]) > 0.999 && box.Axes[1].Dot(axes[1]) > 0.999 {
						return k
					}
				}
			}
		}
	}
	return -1
}

// fit reports whether a saved piece may go back to its place: one that is downgraded for its holes only where the same fixings
// go into it again.
func (m *matcher) fit(e, other *domain.Element) bool {
	q := m.saved[e.Code]
	return q != nil && q.ServesInPlace() && (q.Condition() == salvage.Whole || m.holesHere[e.Code] == m.holesThere[other.Code])
}
