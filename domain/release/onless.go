package release

import (
	"math"
	"slices"

	"unpick/domain"
)

// OnLess is a piece in place that spans from carrier to carrier and has lost one or more of them.
type OnLess struct {
	Piece  int32
	OneEnd bool     // what is left carries it at one end alone; else it is held at both, and loaded over a longer span
	Out    []string // what carried it there: pieces that are out, or fixings that are undone
}

// nearMm is how near another carrier has to be to do the work of one that is out: the stud beside it, the post put in anew.
// A piece hangs on one end where more than overhangShare of its length is past the last carrier, and was not when it was
// built. (Both common practice, no source.)
const (
	nearMm        = 300
	overhangShare = 0.25
)

// onLess lists the pieces that have lost one of several carriers. One that hangs on one end then is listed whatever it
// carries: it tips, or turns on its fixings. One whose two ends are still carried is listed while something stands or hangs on
// it, or people walk on it: nobody has said that it spans so far under a load. Bare, it carries itself.
func (g *Graph) onLess(was *Graph, lost []Lost) []OnLess {
	l := &lessened{g: g, was: was, rests: g.restsOn(), wasRests: was.restsOn(), carried: g.carriedBy(), unsound: make([]bool, len(g.Nodes)), said: map[int32]OnLess{}}
	for _, x := range lost {
		l.unsound[x.Piece] = true
	}
	l.lost = slices.Clone(l.unsound)
	for n := range int32(g.Pieces()) {
		l.judge(n)
	}
	for _, x := range lost {
		l.spread(x.Piece)
	}
	var out []OnLess
	for n := range int32(g.Pieces()) {
		if x, short := l.said[n]; short {
			out = append(out, x)
		}
	}
	return out
}

// lessened is the walk that finds them. What rests on a piece that is lost, or that hangs on one end, is not carried there.
type lessened struct {
	g, was          *Graph
	rests, wasRests []lists // what each piece bears on: see restsOn
	carried         lists
	lost            []bool // nothing holds it
	unsound         []bool // lost, or on one end
	said            map[int32]OnLess
}

// spans is the element of a piece that reaches from carrier to carrier: itself, or the longest string or joist of what leaves
// together; -1 where it is of another kind, or stands upright.
func (g *Graph) spans(n int32) int32 {
	all, out := g.Elements(n), int32(-1)
	for _, i := range all {
		e := &g.Register.Elements[i]
		if up := e.Placement.Along.Unit().Z; math.Abs(up) > uprightFrom {
			continue
		}
		switch e.Kind {
		case domain.Beam, domain.Joist, domain.Trimmer, domain.WallPlate, domain.StairString:
		case domain.DeckBoard, domain.OpeningHead:
			if len(all) > 1 {
				continue
			}
		default:
			continue
		}
		if out < 0 || e.LengthMm > g.Register.Elements[out].LengthMm {
			out = i
		}
	}
	return out
}

// uprightFrom is the rise from which a piece stands rather than spans: 60 degrees off level.
const uprightFrom = 0.866

// judge settles one piece, and goes on to what it carries where it is no sound carrier any more.
func (l *lessened) judge(n int32) {
	span := l.g.spans(n)
	if span < 0 || l.unsound[n] {
		return
	}
	var x OnLess
	for _, on := range linesOf(&l.g.Register.Elements[span]) {
		built := l.was.carriers(l.was.PieceOf[span], on, l.wasRests)
		still, out := l.left(n, built)
		still = append(still, l.g.carriers(n, on, l.rests)...)
		sound := slices.DeleteFunc(slices.Clone(still), func(c carrier) bool {
			return c.element >= 0 && l.g.PieceOf[c.element] >= 0 && l.unsound[l.g.PieceOf[c.element]]
		})
		switch missed := missing(out, still); {
		case on.oneEnd(built, sound):
			x = OnLess{n, true, l.names(out)}
		case len(missed) > 0 && l.loaded(n) && !x.OneEnd:
			x = OnLess{n, false, l.names(missed)}
		}
	}
	delete(l.said, n)
	if len(x.Out) > 0 {
		l.said[n] = x
	}
	if x.OneEnd {
		l.unsound[n] = true
		l.spread(n)
	}
}

// spread judges again what a piece carries that is no sound carrier any more. What spans nothing, a hanger or a post, is as
// sound as the best of what carries it.
func (l *lessened) spread(n int32) {
	for _, arc := range l.carried.of(n) {
		up := l.g.Arcs[arc].Before
		if l.unsound[up] {
			continue
		}
		if l.g.spans(up) >= 0 {
			l.judge(up)
			continue
		}
		line := lineOf(&l.g.Register.Elements[l.g.Elements(up)[0]])
		if !slices.ContainsFunc(l.g.carriers(up, line, l.rests), func(c carrier) bool {
			return c.element < 0 || l.g.PieceOf[c.element] < 0 || !l.unsound[l.g.PieceOf[c.element]]
		}) {
			l.unsound[up] = true
			l.spread(up)
		}
	}
}

// left parts what carried a piece as built into what still does and what is out. What is unscrewed and rests where it was is
// still carried.
func (l *lessened) left(n int32, built []carrier) (still, out []carrier) {
	r := l.g.Register
	for _, c := range built {
		switch {
		case c.element >= 0 && !r.Elements[c.element].IsInPlace(), len(l.behind(c)) > 0:
			out = append(out, c)
		case c.fixing >= 0 && !r.Fixings[c.fixing].InPlace() && !l.lies(n, c):
			out = append(out, c)
		default:
			still = append(still, c)
		}
	}
	return still, out
}

// IsLink reports whether a piece of a kind only hands on what it carries: where nothing holds it, what it carries is what falls.
func IsLink(kind domain.ElementKind) bool {
	return kind == domain.Hanger || kind == domain.Bracket || kind == domain.Packer || kind == domain.Post
}

// behind is what carried a link that nothing holds any more, and is out.
func (l *lessened) behind(c carrier) []string {
	if c.element < 0 || l.g.PieceOf[c.element] < 0 || !l.lost[l.g.PieceOf[c.element]] || !IsLink(l.g.Register.Elements[c.element].Kind) {
		return nil
	}
	_, out := l.left(l.g.PieceOf[c.element], l.was.carriers(l.was.PieceOf[c.element], lineOf(&l.g.Register.Elements[c.element]), l.wasRests))
	return l.names(out)
}

// lies reports whether a piece rests on a carrier by itself.
func (l *lessened) lies(n int32, c carrier) bool {
	if c.element < 0 {
		return c.host >= 0 && l.g.Register.Hosts[c.host].Normal().Z > 0.7
	}
	return slices.ContainsFunc(l.g.Elements(n), func(e int32) bool {
		return lieson(&l.g.Register.Elements[e], &l.g.Register.Elements[c.element])
	})
}

// missing are carriers that are out and that no other near them does the work of. A piece fixed along another of its kind
// shares its load with that, and is not carried by it instead.
func missing(out, now []carrier) []carrier {
	return slices.DeleteFunc(slices.Clone(out), func(c carrier) bool {
		return c.beside || slices.ContainsFunc(now, func(d carrier) bool { return !d.beside && c.lo-nearMm <= d.hi && d.lo <= c.hi+nearMm })
	})
}

// names are the pieces that are out, or the fixings that are undone, in order.
func (l *lessened) names(out []carrier) []string {
	var codes []string
	for _, c := range out {
		switch behind := l.behind(c); {
		case c.element >= 0 && !l.g.Register.Elements[c.element].IsInPlace():
			codes = append(codes, l.g.Register.Elements[c.element].Code)
		case len(behind) > 0:
			codes = append(codes, behind...)
		case c.fixing >= 0:
			codes = append(codes, l.g.Register.Fixings[c.fixing].Code)
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// loaded reports whether a piece carries more than itself: people, or any piece that is more than a connector, a seal or a
// service.
func (l *lessened) loaded(n int32) bool {
	if l.g.Register.Elements[l.g.Elements(n)[0]].Kind == domain.DeckBoard {
		return true
	}
	return slices.ContainsFunc(l.carried.of(n), func(arc int32) bool { return l.weighs(l.g.Arcs[arc].Before) })
}

// weighs reports whether a piece is a load on what carries it: a hanger is one by what hangs in it.
func (l *lessened) weighs(n int32) bool {
	switch kind := l.g.Register.Elements[l.g.Elements(n)[0]].Kind; kind {
	case domain.Seal, domain.Insulation, domain.Trim, domain.Architrave, domain.Skirting, domain.Packer:
		return false
	case domain.Hanger, domain.Bracket:
		return slices.ContainsFunc(l.carried.of(n), func(arc int32) bool {
			up := l.g.Arcs[arc].Before
			kind := l.g.Register.Elements[l.g.Elements(up)[0]].Kind
			return !IsLink(kind) && l.weighs(up)
		})
	default:
		return !kind.IsService()
	}
}
