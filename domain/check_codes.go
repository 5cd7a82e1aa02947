package domain

// CodePattern is the form of every code, as an ECMA 262 regular expression: codes are printed on labels, typed
// on phones and put into addresses, so they keep to plain letters, digits and four marks.
const CodePattern = "^[A-Za-z0-9][A-Za-z0-9./_-]{0,39}$"

// IsCode reports whether a code has the form of CodePattern.
func IsCode(code string) bool {
	if code == "" || len(code) > 40 {
		return false
	}
	for i := range len(code) {
		b := code[i]
		switch {
		case b >= 'a' && b <= 'z', b >= 'A' && b <= 'Z', b >= '0' && b <= '9':
		case i > 0 && (b == '-' || b == '.' || b == '/' || b == '_'):
		default:
			return false
		}
	}
	return true
}

// nameAll gives every code its record. One code names one thing in the whole fit-out, whatever its noun: on
// site "W1" is said without saying whether a wall or a window is meant.
func (c *checker) nameAll() {
	r := c.r
	c.named = make(map[string]spot, len(r.Zones)+len(r.FitOut.Exits)+len(r.Hosts)+len(r.StruckHosts)+len(r.Assemblies)+
		len(r.Elements)+len(r.Fixings)+len(r.Holes)+len(r.Relations))
	c.codeForm(spot{fitOutNoun, 0, r.FitOut.Code}, "code", r.FitOut.Code)
	for i, x := range r.FitOut.Exits {
		c.name(spot{exitNoun, i, x.Code})
	}
	for i, z := range r.Zones {
		c.name(spot{zoneNoun, i, z.Code})
	}
	for i, h := range r.Hosts {
		c.name(spot{hostNoun, i, h.Code})
	}
	for i, h := range r.StruckHosts {
		c.name(spot{struckHostNoun, i, h.Code})
	}
	for i, a := range r.Assemblies {
		c.name(spot{assemblyNoun, i, a.Code})
	}
	for i := range r.Elements {
		c.name(spot{elementNoun, i, r.Elements[i].Code})
	}
	for i := range r.Fixings {
		c.name(spot{fixingNoun, i, r.Fixings[i].Code})
	}
	for i := range r.Holes {
		c.name(spot{holeNoun, i, r.Holes[i].Code})
	}
	for i := range r.Relations {
		c.name(spot{relationNoun, i, r.Relations[i].Code})
	}
}

func (c *checker) name(s spot) {
	if !c.codeForm(s, "code", s.code) {
		return
	}
	if first, taken := c.named[s.code]; taken {
		c.faultAs(Exists, s, "code", "has a code that is taken by the %s at %s: give one of them another", first.noun, first.pointer(""))
		return
	}
	c.named[s.code] = s
}

func (c *checker) codeForm(s spot, field, code string) bool {
	switch {
	case IsCode(code):
		return true
	case code == "":
		c.fault(s, field, "has no code: give it one")
	default:
		c.fault(s, field, "has the code %.60q: use up to 40 plain letters, digits and - . / _, a letter or digit first", code)
	}
	return false
}

// find is the record that a code names, where it is of the wanted noun. Where it is not, that is a fault at the
// field that named it.
func (c *checker) find(s spot, field, code string, want noun) (int, bool) {
	found, ok := c.named[code]
	switch {
	case ok && found.noun == want:
		return found.at, true
	case code == "":
		c.fault(s, field, "names no %s: name one", want)
	case ok:
		c.fault(s, field, "names %s where it wants the code of one %s: %s is another noun", found, want, code)
	default:
		c.faultAs(NotFound, s, field, "names %s %.60q, which the fit-out does not have: add it, or mend the code", want, code)
	}
	return 0, false
}

// findOptional is find for a field that may be empty.
func (c *checker) findOptional(s spot, field, code string, want noun) {
	if code != "" {
		c.find(s, field, code, want)
	}
}
