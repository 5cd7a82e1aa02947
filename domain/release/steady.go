package release

import (
	"math"

	"unpick/domain"
	"unpick/domain/space"
)

// steadyFromMm is how tall an upright piece must be before it can fall and hurt (common practice, no source).
const steadyFromMm = 1500

// readSteadying finds tall pieces that only their foot holds, and what keeps their head from going over: the
// pieces held into them or resting on them in their upper half. Pieces that carry boards are a wall's frame and
// stand by their plates.
func (b *builder) readSteadying() {
	carriers := b.topHolders()
	said := map[[2]int32]bool{}
	for _, s := range b.Steadyings {
		said[[2]int32{s.By, s.Steadied}] = true
	}
	for e := range b.Register.Elements {
		n := b.PieceOf[e]
		if n < 0 || len(b.Elements(n)) > 1 || !b.heldOnlyAtFoot(int32(e)) {
			continue
		}
		for _, by := range carriers[int32(e)] {
			if by != n && !said[[2]int32{by, n}] {
				b.Steadyings = append(b.Steadyings, Steadying{by, n, -1})
			}
		}
	}
}

// topHolders lists, for each tall upright element, the nodes that take hold of its upper half.
func (b *builder) topHolders() map[int32][]int32 {
	out := map[int32][]int32{}
	add := func(element, by int32, z float64) {
		lo, hi, tall := b.upright(element)
		if tall && by >= 0 && z >= (lo+hi)/2 && !contains(out[element], by) {
			out[element] = append(out[element], by)
		}
	}
	for f := range b.Register.Fixings {
		if b.UndoOf[f] < 0 || b.into[f] < 0 || b.PieceOf[b.into[f]] < 0 {
			continue
		}
		held := &b.Register.Elements[b.holder[f]]
		if held.Kind == domain.Board { // a boarded frame, steadied by its plates
			continue
		}
		add(b.into[f], b.PieceOf[b.holder[f]], b.highestHead(int32(f), b.boxAt(b.holder[f])))
	}
	for _, bearing := range b.Bearings {
		if bearing.On >= 0 && b.PieceOf[bearing.On] >= 0 {
			add(bearing.On, b.PieceOf[bearing.Element], b.boxAt(bearing.Element).Hi.Z)
		}
	}
	for i := range b.Register.Relations {
		rel := &b.Register.Relations[i]
		from, to := b.inPlace(rel.From), b.inPlace(rel.To)
		if rel.Kind == domain.BearsOn && !rel.Struck && from >= 0 && to >= 0 && b.PieceOf[to] >= 0 {
			add(to, b.PieceOf[from], b.boxAt(from).Hi.Z)
		}
	}
	return out
}

// heldOnlyAtFoot reports whether an upright element is tall and everything that carries it is in its bottom quarter.
func (b *builder) heldOnlyAtFoot(element int32) bool {
	return !b.carriesBoards(element) && b.heldAtFoot(element)
}

// heldAtFoot is heldOnlyAtFoot whether or not boards are on it. What nothing carries is not held at its foot either: a
// head that it slides in is then no help to it.
func (b *builder) heldAtFoot(element int32) bool {
	lo, hi, tall := b.upright(element)
	if !tall {
		return false
	}
	held := false
	for _, f := range b.Fixings(b.PieceOf[element]) {
		other := b.joined(f)
		if other != nil && b.highestHead(f, other) > lo+(hi-lo)/4 {
			return false
		}
		held = held || other != nil
	}
	at, rests := b.restsAt(element)
	return rests && at <= lo+(hi-lo)/4 || held && !rests
}

// restsAt is how far up the highest thing reaches that an element bears on, by what was said and by the boxes.
func (b *builder) restsAt(element int32) (z float64, rests bool) {
	if b.rests == nil {
		b.rests = map[int32]float64{}
		for i := range b.Register.Relations {
			rel := &b.Register.Relations[i]
			if rel.Kind != domain.BearsOn || rel.Struck || b.inPlace(rel.From) < 0 {
				continue
			}
			if to := b.inPlace(rel.To); to >= 0 {
				b.restOn(b.inPlace(rel.From), b.boxAt(to).Hi.Z)
			} else if h, ok := b.Links.Hosts[rel.To]; ok {
				b.restOn(b.inPlace(rel.From), b.walls.Boxes[h].Hi.Z)
			}
		}
		for _, x := range b.Bearings { // the boxes have it rest on what is right under it
			b.restOn(x.Element, b.boxAt(x.Element).Lo.Z)
		}
	}
	z, rests = b.rests[element]
	return z, rests
}

func (b *builder) restOn(element int32, z float64) {
	if was, known := b.rests[element]; !known || z > was {
		b.rests[element] = z
	}
}

func (b *builder) upright(element int32) (lo, hi float64, tall bool) {
	e := &b.Register.Elements[element]
	if e.LengthMm < steadyFromMm {
		return 0, 0, false
	}
	up := e.Placement.Along.Unit().Z
	if up < 0.866 && up > -0.866 { // 30 degrees off plumb
		return 0, 0, false
	}
	box := b.boxAt(element)
	return box.Lo.Z, box.Hi.Z, true
}

func (b *builder) carriesBoards(element int32) bool {
	if b.boarded == nil {
		b.boarded = make([]bool, len(b.Register.Elements))
		for f, into := range b.into {
			if into >= 0 && b.holder[f] >= 0 && b.Register.Elements[b.holder[f]].Kind == domain.Board {
				b.boarded[into] = true
			}
		}
	}
	return b.boarded[element]
}

// highestHead is the height of a fixing's highest head; where nobody knows, as far up as the other thing reaches.
func (b *builder) highestHead(f int32, other *space.Box) float64 {
	run := &b.Register.Fixings[f].Run
	if len(run.PositionsMm) == 0 {
		return other.Hi.Z
	}
	z, rise := math.Inf(-1), run.Along.Unit().Z
	for _, at := range run.PositionsMm {
		z = max(z, float64(run.Start.Z)+rise*float64(at))
	}
	return z
}

func contains(list []int32, n int32) bool {
	for _, x := range list {
		if x == n {
			return true
		}
	}
	return false
}
