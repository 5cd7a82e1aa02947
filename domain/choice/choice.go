// Package choice says what a fixing costs later, while it can still be another one: minutes now against minutes at the
// strip-out, and what the pieces are then fit for.
//
// The idea: what was chosen and what serves in its place are held against the same register, with the catalogue's rates
// and by the rules that the salvage inventory goes by; the difference is the price of the choice. Nothing is judged that
// has no alternative that unscrews: an anchor that a designer chose is the designer's to change.
//
// Looking for
//
//   - what serves in place of what: instead.go
//   - comparing the two: this file
package choice

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Choice holds one type of fixing among the records to be added against what serves in its place. Minutes are
// person-minutes.
type Choice struct {
	Type, Name   string
	Count        int // how many were chosen; beads count as one each
	Instead      string
	InsteadName  string
	InsteadCount int
	NowMinutes   int // more to put in the alternative now; below 0 it is quicker
	LaterMinutes int // more at the strip-out as chosen; below 0 it is quicker
	Worse        []Piece
}

// Piece is one that the choice spoils: what it is fit for as chosen, and what it would be.
type Piece struct {
	Code     string
	Chosen   salvage.Condition
	Instead  salvage.Condition
	Because  string
	LengthMm int
}

// For compares every type among the fixings to be added that has an alternative, in order of type. The register is read
// through twice for the lot; the answer depends on the records only.
func For(r *domain.Register, add domain.Records) []Choice {
	var slugs []string
	for i := range add.Fixings {
		slug := add.Fixings[i].Type
		if _, ok := insteadOf(r.Catalogue, slug); ok && add.Fixings[i].InPlace() && !slices.Contains(slugs, slug) {
			slugs = append(slugs, slug)
		}
	}
	slices.Sort(slugs)
	var out []Choice
	for _, slug := range slugs {
		out = append(out, compare(r, add, slug))
	}
	return out
}

func compare(r *domain.Register, add domain.Records, slug string) Choice {
	swap, _ := insteadOf(r.Catalogue, slug)
	chosen, other := r.Catalogue.FixingTypes[slug], r.Catalogue.FixingTypes[swap.slug]
	c := Choice{Type: slug, Name: chosen.Name, Instead: swap.slug, InsteadName: other.Name}
	swapped := add
	swapped.Fixings = slices.Clone(add.Fixings)
	var now, later float64
	for i := range swapped.Fixings {
		f := &swapped.Fixings[i]
		if f.Type != slug || !f.InPlace() {
			continue
		}
		c.Count += f.Count
		now -= PutIn(r.Catalogue, *f)
		later += Undo(r.Catalogue, *f)
		swap.in(f)
		c.InsteadCount += f.Count
		now += PutIn(r.Catalogue, *f)
		later -= Undo(r.Catalogue, *f)
	}
	c.Worse = worse(salvage.Take(r.With(add)), salvage.Take(r.With(swapped)))
	later += mending(r.Catalogue, c.Worse)
	c.NowMinutes, c.LaterMinutes = int(math.Round(now)), int(math.Round(later))
	return c
}

// Undo is the person-minutes of undoing a set of fixings, as the strip-out counts them.
func Undo(c *domain.Catalogue, f domain.Fixing) float64 {
	t := c.FixingTypes[f.Type]
	if t.UndoPerHour <= 0 {
		return 0
	}
	return amount(t.UndoUnit, f) / t.UndoPerHour * 60
}

// PutIn is the person-minutes of putting a set of fixings in.
func PutIn(c *domain.Catalogue, f domain.Fixing) float64 {
	t := c.FixingTypes[f.Type]
	key := "put-in-screw"
	switch {
	case t.Family == "adhesive":
		key = "put-in-bead"
	case strings.Contains(t.Slug, "nail"):
		key = "put-in-nail"
	case strings.HasSuffix(t.Slug, "-pin"):
		key = "put-in-pin"
	case t.Family == "masonry":
		key = "put-in-anchor"
	}
	rate := c.WorkRates[key]
	return rate.Minutes * amount(rate.Unit, f)
}

func amount(unit string, f domain.Fixing) float64 {
	if unit == "m" {
		return float64(f.BeadMm) / 1000
	}
	return float64(f.Count)
}

// mending is the work that spoilt pieces ask for before they can be used again: stubs drawn along their length, or a
// spoilt end sawn off. What is only fit as material gets none.
func mending(c *domain.Catalogue, pieces []Piece) float64 {
	minutes := 0.0
	for _, p := range pieces {
		switch p.Chosen {
		case salvage.Downgraded:
			minutes += c.WorkRates["denail"].Minutes * float64(p.LengthMm) / 1000
		case salvage.Cut:
			minutes += c.WorkRates["trim-end"].Minutes
		}
	}
	return minutes
}

// grade ranks conditions, best first.
func grade(c salvage.Condition) int {
	return slices.Index([]salvage.Condition{salvage.Whole, salvage.Cut, salvage.Downgraded, salvage.Recycle, salvage.Spent}, c)
}

// worse are the pieces that the choice spoils, in order of code: both inventories are in it.
func worse(chosen, instead salvage.Inventory) []Piece {
	var out []Piece
	for i, p := range chosen.Pieces {
		if other := instead.Pieces[i]; grade(p.Expected) > grade(other.Expected) {
			out = append(out, Piece{p.Code, p.Expected, other.Expected, strings.Join(p.Because, "; "), p.LengthMm})
		}
	}
	slices.SortFunc(out, func(a, b Piece) int { return cmp.Compare(a.Code, b.Code) })
	return out
}

// Later says what the choice costs at the strip-out: "gun nails: 12 min more at the strip-out".
func (c Choice) Later() string {
	return fmt.Sprintf("%d of %s: %s at the strip-out", c.Count, c.Name, difference(c.LaterMinutes))
}

// Now says what the alternative costs now: "24 of wood screw: 4 min more now".
func (c Choice) Now() string {
	return fmt.Sprintf("%d of %s instead: %s now", c.InsteadCount, c.InsteadName, difference(c.NowMinutes))
}

func difference(minutes int) string {
	switch {
	case minutes > 0:
		return fmt.Sprintf("%d min more", minutes)
	case minutes < 0:
		return fmt.Sprintf("%d min less", -minutes)
	}
	return "the same time"
}

// mostNamed is how many spoilt pieces are named one by one.
const mostNamed = 6

// WorseSays names the pieces that the choice spoils, with what becomes of them; "" where it spoils none.
func (c Choice) WorseSays() string {
	if len(c.Worse) == 0 {
		return ""
	}
	becomes := map[salvage.Condition]string{salvage.Cut: "cut shorter", salvage.Downgraded: "downgraded", salvage.Recycle: "fit as material only", salvage.Spent: "waste"}
	var named []string
	for _, p := range c.Worse[:min(len(c.Worse), mostNamed)] {
		named = append(named, p.Code+" "+becomes[p.Chosen])
	}
	text := strings.Join(named, ", ")
	if n := len(c.Worse) - mostNamed; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return "It leaves " + text + "."
}
