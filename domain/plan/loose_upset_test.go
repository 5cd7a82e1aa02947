package plan_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/plan"
)

// What somebody forgot to log, or logged the wrong way round, plans to a sequence that replays clean all the same,
// or is refused with a reason that names pieces of the register. It never ends the program.
func TestLoosePiecesUpset(t *testing.T) {
	t.Parallel()
	for _, name := range slices.Sorted(maps.Keys(looseSorts)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				r := looseSorts[name](t)
				relate(t, r)
				for range rapid.IntRange(1, 3).Draw(t, "upsets") {
					upset(t, r)
				}
				if faults := domain.Check(r); faults != nil {
					t.Skip("refused before it is planned: ", faults)
				}
				p, err := plan.Make(r)
				if err != nil {
					checkRefusal(t, r, err)
					return
				}
				checkAccounts(t, r, p)
			})
		})
	}
}

// relate logs what is true of any two neighbours in build order: the later one hides, traps or interlocks with the
// earlier, or the earlier serves the later.
func relate(t *rapid.T, r *domain.Register) {
	for i := range rapid.IntRange(0, 4).Draw(t, "relations") {
		last := rapid.IntRange(1, len(r.Elements)-1).Draw(t, "later")
		first := rapid.IntRange(0, last-1).Draw(t, "earlier")
		kind := rapid.SampledFrom([]domain.RelationKind{domain.Hides, domain.Traps, domain.Interlocks, domain.Steadies, domain.BearsOn, domain.Serves}).Draw(t, "kind")
		rel := domain.Relation{Code: fmt.Sprintf("R%d", i+1), Kind: kind, From: r.Elements[last].Code, To: r.Elements[first].Code, Origin: domain.FromLog}
		if kind == domain.Serves {
			rel.From, rel.To = rel.To, rel.From
		}
		r.Relations = append(r.Relations, rel)
	}
}

// upset makes one mistake in a register.
func upset(t *rapid.T, r *domain.Register) {
	what := rapid.SampledFrom([]string{"fixing forgotten", "fixing turned", "relation turned", "piece forgotten", "head unseen", "side mistaken"}).Draw(t, "upset")
	if what == "relation turned" && len(r.Relations) > 0 {
		rel := &r.Relations[rapid.IntRange(0, len(r.Relations)-1).Draw(t, "relation")]
		rel.From, rel.To = rel.To, rel.From
		return
	}
	if len(r.Fixings) == 0 {
		return
	}
	at := rapid.IntRange(0, len(r.Fixings)-1).Draw(t, "fixing")
	f := &r.Fixings[at]
	switch what {
	case "fixing forgotten":
		forget(r, at)
	case "fixing turned":
		if f.IntoElement != "" {
			f.Holds, f.IntoElement = f.IntoElement, f.Holds
		}
	case "piece forgotten":
		forgetPiece(r, f.Holds)
	case "head unseen":
		f.Undo, f.Run.PositionsMm, f.Known = nil, nil, domain.Assumed
	case "side mistaken":
		for i := range f.Undo {
			f.Undo[i] = f.Undo[i].Opposite()
		}
	}
}

func forget(r *domain.Register, at int) {
	code := r.Fixings[at].Code
	r.Fixings = slices.Delete(r.Fixings, at, at+1)
	r.Holes = slices.DeleteFunc(r.Holes, func(h domain.Hole) bool { return h.Fixing == code })
}

// forgetPiece takes a piece out of the register with all that was logged about it.
func forgetPiece(r *domain.Register, code string) {
	for at := len(r.Fixings) - 1; at >= 0; at-- {
		f := &r.Fixings[at]
		f.Through = slices.DeleteFunc(f.Through, func(c string) bool { return c == code })
		if f.Holds == code || f.IntoElement == code {
			forget(r, at)
		}
	}
	r.Relations = slices.DeleteFunc(r.Relations, func(x domain.Relation) bool { return x.From == code || x.To == code })
	r.Elements = slices.DeleteFunc(r.Elements, func(e domain.Element) bool { return e.Code == code })
}

var codeForm = regexp.MustCompile(`[A-Z][A-Z0-9]*-?[A-Z0-9-]*`)

// checkRefusal holds a refusal to being a cycle that names pieces which are in the register.
func checkRefusal(t *rapid.T, r *domain.Register, err error) {
	if got := domain.CodeOf(err); got != domain.Cycle {
		t.Fatalf("refused with code %q, want %q: %v\n%s", got, domain.Cycle, err, laidOut(r))
	}
	index := r.Index()
	for _, word := range codeForm.FindAllString(err.Error(), -1) {
		if _, ok := index.Elements[word]; ok {
			return
		}
	}
	t.Fatalf("the refusal names no piece: %v", err)
}
