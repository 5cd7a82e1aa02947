package cutting

import (
	"errors"
	"fmt"
	"slices"
)

// Limits says how long to search. A round is a fixed amount of work, so the same seed and the same number of rounds give
// the same plan on every machine; Stop is for whoever has a clock or a person who no longer wants to wait.
type Limits struct {
	Seed     uint64
	Rounds   int            // 0: until Stop says so, or it is proven
	Stop     func() bool    // asked many times a round; nil: never
	Progress func(Progress) // told of each better plan or bound; nil: nobody is
}

// Progress is how far a search is.
type Progress struct {
	Round            int
	Objective, Bound int64
}

// SolveLengths cuts lengths from bars. It stops when it has proven that no cutting costs less, or at the limits; even when
// told to stop at once it answers with a plan that can be carried out, its bound and its gap. An error is a problem that
// breaks a rule (domain.Errors); what cannot be made is no error, it stands in the plan with its reason.
func SolveLengths(p *Lengths, limits Limits) (*Plan, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if limits.Rounds <= 0 && limits.Stop == nil {
		return nil, errors.New("cutting without a number of rounds and without a way to stop")
	}
	open, unmade := tooLong(p)
	left := slices.Clone(open)
	s := newSearch(newCore(p, open), limits)
	s.run()
	bars := s.layOut(p, s.best, left)
	short := int64(0)
	for row, n := range left {
		open[row] -= n
		if n > 0 {
			unmade = append(unmade, Unmade{Demand: row, Count: n, Reason: whyUnmade(p, row)})
		}
	}
	short = s.shortage(s.best)
	bars = shorten(p, bars)
	rounds := s.round
	if !s.stopped() {
		var more int
		bars, more = lessWaste(p, open, bars, limits, s.round+wasteRounds)
		bars, rounds = shorten(p, bars), rounds+more
	}
	plan := newPlan(p, bars, unmade)
	plan.Objective, plan.Bound = s.cost(s.best)-short, max(s.bound-short, 0)
	plan.Proven, plan.Rounds = plan.Objective <= plan.Bound, rounds
	plan.GapPercent = gapPercent(plan.Objective, plan.Bound)
	if err := Verify(p, plan); err != nil {
		return nil, fmt.Errorf("checking the cutting found: %w", err)
	}
	return plan, nil
}

// wasteRounds is how many rounds go into less waste at least; as many as the money took come to it.
const wasteRounds = 300

// costs is what a bar of each row of stock counts: its price, or its length where it is new and a price is missing
// anywhere.
func costs(p *Lengths) []int64 {
	unpriced := slices.ContainsFunc(p.Stock, func(b Bar) bool { return b.NoPrice })
	out := make([]int64, len(p.Stock))
	for s := range p.Stock {
		switch b := &p.Stock[s]; {
		case !unpriced:
			out[s] = b.PriceMinor
		case b.NoPrice || b.PriceMinor > 0 || b.Count == Unlimited:
			out[s] = int64(b.LengthMm)
		}
	}
	return out
}

// tooLong sets aside what no stock can hold, with the reason; open is what is left per row.
func tooLong(p *Lengths) (open []int, unmade []Unmade) {
	longest, kinds := 0, map[string]int{} // the longest stock that may serve a kind
	for s := range p.Stock {
		if p.Stock[s].Count != 0 {
			longest = max(longest, p.Stock[s].LengthMm)
		}
	}
	longestFor := func(kind string) int {
		most, ok := kinds[kind]
		if !ok {
			for s := range p.Stock {
				if b := &p.Stock[s]; b.Count != 0 && (len(b.Serves) == 0 || slices.Contains(b.Serves, kind)) {
					most = max(most, b.LengthMm)
				}
			}
			kinds[kind] = most
		}
		return most
	}
	open = make([]int, len(p.Demand))
	for i := range p.Demand {
		d := &p.Demand[i]
		most := longestFor(d.Kind)
		reason := ""
		switch {
		case d.Count == 0 || d.LengthMm <= most:
			open[i] = d.Count
			continue
		case longest == 0:
			reason = "there is no stock at all: name salvaged pieces or a merchant's lengths"
		case d.LengthMm > longest:
			reason = fmt.Sprintf("%d mm is longer than any stock (the longest is %d mm)", d.LengthMm, longest)
		case most == 0:
			reason = fmt.Sprintf("no stock may serve %q", d.Kind)
		default:
			reason = fmt.Sprintf("%d mm is longer than any stock that may serve %q (the longest is %d mm)", d.LengthMm, d.Kind, most)
		}
		unmade = append(unmade, Unmade{Demand: i, Count: d.Count, Reason: reason})
	}
	return open, unmade
}
