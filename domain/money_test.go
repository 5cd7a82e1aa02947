package domain_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
)

func TestParseMoney(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		text, currency string
		want           int64
		code           domain.Code
	}{
		{"1250", "GBP", 125000, ""},
		{" 1,250.5 ", "GBP", 125050, ""},
		{"1,234,567.89", "GBP", 123456789, ""},
		{"0.07", "GBP", 7, ""},
		{"500", "JPY", 500, ""},    // no decimals by ISO 4217
		{"1.234", "KWD", 1234, ""}, // three
		{"1.5", "JPY", 0, domain.Invalid},
		{"1.005", "GBP", 0, domain.Invalid},
		{"1.250,00", "GBP", 0, domain.Invalid},
		{"1,25", "EUR", 125, ""}, // the keypad of a phone that speaks German has no full stop
		{"1,250", "EUR", 125000, ""},
		{"1,250", "KWD", 0, domain.Invalid}, // 1250 or 1.25
		{"GBP 12.50", "GBP", 1250, ""},
		{"12,3456", "GBP", 0, domain.Invalid},
		{"£5", "GBP", 0, domain.Invalid},
		{"-5", "GBP", 0, domain.Invalid},
		{"1e3", "GBP", 0, domain.Invalid},
		{"", "GBP", 0, domain.Invalid},
	} {
		got, err := domain.ParseMoney(tt.text, tt.currency)
		if got != tt.want || domain.CodeOf(err) != tt.code {
			t.Errorf("ParseMoney(%q, %s) = %d, %v; want %d, code %q", tt.text, tt.currency, got, err, tt.want, tt.code)
		}
	}
}

// What is written is read back as the same amount.
func TestMoneyRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		currency := rapid.SampledFrom([]string{"GBP", "JPY", "KWD"}).Draw(t, "currency")
		minor := rapid.Int64Range(0, 99_999_999_999).Draw(t, "minor")
		text := strings.TrimPrefix(domain.FormatMoney(minor, currency), currency+" ")
		if got, err := domain.ParseMoney(text, currency); err != nil || got != minor {
			t.Fatalf("ParseMoney(%q, %s) = %d, %v; want %d", text, currency, got, err, minor)
		}
	})
}
