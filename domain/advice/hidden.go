package advice

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/space"
)

// accessMm is the room that a driver and its bit need in front of a head (common practice, no source).
const accessMm = 250

// nearby holds the pieces in place that lie near the additions, old and new.
type nearby struct {
	index    *space.Index
	elements []*domain.Element
	fresh    []bool
	lo, hi   domain.Vector // the room in which an addition can cover or carry anything
}

// around files the additions and what stands near them; nil where nothing with a place is added.
func (l *look) around() *nearby {
	if l.near != nil {
		return l.near
	}
	n := &nearby{}
	var corners []domain.Vector
	for i := range l.add.Elements {
		if l.add.Elements[i].IsInPlace() {
			lo, hi := l.add.Elements[i].Box().Bounds()
			corners = append(corners, lo, hi)
		}
	}
	for i := range l.add.Fixings {
		corners = append(corners, l.add.Fixings[i].Run.Points()...)
	}
	if len(corners) == 0 {
		return nil
	}
	n.lo, n.hi = space.Around(accessMm, corners...)
	var boxes []domain.Box
	file := func(e *domain.Element, fresh bool) {
		box := e.Box()
		lo, hi := box.Bounds()
		if e.IsInPlace() && meets(lo, hi, n.lo, n.hi) {
			boxes = append(boxes, box)
			n.elements, n.fresh = append(n.elements, e), append(n.fresh, fresh)
		}
	}
	for i := range l.register.Elements {
		file(&l.register.Elements[i], false)
	}
	for i := range l.add.Elements {
		file(&l.add.Elements[i], true)
	}
	n.index = space.New(boxes)
	l.near = n
	return n
}

func meets(lo, hi, otherLo, otherHi domain.Vector) bool {
	return lo.X <= otherHi.X && hi.X >= otherLo.X && lo.Y <= otherHi.Y && hi.Y >= otherLo.Y && lo.Z <= otherHi.Z && hi.Z >= otherLo.Z
}

// burial is a set of fixings that get one piece of advice between them: what they hold belongs to one assembly
// and what buries them to another.
type burial struct {
	fixings, covers []string
	pieces          int
	harsh           []string // covers that do not come off whole, or at all
}

type burialKey struct {
	under, over string
	harsh       bool
}

// hidden finds fixings that the additions leave without an open side. A wall's own lining over its own frame is
// how walls are built and not worth a word, unless the lining does not come off whole.
func (l *look) hidden() {
	n := l.around()
	if n == nil {
		return
	}
	denied := l.denied()
	var found groups[burialKey, burial]
	for i := range l.register.Fixings {
		f := &l.register.Fixings[i]
		if points := runEnds(f.Run); points != nil {
			if lo, hi := space.Around(accessMm, points...); meets(lo, hi, n.lo, n.hi) {
				l.bury(&found, f, false, denied)
			}
		}
	}
	for i := range l.add.Fixings {
		l.bury(&found, &l.add.Fixings[i], true, denied)
	}
	for _, k := range found.keys {
		l.say(burialAdvice(k, *found.of[k]))
	}
}

// runEnds are the first and last place of a run, nil where nobody knows them.
func runEnds(r domain.Run) []domain.Vector {
	if len(r.PositionsMm) == 0 {
		return nil
	}
	ends := domain.Run{Start: r.Start, Along: r.Along, PositionsMm: []int{slices.Min(r.PositionsMm), slices.Max(r.PositionsMm)}}
	return ends.Points()
}

// denied lists what somebody looked at and struck: this piece does not hide that fixing.
func (l *look) denied() map[[2]string]bool {
	out := map[[2]string]bool{}
	for _, list := range [...][]domain.Relation{l.register.Relations, l.add.Relations} {
		for _, rel := range list {
			if rel.Struck && rel.Kind == domain.Hides {
				out[[2]string{rel.From, rel.To}] = true
			}
		}
	}
	return out
}

// bury files one fixing if every side from which it can be undone is covered, and was not before.
func (l *look) bury(found *groups[burialKey, burial], f *domain.Fixing, fresh bool, denied map[[2]string]bool) {
	holder, ok := l.element(f.Holds)
	heads := f.Run.Points()
	if !ok || !f.InPlace() || !holder.ComesOut() || heads == nil || len(f.Undo) == 0 {
		return
	}
	if into, ok := l.element(f.IntoElement); ok && holder.Subassembly != "" && holder.Subassembly == into.Subassembly {
		return // what holds a set together is undone once that is down
	}
	var best []int
	newly := fresh
	for _, side := range f.Undo {
		covers := l.covers(f, holder, heads, side.Unit(), denied)
		if len(covers) == 0 {
			return
		}
		newly = newly || !slices.ContainsFunc(covers, func(i int) bool { return !l.near.fresh[i] })
		if best == nil || l.weight(covers) < l.weight(best) {
			best = covers
		}
	}
	if !newly {
		return
	}
	var codes, harsh []string
	own := true
	for _, i := range best {
		e := l.near.elements[i]
		codes = append(codes, e.Code)
		own = own && e.Assembly != "" && e.Assembly == holder.Assembly
		if l.isHarsh(e) {
			harsh = append(harsh, e.Code)
		}
	}
	if own && harsh == nil {
		return
	}
	over := l.near.elements[best[0]]
	set := found.at(burialKey{cmp.Or(holder.Assembly, holder.Code), cmp.Or(over.Assembly, over.Code), harsh != nil})
	set.fixings, set.pieces = append(set.fixings, f.Code), set.pieces+f.Count
	set.covers, set.harsh = append(set.covers, codes...), append(set.harsh, harsh...)
}

// covers are the pieces in front of any head along one direction, ascending by place.
func (l *look) covers(f *domain.Fixing, holder *domain.Element, heads []domain.Vector, side domain.Vector, denied map[[2]string]bool) []int {
	var out []int
	lo, hi := space.Around(1, heads...)
	far := side.Scale(accessMm)
	lo, hi = space.Around(0, lo, hi, lo.Add(far), hi.Add(far))
	l.near.index.Each(lo, hi, func(i int) {
		e := l.near.elements[i]
		switch {
		case e.Code == f.Holds, e.Code == f.IntoElement, slices.Contains(f.Through, e.Code):
			return
		case holder.Subassembly != "" && e.Subassembly == holder.Subassembly, denied[[2]string{e.Code, f.Code}]:
			return
		}
		for _, head := range heads {
			if space.LineHits(&l.near.index.Boxes[i], head, side, accessMm, 1) {
				out = append(out, i)
				return
			}
		}
	})
	slices.Sort(out)
	return out
}

// weight orders ways to a fixing: one that ruins nothing before one that does, then the fewest pieces.
func (l *look) weight(covers []int) int {
	w := len(covers)
	for _, i := range covers {
		if l.isHarsh(l.near.elements[i]) {
			w += 1000000
		}
	}
	return w
}

// isHarsh reports whether a cover does not come off whole: it is the landlord's, or nails or glue hold it.
func (l *look) isHarsh(e *domain.Element) bool {
	if l.harshly == nil {
		l.harshly = map[string]bool{}
		for _, list := range [...][]domain.Fixing{l.register.Fixings, l.add.Fixings} {
			for i := range list {
				t := l.register.Catalogue.FixingTypes[list[i].Type]
				if list[i].InPlace() && t.Family != "seal" && (t.Release == domain.Destructive || t.Family == "adhesive") {
					l.harshly[list[i].Holds] = true
				}
			}
		}
	}
	return e.Owner == domain.LandlordOwns || l.harshly[e.Code]
}

func burialAdvice(k burialKey, set burial) domain.Advice {
	covers, harsh := unique(set.covers), unique(set.harsh)
	a := domain.Advice{Kind: HiddenFixing, Severity: domain.Note, Codes: append(unique(set.fixings), covers...)}
	a.Text = fmt.Sprintf("%d fixings of %s are covered on every side by %s", set.pieces, k.under, listed(covers))
	if set.pieces == 1 {
		a.Text = fmt.Sprintf("1 fixing of %s is covered on every side by %s", k.under, listed(covers))
	}
	a.Mend = fmt.Sprintf("leave them so if %s comes out first in any case; else turn the heads to an open side", k.over)
	if k.harsh {
		a.Severity = domain.Warning
		which := "and " + listed(harsh)
		if slices.Equal(harsh, covers) {
			which = "which"
		}
		a.Text += fmt.Sprintf(", %s will not come off whole", which)
		a.Mend = "hold the cover with bare screws, or leave an opening at the heads"
	}
	return a
}

func listed(codes []string) string {
	const most = 6
	if len(codes) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(codes[:most], ", "), len(codes)-most)
	}
	return strings.Join(codes, ", ")
}

// unique keeps the first of each, in order.
func unique(codes []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, c := range codes {
		if !seen[c] {
			seen[c] = true
			out = append(out, c)
		}
	}
	return out
}
