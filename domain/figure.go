package domain

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Figures says which figures a place takes: how many decimals at most, from where to where, in which unit.
type Figures struct {
	Decimals    int // at most; 0 takes whole figures only
	Least, Most int64
	Unit        string // "mm", "kg", "%", "GBP"; may be typed behind the figure, a currency before it too
}

// AnyDecimals is for a measure whose last decimal nobody fixed: a mass, an angle.
const AnyDecimals = 9

// mostLetters is longer than any figure that a place takes.
const mostLetters = 40

var (
	typedWhole    = regexp.MustCompile(`^[+-]?(\d+|[1-9]\d{0,2}(?:,\d{3})+)$`)
	typedDecimals = regexp.MustCompile(`^[+-]?(\d*|[1-9]\d{0,2}(?:,\d{3})+)\.(\d+)$`)
	typedComma    = regexp.MustCompile(`^[+-]?(\d*),(\d+)$`)
	typedTwoWays  = regexp.MustCompile(`^[+-]?0*[1-9]\d{0,2},\d{3}$`)
	typedExponent = regexp.MustCompile(`^[+-]?[\d.,]+[eE][+-]?\d+$`)
	typedSpaces   = regexp.MustCompile(`^[+-]?\s*\d[\d.,]*(?:\s+[\d.,]+)*$`)
	typedUnit     = regexp.MustCompile(`^[+-]?[\d.,]+\s*(\pL[\pL²³/]*[23]?|["'′″%°])$`)
)

// ReadFigure reads a figure as people type it and writes it plainly: "4.8", "-50", "2720". Nothing is guessed: what can be
// read in two ways, and what is none, is refused with how to write it. A comma parts thousands ("2,720"), or stands before
// decimals where the place takes some ("4,8"): the keypad of a phone has one of comma and full stop, by its region.
func ReadFigure(typed string, want Figures) (string, error) {
	text, err := want.bare(typed)
	if err != nil {
		return "", err
	}
	whole, part := "", ""
	switch comma, decimals := typedComma.FindStringSubmatch(text), typedDecimals.FindStringSubmatch(text); {
	case want.Decimals >= 3 && typedTwoWays.MatchString(text):
		plain := strings.Replace(text, ",", "", 1)
		return "", figureErrorf("%q can be read in two ways: write %s or %s", typed, plain, strings.Replace(text, ",", ".", 1))
	case typedWhole.MatchString(text):
		whole = text
	case comma != nil && want.Decimals > 0:
		whole, part = comma[1], comma[2]
	case decimals != nil:
		whole, part = decimals[1], decimals[2]
	case comma != nil:
		part = comma[2]
	default:
		return "", figureErrorf("%q is no figure: %s", typed, want.like())
	}
	if len(part) > want.Decimals {
		return "", want.tooFine(typed)
	}
	digits := strings.TrimLeft(strings.ReplaceAll(strings.TrimLeft(whole, "+-"), ",", ""), "0")
	if digits == "" {
		digits = "0"
	}
	if part = strings.TrimRight(part, "0"); part != "" {
		digits += "." + part
	}
	if strings.HasPrefix(text, "-") && digits != "0" {
		digits = "-" + digits
	}
	return digits, want.within(typed, digits)
}

// bare is what was typed in ASCII, without its own unit. Another unit, an exponent and spaces within are refused by name.
func (want Figures) bare(typed string) (string, error) {
	if len([]rune(typed)) > mostLetters {
		return "", figureErrorf("%.20q is no figure: %s", typed, want.like())
	}
	text := strings.TrimSpace(strings.Map(plainDigit, typed))
	if unit := strings.ToLower(want.Unit); unit != "" {
		lower := strings.ToLower(text)
		if bare, ok := strings.CutSuffix(lower, unit); ok {
			text = strings.TrimSpace(bare)
		} else if bare, ok := strings.CutSuffix(strings.ReplaceAll(lower, "m2", "m²"), unit); ok {
			text = strings.TrimSpace(bare)
		} else if bare, ok := strings.CutPrefix(lower, unit); ok && len(unit) == 3 { // a currency
			text = strings.TrimSpace(bare)
		}
	}
	switch {
	case typedExponent.MatchString(text):
		return "", figureErrorf("%q has an exponent: write the figure out, %s", typed, want.example())
	case typedUnit.MatchString(text):
		if want.Unit == "" {
			return "", figureErrorf("%q has a unit, and none belongs here: %s", typed, want.like())
		}
		return "", figureErrorf("%q is in another unit: give it in %s, %s", typed, want.Unit, want.example())
	case strings.ContainsFunc(text, unicode.IsSpace) && typedSpaces.MatchString(text):
		return "", figureErrorf("%q has a space in it: write %s without one if it is one figure", typed, strings.Join(strings.Fields(text), ""))
	}
	return text, nil
}

// plainDigit is a letter as an English keyboard has it: full-width digits, long minus signs and hard spaces come from others.
func plainDigit(r rune) rune {
	switch {
	case r >= '０' && r <= '９':
		return r - '０' + '0'
	case r == '．':
		return '.'
	case r == '，':
		return ','
	case r == '＋':
		return '+'
	case r == '−', r == '－', r == '–':
		return '-'
	case unicode.IsSpace(r):
		return ' '
	}
	return r
}

// within holds a figure to its range.
func (want Figures) within(typed, digits string) error {
	value, ok := new(big.Rat).SetString(digits)
	if !ok {
		return figureErrorf("%q is no figure: %s", typed, want.like())
	}
	if value.Cmp(new(big.Rat).SetInt64(want.Least)) < 0 || value.Cmp(new(big.Rat).SetInt64(want.Most)) > 0 {
		return figureErrorf("%q is out of range: give %s to %s%s", typed, grouped(strconv.FormatInt(want.Least, 10)), grouped(strconv.FormatInt(want.Most, 10)), want.behind())
	}
	return nil
}

func (want Figures) tooFine(typed string) error {
	switch want.Decimals {
	case 0:
		return figureErrorf("%q is no whole figure: %s", typed, want.like())
	case 1:
		return figureErrorf("%q has too many decimals: give one at most, %s", typed, want.example())
	}
	return figureErrorf("%q has too many decimals: give %d at most, %s", typed, want.Decimals, want.example())
}

// like says how to write a figure here.
func (want Figures) like() string {
	if want.Decimals == 0 {
		return "type a whole number" + want.of() + " in digits, " + want.example()
	}
	return "type it in digits, " + want.example()
}

func (want Figures) example() string {
	for _, n := range []int64{2720, 12, 1} {
		if want.Least <= n && n <= want.Most && (want.Unit == "mm" || n < 100) {
			if want.Decimals > 0 {
				return fmt.Sprintf("like %s or %s.5", strconv.FormatInt(n, 10), strconv.FormatInt(n, 10))
			}
			return "like " + strconv.FormatInt(n, 10)
		}
	}
	return "like " + strconv.FormatInt(want.Least, 10)
}

func (want Figures) behind() string {
	if want.Unit == "" || want.Unit == "%" {
		return want.Unit
	}
	return " " + want.Unit
}

func (want Figures) of() string {
	if want.Unit == "" {
		return ""
	}
	return " of " + want.Unit
}

// grouped puts commas between the thousands of a whole figure in digits.
func grouped(digits string) string {
	sign := ""
	if rest, ok := strings.CutPrefix(digits, "-"); ok {
		sign, digits = "-", rest
	}
	for at := len(digits) - 3; at > 0; at -= 3 {
		digits = digits[:at] + "," + digits[at:]
	}
	return sign + digits
}

func figureErrorf(format string, args ...any) error { return Errorf(Invalid, format, args...) }

// ReadWhole reads a whole figure.
func ReadWhole(typed string, want Figures) (int, error) {
	want.Decimals = 0
	digits, err := ReadFigure(typed, want)
	if err != nil {
		return 0, err
	}
	return strconv.Atoi(digits)
}

// ReadWholes reads whole figures with commas between them: there a comma parts no thousands.
func ReadWholes(typed string, want Figures) ([]int, error) {
	out := []int{}
	for part := range strings.SplitSeq(typed, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		n, err := ReadWhole(part, want)
		if err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, nil
}
