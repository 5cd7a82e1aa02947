package move

import (
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/resize"
)

// words are other sizes as a builder would say it.
func (s *Gain) words(at []Change, currency string) string {
	var fewer, more []string
	for _, b := range s.Buys {
		b.Name, _, _ = strings.Cut(b.Name, ",") // what it is; how it is planed and graded stands in the list
		switch {
		case b.Is == 0:
			fewer = append(fewer, fmt.Sprintf("no %s (%s fewer)", b.Name, b.count(b.Was)))
		case b.Is < b.Was:
			fewer = append(fewer, fmt.Sprintf("%s of %s fewer", b.count(b.Was-b.Is), b.Name))
		case b.Is > b.Was:
			more = append(more, fmt.Sprintf("%s of %s more", b.count(b.Is-b.Was), b.Name))
		case b.LessMm > 0:
			fewer = append(fewer, fmt.Sprintf("%s less of %s, in shorter lengths", metres(b.LessMm), b.Name))
		default:
			more = append(more, fmt.Sprintf("%s more of %s, in longer lengths", metres(-b.LessMm), b.Name))
		}
	}
	var sizes []string
	for i, c := range at {
		called := c.called() + " were "
		switch {
		case i > 0 && c.Assembly == at[i-1].Assembly:
			called = ""
		case i > 0:
			called = c.called() + " "
		}
		sizes = append(sizes, fmt.Sprintf("%s%s %s instead of %s", called, metres(c.IsMm), dimensionWords[c.Dimension], metres(c.WasMm)))
	}
	out := "If " + and(sizes) + ", you would buy " + and(fewer)
	if len(fewer) == 0 {
		out = "If " + and(sizes) + ", you would buy sizes that cost less"
	}
	if len(more) > 0 {
		out += ", but " + and(more)
	}
	var also []string
	if s.SavedMinor > 0 {
		also = append(also, domain.FormatMoney(s.SavedMinor, currency)+" less for new stock")
	}
	if !s.Known {
		also = append(also, "not all of it has a price")
	}
	also = append(also, s.wasteWords()...)
	if s.Cuts != 0 {
		also = append(also, moreOrFewer(s.Cuts, "cut", "cuts"))
	}
	if len(also) > 0 {
		out += ": " + strings.Join(also, ", ")
	}
	out += "."
	for _, c := range at {
		if len(c.Moves) > 0 {
			out += fmt.Sprintf(" %s would move with %s.", and(c.Moves), c.Assembly)
		}
	}
	switch {
	case !s.Sure:
		out += " That is inside the gap of the cutting: a better cutting of the size asked for may buy as little."
	case s.Known && s.CertainMinor < s.SavedMinor:
		out += fmt.Sprintf(" %s of it is certain; the rest is inside the gap of the cutting.", domain.FormatMoney(s.CertainMinor, currency))
	}
	return out
}

var dimensionWords = map[resize.Dimension]string{resize.Length: "long", resize.Height: "high", resize.Along: "along", resize.Across: "across"}

// called is an assembly by its name and code.
func (s Change) called() string {
	if s.Name == "" || s.Name == s.Assembly {
		return s.Assembly
	}
	return fmt.Sprintf("%s (%s)", s.Name, s.Assembly)
}

func (s *Gain) wasteWords() []string {
	var out []string
	say := func(amount float64, format, unit string) {
		word := "less"
		if amount < 0 {
			amount, word = -amount, "more"
		}
		if figure := fmt.Sprintf(format, amount); strings.Trim(figure, "0.") != "" {
			out = append(out, fmt.Sprintf("%s %s %s waste", figure, unit, word))
		}
	}
	say(float64(s.WasteMm)/1000, "%.1f", "m")
	say(float64(s.WasteMm2)/1e6, "%.1f", "m²")
	return out
}

func moreOrFewer(n int, one, many string) string {
	word := "fewer"
	if n < 0 {
		n, word = -n, "more"
	}
	if n == 1 {
		return fmt.Sprintf("1 %s %s", one, word)
	}
	return fmt.Sprintf("%d %s %s", n, many, word)
}

// SizeCautions are what a size that buys less does not say.
func SizeCautions() []string {
	return []string{
		"Each size is by itself: two of them together may save less than their sum, and more only where two at once says so.",
		"A size is a room too: look at doors, ways out, clear widths and guards before it is changed. A low wall that guards a drop is never made lower.",
		"Floors are only tried smaller, for a longer span is the engineer's to decide; where posts come to stand is too.",
	}
}

// count is a number of what is bought in its unit.
func (b Bought) count(n float64) string {
	switch {
	case b.Unit == "m":
		return fmt.Sprintf("%.0f m", n)
	case n == 1:
		return "1 " + b.Unit
	}
	return fmt.Sprintf("%.0f %ss", n, b.Unit)
}

// metres is a length in metres to the centimetre, or to the millimetre where it has some.
func metres(mm int) string {
	if mm%10 == 0 {
		return fmt.Sprintf("%.2f m", float64(mm)/1000)
	}
	return fmt.Sprintf("%.3f m", float64(mm)/1000)
}

func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
