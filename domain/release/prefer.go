package release

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// wish is a fact that keeps the crew safe without temporary works, and what those cost where it gives way: the guards
// of a deck board leave after it, or it is guarded by hand; what braces the stud under a floor, and one at least of
// what keeps a piece from falling over, leave after that, or it is propped.
type wish struct {
	target int32 // node
	reason Reason
	cost   int64   // thousandths of a person-minute, above 0
	all    []int32 // nodes that all leave after the target
	one    []int32 // nodes of which one at least leaves after it
}

// Alternatives is what the choice among the alternatives of a strip-out comes to: of all orders, one that needs the
// fewest minutes of temporary works, since all else costs the same in any.
type Alternatives struct {
	Choices int   `json:"choices" jsonschema_description:"facts with alternatives: any one way frees the piece or fixing"`
	Wishes  int   `json:"safe_facts" jsonschema_description:"pieces that others guard, brace or steady until they are out"`
	Knots   int   `json:"knots" jsonschema_description:"groups of pieces in which not every such fact can be kept"`
	GiveWay int   `json:"give_way" jsonschema_description:"of those facts, how many props or a guard put up by hand stand in for"`
	Cost    int64 `json:"temporary_work_thousandths" jsonschema_description:"person-minutes of props and guards put up by hand, in thousandths"`
	Least   int64 `json:"at_least_thousandths" jsonschema_description:"no order can need less"`
}

// Exact reports whether no other order needs fewer minutes.
func (a Alternatives) Exact() bool { return a.Cost == a.Least }

// Words says what the choice came to, for a foreman.
func (a Alternatives) Words() string {
	words := "nothing here can be freed in more than one way"
	if a.Choices == 1 {
		words = "one piece or fixing can be freed in more than one way"
	} else if a.Choices > 1 {
		words = fmt.Sprintf("%d pieces or fixings can be freed in more than one way", a.Choices)
	}
	switch minutes := (a.Cost + 999) / 1000; {
	case a.Cost == 0:
		return words + "; none of the ways taken needs a prop or a guard put up by hand that another would spare"
	case a.Exact():
		return words + fmt.Sprintf("; this order needs about %d person-minutes of props and guards put up by hand, and no other order needs fewer", minutes)
	default:
		return words + fmt.Sprintf("; this order needs about %d person-minutes of props and guards put up by hand, and no order can need fewer than %d", minutes, (a.Least+999)/1000)
	}
}

// prefer adds the facts that keep the crew safe without temporary works. Where the facts that always hold leave no
// order that keeps them all (the cover of a hole is screwed through the boards round it), those give way whose
// temporary works cost least in all.
func (b *builder) prefer() {
	b.readGuards()
	b.readBraces()
	b.Steadyings = onceEach(b.Steadyings)
	wishes := b.wishes()
	b.Alternatives = Alternatives{Choices: len(b.Gates), Wishes: len(wishes)}
	if len(wishes) == 0 {
		return
	}
	all := slices.Clone(wishes)
	wishes = b.givenUp(wishes)
	wanted := arcsOf(wishes, b.Steadyings)
	left := b.leftBy(wanted)
	if len(left) > 0 {
		wanted = b.untie(wishes, wanted, left)
	}
	if len(wishes) < len(all) {
		b.Alternatives.Least = b.leastOf(all)
	}
	b.Arcs = append(b.Arcs, wanted...)
}

// leastOf is what temporary works cost in any order, the earlier one left aside.
func (b *builder) leastOf(wishes []wish) int64 {
	wanted := arcsOf(wishes, b.Steadyings)
	left := b.leftBy(wanted)
	if len(left) == 0 {
		return 0
	}
	graph := *b.Graph
	graph.Alternatives = Alternatives{}
	anew := *b
	anew.Graph = &graph
	anew.untie(wishes, wanted, left)
	return graph.Alternatives.Least
}

// givenUp drops the wishes that the earlier order gave up: what stood in for them stands in for them again, and no other
// knot is untied in their stead. They are counted as given way.
func (b *builder) givenUp(wishes []wish) []wish {
	if len(b.earlier) == 0 {
		return wishes
	}
	turn := filled(len(b.Nodes)) // of pieces, in the earlier order
	for i, code := range b.earlier {
		if e := domain.Place(b.Links.Elements, code); e >= 0 && b.PieceOf[e] >= 0 && turn[b.PieceOf[e]] < 0 {
			turn[b.PieceOf[e]] = int32(i)
		}
	}
	left := func(by, target int32) bool { return turn[by] >= 0 && turn[target] >= 0 && turn[by] < turn[target] }
	return slices.DeleteFunc(wishes, func(w wish) bool {
		gone := slices.ContainsFunc(w.all, func(by int32) bool { return left(by, w.target) }) ||
			len(w.one) > 0 && !slices.ContainsFunc(w.one, func(by int32) bool { return !left(by, w.target) })
		if gone {
			b.Alternatives.GiveWay++
			b.Alternatives.Cost += w.cost
		}
		return gone
	})
}

// onceEach drops what was said of the same two pieces before: who steadies is counted.
func onceEach(list []Steadying) []Steadying {
	seen := make(map[[2]int32]bool, len(list))
	return slices.DeleteFunc(list, func(s Steadying) bool {
		key := [2]int32{s.By, s.Steadied}
		again := seen[key]
		seen[key] = true
		return again
	})
}

// wishes gathers by target what is to be kept where it can be, targets in order of place.
func (b *builder) wishes() []wish {
	var out []wish
	at := map[[2]int32]int{}
	of := func(target int32, reason Reason, cost int64) *wish {
		key := [2]int32{target, int32(reason)}
		i, known := at[key]
		if !known {
			i = len(out)
			at[key] = i
			out = append(out, wish{target: target, reason: reason, cost: cost})
		}
		return &out[i]
	}
	guard := b.minutes("guard-temporary")
	loads := map[int32]bool{}
	for _, br := range b.Braces {
		loads[br.Floor] = true
	}
	for _, g := range b.Guards {
		board := &b.Register.Elements[b.Elements(g.Board)[0]]
		w := of(g.Board, Served, thousandths(guard*float64(board.LengthMm)/1000))
		w.all = append(w.all, g.By)
	}
	for _, br := range b.Braces {
		w := of(br.Floor, Braced, b.propping(br.Floor, true))
		w.all = append(w.all, br.By)
	}
	for _, s := range b.Steadyings {
		w := of(s.Steadied, Braced, b.propping(s.Steadied, loads[s.Steadied])) // the same props serve both
		w.one = append(w.one, s.By)
	}
	for i := range out {
		slices.Sort(out[i].one)
		if out[i].one = slices.Compact(out[i].one); len(out[i].one) == 1 {
			out[i].all, out[i].one = append(out[i].all, out[i].one[0]), nil
		}
		slices.Sort(out[i].all)
		out[i].all = slices.Compact(out[i].all)
	}
	slices.SortFunc(out, func(x, y wish) int {
		return cmp.Or(cmp.Compare(x.target, y.target), cmp.Compare(x.reason, y.reason))
	})
	return out
}

// propping is what props under a node cost, set and struck; a batten, where that would do: a stick or a board that one
// person can hold upright and that carries no floor.
func (b *builder) propping(n int32, carriesFloor bool) int64 {
	if carriesFloor || !b.light(n) {
		return thousandths(b.minutes("prop-set") + b.minutes("prop-strike"))
	}
	return thousandths(b.minutes("stay-set") + b.minutes("stay-strike"))
}

func (b *builder) light(n int32) bool {
	elements := b.Elements(n)
	if len(elements) > 1 || b.Register.Catalogue == nil {
		return false
	}
	e := &b.Register.Elements[elements[0]]
	switch e.Kind {
	case domain.Post, domain.DeckBoard, domain.Joist, domain.Beam, domain.Trimmer, domain.WallPlate:
		return false
	}
	kg, known := e.MassOf(b.Register.Catalogue.Materials[e.Material])
	most, _ := catalogue.LiftingGuide(b.Register.Catalogue, catalogue.Men, catalogue.KnuckleToElbow, catalogue.CloseToBody, 1)
	return known && kg <= most
}

func (b *builder) minutes(rate string) float64 {
	if b.Register.Catalogue == nil {
		return 0
	}
	return b.Register.Catalogue.WorkRates[rate].Minutes
}

// thousandths is a cost that is never 0, so that where minutes say nothing fewer facts give way.
func thousandths(minutes float64) int64 { return int64(math.Round(minutes*1000)) + 1 }

// arcsOf are the facts one by one, as if all of them could be kept. A relation is named where it says so.
func arcsOf(wishes []wish, steadyings []Steadying) []Arc {
	said := map[[2]int32]int32{}
	for _, s := range steadyings {
		said[[2]int32{s.Steadied, s.By}] = s.Relation
	}
	var out []Arc
	for i := range wishes {
		w := &wishes[i]
		for _, list := range [][]int32{w.all, w.one} {
			for _, by := range list {
				a := Arc{w.target, by, w.reason, -1, -1}
				if relation, steadies := said[[2]int32{w.target, by}]; steadies && w.reason == Braced {
					a.Reason, a.Relation = Steadied, relation
				}
				out = append(out, a)
			}
		}
	}
	return out
}

// leftBy lists the nodes that never come free where all wanted facts hold, in order of place.
func (b *builder) leftBy(wanted []Arc) []int32 {
	try := *b.Graph
	try.Arcs = slices.Concat(b.Arcs, wanted)
	var now []int32
	front := NewFront(&try, func(n int32) { now = append(now, n) })
	for len(now) > 0 {
		n := now[len(now)-1]
		now = now[:len(now)-1]
		front.Done(n, func(m int32) { now = append(now, m) })
	}
	return front.Left()
}
