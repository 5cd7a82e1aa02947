package freeing

import (
	"slices"

	"unpick/domain"
	"unpick/domain/replay"
)

// hear takes the second opinion at its word: what it names as in the way of a thing happens before that, or one of the
// ways that it names. The two measure with different code, and may differ about a bit that grazes an edge; and what is let go
// onto props may be hidden by what would have been out, had it left.
func (g *Ground) hear(faults []replay.Fault) []gate {
	var out []gate
	for _, f := range faults {
		after := g.nodeOf(f.Code)
		if after < 0 {
			continue
		}
		if len(f.Ways) == 0 {
			for _, code := range f.Evidence {
				if n := g.pieceOf(code); n >= 0 && n != after {
					out = append(out, gate{after, [][]int32{{n}}})
				}
			}
			continue
		}
		x := gate{after: after}
		for _, codes := range f.Ways {
			way := make([]int32, len(codes))
			for i, code := range codes {
				way[i] = g.pieceOf(code)
			}
			if !slices.Contains(way, -1) { // -1 never comes out
				x.ways = append(x.ways, way)
			}
		}
		if len(x.ways) > 0 {
			out = append(out, x)
		}
	}
	return out
}

// pieceOf is the node of a piece that may come out, -1 for none.
func (g *Ground) pieceOf(code string) int32 {
	if e := domain.Place(g.graph.Links.Elements, code); e >= 0 {
		return g.graph.PieceOf[e]
	}
	return -1
}

// nodeOf is the node of a piece or of a fixing, -1 for none.
func (g *Ground) nodeOf(code string) int32 {
	if n := g.pieceOf(code); n >= 0 {
		return n
	}
	if f := domain.Place(g.graph.Links.Fixings, code); f >= 0 {
		return g.graph.UndoOf[f]
	}
	return -1
}
