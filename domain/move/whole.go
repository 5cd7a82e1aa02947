package move

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Whole is an assembly of the next premises for which one of these goes up again as it stands.
type Whole struct {
	From    string   `json:"from" jsonschema_description:"assembly that comes out"`
	To      string   `json:"to" jsonschema_description:"assembly that it becomes"`
	Name    string   `json:"name"`
	Pieces  int      `json:"pieces"`
	Becomes []Become `json:"becomes"`
	Leaves  bool     `json:"leaves_whole" jsonschema_description:"it is taken out in one piece too: a door set, framed walls; else it is taken apart and put together again"`
}

// wholes pairs assemblies that have the same pieces: one of here that is all saved, for one of there. Assemblies are
// taken in order of code, so the same registers give the same pairs.
func wholes(from *domain.Register, inv salvage.Inventory, to *domain.Register) []Whole {
	keeps := map[string]bool{}
	for i := range inv.Pieces {
		p := &inv.Pieces[i]
		keeps[p.Code] = p.Goes == salvage.Reuse && p.Condition() == salvage.Whole && !p.Provisional
	}
	here := map[string][]string{} // by what an assembly is made of: codes of assemblies that are saved in full
	mine := partsOf(from)
	for _, a := range sortedCodes(mine) {
		all := true
		for _, i := range mine[a] {
			all = all && keeps[from.Elements[i].Code]
		}
		if all {
			here[printOf(from, mine[a])] = append(here[printOf(from, mine[a])], a)
		}
	}
	var out []Whole
	theirs := partsOf(to)
	for _, a := range sortedCodes(theirs) {
		print := printOf(to, theirs[a])
		if len(here[print]) == 0 {
			continue
		}
		source := here[print][0]
		here[print] = here[print][1:]
		out = append(out, pair(from, to, source, a, mine[source], theirs[a]))
	}
	return out
}

// pair matches the pieces of two assemblies of the same print one to one.
func pair(from, to *domain.Register, source, target string, mine, theirs []int) Whole {
	w := Whole{From: source, To: target, Pieces: len(theirs), Leaves: true}
	for _, a := range to.Assemblies {
		if a.Code == target {
			w.Name = a.Name
		}
	}
	sorted := func(r *domain.Register, rows []int) []int {
		out := slices.Clone(rows)
		slices.SortFunc(out, func(a, b int) int {
			return cmp.Or(cmp.Compare(pieceWords(&r.Elements[a]), pieceWords(&r.Elements[b])), cmp.Compare(r.Elements[a].Code, r.Elements[b].Code))
		})
		return out
	}
	ours, next := sorted(from, mine), sorted(to, theirs)
	for i := range next {
		e := &from.Elements[ours[i]]
		w.Leaves = w.Leaves && e.Subassembly != ""
		w.Becomes = append(w.Becomes, Become{Stock: e.Code, Salvaged: true, Makes: []string{to.Elements[next[i]].Code}, LengthMm: e.LengthMm, WidthMm: widthOf(from, e)})
	}
	return w
}

// least is how many pieces an assembly must have to be spoken of as one.
const leastWhole = 2

func partsOf(r *domain.Register) map[string][]int {
	out := map[string][]int{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly != "" && e.ComesOut() && !e.Kind.IsService() && e.Kind != domain.Seal {
			out[e.Assembly] = append(out[e.Assembly], i)
		}
	}
	for code, rows := range out {
		if len(rows) < leastWhole {
			delete(out, code)
		}
	}
	return out
}

func sortedCodes(parts map[string][]int) []string {
	var out []string
	for code := range parts {
		out = append(out, code)
	}
	slices.Sort(out)
	return out
}

// printOf is what an assembly is made of, in words that two of the same pieces share.
func printOf(r *domain.Register, rows []int) string {
	words := make([]string, len(rows))
	for i, row := range rows {
		words[i] = pieceWords(&r.Elements[row])
	}
	slices.Sort(words)
	return strings.Join(words, "\n")
}

func pieceWords(e *domain.Element) string {
	return fmt.Sprintf("%s %s %dx%dx%d %v %g %g %v", e.Kind, e.Material, e.LengthMm, e.WidthMm, e.ThicknessMm, e.Outline, e.StartCutDeg, e.EndCutDeg, e.Treated)
}
