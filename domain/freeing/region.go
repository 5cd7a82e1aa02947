package freeing

import (
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// What counts as in a space and against a surface (common practice, no source).
const (
	touchMm   = 2   // less of an overlap than this is a touch
	againstMm = 15  // a lining that hangs clear of a floor is still against it
	armMm     = 300 // from what is worked on to whoever works on it
	bodyMm    = 500 // the room that they need
	stretchMm = 600 // of a pipe or a cable, reached from one place
)

// inside are the nodes of what comes out and lies in a box, ascending.
func (g *Ground) inside(box *space.Box) []int32 {
	var out []int32
	near := g.near.Again()
	near.Each(box.Lo, box.Hi, func(i int) {
		if n := g.graph.PieceOf[g.placeOf[i]]; n >= 0 && space.Overlap(box, &near.Boxes[i], touchMm) {
			out = append(out, n)
		}
	})
	slices.Sort(out)
	return slices.Compact(out)
}

// waysTo are the ways from the room to a box: for each of its sides the pieces between it and somebody who works on it
// at arm's length. A side that the landlord's fabric or one of his pieces shuts is no way. What runs through the box
// itself is not in the way.
func (g *Ground) waysTo(box *space.Box) [][]int32 {
	var ways [][]int32
	for axis := range 3 {
		for _, forward := range []bool{true, false} {
			if way, open := g.inFront(box, axis, forward); open {
				ways = append(ways, way)
			}
		}
	}
	return ways
}

func (g *Ground) inFront(box *space.Box, axis int, forward bool) (way []int32, open bool) {
	arm := space.Ahead(box.Box, axis, forward, armMm, touchMm)
	body := arm.Box
	body.Centre = body.Centre.Add(arm.Centre.Sub(box.Centre).Unit().Scale((armMm + bodyMm) / 2))
	body.Half = [3]float64{bodyMm / 2, bodyMm / 2, bodyMm / 2}
	stand := space.Of(body)
	open = true
	walls := g.walls.Again()
	walls.Each(arm.Lo, arm.Hi, func(i int) {
		open = open && (!space.Overlap(&arm, &walls.Boxes[i], touchMm) || space.Overlap(box, &walls.Boxes[i], touchMm))
	})
	look := func(room *space.Box, shuts bool) {
		near := g.near.Again()
		near.Each(room.Lo, room.Hi, func(i int) {
			if !space.Overlap(room, &near.Boxes[i], touchMm) || space.Overlap(box, &near.Boxes[i], touchMm) {
				return
			}
			if n := g.graph.PieceOf[g.placeOf[i]]; n >= 0 {
				way = append(way, n)
			} else if shuts {
				open = false
			}
		})
	}
	look(&arm, true)
	look(&stand, false)
	slices.Sort(way)
	return slices.Compact(way), open
}

// stretches cuts a long box along its length into parts that somebody reaches from one place.
func stretches(b domain.Box) []space.Box {
	n := max(1, int(math.Ceil(2*b.Half[0]/stretchMm)))
	half := b.Half[0] / float64(n)
	out := make([]space.Box, n)
	for i := range out {
		part := b
		part.Half[0] = half
		part.Centre = b.Centre.Add(b.Axes[0].Scale(half * float64(2*i+1-n)))
		out[i] = space.Of(part)
	}
	return out
}

// on are the nodes of what is fixed to a host surface, rests on it or lies against it, ascending.
func (g *Ground) on(host int32) []int32 {
	var out []int32
	add := func(element int32) {
		if element >= 0 && g.graph.PieceOf[element] >= 0 {
			out = append(out, g.graph.PieceOf[element])
		}
	}
	r, l := g.graph.Register, g.graph.Links
	for i := range r.Fixings {
		if l.IntoHost[i] == host && r.Fixings[i].InPlace() {
			add(l.Holds[i])
		}
	}
	for _, b := range g.graph.Bearings {
		if b.Host == host {
			add(b.Element)
		}
	}
	h := &r.Hosts[host]
	skin := domain.NewBox(h.Plane(), h.UMm, h.VMm, againstMm)
	skin.Half[2] = againstMm / 2
	box := space.Of(skin)
	near := g.near.Again()
	near.Each(box.Lo, box.Hi, func(i int) {
		if space.Overlap(&box, &near.Boxes[i], touchMm) {
			add(g.placeOf[i])
		}
	})
	slices.Sort(out)
	return slices.Compact(out)
}
