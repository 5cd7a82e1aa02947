package domain

import (
	"regexp"
	"strconv"
	"strings"
)

var packWords = regexp.MustCompile(`^(?:(?:box|pack|packet|bag|tub|carton) of |per )?([1-9][0-9]{0,5})(?: pieces)?$`)

// PackOf is how many pieces one price is for, by its unit: 1 for a piece, an item or each; 200 for a "box of 200", a "pack
// of 200" or "200". Not ok for every other unit: "box" alone does not say how many are in it, and nobody guesses.
func (p Price) PackOf() (n int, ok bool) {
	switch unit := strings.ToLower(strings.TrimSpace(p.Unit)); unit {
	case "piece", "item", "each":
		return 1, true
	default:
		m := packWords.FindStringSubmatch(unit)
		if m == nil {
			return 0, false
		}
		n, err := strconv.Atoi(m[1])
		return n, err == nil
	}
}

// OfSize is the key of the price of one size of what a key prices: "material:c16-cls-38x89/2400" is that of one length of
// 2400, and "fixing:wood-screw-5/80" that of one screw of 80. It stands before the price of every size.
func OfSize(key, size string) string { return key + "/" + size }

// PriceUnit is the unit in which what a key prices is counted, "" where several serve or nothing says. An amount is a count of
// that unit times the price: with the price of another unit it would be a figure that means nothing.
func PriceUnit(cat *Catalogue, key string) string {
	of, slug, _ := strings.Cut(key, ":")
	switch {
	case of == "labour-hour":
		return "hour"
	case of == "repair":
		return cat.Repairs[slug].Unit
	case of == "waste":
		return "kg"
	case of != "prelim":
		return ""
	case strings.HasPrefix(slug, "access-"):
		return "day"
	case slug == "make-dead":
		return "hour"
	case slug == "props":
		return "piece"
	default:
		return "item"
	}
}

// UnitWords is a unit behind a figure: "20 holes", "2 patches", "2.4 m2".
func UnitWords(n float64, unit string) string {
	switch {
	case n == 1 || len(unit) <= 2:
		return unit
	case strings.HasSuffix(unit, "ch"):
		return unit + "es"
	}
	return unit + "s"
}
