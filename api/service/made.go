package service

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Made says in words what a change put into the register.
type Made struct {
	Pieces  int
	Kinds   []Count // pieces by kind, most first
	Fixings []Count // fixings by sort, most first
	Holes   []HolesMade
}

// Count is so many of something, as one says it.
type Count struct {
	N    int
	What string // "studs", "screws"
}

// HolesMade are new holes in one of the landlord's surfaces, and how many there are then of those that were agreed.
type HolesMade struct {
	Host, Name         string
	New, Built, Agreed int
}

// madeOf counts records that were added; r holds them already.
func madeOf(r *domain.Register, add domain.Records) Made {
	m := Made{Pieces: len(add.Elements)}
	kinds, sorts, holes := map[string]int{}, map[string]int{}, map[string]int{}
	for i := range add.Elements {
		kinds[pieceWord(add.Elements[i].Kind)]++
	}
	for i := range add.Fixings {
		sorts[fixingWord(r.Catalogue.FixingTypes[add.Fixings[i].Type])] += add.Fixings[i].Count
	}
	for i := range add.Holes {
		holes[add.Holes[i].Host] += add.Holes[i].Count
	}
	m.Kinds, m.Fixings = mostFirst(kinds), mostFirst(sorts)
	built, hosts := map[string]int{}, r.Index().Hosts
	for i := range r.Holes {
		if k, ok := hosts[r.Holes[i].Host]; ok { // what is in a struck surface counts nowhere
			built[r.Holes[i].Host] += r.Hosts[k].New(&r.Holes[i])
		}
	}
	for i := range r.Hosts {
		if h := &r.Hosts[i]; holes[h.Code] > 0 {
			m.Holes = append(m.Holes, HolesMade{h.Code, h.Name, holes[h.Code], built[h.Code], h.AgreedHoles})
		}
	}
	return m
}

func mostFirst(counts map[string]int) []Count {
	var out []Count
	for what, n := range counts {
		out = append(out, Count{n, what})
	}
	slices.SortFunc(out, func(a, b Count) int { return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.What, b.What)) })
	return out
}

// pieceWord is a kind of piece in the plural: "sole plates".
func pieceWord(kind domain.ElementKind) string {
	switch kind {
	case domain.OtherPiece:
		return "other pieces"
	case domain.DoorLeaf:
		return "door leaves"
	case domain.Insulation, domain.Strutting:
		return "pieces of " + string(kind)
	}
	return strings.ReplaceAll(string(kind), "-", " ") + "s"
}

// fixingWord is the sort of a fixing in the plural, by its family and the words of its code.
func fixingWord(t domain.FixingType) string {
	for _, w := range []struct{ in, word string }{
		{"nail", "nails"}, {"clamp", "clamps"}, {"bolt", "bolts"}, {"anchor", "anchors"}, {"resin", "resin studs"}, {"plug", "plugs"},
		{"staple", "staples"}, {"hinge", "hinges"}, {"rivet", "rivets"}, {"pin", "pins"}, {"clip", "clips"}, {"tie", "ties"}, {"screw", "screws"},
		{"self-", "screws"}, {"frame-fixing", "frame fixings"},
	} {
		if strings.Contains(t.Slug, w.in) && (w.in != "nail" && w.in != "pin" || t.Family != "adhesive") {
			return w.word
		}
	}
	switch t.Family {
	case "adhesive":
		return "lines of glue"
	case "seal":
		return "beads of sealant"
	}
	return "fixings"
}

// HoleCount is how many holes are new in all.
func (m Made) HoleCount() int {
	n := 0
	for _, h := range m.Holes {
		n += h.New
	}
	return n
}

// Says is all of it in one line: "33 pieces, 614 screws, 26 holes".
func (m Made) Says() string {
	var parts []string
	if m.Pieces > 0 {
		parts = append(parts, number(m.Pieces, "piece", "pieces"))
	}
	for _, c := range m.Fixings {
		parts = append(parts, number(c.N, single(c.What), c.What))
	}
	if n := m.HoleCount(); n > 0 {
		parts = append(parts, number(n, "hole", "holes"))
	}
	return strings.Join(parts, ", ")
}

// single is a word of fixingWord in the singular: "bead of sealant".
func single(many string) string {
	first, rest, of := strings.Cut(many, " of ")
	if of {
		rest = " of " + rest
	}
	return strings.TrimSuffix(first, "s") + rest
}

func number(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// LoggedEntry is one entry of the log that added something, read back, with what it made.
type LoggedEntry struct {
	Entry  domain.LogEntry
	Change domain.Change
	Made   Made
}

// LoggedAs is what an entry of the log added, or NotFound where there is no such entry or it added nothing.
func (s *Service) LoggedAs(ctx context.Context, fitOut string, number int64) (LoggedEntry, error) {
	missing := domain.Errorf(domain.NotFound, "entry %d of the log added nothing", number)
	if number < 2 {
		return LoggedEntry{}, missing // the first opens or imports the fit-out
	}
	entries, err := s.Log(ctx, fitOut, number-1, 1)
	if err != nil {
		return LoggedEntry{}, err
	}
	if len(entries) == 0 || entries[0].Number != number || entries[0].Kind != domain.Append {
		return LoggedEntry{}, missing
	}
	out := LoggedEntry{Entry: entries[0]}
	if err := json.Unmarshal(out.Entry.Change, &out.Change); err != nil {
		return LoggedEntry{}, fmt.Errorf("reading entry %d of the log of %s: %w", number, fitOut, err)
	}
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return LoggedEntry{}, err
	}
	out.Made = madeOf(r, out.Change.Add)
	return out, nil
}
