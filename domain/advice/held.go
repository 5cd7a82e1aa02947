package advice

import (
	"cmp"
	"fmt"

	"unpick/domain"
	"unpick/domain/space"
)

// touchMm is how far apart two faces may be and still touch; filmMm how much two boxes may share and still only
// touch.
const (
	touchMm = 3
	filmMm  = 2
)

// held warns of added pieces that nothing holds and nothing carries: no fixing, no logged bearing, and nothing
// right under them. Whether what carries them reaches a host in its turn is the release graph's question.
func (l *look) held() {
	n := l.around()
	if n == nil {
		return
	}
	said := map[string]bool{}
	for _, list := range [...][]domain.Fixing{l.register.Fixings, l.add.Fixings} {
		for i := range list {
			said[list[i].Holds] = said[list[i].Holds] || list[i].InPlace()
		}
	}
	for _, list := range [...][]domain.Relation{l.register.Relations, l.add.Relations} {
		for _, rel := range list {
			said[rel.From] = said[rel.From] || !rel.Struck && (rel.Kind == domain.BearsOn || rel.Kind == domain.Seals)
		}
	}
	together := map[string]bool{}
	for i, e := range n.elements {
		if e.Subassembly != "" && (said[e.Code] || l.rests(i)) {
			together[e.Subassembly] = true
		}
	}
	var loose groups[string, []string]
	for i, e := range n.elements {
		if n.fresh[i] && e.ComesOut() && !said[e.Code] && !together[e.Subassembly] && !l.rests(i) {
			codes := loose.at(cmp.Or(e.Assembly, e.Code))
			*codes = append(*codes, e.Code)
		}
	}
	for _, name := range loose.keys {
		codes := *loose.of[name]
		l.say(domain.Advice{
			Kind: NotHeld, Severity: domain.Warning, Codes: codes,
			Text: fmt.Sprintf("nothing holds or carries %s", listed(codes)),
			Mend: "log the fixing that holds it, or what it bears on",
		})
	}
}

// rests reports whether a piece stands on a surface that faces up or on a piece lower than itself.
func (l *look) rests(i int) bool {
	box := l.near.elements[i].Box()
	for _, list := range [...][]domain.HostSurface{l.register.Hosts, l.add.Hosts} {
		for h := range list {
			if standsOn(&list[h], box) {
				return true
			}
		}
	}
	lowered := box
	lowered.Centre.Z -= touchMm + filmMm
	sunk, level := space.Of(lowered), space.Of(box)
	found := false
	l.near.index.Each(sunk.Lo, sunk.Hi, func(j int) {
		under := &l.near.index.Boxes[j]
		if j != i && under.Centre.Z < box.Centre.Z && space.Overlap(&sunk, under, filmMm) && !space.Overlap(&level, under, filmMm) {
			found = true
		}
	})
	return found
}

func standsOn(h *domain.HostSurface, box domain.Box) bool {
	if h.Normal().Z < 0.7 {
		return false
	}
	for _, c := range box.Corners() {
		u, v, out := h.Local(c)
		if out <= touchMm && out >= -touchMm && u >= -touchMm && v >= -touchMm && u <= float64(h.UMm)+touchMm && v <= float64(h.VMm)+touchMm {
			return true
		}
	}
	return false
}
