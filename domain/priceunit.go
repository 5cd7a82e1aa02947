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
