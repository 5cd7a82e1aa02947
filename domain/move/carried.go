package move

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// Carried is a subassembly of an assembly that goes up as it stood. It is carried as one unless something stands against it.
type Carried struct {
	Code     string   `json:"code" jsonschema_description:"of the subassembly here"`
	Pieces   []string `json:"pieces"`
	LengthMm int      `json:"length_mm"`
	WidthMm  int      `json:"width_mm"`
	ThickMm  int      `json:"thickness_mm"`
	MassKg   float64  `json:"mass_kg"`
	People   int      `json:"people,omitempty" jsonschema_description:"the fewest whose guideline figure it is within"`
	Against  string   `json:"against,omitempty" jsonschema_description:"why it is taken to pieces all the same"`
}

// AsOne reports whether it is carried in one piece.
func (c Carried) AsOne() bool { return c.Against == "" }

// carriedIn are the subassemblies of which every piece goes back to its place; all reports that nothing else goes.
func (p *Plan) carriedIn(from, to *domain.Register, saved map[string]*salvage.Piece, pairs map[int]int) (out []Carried, all bool) {
	held := map[string][]int{}
	for i := range pairs {
		if s := from.Elements[i].Subassembly; s != "" {
			held[s] = append(held[s], i)
		}
	}
	size := map[string]int{}
	for i := range from.Elements {
		if e := &from.Elements[i]; e.ComesOut() && e.Kind != domain.Seal {
			size[e.Subassembly]++
		}
	}
	carried := 0
	for code, rows := range held {
		slices.Sort(rows)
		if len(rows) < leastWhole || len(rows) < size[code] {
			continue
		}
		c := Carried{Code: code}
		for _, i := range rows {
			q := saved[from.Elements[i].Code]
			c.Pieces = append(c.Pieces, q.Code)
			c.MassKg += q.MassKg
			if !q.MassKnown {
				c.Against = "nobody knows its mass"
			}
		}
		slices.Sort(c.Pieces)
		c.MassKg = tenth(c.MassKg)
		c.LengthMm, c.WidthMm, c.ThickMm = boxOf(from, rows)
		if c.Against == "" {
			c.against(p, from, to)
		}
		if c.AsOne() {
			carried += len(rows)
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Carried) int { return cmp.Compare(a.Code, b.Code) })
	return out, carried == len(pairs)
}

// boxOf is the size of the box round pieces along the axes of the first, longest side first.
func boxOf(r *domain.Register, rows []int) (long, wide, thick int) {
	var size [3]int
	for k, axis := range r.Elements[rows[0]].Placement.Axes() {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, i := range rows {
			for _, c := range r.Elements[i].Box().Corners() {
				lo, hi = min(lo, c.Dot(axis)), max(hi, c.Dot(axis))
			}
		}
		size[k] = int(math.Ceil(hi - lo - 1e-6))
	}
	slices.Sort(size[:])
	return size[2], size[1], size[0]
}

// against says what stands against carrying it as one: an opening at either end, the vehicle, or its mass for the crew by the
// guideline figures, which are given for three people at most.
func (c *Carried) against(p *Plan, from, to *domain.Register) {
	for _, r := range []*domain.Register{from, to} {
		if exits := r.FitOut.Exits; len(exits) > 0 && !slices.ContainsFunc(exits, func(x domain.Exit) bool { return advice.Passes(x, c.LengthMm, c.WidthMm, c.ThickMm) }) {
			c.Against = fmt.Sprintf("it passes no opening of %s", r.FitOut.Code)
			return
		}
	}
	v := p.Terms.Vehicle
	switch {
	case !v.takes(c.LengthMm, c.WidthMm, c.ThickMm):
		c.Against = fmt.Sprintf("it does not lie on the bed of the %s", cmp.Or(v.Name, "vehicle"))
		return
	case c.MassKg > v.mayLoadKg():
		c.Against = fmt.Sprintf("it weighs more than the %s may load", cmp.Or(v.Name, "vehicle"))
		return
	}
	crew := min(from.FitOut.Crew.Size(), to.FitOut.Crew.Size(), 3)
	guide := 0.0
	for c.People = 1; c.People <= crew; c.People++ {
		guide, _ = catalogue.LiftingGuide(p.register.Catalogue, catalogue.Men, catalogue.KnuckleToElbow, catalogue.CloseToBody, c.People)
		if c.MassKg <= guide && (c.People > 1 || c.LengthMm <= longMm) {
			return
		}
	}
	c.People = 0
	c.Against = fmt.Sprintf("it weighs %.0f kg, over the guideline figure of %.1f kg for the %d there are", c.MassKg, guide, crew)
}

// howWords says how an assembly goes up as it stood.
func howWords(from *domain.Register, pairs map[int]int, w *Whole) string {
	count := map[domain.ElementKind]int{}
	for i := range pairs {
		count[from.Elements[i].Kind]++
	}
	var said []string
	switch {
	case count[domain.DoorLeaf] > 0 && w.Leaves:
		said = append(said, "the door set goes as it hangs, frame, leaf and ironmongery in one piece")
	case count[domain.DoorLeaf] > 0:
		said = append(said, "the door set goes as a set: frame, leaf and ironmongery, marked and kept together; the leaf comes off its hinges")
	case w.Leaves:
		said = append(said, "carried as it stands")
	default:
		said = append(said, "the same pieces in the same places: each is marked, and goes back where it was, into its own holes")
	}
	for _, c := range w.Carried {
		name := fmt.Sprintf("%s, %d x %d mm, %.0f kg,", c.Code, c.LengthMm, c.WidthMm, c.MassKg)
		if c.AsOne() {
			said = append(said, fmt.Sprintf("%s is carried as one by %d", name, c.People))
		} else {
			said = append(said, fmt.Sprintf("%s is taken to pieces: %s", name, c.Against))
		}
	}
	var off []string
	for _, kind := range cover {
		if n := count[kind]; n > 0 && len(count) > 1 {
			off = append(off, fmt.Sprintf("%d x %s", n, kind))
		}
	}
	if len(off) > 0 {
		said = append(said, strings.Join(off, ", ")+" come off first and go back on")
	}
	if n := len(w.New); n > 0 {
		said = append(said, fmt.Sprintf("%d of its pieces are made anew", n))
	}
	return strings.Join(said, "; ")
}
