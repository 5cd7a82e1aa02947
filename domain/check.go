package domain

import (
	"fmt"
	"maps"
	"strconv"
)

// Check is every rule that always holds (in a file, through the API and in the database alike) and is broken
// in a register, in the order of the file form; nil when none is. Places are JSON pointers into that form:
// "/fixings/12/into_host". It asks only whether the register can be true: what is unwise is advice, and what
// is not yet known is provisional, and neither is a fault. Time grows with the size of the register.
func Check(r *Register) Errors {
	if r.Catalogue == nil {
		return Errors{{Code: Invalid, Text: "the register was loaded without a catalogue, so that no type or material can be checked: load it with one"}}
	}
	c := &checker{r: r}
	c.nameAll()
	c.fitOut()
	c.zones()
	c.hosts()
	c.assemblies()
	c.elements()
	c.fixings()
	c.holes()
	c.numbers()
	c.relations()
	c.prices()
	c.signOffs()
	return c.faults
}

// checker is one run of Check: the register, which record each code names, and the faults so far.
type checker struct {
	r        *Register
	named    map[string]spot
	toFixing []holeSum // by fixing, once holes have been read
	guessed  int
	faults   Errors
}

// noun says what sort of record a code names.
type noun uint8

const (
	zoneNoun noun = iota + 1
	exitNoun
	hostNoun
	assemblyNoun
	elementNoun
	fixingNoun
	holeNoun
	relationNoun
	priceNoun
	fitOutNoun
	signOffNoun
	struckHostNoun
)

var (
	nounNames    = [...]string{"", "zone", "exit", "host surface", "assembly", "element", "fixing", "hole", "relation", "price", "fit-out", "sign-off", "host surface"}
	nounSections = [...]string{"", "zones", "fit_out/exits", "host_surfaces", "assemblies", "elements", "fixings", "holes", "relations", "prices", "fit_out", "sign_offs", "struck_host_surfaces"}
)

func (n noun) String() string { return nounNames[n] }

// spot is one record: its noun, its place in its list and its code.
type spot struct {
	noun noun
	at   int
	code string
}

func (s spot) String() string {
	if s.code == "" {
		return s.noun.String()
	}
	return s.noun.String() + " " + s.code
}

// pointer is the JSON pointer to a field of the record; the fit-out is one record and has no place in a list.
func (s spot) pointer(field string) string {
	at := "/" + nounSections[s.noun]
	if s.noun != fitOutNoun {
		at += "/" + strconv.Itoa(s.at)
	}
	if field != "" {
		at += "/" + field
	}
	return at
}

// fault records a broken rule at a field of a record. The sentence starts with the record's own name, because
// people know their pieces by code and not by place in a list.
func (c *checker) fault(s spot, field, format string, args ...any) {
	c.faultAs(Invalid, s, field, format, args...)
}

func (c *checker) faultAs(code Code, s spot, field, format string, args ...any) {
	c.faults = append(c.faults, &Error{Code: code, Field: s.pointer(field), Text: s.String() + " " + fmt.Sprintf(format, args...)})
}

// listed holds a slug against one table of the catalogue, and names the nearest there is.
func listed[T any](c *checker, s spot, field, what, slug string, table map[string]T) {
	if _, ok := table[slug]; ok {
		return
	}
	if slug == "" {
		c.fault(s, field, "has no %s: name one from the catalogue", what)
		return
	}
	c.fault(s, field, "has %s %q, which is not in the catalogue: %s", what, slug, guess(c, slug, table))
}

// guess is the mend for a slug that a table lacks. Only the first hundred are guessed at: nobody reads more, and
// a file of wrong slugs must not cost its size times that of the catalogue.
func guess[T any](c *checker, slug string, table map[string]T) string {
	if c.guessed++; c.guessed <= 100 {
		if near := Nearest(slug, maps.Keys(table)); near != "" {
			return fmt.Sprintf("did you mean %q?", near)
		}
	}
	return "use one that it lists"
}
