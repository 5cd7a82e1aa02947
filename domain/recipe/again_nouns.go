package recipe

import (
	"bytes"
	"encoding/json"
	"fmt"

	"unpick/domain"
)

// nounAgain is what following a description has to know of one noun.
type nounAgain[T any] struct {
	called  string
	in      func(*domain.Register) []T
	of      func(*domain.Records) *[]T
	code    func(*T) string
	version func(*T) *int
	struck  func(*T) bool
	strike  func(t *T, reason string)
	// keep lays over to what people write and no recipe does, where it differs between is and was; state is what
	// becomes of a thing, which is kept too but counts as amended by hand.
	keep  func(to *T, is, was *T)
	state func(to *T, is *T)
	stays func(*T) bool // whatever the description says; nil where nothing does
}

var (
	elementAgain = nounAgain[domain.Element]{
		called: "element", in: func(r *domain.Register) []domain.Element { return r.Elements }, of: func(r *domain.Records) *[]domain.Element { return &r.Elements },
		code: func(e *domain.Element) string { return e.Code }, version: func(e *domain.Element) *int { return &e.Version },
		struck: func(e *domain.Element) bool { return e.State == domain.Struck },
		strike: func(e *domain.Element, reason string) { e.State, e.Reason = domain.Struck, reason },
		keep: func(to, is, was *domain.Element) {
			kept(&to.Note, is.Note, was.Note)
			kept(&to.Known, is.Known, was.Known)
			kept(&to.Finish, is.Finish, was.Finish)
		},
		state: func(to, is *domain.Element) { to.State = is.State },
	}
	fixingAgain = nounAgain[domain.Fixing]{
		called: "fixing", in: func(r *domain.Register) []domain.Fixing { return r.Fixings }, of: func(r *domain.Records) *[]domain.Fixing { return &r.Fixings },
		code: func(f *domain.Fixing) string { return f.Code }, version: func(f *domain.Fixing) *int { return &f.Version },
		struck: func(f *domain.Fixing) bool { return f.State == domain.FixingStruck },
		strike: func(f *domain.Fixing, reason string) { f.State, f.Reason = domain.FixingStruck, reason },
		keep: func(to, is, was *domain.Fixing) {
			kept(&to.Note, is.Note, was.Note)
			kept(&to.Known, is.Known, was.Known)
			kept(&to.Reason, is.Reason, was.Reason)
		},
		state: func(to, is *domain.Fixing) { to.State = is.State },
	}
	holeAgain = nounAgain[domain.Hole]{
		called: "hole", in: func(r *domain.Register) []domain.Hole { return r.Holes }, of: func(r *domain.Records) *[]domain.Hole { return &r.Holes },
		code: func(h *domain.Hole) string { return h.Code }, version: func(h *domain.Hole) *int { return &h.Version },
		struck: func(h *domain.Hole) bool { return h.State == domain.HoleStruck || h.State == domain.HoleAbandoned },
		strike: func(h *domain.Hole, reason string) { h.State, h.Reason = domain.HoleStruck, reason },
		keep: func(to, is, was *domain.Hole) {
			kept(&to.Note, is.Note, was.Note)
			kept(&to.Known, is.Known, was.Known)
			kept(&to.Residue, is.Residue, was.Residue)
			to.Numbers = is.Numbers // storing gives each hole the one that its place had
		},
		state: func(to, is *domain.Hole) { to.State = is.State },
		stays: func(h *domain.Hole) bool { return h.State != domain.HoleInUse }, // somebody saw it empty or filled it
	}
	relationAgain = nounAgain[domain.Relation]{
		called: "relation", in: func(r *domain.Register) []domain.Relation { return r.Relations }, of: func(r *domain.Records) *[]domain.Relation { return &r.Relations },
		code: func(rel *domain.Relation) string { return rel.Code }, version: func(rel *domain.Relation) *int { return &rel.Version },
		struck: func(rel *domain.Relation) bool { return rel.Struck },
		strike: func(rel *domain.Relation, reason string) { rel.Struck, rel.Reason = true, reason },
		keep:   func(to, is, was *domain.Relation) { kept(&to.Note, is.Note, was.Note) },
		state:  func(*domain.Relation, *domain.Relation) {},
	}
)

func kept[V comparable](to *V, is, was V) {
	if is != was {
		*to = is
	}
}

// followNoun strikes, adds and amends the records of one noun.
func followNoun[T any](g *again, n nounAgain[T]) {
	there, base := byCode(n.in(g.r), n.code), byCode(*n.of(&g.base), n.code)
	wanted := map[string]bool{}
	made := *n.of(&g.made)
	for i := range made {
		m := made[i]
		code := n.code(&m)
		wanted[code] = true
		is, was := there[code], base[code]
		if is == nil {
			*n.of(&g.out.Add) = append(*n.of(&g.out.Add), m)
			continue
		}
		hand := *n.version(is) > 1 && !n.like(*was, is, was)
		if hand && !g.Overwrite {
			g.refuse(n.called, code)
		}
		n.keep(&m, is, was)
		n.state(&m, is)
		*n.version(&m) = *n.version(is)
		if !sameJSON(m, *is) {
			*n.of(&g.out.Put) = append(*n.of(&g.out.Put), m)
			g.note(code, is, &m)
		}
	}
	for i := range *n.of(&g.base) {
		was := &(*n.of(&g.base))[i]
		code := n.code(was)
		is := there[code]
		switch {
		case is == nil || n.struck(is):
			if !g.Overwrite {
				g.faults.Addf(domain.Refused, "", "%s %s was struck out by hand since: describe %s without it, or say that it is to be overwritten", n.called, code, g.Now.Code)
			}
		case !wanted[code]:
			if *n.version(is) > 1 && !n.like(*was, is, was) && !g.Overwrite {
				g.refuse(n.called, code)
			}
			if n.stays != nil && n.stays(is) {
				continue
			}
			gone := *is
			n.strike(&gone, g.Reason)
			*n.of(&g.out.Put) = append(*n.of(&g.out.Put), gone)
			g.out.Struck = append(g.out.Struck, code)
			if g.gone == nil {
				g.gone = map[string]bool{}
			}
			g.gone[code] = true
		}
	}
}

func (g *again) refuse(noun, code string) {
	g.faults.Addf(domain.Refused, "", "%s %s was amended by hand since %s was described: amend it back, or say that it is to be overwritten", noun, code, g.Now.Code)
}

// note remembers a piece that comes to lie elsewhere.
func (g *again) note(code string, is, becomes any) {
	old, ok := is.(*domain.Element)
	if !ok {
		return
	}
	now := becomes.(*domain.Element)
	if old.Placement != now.Placement || old.LengthMm != now.LengthMm || old.WidthMm != now.WidthMm || old.ThicknessMm != now.ThicknessMm {
		if g.moved == nil {
			g.moved = map[string]bool{}
		}
		g.moved[code] = true
	}
}

// like reports whether a record is as the recipe made it, but for what people write into it.
func (n nounAgain[T]) like(made T, is, was *T) bool {
	n.keep(&made, is, was)
	*n.version(&made) = *n.version(is)
	return sameJSON(made, *is)
}

func byCode[T any](records []T, code func(*T) string) map[string]*T {
	out := make(map[string]*T, len(records))
	for i := range records {
		out[code(&records[i])] = &records[i]
	}
	return out
}

// sameJSON compares two records as they are written, where a list of nothing and no list are one.
func sameJSON[T any](a, b T) bool {
	x, errA := json.Marshal(a)
	y, errB := json.Marshal(b)
	if errA != nil || errB != nil {
		panic(fmt.Sprintf("a record cannot be written: %v, %v", errA, errB)) // plain values always can
	}
	return bytes.Equal(x, y)
}
