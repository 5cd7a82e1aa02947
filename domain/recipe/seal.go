package recipe

import (
	"cmp"
	"fmt"
	"strings"

	"unpick/domain"
)

// Seal are the parameters of a line of sealant: along an edge of a lined face of a stud wall, or anywhere by its start
// and direction. It is cut before any piece that it seals can leave.
type Seal struct {
	Material string            `json:"material,omitempty" jsonschema_description:"empty reads as seal-acrylic-bead"`
	BeadMm   int               `json:"bead_mm,omitempty" jsonschema:"minimum=0,maximum=50" jsonschema_description:"width of the bead; 0 reads as 6, intumescent 10"`
	Host     string            `json:"host,omitempty" jsonschema_description:"the surface that it sticks to"`
	Wall     string            `json:"wall,omitempty" jsonschema_description:"the stud wall whose edge it seals, or"`
	Face     string            `json:"face,omitempty" jsonschema:"enum=a,enum=b"`
	Edge     string            `json:"edge,omitempty" jsonschema:"enum=foot,enum=head,enum=start,enum=end"`
	Pieces   []string          `json:"pieces,omitempty" jsonschema_description:"the pieces that it seals, with start, along and length_mm"`
	Start    *domain.Point     `json:"start,omitempty"`
	Along    *domain.Direction `json:"along,omitempty"`
	LengthMm int               `json:"length_mm,omitempty" jsonschema:"minimum=0,maximum=100000"`
}

// sealFixing is how a sealant holds.
func sealFixing(material string) string {
	switch {
	case strings.Contains(material, "silicone"):
		return "silicone-line"
	case strings.Contains(material, "intumescent"):
		return "intumescent-mastic"
	case strings.Contains(material, "foam"), strings.Contains(material, "brush"):
		return "tape-double"
	}
	return "acrylic-caulk"
}

func buildSeal(b *builder, p Seal) error {
	p.Material = cmp.Or(p.Material, "seal-acrylic-bead")
	if strings.Contains(p.Material, "intumescent") {
		p.BeadMm = cmp.Or(p.BeadMm, 10)
	}
	p.BeadMm = cmp.Or(p.BeadMm, 6)
	if m := b.needMaterial(p.Material, "/params/material"); m.Code != "" && m.Kind != "sealant" {
		b.faults.Addf(domain.Invalid, "/params/material", "%s is not a seal", p.Material)
	}
	if p.Host != "" {
		b.needHost(p.Host, "/params/host")
	}
	switch {
	case p.Wall != "" && (len(p.Pieces) > 0 || p.Start != nil):
		b.faults.Addf(domain.Invalid, "/params", "give either a wall with its face and edge, or pieces with start, along and length_mm")
	case p.Wall != "":
		sealEdge(b, p)
	default:
		sealPieces(b, p)
	}
	return nil
}

// sealPieces runs a bead where it is said to run.
func sealPieces(b *builder, p Seal) {
	if p.Start == nil || p.Along == nil || p.Along.IsZero() || p.LengthMm == 0 || len(p.Pieces) == 0 {
		b.faults.Addf(domain.Invalid, "/params", "needs the wall with its face and edge, or the pieces with start, along and length_mm")
		return
	}
	for i, code := range p.Pieces {
		if b.piece(code) == nil {
			b.faults.Addf(domain.Invalid, fmt.Sprintf("/params/pieces/%d", i), "there is no piece %q", code)
		}
	}
	if len(b.faults) > 0 {
		return
	}
	b.frame = frame{*p.Start, domain.Direction{X: 1}}
	across := domain.Direction{Z: 1}
	if p.Along.X == 0 && p.Along.Y == 0 {
		across = domain.Direction{X: 1}
	}
	e := domain.Element{
		LengthMm: p.LengthMm, WidthMm: p.BeadMm, ThicknessMm: p.BeadMm,
		Placement: domain.Placement{Origin: *p.Start, Along: *p.Along, Across: across},
	}
	b.runBead(p, e, domain.Vector{}, *p.Along, p.Pieces, []domain.Direction{upwards, downway, toLeft, toRight, toFaceA, toFaceB})
}

// runBead records a bead and what it seals. It holds itself to the host, or else to the first piece.
func (b *builder) runBead(p Seal, e domain.Element, start domain.Vector, along domain.Direction, pieces []string, undo []domain.Direction) {
	e.Kind, e.Material = domain.Seal, p.Material
	code := b.add("SL", e)
	j := joint{
		typ: sealFixing(p.Material), beadMm: e.LengthMm, holds: code, host: p.Host, start: start, along: along,
		positions: []int{e.LengthMm / 2}, undo: undo,
	}
	if p.Host == "" {
		j.into = pieces[0]
	}
	b.fix(j)
	for _, piece := range pieces {
		b.relate(domain.Seals, code, piece, "")
	}
}

// sealEdge runs a bead along an edge of a lined face, in front of the boards there, and seals every board that it
// passes.
func sealEdge(b *builder, p Seal) {
	if p.Face == "" || p.Edge == "" {
		b.faults.Addf(domain.Invalid, "/params", "needs the face of %s and the edge of it that is sealed", p.Wall)
		return
	}
	w := standingWall(b, p.Wall, "/params/wall")
	if w == nil {
		return
	}
	which, outward := side(p.Face)
	boards := w.boardsOn(which)
	if len(boards) == 0 {
		b.faults.Addf(domain.Refused, "/params/face", "face %s of %s has no boards to seal: line it first", p.Face, p.Wall)
		return
	}
	y0, y1 := outwards(which, w.faceY(which), p.BeadMm)
	headY := y0
	if which == 1 {
		headY = y1
	}
	for _, s := range w.edgeStretches(p) {
		pieces := w.sealedBy(boards, p, s)
		if len(pieces) == 0 {
			continue
		}
		e, start, along := w.bead(p, s, y0, y1, headY)
		w.runBead(p, e, start, along, pieces, []domain.Direction{outward})
	}
	if len(w.made.Elements) == 0 && len(b.faults) == 0 {
		b.faults.Addf(domain.Refused, "/params/edge", "finds no board within %d mm of that edge", sealReachMm)
	}
}

// sealReachMm is how far a board's edge may be from the edge that a bead closes.
const sealReachMm = 40

// edgeStretches are the parts of an edge that a bead can run along: a foot stops at doorways.
func (w *wallPlan) edgeStretches(p Seal) []span {
	switch p.Edge {
	case "start", "end":
		return []span{{0, 0}}
	case "head":
		return []span{{0, w.p.LengthMm}}
	}
	var out []span
	from := 0
	for _, d := range w.doorways {
		out = append(out, span{from, d.x0})
		from = d.x1
	}
	return append(out, span{from, w.p.LengthMm})
}

// sealedBy are the boards that come up to an edge within a stretch of it.
func (w *wallPlan) sealedBy(boards []found, p Seal, s span) []string {
	var out []string
	for _, f := range boards {
		x0, x1 := round(f.lo.X), round(f.hi.X)
		mid := (f.lo.X + f.hi.X) / 2
		near := false
		switch p.Edge {
		case "start":
			near = x0 <= sealReachMm
		case "end":
			near = x1 >= w.p.LengthMm-sealReachMm
		case "foot":
			near = f.lo.Z <= w.floor.at(mid)+sealReachMm && x1 > s.x0 && x0 < s.x1
		case "head":
			_, top := w.top.between(x0, x1)
			near = f.hi.Z >= top-sealReachMm-float64(w.movement())
		}
		if near {
			out = append(out, f.element.Code)
		}
	}
	return out
}

// bead is the box of a bead along an edge, with the place and direction of its run.
func (w *wallPlan) bead(p Seal, s span, y0, y1, headY int) (domain.Element, domain.Vector, domain.Direction) {
	n := p.BeadMm
	if p.Edge == "start" || p.Edge == "end" {
		x := 0
		if p.Edge == "end" {
			x = w.p.LengthMm - n
		}
		z0, z1 := round(w.floor.at(float64(x))), round(w.top.at(float64(x)))
		e := w.lay(newBlock(x, x+n, y0, y1, z0, z1), zAxis, xAxis)
		return e, spot(x+n/2, headY, z0), upwards
	}
	l := w.floor
	if p.Edge == "head" {
		l = w.top.over(-w.top.upright(n))
	}
	if l.rise == 0 {
		z := round(l.start)
		return w.lay(newBlock(s.x0, s.x1, y0, y1, z, z+n), xAxis, yAxis), spot(s.x0, headY, z+n/2), toRight
	}
	at := domain.Vector{X: float64(s.x0), Y: float64(y0), Z: l.at(float64(s.x0))}
	e := w.slope(at, w.rise(l), round(float64(s.length())*l.stretch()), n, n)
	return e, domain.Vector{X: float64(s.x0), Y: float64(headY), Z: l.at(float64(s.x0)) + float64(n)/2}, w.rise(l)
}
