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
	say("  What is in         %s held by %s", many(s.Pieces, "piece", "pieces"), many(s.Fixings, "fixing", "fixings"))
	say("  Taking it out      %s, %.0f person-hours, %s for one crew", many(s.Steps, "step", "steps"), s.PersonHours, many(s.Days, "working day", "working days"))
	say("                     %s to sign on the way", many(s.Holds, "hold", "holds"))
	say("  Making good        %s, %.0f person-hours with redecoration, %s%s", many(s.Holes, "hole", "holes"), s.MakingHours, many(s.MakingDays, "working day", "working days"), curing(s))
	say("                     %s in all, one after the other", many(s.AllDays, "working day", "working days"))
	say("  Giving it back     %s", cost(s, f.Currency))
	if to := p.Schedule.Figures; s.CostKnown && to.Added() != "" {
		say("                     %s to pay, with %s", domain.FormatMoney(to.Now.Gross, f.Currency), to.Added())
	}
	printNotInCost(say, s)
	say("  What is saved      %s of %s, %s of %s kg", group(s.Kept), many(s.Salvage, "piece", "pieces"), group(int(math.Round(s.KeptKg))), group(int(math.Round(s.MassKg))))
	printWorth(say, s, f.Currency)
	say("                     %s kg CO2e not spent again, %s kg CO2 kept in timber", group(int(math.Round(s.SavedCarbonKg))), group(int(math.Round(s.StoredCarbonKg))))
	say("                     %.1f m3 of room to store it", s.StackedM3)
	say("")
	say("  Holes in the landlord's fabric, against what was agreed")
	for _, l := range p.MakingGood.Licence {
		say("    %-26s %s", cut(l.HostName, 26), holeLine(l.Built, l.Agreed, l.Says))
	}
	printWarnings(say, p.Warnings, 8)
	if s.Provisional {
		say("\n  Provisional: %s.", s.Basis.Says())
	}
}

// cost says the figure, and never gives a part as the whole.
func cost(s plan.Summary, currency string) string {
	switch {
	case !s.Prices:
		return "no prices given, so no cost: add them under \"prices\" in the file"
	case !s.CostKnown:
		return fmt.Sprintf("no total: %s no rate (%s without them)", many(s.WithoutRate, "item has", "items have"), domain.FormatMoney(s.CostMinor, currency))
	}
	return domain.FormatMoney(s.CostMinor, currency)
}

// printNotInCost names what the figure leaves out, within the width of a screen.
func printNotInCost(say func(string, ...any), s plan.Summary) {
	const most = 4
	if !s.Prices || len(s.NotInCost) == 0 {
		return
	}
	say("                     not in this figure:")
	for i, what := range s.NotInCost {
		if i == most {
			say("                     - and %d more: they are in plan.json", len(s.NotInCost)-most)
			break
		}
		say("                     - %s", cut(what, 57))
	}
}

func printWorth(say func(string, ...any), s plan.Summary, currency string) {
	if !s.Prices {
		say("                     no prices given, so no value; %s too", many(s.FixingsFit, "fixing fit to use again", "fixings fit to use again"))
		return
	}
	if s.SavedKnown {
		say("                     %s at the price of new, %s for what is downgraded", domain.FormatMoney(s.SavedMinor, currency), domain.FormatMoney(s.DowngradedMinor, currency))
	} else {
		say("                     no total: %s no price (%s new without them)", many(s.SavedNoPrice, "kept piece has", "kept pieces have"), domain.FormatMoney(s.SavedMinor, currency))
	}
	say("                     %s too", many(s.FixingsFit, "fixing fit to use again", "fixings fit to use again"))
}

func curing(s plan.Summary) string {
	if s.CureRules {
		return ", as curing sets it"
	}
	return ""
}

// many is a number with its word.
func many(n int, one, word string) string {
	if n == 1 {
		return "1 " + one
	}
	return group(n) + " " + word
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

// printWarnings shows the sternest ones in full, so many at most, and counts the rest.
func printWarnings(say func(string, ...any), warnings []domain.Advice, most int) {
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
