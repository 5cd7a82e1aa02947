package replay

import (
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// late reports whether second leaves while first is still in place. Pieces that leave at one tick leave together.
func (c *checker) late(first, second int32) bool {
	return c.leave[second] < never && c.leave[first] > c.leave[second]
}

// joinsOneGroup reports whether a fixing joins only pieces that leave together: it is undone after, or stays.
func (c *checker) joinsOneGroup(f int32) bool {
	x := &c.fixed[f]
	if x.holds == none || x.into == none || c.leave[x.holds] != c.leave[x.into] || c.groupOf[x.holds] != c.groupOf[x.into] {
		return false
	}
	for _, e := range c.throughOf(f) {
		if c.leave[e] != c.leave[x.holds] || c.groupOf[e] != c.groupOf[x.holds] {
			return false
		}
	}
	return true
}

// partedAfter reports whether a fixing inside a subassembly is undone only once that has been laid down.
func (c *checker) partedAfter(f int32) bool {
	return c.joinsOneGroup(f) && c.undone[f] >= c.leave[c.fixed[f].holds]
}

// checkHeld reports pieces that leave with a fixing of their own still in.
func (c *checker) checkHeld() {
	for i := range c.fixed {
		f, x := int32(i), &c.fixed[i]
		if !x.in || x.holds == none || !c.in[x.holds] {
			continue
		}
		if left := c.leave[x.holds]; left < never && c.undone[f] > left && !c.joinsOneGroup(f) {
			c.report(left, Held, c.code(x.holds), fmt.Sprintf("%s leaves with fixing %s still in: undo it in this step",
				c.called(x.holds), c.fixingCode(f)), c.fixingCode(f))
		}
	}
}

// checkCarried reports pieces that leave while another is held to them or rests on them. Props take a piece over,
// but not its fixings: those are undone first. Undoing the fixings alone is not enough for a piece of the
// tenant's, even where something else still holds it: nobody has said that the rest is strong enough. Only a lining may be let go
// of by one stud while the others hold it: see keepsUp.
func (c *checker) checkCarried() {
	for i := range c.arcs {
		a := &c.arcs[i]
		if a.to == none || !c.late(a.from, a.to) {
			continue
		}
		at := c.leave[a.to]
		fixed := a.fixing != none && c.undone[a.fixing] > at
		var because string
		switch {
		case c.stays[a.from] && a.fixing != none:
			because = "undo it and make it safe first"
		case a.fixing != none && c.keepsUp(a.from, at):
			because = "it stays on its other fixings, so undo this one"
		case c.propped(a.from, at):
			because = "it is propped, so undo the fixing"
		default:
			fixed = true
			because = "take that out first, or put props under it"
		}
		if fixed {
			c.report(at, Carried, c.code(a.to), fmt.Sprintf("%s leaves while it carries %s: %s", c.called(a.to), c.called(a.from), because),
				c.proof(a, a.from)...)
		}
	}
}

// flatFrom is how far up the face of a board looks from which it is a ceiling, which is taken down.
const flatFrom = 0.7

// keepsUp reports whether the plan says that a lining stays when one of the things that it is held to leaves, and more than half of
// what it is held by does (common practice, no source).
func (c *checker) keepsUp(e, at int32) bool {
	said := slices.ContainsFunc(c.steps[:c.stepOf[at]], func(s Step) bool { return slices.Contains(s.LetGo, c.code(e)) })
	if normal := c.bodies[e].box.Axes[2]; !said || c.register.Elements[e].Kind != domain.Board || math.Abs(normal.Z) > flatFrom {
		return false
	}
	all, kept := 0, 0
	for f := range c.fixed {
		x := &c.fixed[f]
		if !x.in || x.holds != e {
			continue
		}
		count := c.register.Fixings[f].Count
		all += count
		if c.undone[f] > at && (x.into == none || c.leave[x.into] > at) {
			kept += count
		}
	}
	return 2*kept > all
}

// proof is the evidence for an arc: the fixing or relation where there is one, and the other piece.
func (c *checker) proof(a *arc, other int32) []string {
	if code := c.evidence(a); code != "" {
		return []string{code, c.code(other)}
	}
	return []string{c.code(other)}
}

// checkClamped reports pieces that leave while another is still fixed through them.
func (c *checker) checkClamped() {
	for i := range c.fixed {
		f, x := int32(i), &c.fixed[i]
		if !x.in || x.holds == none || !c.in[x.holds] {
			continue
		}
		for _, through := range c.throughOf(f) {
			if !c.in[through] || !c.late(x.holds, through) {
				continue
			}
			if c.stays[x.holds] && c.undone[f] <= c.leave[through] {
				continue // the landlord's piece was let go
			}
			c.report(c.leave[through], Clamped, c.code(through), fmt.Sprintf("%s leaves while %s is fixed through it: take that out first",
				c.called(through), c.called(x.holds)), c.fixingCode(f), c.code(x.holds))
		}
	}
}

// ordering is what a relation whose From must leave before its To says when it does not.
type ordering struct {
	rule Rule
	text string // of To's name and From's
}

func orderingOf(kind domain.RelationKind) (ordering, bool) {
	switch kind {
	case domain.Hides:
		return ordering{Hidden, "%s leaves while %s covers it: take that out first"}, true
	case domain.Traps:
		return ordering{Trapped, "%s leaves while %s lies in its only way out: take that out first"}, true
	case domain.Interlocks:
		return ordering{Interlocked, "%s leaves while %s, laid after it, still locks into it: take that out first"}, true
	case domain.Seals:
		return ordering{Sealed, "%s leaves before %s is cut: cut the seal first"}, true
	case domain.RunsThrough:
		return ordering{ServiceIn, "%s leaves while %s still runs through it: take that out first"}, true
	}
	return ordering{}, false
}

// checkRelations reports relations whose order a plan does not keep. Where From is the landlord's and stays, there
// is nothing that a plan could do about it.
func (c *checker) checkRelations() {
	off := c.keptOff()
	for i := range c.related {
		x := &c.related[i]
		code := c.register.Relations[x.index].Code
		if x.onFixing {
			c.checkHiddenFixing(x, code)
			continue
		}
		if x.onHost {
			continue
		}
		if o, ok := orderingOf(x.kind); ok && c.late(x.from, x.to) && !c.stays[x.from] {
			c.report(c.leave[x.to], o.rule, c.code(x.to), fmt.Sprintf(o.text, c.called(x.to), c.called(x.from)), code, c.code(x.from))
		}
		if x.kind == domain.Serves && c.late(x.to, x.from) && !c.stays[x.to] && !c.offBefore(off, x.to, c.leave[x.from]) {
			c.report(c.leave[x.from], Unserved, c.code(x.from), fmt.Sprintf("%s leaves while the work on %s still needs it: take that out first",
				c.called(x.from), c.called(x.to)), code, c.code(x.to))
		}
	}
}

// keptOff is, by piece, the first step that has people kept off it.
func (c *checker) keptOff() map[int32]int32 {
	var out map[int32]int32
	for k := range c.steps {
		for _, code := range c.steps[k].KeepOff {
			e := c.element(code)
			if e == none {
				c.report(c.end, NoSuchCode, code, "there is no element "+code+" to keep people off")
				continue
			}
			if out == nil {
				out = map[int32]int32{}
			}
			if _, ok := out[e]; !ok {
				out[e] = int32(k)
			}
		}
	}
	return out
}

// offBefore reports whether people are kept off a piece that stays, at the latest in the step of a tick. A piece that
// leaves is worked on: nothing stands in for what serves that work.
func (c *checker) offBefore(off map[int32]int32, e, at int32) bool {
	k, ok := off[e]
	return ok && c.leave[e] == never && k <= c.stepOf[at]
}

// checkHiddenFixing reports a fixing that is undone while a piece that was logged to cover it is in place.
func (c *checker) checkHiddenFixing(x *related, code string) {
	at := c.undone[x.to]
	if at == none || at == never || c.leave[x.from] <= at || c.stays[x.from] || c.partedAfter(x.to) {
		return
	}
	c.report(at, Hidden, c.fixingCode(x.to), fmt.Sprintf("fixing %s is undone while %s covers it: take that out first",
		c.fixingCode(x.to), c.called(x.from)), code, c.code(x.from))
}
