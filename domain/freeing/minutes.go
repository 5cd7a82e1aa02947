package freeing

import (
	"math"

	"unpick/domain"
	"unpick/domain/choice"
	"unpick/domain/release"
)

// Minutes are counted in thousandths. A piece costs one more than its minutes, so that where minutes say nothing fewer
// pieces come out.
const thousand = 1000

// price is what a node costs: taking it out as the strip-out counts it, and, unless it is wanted out, putting it back.
// Handling a piece back takes as long as handling it out (common practice, no source).
func price(g *release.Graph, n int32, wanted bool) int64 {
	r := g.Register
	node := &g.Nodes[n]
	switch node.Kind {
	case release.Dead:
		return thousandths(r.Catalogue.WorkRates["prove-dead"].Minutes)
	case release.Undo:
		f := r.Fixings[node.Item]
		minutes := choice.Undo(r.Catalogue, f)
		if !wanted {
			minutes += choice.PutIn(r.Catalogue, f)
		}
		return thousandths(minutes)
	}
	minutes := handling(g, n)
	if !wanted {
		minutes *= 2
	}
	return thousandths(minutes) + 1
}

// handling is the person-minutes of carrying the pieces of a node away once its fixings are out.
func handling(g *release.Graph, n int32) float64 {
	elements, rates := g.Elements(n), g.Register.Catalogue.WorkRates
	if len(elements) > 1 {
		return rates["lay-down-frame"].Minutes
	}
	e := &g.Register.Elements[elements[0]]
	w := rates["take-down-"+string(e.Kind)]
	switch w.Unit {
	case "m":
		return w.Minutes * float64(e.LengthMm) / 1000
	case "m2":
		return w.Minutes * e.FaceAreaM2()
	}
	return w.Minutes
}

// propping is what props under one piece cost, set and struck, or the batten that does for them.
func propping(c *domain.Catalogue, batten bool) int64 {
	set, strike := "prop-set", "prop-strike"
	if batten {
		set, strike = "stay-set", "stay-strike"
	}
	return thousandths(c.WorkRates[set].Minutes+c.WorkRates[strike].Minutes) + 1
}

func thousandths(minutes float64) int64 { return int64(math.Round(minutes * thousand)) }

func minutes(cost int64) int { return int((cost + thousand - 1) / thousand) }
