package reports

import (
	"cmp"
	"fmt"
	"strings"

	"unpick/domain/detachability"
)

// comesApart writes how well every piece comes apart, and the means of each assembly and of all. The mean is live: it
// follows the pieces' own cells, scores and masses.
func (b *book) comesApart(r *detachability.Report) {
	if r == nil {
		return
	}
	t := b.newTable("How well it comes apart", []column{{"Code", 12, strong}, {"Kind", 14, plain}, {"From", 10, plain}, {"Held by", 34, plain}, {"Connection", 11, thousand}, {"Access", 9, thousand},
		{"Crossings", 10, thousand}, {"Edges", 8, thousand}, {"Comes apart (0.1 to 1)", 12, thousand}, {"Mass (kg)", 10, tenths}, {"Counted (kg)", 10, tenths}, {"Score by mass", 10, tenths}, {"What brings it down", 44, plain}}, a3, len(r.Pieces))
	for _, p := range r.Pieces {
		mass := any(p.MassKg)
		if !p.MassKnown || p.MassKg <= 0 {
			mass = "no mass"
		}
		kind := strings.ReplaceAll(string(p.Kind), "-", " ")
		n, counted, weighed := t.row+1, 0.0, 0.0
		scores := [5]any{"", "", "", "", "not scored"}
		held, because := p.Held, p.Why
		if p.Scored {
			s := p.Score
			scores = [5]any{s.Connection, s.Accessibility, s.Independency, s.Edge, formula{fmt.Sprintf("ROUND(4/(1/E%d+1/F%d+1/G%d+1/H%d),4)", n, n, n, n), s.Product}}
			because = strings.Join(p.Because, "; ")
			if p.MassKnown {
				counted, weighed = p.MassKg, p.MassKg*s.Exact()
			}
		}
		if p.Provisional {
			because = join("provisional", because)
		}
		t.add(p.Code, kind, fromOf(p.Assembly), held, scores[0], scores[1], scores[2], scores[3], scores[4], mass,
			formula{fmt.Sprintf("IF(AND(ISNUMBER(I%d),ISNUMBER(J%d)),J%d,0)", n, n, n), counted}, formula{fmt.Sprintf("IF(K%d>0,K%d*4/(1/E%d+1/F%d+1/G%d+1/H%d),0)", n, n, n, n, n, n), weighed}, because)
	}
	t.end()
	b.apartBy(r)
}

// apartBy sums up by assembly, and says what the figures are.
func (b *book) apartBy(r *detachability.Report) {
	last := max(len(r.Pieces), 1) + 1
	col := func(letter string) string {
		return fmt.Sprintf("'How well it comes apart'!$%s$2:$%s$%d", letter, letter, last)
	}
	groups := append(append([]detachability.Group{}, r.Assemblies...), r.Whole)
	t := b.newTable("Comes apart by assembly", []column{{"Code", 12, strong}, {"Name", 30, plain}, {"Pieces", 9, whole}, {"Not scored", 9, whole}, {"Mean by mass (0.1 to 1)", 13, thousand}, {"Worst", 9, thousand}, {"Worst piece", 14, plain}, {"What the figure is", 50, plain}}, a4, len(groups))
	for i, g := range groups {
		mean := any("not scored")
		if g.Scored {
			n := t.row + 1
			how := fmt.Sprintf("ROUND(SUMIFS(%s,%s,A%d)/SUMIFS(%s,%s,A%d),4)", col("L"), col("C"), n, col("K"), col("C"), n)
			if i == len(r.Assemblies) {
				how = fmt.Sprintf("ROUND(SUM(%s)/SUM(%s),4)", col("L"), col("K"))
			}
			mean = formula{how, g.ByMass}
		}
		words := r.Figure
		if i == len(r.Assemblies) {
			words = r.Figure + ". The published index of the whole is " + r.Published
		}
		if g.Provisional {
			words = join("provisional: something in it is assumed", words)
		}
		lowest := any("")
		if g.LowestCode != "" {
			lowest = g.Lowest
		}
		code := fromOf(g.Code)
		if i == len(r.Assemblies) {
			code = "All"
		}
		t.add(code, g.Name, g.Pieces, g.NotScored, mean, lowest, g.LowestCode, words)
	}
	t.end()
}

// fromOf names the assembly that a piece is from; a word stands for none, since a sum cannot look for an empty cell.
func fromOf(assembly string) string { return cmp.Or(assembly, "(loose)") }
