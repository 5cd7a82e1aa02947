package move

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Whole is an assembly of the next premises for which one of here goes up again as it stood: its frame stands alike in both,
// so that each piece goes back to its own place, with its own holes. That is why a piece that is downgraded for its holes
// alone serves in it. Linings, insulation and trim come off first; those that do not serve again are made anew.
type Whole struct {
	From    string    `json:"from" jsonschema_description:"assembly that comes out"`
	To      string    `json:"to" jsonschema_description:"assembly that it becomes"`
	Name    string    `json:"name"`
	Pieces  int       `json:"pieces" jsonschema_description:"that go up again"`
	Becomes []Become  `json:"becomes"`
	New     []string  `json:"made_anew,omitempty" jsonschema_description:"pieces of the next premises' assembly that no piece of here goes back to"`
	Carried []Carried `json:"subassemblies,omitempty" jsonschema_description:"what is held together: a raised frame, a door lining, a door set; carried as one where nothing stands against it"`
	Leaves  bool      `json:"leaves_whole" jsonschema_description:"all of it is carried in one piece"`
	How     string    `json:"how"`
}

// cover are the kinds that come off before a frame is carried, and go back on it (common practice, no source).
var cover = []domain.ElementKind{domain.Board, domain.Insulation, domain.Architrave, domain.Skirting, domain.Trim, domain.Packer}

// wholes pairs assemblies whose frames are the same: pieces of one shape, each in the same place by its neighbours, all of
// them fit for it. Assemblies are taken in order of code, so the same registers give the same pairs.
func (p *Plan) wholes(from *domain.Register, inv salvage.Inventory, to *domain.Register) []Whole {
	saved := map[string]*salvage.Piece{}
	for i := range inv.Pieces {
		saved[inv.Pieces[i].Code] = &inv.Pieces[i]
	}
	mine, theirs := partsOf(from), partsOf(to)
	here := map[string][]string{} // by what a frame is made of
	for _, a := range sortedCodes(mine) {
		print := printOf(from, mine[a].frame)
		here[print] = append(here[print], a)
	}
	match := matcher{from: from, to: to, saved: saved, holesHere: holesOf(from), holesThere: holesOf(to)}
	var out []Whole
	for _, a := range sortedCodes(theirs) {
		print := printOf(to, theirs[a].frame)
		for k, source := range here[print] {
			if pairs := match.stands(mine[source], theirs[a]); pairs != nil {
				here[print] = slices.Delete(here[print], k, k+1)
				out = append(out, p.pairOf(from, to, saved, source, a, pairs, theirs[a]))
				break
			}
		}
	}
	return out
}

// pairOf writes down a pair: pairs are rows of the one register to rows of the other.
func (p *Plan) pairOf(from, to *domain.Register, saved map[string]*salvage.Piece, source, target string, pairs map[int]int, theirs parts) Whole {
	w := Whole{From: source, To: target, Pieces: len(pairs)}
	for _, a := range to.Assemblies {
		if a.Code == target {
			w.Name = a.Name
		}
	}
	back := map[int]bool{}
	for i, k := range pairs {
		e := &from.Elements[i]
		back[k] = true
		w.Becomes = append(w.Becomes, Become{Stock: e.Code, Salvaged: true, LengthMm: e.LengthMm, WidthMm: widthOf(from, e), Makes: []string{to.Elements[k].Code}})
	}
	slices.SortFunc(w.Becomes, func(a, b Become) int { return cmp.Compare(a.Stock, b.Stock) })
	for _, k := range slices.Concat(theirs.frame, theirs.cover) {
		if !back[k] {
			w.New = append(w.New, to.Elements[k].Code)
		}
	}
	slices.Sort(w.New)
	w.Carried, w.Leaves = p.carriedIn(from, to, saved, pairs)
	w.How = howWords(from, pairs, &w)
	return w
}

// leastWhole is how many pieces an assembly must have to be spoken of as one.
const leastWhole = 2

// parts are the pieces of an assembly: what stands by itself, and what covers it.
type parts struct{ frame, cover []int }

// partsOf are the parts of every assembly with a frame to speak of. One that is all cover, as a run of skirting, is its own frame.
func partsOf(r *domain.Register) map[string]parts {
	out := map[string]parts{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if e.Assembly == "" || !e.ComesOut() || e.Kind.IsService() || e.Kind == domain.Seal {
			continue
		}
		a := out[e.Assembly]
		if slices.Contains(cover, e.Kind) {
			a.cover = append(a.cover, i)
		} else {
			a.frame = append(a.frame, i)
		}
		out[e.Assembly] = a
	}
	for code, a := range out {
		if len(a.frame) == 0 {
			a = parts{frame: a.cover}
			out[code] = a
		}
		if len(a.frame)+len(a.cover) < leastWhole {
			delete(out, code)
		}
	}
	return out
}

func sortedCodes(all map[string]parts) []string {
	var out []string
	for code := range all {
		out = append(out, code)
	}
	slices.Sort(out)
	return out
}

// printOf is what a frame is made of, in words that two of the same pieces share.
func printOf(r *domain.Register, rows []int) string {
	words := make([]string, len(rows))
	for i, row := range rows {
		words[i] = pieceWords(&r.Elements[row])
	}
	slices.Sort(words)
	return strings.Join(words, "\n")
}

func pieceWords(e *domain.Element) string {
	return fmt.Sprintf("%s %s %dx%dx%d %v %g %g %v %v", e.Kind, e.Material, e.LengthMm, e.WidthMm, e.ThicknessMm, e.Outline, e.StartCutDeg, e.EndCutDeg, e.Treated, e.FireRated)
}

// holesOf says for every piece which fixings go into it, by type and number: two pieces with the same have the same holes.
func holesOf(r *domain.Register) map[string]string {
	words := map[string][]string{}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if !f.InPlace() {
			continue
		}
		note := func(how, code string) {
			if code != "" {
				words[code] = append(words[code], fmt.Sprintf("%s %s %d", how, f.Type, f.Count))
			}
		}
		note("holds", f.Holds)
		note("into", f.IntoElement)
		for _, code := range f.Through {
			note("through", code)
		}
	}
	out := map[string]string{}
	for code, all := range words {
		slices.Sort(all)
		out[code] = strings.Join(all, "\n")
	}
	return out
}
