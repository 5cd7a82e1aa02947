package issue

import (
	"slices"

	"unpick/domain/plan"
)

// The documents whose items are numbered.
const (
	Reinstatement = "reinstatement.xlsx"
	MakingGood    = "making-good.xlsx"
)

// Prints are the documents that go out in print too, by the name of what they are printed from.
var Prints = map[string]string{Reinstatement: "reinstatement.pdf"}

// Series are the numbers that the items of one document have been given, by what they are about.
type Series map[string]int

// Numbers gives each key its number: the one it has, or the next that was never given, in the order of the keys.
func (s Series) Numbers(keys []string) []int {
	highest := 0
	for _, n := range s {
		highest = max(highest, n)
	}
	out := make([]int, len(keys))
	for i, key := range keys {
		n, ok := s[key]
		if !ok {
			highest++
			n = highest
		}
		out[i] = n
	}
	return out
}

// Number puts the lasting numbers into a plan that was just made: rows of the making-good list and items of the schedule,
// which name those rows. given are the series of the fit-out by document; without any the plan keeps its own numbers. sent is
// the newest issue of the making-good list, nil for none: rows that are in it are cited by it.
func Number(p *plan.Plan, given map[string]Series, sent *Issue) {
	rows := make([]string, len(p.MakingGood.Rows))
	for i := range p.MakingGood.Rows {
		rows[i] = rowKey(p.MakingGood.Rows[i])
	}
	renumbered := map[int]int{}
	for i, n := range given[MakingGood].Numbers(rows) {
		renumbered[p.MakingGood.Rows[i].Number] = n
		p.MakingGood.Rows[i].Number = n
	}
	if sent != nil {
		in := map[string]bool{}
		for _, l := range sent.Lines {
			in[l.Key] = true
		}
		for i := range rows {
			if in[rows[i]] {
				p.MakingGood.Rows[i].Issue = sent.Number
			}
		}
	}
	items := make([]string, len(p.Schedule.Items))
	for i := range p.Schedule.Items {
		items[i] = p.Schedule.Items[i].Key
	}
	for i, n := range given[Reinstatement].Numbers(items) {
		item := &p.Schedule.Items[i]
		item.Number = n
		rename(item.Rows, renumbered)
		for s := range item.Shares {
			rename(item.Shares[s].Rows, renumbered)
		}
	}
}

// rename gives rows their new numbers, in order.
func rename(rows []int, to map[int]int) {
	for i, n := range rows {
		rows[i] = to[n]
	}
	slices.Sort(rows)
}
