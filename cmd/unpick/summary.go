package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"unpick/domain"
	"unpick/domain/plan"
)

// printSummary says what a person wants to know first, in plain words and within 80 columns.
func printSummary(w io.Writer, r *domain.Register, p *plan.Plan) {
	s, f := p.Summary, r.FitOut
	say := func(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }
	say("")
	say("%s", f.Name)
	say("%s", strings.Repeat("=", len([]rune(f.Name))))
	if f.Premises.Address != "" {
		say("%s", f.Premises.Address)
	}
	say("")
	say("  What is in         %s pieces held by %s fixings", group(s.Pieces), group(s.Fixings))
	say("  Taking it out      %d steps, %.0f person-hours, %d working days for one crew", s.Steps, s.PersonHours, s.Days)
	say("                     %d holds to sign on the way", s.Holds)
	say("  Giving it back     %s", cost(s, f.Currency))
	say("                     %s holes to make good, %.0f hours", group(s.Holes), s.MakingHours)
	say("  What is saved      %s of %s pieces, %s of %s kg", group(s.Kept), group(s.Pieces), group(int(math.Round(s.KeptKg))), group(int(math.Round(s.MassKg))))
	say("                     worth %s new, by the firm's prices; %s of the fixings too", domain.FormatMoney(s.SavedMinor, f.Currency), group(s.FixingsFit))
	say("                     %s kg CO2e not spent again, %s kg CO2 kept in timber", group(int(math.Round(s.SavedCarbonKg))), group(int(math.Round(s.StoredCarbonKg))))
	say("")
	say("  Holes in the landlord's fabric, against what was agreed")
	for _, l := range p.MakingGood.Licence {
		say("    %-26s %s", cut(l.HostName, 26), holeLine(l.Built, l.Agreed, l.Says))
	}
	printWarnings(say, p.Warnings)
	if s.Provisional {
		say("\n  Provisional: something here is assumed, and planned as the worst case.")
	}
}

func cost(s plan.Summary, currency string) string {
	if !s.CostKnown {
		return fmt.Sprintf("no total: %d items have no rate (%s without them)", s.WithoutRate, domain.FormatMoney(s.CostMinor, currency))
	}
	return domain.FormatMoney(s.CostMinor, currency)
}

// holeLine draws a bar of at most 20 marks: how much of what was agreed is used.
func holeLine(built, agreed int, says string) string {
	const wide = 20
	if agreed == 0 {
		return fmt.Sprintf("%s  %s", strings.Repeat(" ", wide), says)
	}
	n := min((built*wide+agreed-1)/agreed, wide)
	return fmt.Sprintf("%s%s  %s", strings.Repeat("#", n), strings.Repeat(".", wide-n), says)
}

// printWarnings shows the sternest ones in full and counts the rest.
func printWarnings(say func(string, ...any), warnings []domain.Advice) {
	const most = 8
	if len(warnings) == 0 {
		return
	}
	say("\n  Worth knowing now (%d)", len(warnings))
	for i, a := range warnings {
		if i == most {
			say("    and %d more: they are in plan.json", len(warnings)-most)
			break
		}
		say("    - %s", a.Text)
		if a.Mend != "" {
			say("      %s", a.Mend)
		}
	}
}

// group writes 12345 as 12,345.
func group(n int) string {
	if n < 0 {
		return "-" + group(-n)
	}
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", group(n/1000), n%1000)
}

func cut(s string, most int) string {
	r := []rune(s)
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
