package domain

import (
	"fmt"
	"strings"
)

// The year from which on a building is taken to have no asbestos where no survey says so: all of it was banned in Great
// Britain by the end of 1999, in the whole European Union from 2005 (Directive 1999/77/EC). Values from memory; where
// another law holds, the later year is the safe one.
const (
	asbestosFreeFromGB = 2000
	asbestosFreeFrom   = 2005
)

// AsbestosUnseen is why asbestos is possible, in words: no survey of it was seen, and the building is of an age, or of no
// known age, to have it. "" where a survey was seen, or it is young enough. Local law and a licensed survey decide.
func (f FitOut) AsbestosUnseen() string {
	free := asbestosFreeFrom
	if strings.HasPrefix(strings.ToUpper(f.Calendar.Region), "GB-") {
		free = asbestosFreeFromGB
	}
	switch {
	case strings.TrimSpace(f.Premises.Survey) != "" || f.Premises.BuiltYear >= free:
		return ""
	case f.Premises.BuiltYear == 0:
		return "no asbestos survey is on record and nobody has said when the building was built"
	}
	return fmt.Sprintf("no asbestos survey is on record and the building of %d is of an age to have it", f.Premises.BuiltYear)
}

// HoldsAsbestos reports whether a surface of this kind is asbestos itself: nothing may disturb it.
func (k HostKind) HoldsAsbestos() bool { return k.Slug == "asbestos-cement-sheet" }

// AsbestosHosts are the codes of the host surfaces that are of asbestos, in the order of the register.
func (r *Register) AsbestosHosts() []string {
	var out []string
	for _, h := range r.Hosts {
		if r.Catalogue.HostKinds[h.Kind].HoldsAsbestos() {
			out = append(out, h.Code)
		}
	}
	return out
}
