// Package advice says, at the moment of logging, what a good foreman would: what was just added makes the
// strip-out harder, or breaks what was agreed with the landlord, and the mend while it still costs nothing.
//
// The idea: whether it all comes out well is decided on the day it is built. [For] looks at the records about to
// be added against the register they join, and at nothing that they do not touch. It refuses nothing itself:
// advice of severity stop is refused by the caller unless the fixing or the hole says why.
//
// Looking for
//
//   - nails, glue, anchors in the wrong block: fixings.go
//   - holes in the landlord's surfaces, agreed counts and sizes: surfaces.go
//   - a fixing about to be covered on every side: hidden.go
//   - a piece that no exit lets through, and the cut that frees it: exits.go, passage.go
//   - a piece that nothing holds and nothing carries: held.go
//   - a piece in another, in the landlord's fabric or outside the unit: clash.go, beyond.go, shape.go
//   - a hole on top of another, a run logged twice: spacing.go
//   - a run away from what it holds, more fixings than a piece has room for: run.go
//   - what is amended, against what was said of it before: amended.go
//   - asbestos: asbestos.go; a surface that faces away, lies apart, or is amended under what is fixed to it: place.go
package advice

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// The kinds of advice.
const (
	DestructiveFixing = "destructive-fixing" // spoils what it held, or is cut and stays
	GluedJoint        = "glued-joint"
	ExpansionAnchor   = "expansion-anchor" // in a block that it crushes or spins in
	NeverSurface      = "never-surface"
	AskSurface        = "ask-surface"
	OverAgreed        = "over-agreed"
	TooBig            = "hole-too-big"
	TooDeep           = "hole-too-deep"
	HoleMissing       = "hole-missing" // a fixing that drills, without its holes
	HostCaution       = "host-caution"
	HiddenFixing      = "hidden-fixing"
	CannotLeave       = "cannot-leave"
	NotHeld           = "not-held"
	FacesAway         = "faces-away"    // a surface that has everything behind it
	LiesApart         = "lies-apart"    // a surface away from everything else
	SurfaceMoved      = "surface-moved" // under what is fixed to it
	Clash             = "clash"         // two pieces in one place
	NearHole          = "near-hole"     // on top of, or too near, a hole or a head that is there
	OutOfPlace        = "out-of-place"  // in the landlord's fabric, outside the unit, above or below it; a run away from what it holds
	NoRoom            = "no-room"       // more fixings than the piece that they hold has room for
)

// For is the advice on adding records to a register, sternest first, then by kind and code. The same records
// always get the same advice. The work grows with what is added and what lies near it; the rest of the register
// is only read through once.
func For(r *domain.Register, add domain.Records) []domain.Advice {
	l := newLook(r, add)
	l.fixings()
	l.surfaces()
	l.hidden()
	l.exits()
	l.held()
	l.clashes()
	l.beyond()
	l.spacing()
	l.twice()
	l.runs()
	l.places()
	return l.sorted()
}

// sorted is all that was said, sternest first, then by kind, codes and text.
func (l *look) sorted() []domain.Advice {
	slices.SortStableFunc(l.out, func(a, b domain.Advice) int {
		return cmp.Or(cmp.Compare(sternness(a.Severity), sternness(b.Severity)), cmp.Compare(a.Kind, b.Kind), slices.Compare(a.Codes, b.Codes), cmp.Compare(a.Text, b.Text))
	})
	return l.out
}

// look is one round of looking: the register, what is added, and both by code.
type look struct {
	register *domain.Register
	add      domain.Records
	old      *domain.Index
	fresh    *domain.Index
	near     *nearby            // once asked for
	harshly  map[string]bool    // pieces that nails or glue hold, once asked for
	together map[[2]string]bool // pieces joined by a fixing, once asked for: see joined
	through  map[[2]string]bool // pieces that pass through each other, once asked for
	bearing  map[[2]string]bool // pieces that bear on a surface, once asked for
	out      []domain.Advice
}

func newLook(r *domain.Register, add domain.Records) *look {
	fresh := domain.Register{Hosts: add.Hosts, Elements: add.Elements, Fixings: add.Fixings, Holes: add.Holes, Assemblies: add.Assemblies}
	return &look{register: r, add: add, old: r.Index(), fresh: fresh.Index()}
}

func (l *look) say(a domain.Advice) { l.out = append(l.out, a) }

func (l *look) element(code string) (*domain.Element, bool) {
	if i, ok := l.fresh.Elements[code]; ok {
		return &l.add.Elements[i], true
	}
	if i, ok := l.old.Elements[code]; ok {
		return &l.register.Elements[i], true
	}
	return nil, false
}

func (l *look) host(code string) (*domain.HostSurface, bool) {
	if i, ok := l.fresh.Hosts[code]; ok {
		return &l.add.Hosts[i], true
	}
	if i, ok := l.old.Hosts[code]; ok {
		return &l.register.Hosts[i], true
	}
	return nil, false
}

func (l *look) fixing(code string) (*domain.Fixing, bool) {
	if i, ok := l.fresh.Fixings[code]; ok {
		return &l.add.Fixings[i], true
	}
	if i, ok := l.old.Fixings[code]; ok {
		return &l.register.Fixings[i], true
	}
	return nil, false
}

// reasonOf is why somebody chose this fixing, "" where nobody said.
func reasonOf(f *domain.Fixing) string { return cmp.Or(f.Reason, f.Note) }

func sternness(s domain.Severity) int {
	switch s {
	case domain.Stop:
		return 0
	case domain.Warning:
		return 1
	}
	return 2
}

// groups gathers records under keys and keeps the order in which the keys first came.
type groups[K comparable, V any] struct {
	keys []K
	of   map[K]*V
}

func (g *groups[K, V]) at(k K) *V {
	if g.of == nil {
		g.of = map[K]*V{}
	}
	v, ok := g.of[k]
	if !ok {
		v = new(V)
		g.of[k] = v
		g.keys = append(g.keys, k)
	}
	return v
}
