package pages

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// ratesForm is the crew's own minutes of a fit-out.
func ratesForm(f domain.FitOut) form { return ownRates("/crew", f.Crew.Rates) }

// ownRates are rows of own minutes under a place, with two more to fill.
func ownRates(under string, own []domain.OwnRate) form {
	rates := catalogue.Default().WorkRates
	jobs := []option{{"", "choose"}}
	for key, w := range rates {
		jobs = append(jobs, option{key, fmt.Sprintf("%s (%s)", w.Job, minutesOf(w))})
	}
	slices.SortFunc(jobs[1:], func(a, b option) int { return strings.Compare(a.Label, b.Label) })
	var out form
	for i := range len(own) + 2 {
		g := group{Legend: "Another job", Folded: i > len(own)}
		var o domain.OwnRate
		if i < len(own) {
			o = own[i]
			g.Legend = rates[o.Key].Job
		}
		row := fmt.Sprintf("%s/work_rates/%d/", under, i)
		minutes := ""
		if o.Minutes > 0 {
			minutes = strconv.FormatFloat(o.Minutes, 'f', -1, 64)
		}
		g.Fields = []field{
			{Name: row + "key", Label: "Job", Kind: choice, Options: jobs, Value: o.Key, Help: "Behind it what the trade's table has, for one person. Empty both fields to go back to that"},
			{Name: row + "minutes", Label: "Own person-minutes for one", Unit: "min", Kind: number, Decimals: 3, Most: 10_000, Value: minutes},
		}
		out.Groups = append(out.Groups, g)
	}
	return out
}

// minutesOf is how long one takes by the table: "1.5 min a piece".
func minutesOf(w domain.WorkRate) string {
	return strconv.FormatFloat(w.Minutes, 'f', -1, 64) + " min a " + w.Unit
}
