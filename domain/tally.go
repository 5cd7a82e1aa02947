package domain

import (
	"fmt"
	"strings"
)

// Tally is how the holes in the landlord's fabric stand: each hole face that was ever drilled is in exactly one of these
// counts. Every page and document that says how many holes there are takes its figure from here.
type Tally struct {
	Owed      int `json:"to_make_good"` // ours, and no defect of the start takes them
	AtDefects int `json:"at_defects"`   // ours, in defects of the start: not charged, filled or not
	MadeGood  int `json:"made_good"`    // were owed by us, and are filled
	Kept      int `json:"kept"`         // hold what the landlord lets stay
	Inherited int `json:"inherited"`    // there before the tenant
	Apart     int `json:"-"`            // owed, and not in the part that is asked for; of a stored register none
}

// TallyHoles counts the holes of a register. Struck ones were never drilled.
func (r *Register) TallyHoles() Tally {
	var t Tally
	at := r.Index().Hosts
	for i := range r.Holes {
		h := &r.Holes[i]
		switch h.State {
		case HoleInherited:
			t.Inherited += h.Count
		case HoleKept:
			t.Kept += h.Count
		case HoleStruck:
		default:
			fresh := r.Hosts[at[h.Host]].New(h)
			t.AtDefects += h.Count - fresh
			switch h.State {
			case HoleMadeGood:
				t.MadeGood += fresh
			case HoleApart:
				t.Apart += fresh
			default:
				t.Owed += fresh
			}
		}
	}
	return t
}

// All is every hole on the maps of the surfaces.
func (t Tally) All() int { return t.Owed + t.AtDefects + t.MadeGood + t.Kept + t.Inherited + t.Apart }

// Says is the tally in words: "101 to make good, 1 in a defect of the start, 12 there before the tenant". What there is
// none of is left out.
func (t Tally) Says() string {
	var parts []string
	for _, of := range []struct {
		n    int
		what string
	}{{t.Owed, "to make good"}, {t.AtDefects, "in defects of the start"}, {t.MadeGood, "made good"}, {t.Kept, "kept"}, {t.Inherited, "there before the tenant"}, {t.Apart, "not in this part"}} {
		if of.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", of.n, of.what))
		}
	}
	return strings.Join(parts, ", ")
}

// New is how many holes of a set in h are new: ours, and not in a defect of the start. These are what a licence counts, and go
// on counting when they are made good.
func (h *HostSurface) New(hole *Hole) int {
	if !hole.Ours() {
		return 0
	}
	n := hole.Count
	for _, d := range h.AtDefects(hole) {
		if d > 0 {
			n--
		}
	}
	return n
}

// Owed is how many holes of a set in h have to be made good.
func (h *HostSurface) Owed(hole *Hole) int {
	if !hole.Charged() {
		return 0
	}
	return h.New(hole)
}
