package drawing

import (
	"math"
	"slices"

	"unpick/domain"
)

// view projects the fit-out onto paper: right and up are unit vectors, depth grows away from the eye.
type view struct{ right, up, away domain.Vector }

var planView = view{right: domain.Vector{X: 1}, up: domain.Vector{Y: 1}, away: domain.Vector{Z: -1}}

func (v view) at(p domain.Vector) paper { return paper{p.Dot(v.right), -p.Dot(v.up)} }

// outline is a piece as seen: its own outline where that faces the eye, else the silhouette of its shape.
func (v view) outline(e *domain.Element) []paper {
	p := prismOf(e)
	facing := math.Abs(p.sweep.Unit().Dot(v.away))
	if facing > 1-1e-7 || facing > .9 && len(e.Outline) >= 3 {
		return v.all(p.base)
	}
	return hull(v.all(p.corners()))
}

func (v view) all(points []domain.Vector) []paper {
	out := make([]paper, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

// depth is how far a piece's middle lies from the eye.
func (v view) depth(e *domain.Element) float64 { return e.Box().Centre.Dot(v.away) }

// hull is the convex outline of points, anticlockwise. A. M. Andrew, "Another efficient algorithm for convex hulls
// in two dimensions" (1979), doi:10.1016/0020-0190(79)90072-3.
func hull(points []paper) []paper {
	slices.SortFunc(points, func(a, b paper) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	half := func(points []paper) []paper {
		var out []paper
		for _, p := range points {
			for len(out) >= 2 && cross(out[len(out)-2], out[len(out)-1], p) <= 1e-6 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:max(len(out)-1, 0)]
	}
	lower := half(points)
	slices.Reverse(points)
	return append(lower, half(points)...)
}

func cross(a, b, c paper) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// middle is the middle of an outline's bounds, with its size.
func middle(points []paper) (at paper, width, height float64) {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo = paper{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = paper{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	return paper{(lo.X + hi.X) / 2, (lo.Y + hi.Y) / 2}, hi.X - lo.X, hi.Y - lo.Y
}

// IsFrame reports whether a piece is part of what carries: an assembly without one needs no elevation of its own.
func IsFrame(e *domain.Element) bool { return class(e) == "timber" }

// class is how a kind of piece is drawn.
func class(e *domain.Element) string {
	switch e.Kind {
	case domain.Board, domain.DeckBoard:
		return "board"
	case domain.Insulation:
		return "wool"
	case domain.DoorLeaf, domain.DoorLining:
		return "door"
	case domain.Architrave, domain.Skirting, domain.Trim, domain.ToeBoard:
		return "trim"
	case domain.Cable, domain.Pipe:
		return "service"
	case domain.Seal:
		return "seal"
	case domain.Hanger, domain.Bracket:
		return "steel"
	case domain.Packer, domain.OtherPiece:
		return "other"
	}
	return "timber"
}

// extent is how far pieces reach in a view.
func (v view) extent(pieces []*domain.Element) area {
	var s sheet
	for _, e := range pieces {
		for _, p := range v.outline(e) {
			s.reach(p)
		}
	}
	return s.bounds()
}
