package move

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/resize"
)

// Nearby asks for sizes near those of a layout that buy less. The zero value works: see Ready.
type Nearby struct {
	WithinMm int `json:"within_mm,omitempty" jsonschema_description:"how far from the size asked, both ways; 0 reads as 300"`
	StepMm   int `json:"step_mm,omitempty" jsonschema_description:"sizes tried are multiples of it; 0 reads as 50"`
	Rounds   int `json:"rounds,omitempty" jsonschema_description:"of search in all; 0 reads as 20000"`
}

// The finest step and the farthest reach: finer than 10 mm nobody sets out a wall, and what is further off is another room.
const (
	leastStepMm  = 10
	mostWithinMm = 3000
)

// Ready is n with its defaults. Invalid: a figure that is below 0 or absurd, by its place.
func (n Nearby) Ready() (Nearby, error) {
	var es domain.Errors
	n.WithinMm, n.StepMm, n.Rounds = cmp.Or(n.WithinMm, 300), cmp.Or(n.StepMm, 50), cmp.Or(n.Rounds, 20_000)
	if n.WithinMm < leastStepMm || n.WithinMm > mostWithinMm {
		es.Addf(domain.Invalid, "/nearby/within_mm", "%d: give %d to %d", n.WithinMm, leastStepMm, mostWithinMm)
	}
	if n.StepMm < leastStepMm || n.StepMm > 1000 {
		es.Addf(domain.Invalid, "/nearby/step_mm", "%d: give %d to 1000", n.StepMm, leastStepMm)
	}
	if n.Rounds < 1 || n.Rounds > 10_000_000 {
		es.Addf(domain.Invalid, "/nearby/rounds", "%d: give 1 to 10000000", n.Rounds)
	}
	return n, es.OrNil()
}

// Sizes are the sizes near those of a layout that buy less new stock, the best first, each by itself; and two at once where
// one of them alone buys nothing less.
type Sizes struct {
	Asked        Nearby    `json:"asked"`
	Better       []Size    `json:"better"`
	Pairs        []Pair    `json:"two_at_once" jsonschema_description:"two sizes that together buy less than either, one of which alone buys nothing less"`
	Fixed        []Fixed   `json:"fixed" jsonschema_description:"sizes that are not ours to choose, and why"`
	Refused      []Refused `json:"refused" jsonschema_description:"sizes that nobody could build, and why"`
	Tried        int       `json:"tried"`
	LeftOut      int       `json:"left_out" jsonschema_description:"sizes that the rounds did not reach, the furthest off first"`
	PairsTried   int       `json:"two_tried" jsonschema_description:"100 at most: those that are cut from one section or sheet, the nearest first"`
	PairsLeftOut int       `json:"two_left_out"`
	Rounds       int       `json:"rounds"`
}

// Size is one assembly at another size, and what that buys less.
type Size struct {
	Change
	Gain
}

// Change is one assembly at another size.
type Change struct {
	Assembly  string           `json:"assembly"`
	Name      string           `json:"name"`
	Dimension resize.Dimension `json:"dimension" jsonschema:"enum=length,enum=height,enum=along,enum=across"`
	WasMm     int              `json:"was_mm"`
	IsMm      int              `json:"is_mm"`
	Moves     []string         `json:"moves_too,omitempty" jsonschema_description:"walls that slide with it"`
}

// Gain is what other sizes buy less. Money is before the allowance.
type Gain struct {
	Words        string   `json:"words" jsonschema_description:"all of it in one sentence or two"`
	SavedMinor   int64    `json:"saved_minor" jsonschema_description:"less to pay for new stock, as both are cut here, before the allowance"`
	Known        bool     `json:"saved_known" jsonschema_description:"everything that differs has a price"`
	CertainMinor int64    `json:"certain_minor" jsonschema_description:"of that, what no better cutting of the size asked for could save too"`
	Sure         bool     `json:"sure" jsonschema_description:"no cutting of the size asked for buys as little; else the difference is inside the gap"`
	Buys         []Bought `json:"buys" jsonschema_description:"what is bought in another number"`
	WasteMm      int64    `json:"less_waste_mm" jsonschema_description:"of lengths; below 0 there is more"`
	WasteMm2     int64    `json:"less_waste_mm2" jsonschema_description:"of sheets"`
	Cuts         int      `json:"fewer_cuts"`
}

// Bought is one material in another number, before the allowance.
type Bought struct {
	Material string  `json:"material"`
	Name     string  `json:"name"`
	Unit     string  `json:"unit"`
	Was      float64 `json:"was"`
	Is       float64 `json:"is"`
	LessMm   int     `json:"less_length_mm,omitempty" jsonschema_description:"of lengths, in all"`
}

// Fixed is a size that stays as it is.
type Fixed struct {
	Assembly  string           `json:"assembly"`
	Name      string           `json:"name"`
	Dimension resize.Dimension `json:"dimension"`
	Why       string           `json:"why"`
}

// Refused are sizes that were not tried for one reason.
type Refused struct {
	Assembly  string           `json:"assembly"`
	Name      string           `json:"name"`
	Dimension resize.Dimension `json:"dimension"`
	SizesMm   []int            `json:"sizes_mm"`
	Why       string           `json:"why" jsonschema_description:"of the nearest of them"`
	reason    string
}

// quickRounds is how many rounds each section gets at first. Most are proven by then.
const quickRounds = 10

// trial is one size being tried.
type trial struct {
	size  *resize.Size
	isMm  int
	to    *domain.Register
	found difference
	cuts  []string // sections and sheets that are cut otherwise at this size
}

// WhatIf looks for sizes near those of a layout, planned as p, that buy less. It tries the nearest first, every size with a
// few rounds, then with the plan's own rounds those that may be better, the most promising first, until the rounds are spent.
func WhatIf(from Source, to *domain.Register, p *Plan, asked Nearby) (*Sizes, error) {
	asked, err := asked.Ready()
	if err != nil {
		return nil, err
	}
	out := &Sizes{Asked: asked, Better: []Size{}, Pairs: []Pair{}, Fixed: []Fixed{}, Refused: []Refused{}}
	can, fixed := resize.Sizes(to)
	for _, f := range fixed {
		out.Fixed = append(out.Fixed, Fixed(f))
	}
	quick, full := newSaw(p.Terms.Seed, min(quickRounds, p.Terms.Rounds), from.Stop), newSaw(p.Terms.Seed, p.Terms.Rounds, from.Stop)
	var trials, tried []*trial
	for _, t := range trialsOf(can, asked) {
		if quick.spent >= asked.Rounds || from.stopped() {
			out.LeftOut++
			continue
		}
		t.to, err = t.size.At(t.isMm)
		if domain.CodeOf(err) != "" {
			out.refuse(t, err.Error())
			continue
		} else if err != nil {
			return nil, err
		}
		out.Tried++
		if err := t.cut(from, p, quick); err != nil {
			return nil, err
		}
		tried = append(tried, t)
		if t.found.possible > 0 || t.found.better() {
			trials = append(trials, t)
		}
	}
	slices.SortStableFunc(trials, func(a, b *trial) int { return cmp.Compare(b.found.possible, a.found.possible) })
	for _, t := range trials {
		if quick.spent+full.spent >= asked.Rounds || from.stopped() {
			break
		}
		if err := t.cut(from, p, full); err != nil {
			return nil, err
		}
	}
	out.keep(trials, p)
	if err := out.together(from, p, tried, quick, full); err != nil {
		return nil, err
	}
	out.Rounds = quick.spent + full.spent
	return out, nil
}

// trialsOf are the sizes to try, the nearest first: round ones, as a builder sets out by.
func trialsOf(can []resize.Size, asked Nearby) []*trial {
	var out []*trial
	for i := range can {
		s := &can[i]
		most := s.WasMm + asked.WithinMm
		if s.MostMm > 0 {
			most = min(most, s.MostMm)
		}
		for mm := most / asked.StepMm * asked.StepMm; mm >= s.WasMm-asked.WithinMm && mm > 0; mm -= asked.StepMm {
			if mm != s.WasMm {
				out = append(out, &trial{size: s, isMm: mm})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *trial) int { return cmp.Compare(a.off(), b.off()) })
	return out
}

// off is how far a size is from the one asked for.
func (t *trial) off() int { return max(t.isMm-t.size.WasMm, t.size.WasMm-t.isMm) }

// cut plans the layout at this size, and says how it differs from the plan of the layout as it is.
func (t *trial) cut(from Source, was *Plan, with *saw) error {
	is, err := assign(from, t.to, was.Terms, with)
	if err == nil {
		t.found, t.cuts = differ(was, is), differing(was, is)
	}
	return err
}

// refuse notes a size that cannot be built with those that cannot for the same reason, the size in it apart.
func (s *Sizes) refuse(t *trial, why string) {
	reason := strings.ReplaceAll(why, strconv.Itoa(t.isMm), "")
	at := slices.IndexFunc(s.Refused, func(r Refused) bool {
		return r.Assembly == t.size.Assembly && r.Dimension == t.size.Dimension && r.reason == reason
	})
	if at < 0 {
		at = len(s.Refused)
		s.Refused = append(s.Refused, Refused{t.size.Assembly, t.size.Name, t.size.Dimension, nil, why, reason})
	}
	s.Refused[at].SizesMm = append(s.Refused[at].SizesMm, t.isMm)
	slices.Sort(s.Refused[at].SizesMm)
}

// keep takes the sizes that are better, and of one assembly's those only that save more than any nearer one on the same
// side: nobody gives up room for nothing.
func (s *Sizes) keep(trials []*trial, p *Plan) {
	slices.SortStableFunc(trials, func(a, b *trial) int { return cmp.Compare(a.off(), b.off()) })
	for i, t := range trials {
		worse := slices.ContainsFunc(trials[:i], func(o *trial) bool {
			return o.size == t.size && (o.isMm < o.size.WasMm) == (t.isMm < t.size.WasMm) && o.found.better() && o.found.compare(t.found) <= 0
		})
		if t.found.better() && !worse {
			s.Better = append(s.Better, t.told(p))
		}
	}
	slices.SortStableFunc(s.Better, func(a, b Size) int {
		return cmp.Or(cmp.Compare(boolInt(!a.Sure), boolInt(!b.Sure)), cmp.Compare(b.SavedMinor, a.SavedMinor), cmp.Compare(max(a.IsMm-a.WasMm, a.WasMm-a.IsMm), max(b.IsMm-b.WasMm, b.WasMm-b.IsMm)),
			cmp.Compare(a.Assembly, b.Assembly), cmp.Compare(a.Dimension, b.Dimension), cmp.Compare(a.IsMm, b.IsMm))
	})
}

// told is a trial as it is told.
func (t *trial) told(p *Plan) Size {
	out := Size{t.change(), t.found.gain()}
	out.Words = out.words([]Change{out.Change}, p.Currency)
	return out
}

func (t *trial) change() Change {
	return Change{Assembly: t.size.Assembly, Name: t.size.Name, Dimension: t.size.Dimension, WasMm: t.size.WasMm, IsMm: t.isMm, Moves: t.size.Moves}
}

// gain is a difference as it is told, its words apart.
func (d difference) gain() Gain {
	return Gain{SavedMinor: d.saved, Known: d.known, CertainMinor: max(d.certain, 0), Sure: d.sure(), Buys: d.bought, WasteMm: d.wasteMm, WasteMm2: d.wasteMm2, Cuts: d.cuts}
}
