package domain

import (
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// whole holds a whole number to its range; what lies outside is a slip of the finger or of the unit.
func (c *checker) whole(s spot, field string, value, least, most int) {
	if value < least || value > most {
		c.fault(s, field, "has %s %d: give %d to %d", label(field), value, least, most)
	}
}

// real holds a number to its range and refuses what is no number at all.
func (c *checker) real(s spot, field string, value, least, most float64) {
	if math.IsNaN(value) || value < least || value > most {
		c.fault(s, field, "has %s %g: give %g to %g", label(field), value, least, most)
	}
}

// label is the last name of a pointer, which is how a person knows the field.
func label(field string) string { return field[strings.LastIndexByte(field, '/')+1:] }

// text refuses what no database or printer takes: broken UTF-8, a NUL, a novel.
func (c *checker) text(s spot, field, value string) {
	const longest = 10_000
	switch {
	case value == "":
	case len(value) > longest:
		c.fault(s, field, "has a %s of %d bytes: shorten it to %d", label(field), len(value), longest)
	case !utf8.ValidString(value):
		c.fault(s, field, "has a %s that is not valid UTF-8: type it again", label(field))
	case strings.IndexByte(value, 0) >= 0:
		c.fault(s, field, "has a %s with a NUL character in it: type it again", label(field))
	}
}

// needText is text that has to be there.
func (c *checker) needText(s spot, field, value string) {
	if strings.TrimSpace(value) == "" {
		c.fault(s, field, "has no %s: give it one", label(field))
		return
	}
	c.text(s, field, value)
}

// oneOf holds a word to its list. Put "" in the list where nothing need be said.
func oneOf[T ~string](c *checker, s spot, field string, value T, allowed ...T) {
	if slices.Contains(allowed, value) {
		return
	}
	words := make([]string, 0, len(allowed))
	for _, word := range allowed {
		if word != "" {
			words = append(words, string(word))
		}
	}
	c.fault(s, field, "has %s %.60q: use %s", label(field), string(value), strings.Join(words, ", "))
}

func (c *checker) known(s spot, k Known) {
	oneOf(c, s, "known", k, "", Seen, Measured, Assumed, Unknown)
}

// date is an ISO 8601 date as days, ok only where one is given and exists.
func (c *checker) date(s spot, field, value string) (on time.Time, ok bool) {
	if value == "" {
		return on, false
	}
	on, err := time.Parse(time.DateOnly, value)
	if err != nil {
		c.fault(s, field, "has %s %.60q, which is no date: write year-month-day, like 2026-03-31", label(field), value)
		return on, false
	}
	return on, true
}

// farthestMm is how far from the origin anything of one fit-out may lie: a kilometre.
const farthestMm = 1_000_000

func (c *checker) point(s spot, field string, p Point) {
	if max(p.X, p.Y, p.Z) > farthestMm || min(p.X, p.Y, p.Z) < -farthestMm {
		c.fault(s, field, "lies at %d, %d, %d mm, more than a kilometre away: give millimetres from the fit-out's own origin", p.X, p.Y, p.Z)
	}
}

func (c *checker) direction(s spot, field string, d Direction) bool {
	switch {
	case d.IsZero():
		c.fault(s, field, "has a direction of no length: say which way it points, like 1, 0, 0")
		return false
	case max(d.X, d.Y, d.Z) > farthestMm || min(d.X, d.Y, d.Z) < -farthestMm:
		c.fault(s, field, "has a direction with numbers over %d: the same direction in smaller numbers will do", farthestMm)
		return false
	}
	return true
}

// axes holds two directions to spanning a plane. Nearer than a thousandth (0.06 degrees) they are taken for
// parallel: the second would be squared up from rounding errors.
func (c *checker) axes(s spot, first, second string, a, b Direction) {
	if !c.direction(s, first, a) || !c.direction(s, second, b) {
		return
	}
	if a.Unit().Cross(b.Unit()).Length() < 1e-3 {
		c.fault(s, second, "has %s and %s along the same line: the second has to lean away from the first", label(first), label(second))
	}
}

// run holds a run to its count: where positions are given there is one for each, and a line to lie on.
func (c *checker) run(s spot, run Run, count int) {
	c.point(s, "run/start", run.Start)
	if len(run.PositionsMm) == 0 {
		if !run.Along.IsZero() {
			c.direction(s, "run/along", run.Along)
		}
		return
	}
	if len(run.PositionsMm) != count {
		c.fault(s, "run/positions_mm", "counts %d and gives %d positions: give one for each, or none where nobody knows", count, len(run.PositionsMm))
	}
	away := false
	for _, at := range run.PositionsMm {
		away = away || at != 0
		if at > farthestMm || at < -farthestMm {
			c.fault(s, "run/positions_mm", "has a position %d mm along its run: give %d at most", at, farthestMm)
			return
		}
	}
	// One fixing at the start of its run needs no direction.
	if away || !run.Along.IsZero() {
		c.direction(s, "run/along", run.Along)
	}
}
