package domain

import (
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
