package move

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/resize"
)

// Pair is two sizes at once that buy less together than either does alone, where one of them alone buys nothing less.
type Pair struct {
	Sizes []Change `json:"sizes"`
	Gain
}

// mostPairs is how many pairs are tried: each is a layout built and cut again.
const mostPairs = 100

// pair is two sizes being tried.
type pair struct {
	trial
	a, b *trial
}

// off is how far both are from what was asked for.
func (x *pair) off() int { return x.a.off() + x.b.off() }

// together tries two sizes at once, the nearest first, in what is left of the rounds: a few rounds each, and the plan's own
// for those that are better then.
func (s *Sizes) together(from Source, p *Plan, tried []*trial, quick, full *saw) error {
	all := pairsOf(tried)
	after := map[*trial][]resize.Size{} // of a layout at the first size
	var better []*pair
	for i, x := range all {
		if s.PairsTried == mostPairs || quick.spent+full.spent >= s.Asked.Rounds || from.stopped() {
			s.PairsLeftOut = len(all) - i
			break
		}
		if _, ok := after[x.a]; !ok {
			after[x.a], _ = resize.Sizes(x.a.to)
		}
		ok, err := x.build(after[x.a])
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		s.PairsTried++
		if err := x.cut(from, p, quick); err != nil {
			return err
		}
		if x.gains() {
			better = append(better, x)
		}
	}
	for _, x := range better {
		if quick.spent+full.spent >= s.Asked.Rounds || from.stopped() {
			break
		}
		if err := x.cut(from, p, full); err != nil {
			return err
		}
	}
	s.keepPairs(better, p)
	return nil
}

// pairsOf are sizes of two different things that are cut from one section or sheet, of which at least one alone buys nothing
// less: of what is cut apart, two save what each saves.
func pairsOf(tried []*trial) []*pair {
	var out []*pair
	for i, a := range tried {
		for _, b := range tried[i+1:] {
			if a.size == b.size || a.found.better() && b.found.better() || !slices.ContainsFunc(a.cuts, func(key string) bool { return slices.Contains(b.cuts, key) }) {
				continue
			}
			out = append(out, &pair{a: a, b: b})
		}
	}
	slices.SortStableFunc(out, func(x, y *pair) int { return cmp.Compare(x.off(), y.off()) })
	return out
}

// build is the layout at both sizes; false where the one leaves no such choice to the other, or nobody could build it.
func (x *pair) build(after []resize.Size) (bool, error) {
	at := slices.IndexFunc(after, func(s resize.Size) bool {
		return s.Assembly == x.b.size.Assembly && s.Dimension == x.b.size.Dimension && s.WasMm == x.b.size.WasMm
	})
	if at < 0 || after[at].MostMm > 0 && x.b.isMm > after[at].MostMm {
		return false, nil
	}
	var err error
	if x.to, err = after[at].At(x.b.isMm); domain.CodeOf(err) != "" {
		return false, nil
	}
	return err == nil, err
}

// gains reports whether both at once buy less than either alone.
func (x *pair) gains() bool {
	if !x.found.better() {
		return false
	}
	for _, alone := range []*trial{x.a, x.b} {
		if alone.found.better() && alone.found.compare(x.found) <= 0 {
			return false
		}
	}
	return true
}

// keepPairs takes the pairs that are better, and of the same two sizes on the same sides those only that save more than any
// that is no further off.
func (s *Sizes) keepPairs(all []*pair, p *Plan) {
	for _, x := range all {
		worse := slices.ContainsFunc(all, func(o *pair) bool {
			return o != x && o.gains() && nearer(o.a, x.a) && nearer(o.b, x.b) && o.off() < x.off() && o.found.compare(x.found) <= 0
		})
		if x.gains() && !worse {
			at := []Change{x.a.change(), x.b.change()}
			out := Pair{at, x.found.gain()}
			out.Words = out.words(at, p.Currency)
			s.Pairs = append(s.Pairs, out)
		}
	}
	slices.SortStableFunc(s.Pairs, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(boolInt(!a.Sure), boolInt(!b.Sure)), cmp.Compare(b.SavedMinor, a.SavedMinor))
	})
}

// nearer reports whether one trial is of the same size on the same side as another, and no further off.
func nearer(a, b *trial) bool {
	return a.size == b.size && (a.isMm < a.size.WasMm) == (b.isMm < b.size.WasMm) && a.off() <= b.off()
}
