package detachability

import (
	"cmp"
	"slices"

	"unpick/domain/release"
)

// Unpublished says why the published index of a whole is not given.
const Unpublished = "not scored: it weights the parts by environmental cost, which the register does not hold"

// ByMass names the mean that is given instead; it is another figure than the published index.
const ByMass = "mean of the pieces' indices weighted by mass: not the published index"

// Group is how well the pieces of one assembly, or of all, come apart.
type Group struct {
	Code        string  `json:"code,omitempty" jsonschema_description:"assembly; empty is loose pieces, or the whole"`
	Name        string  `json:"name"`
	Pieces      int     `json:"pieces"`
	NotScored   int     `json:"not_scored" jsonschema_description:"pieces of which the register does not know enough; in no mean"`
	NoMass      int     `json:"without_mass" jsonschema_description:"scored pieces without a mass; not in the mean by mass"`
	MassKg      float64 `json:"mass_kg" jsonschema_description:"of the pieces in the mean by mass"`
	Scored      bool    `json:"scored" jsonschema_description:"false where no piece is in the mean by mass"`
	ByMass      float64 `json:"mean_by_mass" jsonschema_description:"weighted by mass: not the published index"`
	Lowest      float64 `json:"lowest" jsonschema_description:"published index of the piece that comes apart worst; 0 where none is scored"`
	LowestCode  string  `json:"lowest_piece,omitempty"`
	Provisional bool    `json:"provisional,omitempty"`
	weighted    float64
}

// Report is how well a fit-out comes apart.
type Report struct {
	Published  string   `json:"published_index_of_the_whole" jsonschema_description:"why it is not given"`
	Figure     string   `json:"figure_of_groups" jsonschema_description:"what the means of assemblies and of the whole are"`
	Whole      Group    `json:"whole"`
	Assemblies []Group  `json:"assemblies"`
	Pieces     []Rating `json:"pieces"`
}

// Take scores every piece that comes out, in order of code, and sums up by assembly and in all. It needs the graph of a
// register that passes domain.Check, and is linear but for the sorting.
func Take(g *release.Graph) Report {
	s := newScorer(g)
	r := g.Register
	out := Report{Published: Unpublished, Figure: ByMass, Whole: Group{Name: "The whole"}, Assemblies: []Group{}, Pieces: []Rating{}}
	groups := map[string]*Group{}
	for e := range r.Elements {
		if g.PieceOf[e] >= 0 {
			out.Pieces = append(out.Pieces, s.score(int32(e)))
		}
	}
	slices.SortFunc(out.Pieces, func(a, b Rating) int { return cmp.Compare(a.Code, b.Code) })
	for _, p := range out.Pieces {
		if groups[p.Assembly] == nil {
			groups[p.Assembly] = &Group{Code: p.Assembly, Name: "Loose pieces"}
		}
		groups[p.Assembly].count(p)
		out.Whole.count(p)
	}
	for _, a := range r.Assemblies {
		if group := groups[a.Code]; group != nil {
			group.Name = cmp.Or(a.Name, a.Code)
		}
	}
	for _, group := range groups {
		out.Assemblies = append(out.Assemblies, group.ended())
	}
	slices.SortFunc(out.Assemblies, func(a, b Group) int { return cmp.Compare(a.Code, b.Code) })
	out.Whole = out.Whole.ended()
	return out
}

func (g *Group) count(p Rating) {
	g.Pieces++
	g.Provisional = g.Provisional || p.Provisional
	if !p.Scored {
		g.NotScored++
		return
	}
	if x := p.Score.Product; g.LowestCode == "" || x < g.Lowest {
		g.Lowest, g.LowestCode = x, p.Code
	}
	if !p.MassKnown || p.MassKg <= 0 {
		g.NoMass++
		return
	}
	g.MassKg += p.MassKg
	g.weighted += p.MassKg * p.Score.Exact()
}

// ended divides, rounding last.
func (g *Group) ended() Group {
	if g.MassKg > 0 {
		g.Scored, g.ByMass = true, rounded(g.weighted/g.MassKg)
	}
	g.MassKg = rounded(g.MassKg)
	return *g
}
