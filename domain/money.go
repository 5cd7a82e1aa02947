package domain

import (
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

// MinorDigits is how many decimals a currency has by ISO 4217: 2 for GBP, 0 for JPY. An unknown code has 2.
func MinorDigits(code string) int {
	unit, err := currency.ParseISO(code)
	if err != nil {
		return 2
	}
	digits, _ := currency.Standard.Rounding(unit)
	return digits
}

// FormatMoney writes an amount in minor units as people read it: "GBP 1,234.50".
func FormatMoney(minor int64, code string) string {
	sign := ""
	if minor < 0 {
		sign, minor = "-", -minor
	}
	digits := MinorDigits(code)
	s := strconv.FormatInt(minor, 10)
	for len(s) <= digits {
		s = "0" + s
	}
	whole, part := s[:len(s)-digits], s[len(s)-digits:]
	var grouped strings.Builder
	for i, c := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			grouped.WriteByte(',')
		}
		grouped.WriteRune(c)
	}
	if digits > 0 {
		grouped.WriteString("." + part)
	}
	return code + " " + sign + grouped.String()
}

var typedMoney = regexp.MustCompile(`^(\d{1,12}|\d{1,3}(?:,\d{3}){1,3})(?:\.(\d+))?$`)

// ParseMoney reads an amount as people type it, in minor units: "1250", "1,250.50". Commas part thousands only, so that
// nothing can mean two figures; more decimals than the currency has are refused.
func ParseMoney(text, code string) (int64, error) {
	parts := typedMoney.FindStringSubmatch(strings.TrimSpace(text))
	digits := MinorDigits(code)
	if parts == nil {
		return 0, Errorf(Invalid, "%q is no amount: type digits, and a full stop before decimals, like 1250.00", text)
	}
	if len(parts[2]) > digits {
		return 0, Errorf(Invalid, "%q has more decimals than %s has (%d)", text, code, digits)
	}
	return strconv.ParseInt(strings.ReplaceAll(parts[1], ",", "")+parts[2]+strings.Repeat("0", digits-len(parts[2])), 10, 64)
}
