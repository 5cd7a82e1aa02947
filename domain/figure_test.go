package domain_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

func TestReadFigure(t *testing.T) {
	t.Parallel()
	length := domain.Figures{Most: 1_000_000, Unit: "mm"}
	level := domain.Figures{Least: -1_000_000, Most: 1_000_000, Unit: "mm"}
	hole := domain.Figures{Decimals: 1, Most: 1000, Unit: "mm"}
	mass := domain.Figures{Decimals: domain.AnyDecimals, Most: 100_000, Unit: "kg"}
	count := domain.Figures{Most: 1000}
	for _, tt := range []struct {
		typed string
		as    domain.Figures
		want  string // the figure, or words of what is said where it is none
	}{
		{"2720", length, "2720"},
		{" 2720 ", length, "2720"},
		{"007", length, "7"},
		{"2,720", length, "2720"}, // as the pages write it
		{"1,000,000", length, "1000000"},
		{"+5", length, "5"},
		{"0", length, "0"},
		{"4,8", length, "no whole figure"},
		{"4,80", length, "no whole figure"},
		{"12.5", length, "no whole figure"},
		{"12.0", length, "no whole figure"},
		{"12.", length, "no figure"},
		{",", length, "no figure"},
		{"-", length, "no figure"},
		{"1,2,3", length, "no figure"},
		{"1.250,5", length, "no figure"},
		{"2720 mm", length, "2720"},
		{"2720MM", length, "2720"},
		{"2.4 m", length, "another unit: give it in mm"},
		{"24 cm", length, "another unit: give it in mm"},
		{`6"`, length, "another unit"},
		{"6′", length, "another unit"},
		{"2 720", length, "a space in it: write 2720"},
		{"2\u00a0720", length, "a space in it: write 2720"}, // no-break space
		{"1e3", length, "an exponent"},
		{"1E+3", mass, "an exponent"},
		{"0x1f", length, "no figure"},
		{"1_000", length, "no figure"},
		{"NaN", mass, "no figure"},
		{"Inf", mass, "no figure"},
		{"about 12", length, "no figure"},
		{"7５", length, "75"}, // a full-width 5
		{"４，８", mass, "4.8"},
		{"٧", length, "no figure"}, // an Arabic-Indic 7
		{"-50", level, "-50"},
		{"−50", level, "-50"}, // U+2212, as some keyboards put it
		{"-0", level, "0"},
		{"--5", level, "no figure"},
		{"5-", level, "no figure"},
		{"-5", length, "out of range: give 0 to 1,000,000 mm"},
		{"1000001", length, "out of range: give 0 to 1,000,000 mm"},
		{"99999999999999999999999999", length, "out of range: give 0 to 1,000,000 mm"},
		{strings.Repeat("9", 1000), length, "no figure"},
		{"5.5", hole, "5.5"},
		{"5,5", hole, "5.5"},
		{"5.50", hole, "too many decimals: give one at most"},
		{"1,000", hole, "1000"}, // one decimal at most: a thousand it is
		{"1,250", mass, "can be read in two ways: write 1250 or 1.250"},
		{"0,125", mass, "0.125"},
		{"1,250.5", mass, "1250.5"},
		{".5", mass, "0.5"},
		{"12 kg", mass, "12"},
		{"100000.1", mass, "out of range: give 0 to 100,000 kg"},
		{"12", count, "12"},
		{"12 no", count, "a unit, and none belongs here"},
		{"2.5", count, "type a whole number in digits, like 12"},
	} {
		got, err := domain.ReadFigure(tt.typed, tt.as)
		if err != nil {
			got = err.Error()
		}
		_, figure := strconv.ParseFloat(tt.want, 64)
		if figure == nil && got != tt.want || !strings.Contains(got, tt.want) || err != nil && domain.CodeOf(err) != domain.Invalid {
			t.Errorf("ReadFigure(%q, %+v) = %q, want %q", tt.typed, tt.as, got, tt.want)
		}
	}
}

// A figure is never another one than was typed: what is read, whatever was typed round it, has the typed digits in their order.
func TestReadFigureKeepsItsDigits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringMatching(`[-+ ]{0,2}[0-9]{0,4}[., e]{0,2}[0-9]{0,4}[., ]{0,1}[0-9]{0,4}( ?mm| ?kg|m)?`).Draw(t, "typed")
		as := domain.Figures{Decimals: rapid.SampledFrom([]int{0, 1, 2, domain.AnyDecimals}).Draw(t, "decimals"), Least: -100_000, Most: 100_000, Unit: "mm"}
		got, err := domain.ReadFigure(typed, as)
		if err != nil {
			return
		}
		value, err := strconv.ParseFloat(got, 64)
		if err != nil {
			t.Fatalf("ReadFigure(%q) = %q, which is no number", typed, got)
		}
		// Outside reading: a comma before exactly three digits parts thousands, another one is a decimal point.
		plain := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(typed), "mm"))
		if at := strings.LastIndexByte(plain, ','); at >= 0 && len(plain)-at-1 != 3 && !strings.Contains(plain, ".") {
			plain = plain[:at] + "." + plain[at+1:]
		} else if before := strings.Trim(plain[:max(at, 0)], "+- "); at >= 0 && (strings.Trim(before, "0") == "" || len(before) > 3) && !strings.Contains(plain, ".") {
			plain = plain[:at] + "." + plain[at+1:]
		}
		want, err := strconv.ParseFloat(strings.ReplaceAll(plain, ",", ""), 64)
		if err != nil || want != value {
			t.Fatalf("ReadFigure(%q) = %q, read by hand %v (%v)", typed, got, want, err)
		}
	})
}

// A written figure is read back as the same one.
func TestReadFigureRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "n")
		got, err := domain.ReadFigure(fmt.Sprint(n), domain.Figures{Least: -1_000_000, Most: 1_000_000, Unit: "mm"})
		if err != nil || got != fmt.Sprint(n) {
			t.Fatalf("ReadFigure(%d) = %q, %v", n, got, err)
		}
	})
}

func TestReadWholes(t *testing.T) {
	t.Parallel()
	as := domain.Figures{Most: 100_000, Unit: "mm"}
	got, err := domain.ReadWholes("400, 1250,", as)
	if diff := cmp.Diff([]int{400, 1250}, got); err != nil || diff != "" {
		t.Errorf("ReadWholes(400, 1250,): %v\n%s", err, diff)
	}
	for _, typed := range []string{"400 1250", "400; 1250", "400, 12.5", "400, x", "400, -1"} {
		if got, err := domain.ReadWholes(typed, as); err == nil {
			t.Errorf("ReadWholes(%q) = %v, want it refused", typed, got)
		}
	}
}

func FuzzReadFigure(f *testing.F) {
	for _, typed := range []string{"2720", "4,8", "1,250", "-50", "７５", "1e3", "75 mm"} {
		f.Add(typed, 2)
	}
	f.Fuzz(func(t *testing.T, typed string, decimals int) {
		as := domain.Figures{Decimals: max(decimals%10, 0), Least: -1000, Most: 1_000_000, Unit: "mm"}
		got, err := domain.ReadFigure(typed, as)
		if err != nil {
			return
		}
		again, err := domain.ReadFigure(got, as)
		if err != nil && !strings.Contains(err.Error(), "two ways") || err == nil && again != got {
			t.Errorf("ReadFigure(%q) = %q, read again %q, %v", typed, got, again, err)
		}
	})
}
