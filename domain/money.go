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
	whole, part := grouped(s[:len(s)-digits]), s[len(s)-digits:]
	if digits > 0 {
		whole += "." + part
	}
	return code + " " + sign + whole
}

// mostMoney is what an amount can be at most, in whole units of its currency.
const mostMoney = int64(1e12) - 1

// ParseMoney reads an amount as people type it, in minor units: "1250", "1,250.50", "12,50". More decimals than the currency
// has are refused.
func ParseMoney(text, code string) (int64, error) {
	digits := MinorDigits(code)
	plain, err := ReadFigure(text, Figures{Decimals: digits, Most: mostMoney, Unit: code})
	if err != nil {
		return 0, err
	}
	whole, part, _ := strings.Cut(plain, ".")
	return strconv.ParseInt(whole+part+strings.Repeat("0", digits-len(part)), 10, 64)
}
