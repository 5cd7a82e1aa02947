package recipe

import (
	"cmp"
	"slices"
)

// DeckBoardsLeast is how many boards a deck wants at least, by the rule of thumb: rows times run over the length
// of a board, rounded up. It holds while every offcut starts the next row and reaches a joist (trade facts,
// common practice); boards that must join on joists may want more.
func DeckBoardsLeast(acrossMm, runMm, boardWidthMm, boardLengthMm int) int {
	rows := (acrossMm + boardWidthMm - 1) / boardWidthMm
	return (rows*runMm + boardLengthMm - 1) / boardLengthMm
}

// deckRun is one row, or a part of one between openings, that is laid from end to end.
type deckRun struct {
	row            int
	x0, x1, y0, y1 int
}

// layout lays runs of boards one after the other and keeps what is cut off.
type layout struct {
	boardMm int // length of a board
	leastMm int // shortest piece: two joist spaces
	offcuts []int
	bought  int
}

// rowEdges are the long edges of the rows between two lines. A last row under 100 mm is shared with the first, so
// that both can be held.
func rowEdges(fromMm, toMm, widthMm int) []int {
	const least = 100
	edges := []int{fromMm}
	for at := fromMm + widthMm; at < toMm; at += widthMm {
		edges = append(edges, at)
	}
	if last := toMm - edges[len(edges)-1]; last < least && len(edges) > 1 {
		shift := widthMm - (widthMm+last)/2
		for i := 1; i < len(edges); i++ {
			edges[i] -= shift
		}
	}
	return append(edges, toMm)
}

// pick chooses where the boards of a run join: on the places given, pieces no longer than a board; then no joint
// in line with the row before, no piece shorter than two joist spaces, as few new boards as may be with the offcuts
// used up first, and of choices as good the longest first piece. It takes the boards out of its stock. ok is false
// where no place is near enough to the last.
func (l *layout) pick(x0, x1 int, places, before []int) (joints []int, ok bool) {
	places = append(within(places, x0, x1), x1)
	ways := l.waysOn(places, before)
	var best way
	boards, found := 0, -1
	for i, at := range places {
		if at-x0 > l.boardMm || !ways[i].ok {
			continue
		}
		w := ways[i].after(at-x0, l.leastMm, at < x1 && slices.Contains(before, at), at == x1)
		trial := layout{boardMm: l.boardMm, offcuts: slices.Clone(l.offcuts)}
		trial.take(lengthsOf(x0, x1, follow(places, ways, i)))
		if found < 0 || cmp.Or(cmp.Compare(w.inLine, best.inLine), cmp.Compare(w.short, best.short), cmp.Compare(trial.bought, boards)) <= 0 {
			best, boards, found = w, trial.bought, i
		}
	}
	if found < 0 {
		return nil, false
	}
	joints = follow(places, ways, found)
	l.take(lengthsOf(x0, x1, joints))
	return joints, true
}

// way is the best way on from a joint to the end of the run.
type way struct {
	ok                    bool
	inLine, short, pieces int
	next                  int // the place of the next joint, -1 at the end
}

// after is a way with one more piece before it. A single piece from end to end is never too short.
func (w way) after(pieceMm, leastMm int, inLine, whole bool) way {
	if inLine {
		w.inLine++
	}
	if pieceMm < leastMm && !whole {
		w.short++
	}
	w.pieces++
	return w
}

// waysOn finds the best way on from each place, from the end backwards: fewest joints in line, fewest short pieces,
// fewest pieces, longest next piece.
func (l *layout) waysOn(places, before []int) []way {
	ways := make([]way, len(places))
	last := len(places) - 1
	ways[last] = way{ok: true, next: -1}
	for i := last - 1; i >= 0; i-- {
		for k := i + 1; k <= last && places[k]-places[i] <= l.boardMm; k++ {
			if !ways[k].ok {
				continue
			}
			w := ways[k].after(places[k]-places[i], l.leastMm, k < last && slices.Contains(before, places[k]), false)
			w.next = k
			b := ways[i]
			if !b.ok || cmp.Or(cmp.Compare(w.inLine, b.inLine), cmp.Compare(w.short, b.short), cmp.Compare(w.pieces, b.pieces)) <= 0 {
				ways[i] = w
			}
		}
	}
	return ways
}

// follow lists the joints of a way that starts with the joint at one place.
func follow(places []int, ways []way, from int) []int {
	var out []int
	for at := from; ways[at].next >= 0; at = ways[at].next {
		out = append(out, places[at])
	}
	return out
}

// take cuts pieces from the smallest offcut that does, else from a new board. The saw's cut is taken up in the
// gaps round the deck.
func (l *layout) take(pieces []int) {
	for _, p := range pieces {
		at := -1
		for i, o := range l.offcuts {
			if o >= p && (at < 0 || o < l.offcuts[at]) {
				at = i
			}
		}
		left := l.boardMm - p
		if at >= 0 {
			left = l.offcuts[at] - p
			l.offcuts = slices.Delete(l.offcuts, at, at+1)
		} else {
			l.bought++
		}
		if left > 0 {
			l.offcuts = append(l.offcuts, left)
		}
	}
}

// within are the places strictly between two, ascending.
func within(places []int, x0, x1 int) []int {
	var out []int
	for _, p := range places {
		if p > x0 && p < x1 {
			out = append(out, p)
		}
	}
	return out
}

func lengthsOf(x0, x1 int, joints []int) []int {
	var out []int
	for _, j := range joints {
		out = append(out, j-x0)
		x0 = j
	}
	return append(out, x1-x0)
}
