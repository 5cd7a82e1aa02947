package advice

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// tapeMm is how far two pieces may share space and still be right: nobody measures better with a tape (common practice, no
// source).
const tapeMm = 5

// gives reports whether a kind of piece may share space with another by its nature: services pass through, insulation and
// beads give way, hangers and brackets reach round what they hold, packers are driven in.
func gives(k domain.ElementKind) bool {
	switch k {
	case domain.Cable, domain.Pipe, domain.Insulation, domain.Seal, domain.Hanger, domain.Bracket, domain.Packer:
		return true
	}
	return false
}

// clash is what stands in what, of two assemblies or loose pieces.
type clash struct {
	pieces, others []string
	depthMm        float64
	deep, in       string // where it is deepest
	same           int    // pieces that stand exactly where one of the same size stands
}

type clashKey struct{ what, with string }

// clashes finds added pieces that share space with others: a wall that was logged through another, or twice.
func (l *look) clashes() {
	n := l.around()
	if n == nil {
		return
	}
	var found groups[clashKey, clash]
	for i, e := range n.elements {
		if !n.fresh[i] || gives(e.Kind) {
			continue
		}
		a := space.Of(body(e))
		n.index.Each(a.Lo, a.Hi, func(j int) {
			other := n.elements[j]
			if j == i || n.fresh[j] && j < i || gives(other.Kind) {
				return
			}
			if depth := l.shared(e, other, &a); depth > 0 {
				key := clashKey{cmp.Or(e.Assembly, e.Code), cmp.Or(other.Assembly, other.Code)}
				if key.what == key.with {
					key = clashKey{e.Code, other.Code}
				}
				found.at(key).add(e, other, depth)
			}
		})
	}
	slices.SortFunc(found.keys, func(a, b clashKey) int { return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.with, b.with)) })
	for _, k := range found.keys {
		l.say(found.of[k].advice(k))
	}
}

// shared is how deep a piece, whose body is a, stands in another; 0 where that is as it should be.
func (l *look) shared(e, other *domain.Element, a *space.Box) float64 {
	b := space.Of(body(other))
	if !space.Overlap(a, &b, tapeMm) {
		return 0
	}
	depth := space.Depth(a, &b)
	if len(e.Outline) >= 3 {
		depth = min(depth, sharedWidth(e, b.Box))
	}
	if len(other.Outline) >= 3 {
		depth = min(depth, sharedWidth(other, a.Box))
	}
	switch {
	case depth <= tapeMm:
		return 0
	case e.Subassembly != "" && e.Subassembly == other.Subassembly:
		return 0 // made in a workshop, its joints are its own
	case l.joined()[pairOf(e.Code, other.Code)] && (depth <= letIn(e, other) || isStep(e, other) || isStep(other, e)):
		return 0
	case l.passes()[pairOf(e.Code, other.Code)]:
		return 0
	}
	return depth
}

// letIn is how deep a piece may be let into one that it is fixed to: a housing takes a third of the thickness at most (common
// practice, no source).
func letIn(a, b *domain.Element) float64 {
	return float64(max(min(a.ThicknessMm, a.WidthMm), min(b.ThicknessMm, b.WidthMm))) / 3
}

// isStep reports whether a piece is a tread and the other its string, which may be cut to the steps and have it on top.
func isStep(a, b *domain.Element) bool {
	return a.Kind == domain.StairTread && b.Kind == domain.StairString
}

func pairOf(a, b string) [2]string { return [2]string{min(a, b), max(a, b)} }

// joined are the pieces that a fixing holds together, pair by pair.
func (l *look) joined() map[[2]string]bool {
	if l.together != nil {
		return l.together
	}
	l.together = map[[2]string]bool{}
	for _, list := range [...][]domain.Fixing{l.register.Fixings, l.add.Fixings} {
		for i := range list {
			f := &list[i]
			if !f.InPlace() {
				continue
			}
			for _, code := range append([]string{f.IntoElement}, f.Through...) {
				if code != "" {
					l.together[pairOf(f.Holds, code)] = true
				}
			}
		}
	}
	return l.together
}

// passes are the pairs of which somebody, or a recipe, said that one passes through the other or is tongued into it.
func (l *look) passes() map[[2]string]bool {
	if l.through != nil {
		return l.through
	}
	l.through = map[[2]string]bool{}
	for _, list := range [...][]domain.Relation{l.register.Relations, l.add.Relations} {
		for _, rel := range list {
			if !rel.Struck && (rel.Kind == domain.RunsThrough || rel.Kind == domain.Interlocks) {
				l.through[pairOf(rel.From, rel.To)] = true
			}
		}
	}
	return l.through
}

func (c *clash) add(e, other *domain.Element, depthMm float64) {
	c.pieces, c.others = append(c.pieces, e.Code), append(c.others, other.Code)
	if depthMm > c.depthMm || depthMm == c.depthMm && cmp.Or(cmp.Compare(e.Code, c.deep), cmp.Compare(other.Code, c.in)) < 0 {
		c.depthMm, c.deep, c.in = depthMm, e.Code, other.Code
	}
	if atOnePlace(e, other) {
		c.same++
	}
}

// atOnePlace reports whether two pieces of one kind and size stand in one place.
func atOnePlace(a, b *domain.Element) bool {
	p, q := a.Box(), b.Box()
	if a.Kind != b.Kind || p.Centre.Sub(q.Centre).Length() > tapeMm {
		return false
	}
	slices.Sort(p.Half[:])
	slices.Sort(q.Half[:])
	for i := range p.Half {
		if math.Abs(p.Half[i]-q.Half[i]) > tapeMm {
			return false
		}
	}
	return true
}

func (c *clash) advice(k clashKey) domain.Advice {
	pieces, others := unique(c.pieces), unique(c.others)
	slices.Sort(pieces)
	slices.Sort(others)
	a := domain.Advice{Kind: Clash, Severity: domain.Warning, Codes: with(append([]string{k.what, k.with}, c.deep, c.in), nil, c.in)}
	one := len(pieces) == 1 && len(others) == 1
	a.Mend = "mend where one of them is; where it was cut round or let in, log it all the same and say so"
	switch {
	case one && c.same > 0:
		a.Text = fmt.Sprintf("%s stands exactly where %s does, of the same size: was it logged twice?", named(c.deep, k.what), named(c.in, k.with))
	case one:
		a.Text = fmt.Sprintf("%s stands %.0f mm deep in %s", named(c.deep, k.what), c.depthMm, named(c.in, k.with))
	default:
		a.Text = fmt.Sprintf("%s goes through %s: %s into %s, deepest %s, %.0f mm into %s", k.what, k.with, many(len(pieces), "piece", "pieces"), many(len(others), "piece", "pieces"), c.deep, c.depthMm, c.in)
		if c.same > 0 {
			a.Text += fmt.Sprintf("; %s exactly where a like one is: was it logged twice?", many(c.same, "stands", "stand"))
		}
	}
	if c.same > 0 {
		a.Mend = "where it was logged twice leave this one; else " + a.Mend
	}
	return a
}

// named is a piece with its assembly, where it has one.
func named(piece, assembly string) string {
	if assembly == piece {
		return piece
	}
	return piece + " of " + assembly
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
