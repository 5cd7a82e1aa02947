package domain

import (
	"fmt"
	"slices"
	"strings"
)

// The kinds of warning about a register as it stands.
const (
	Unsupported = "unsupported" // reaches no host surface through fixings and bearings
	Provisional = "provisional" // assumed or unknown: plans as the worst case
)

// Warnings is what a reader of the register should know before trusting a plan of it, and what refuses nothing:
// pieces in place that reach no host surface through fixings and stated bearings, and records that nobody has
// seen. Bearing read from geometry is not asked here, so that a piece warned of may still be found to stand on
// something. One warning per assembly or noun, in the order of the register; time grows with its size.
func Warnings(r *Register) []Advice { return append(unsupported(r), provisional(r)...) }

// unsupported spreads from the hosts and the landlord's own pieces to whatever they carry, and on.
func unsupported(r *Register) []Advice {
	index := r.Index()
	carries := make([][]int, len(r.Elements))
	reached := make([]bool, len(r.Elements))
	var next []int
	reach := func(i int) {
		if !reached[i] {
			reached[i] = true
			next = append(next, i)
		}
	}
	carry := func(carrier, host, carried string) {
		at, ok := index.Elements[carried]
		if !ok {
			return
		}
		if _, isHost := index.Hosts[host]; isHost {
			reach(at)
		} else if by, ok := index.Elements[carrier]; ok && r.Elements[by].IsInPlace() {
			carries[by] = append(carries[by], at)
		}
	}
	for i := range r.Elements {
		if r.Elements[i].Owner == LandlordOwns && r.Elements[i].IsInPlace() {
			reach(i)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			carry(f.IntoElement, f.IntoHost, f.Holds)
			// What a fixing passes through is clamped by it, and hangs on what it goes into.
			for _, code := range f.Through {
				carry(f.IntoElement, f.IntoHost, code)
			}
		}
	}
	for i := range r.Relations {
		if rel := &r.Relations[i]; rel.Kind == BearsOn && !rel.Struck && rel.Origin != FromGeometry {
			carry(rel.To, rel.To, rel.From)
		}
	}
	for len(next) > 0 {
		i := next[len(next)-1]
		next = next[:len(next)-1]
		if r.Elements[i].IsInPlace() {
			for _, carried := range carries[i] {
				reach(carried)
			}
		}
	}
	var loose grouped
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() && !reached[i] {
			loose.add(e.Assembly, e.Code)
		}
	}
	return loose.advice(func(assembly string, codes []string) Advice {
		of := ""
		if assembly != "" {
			of = " of " + assembly
		}
		return Advice{
			Kind: Unsupported, Severity: Warning, Codes: codes,
			Text: fmt.Sprintf("%s%s without a way to a host surface through fixings and bearings: %s", counted(len(codes), "piece"), of, firstOf(codes)),
			Mend: "log what holds each of them, or what it bears on",
		}
	})
}

// provisional gathers what nobody has seen, noun by noun.
func provisional(r *Register) []Advice {
	var unseen grouped
	for _, h := range r.Hosts {
		if h.Known.Provisional() {
			unseen.add("host surface", h.Code)
		}
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() && e.Known.Provisional() {
			unseen.add("piece", e.Code)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() && f.Known.Provisional() {
			unseen.add("fixing", f.Code)
		}
	}
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Charged() && h.Known.Provisional() {
			unseen.add("hole", h.Code)
		}
	}
	return unseen.advice(func(noun string, codes []string) Advice {
		return Advice{
			Kind: Provisional, Severity: Note, Codes: codes,
			Text: fmt.Sprintf("%s assumed or unknown until opened: %s; the plan takes the worst case and is provisional", counted(len(codes), noun), firstOf(codes)),
			Mend: "look, measure, and amend how each is known",
		}
	})
}

// grouped gathers codes under names, in the order in which the names first come.
type grouped struct {
	names []string
	codes map[string][]string
}

func (g *grouped) add(name, code string) {
	if g.codes == nil {
		g.codes = map[string][]string{}
	}
	if _, known := g.codes[name]; !known {
		g.names = append(g.names, name)
	}
	g.codes[name] = append(g.codes[name], code)
}

func (g *grouped) advice(of func(name string, codes []string) Advice) []Advice {
	var out []Advice
	for _, name := range g.names {
		out = append(out, of(name, g.codes[name]))
	}
	return out
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// firstOf lists a few codes and says how many more there are.
func firstOf(codes []string) string {
	const few = 6
	if len(codes) <= few {
		return strings.Join(codes, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(slices.Clone(codes[:few]), ", "), len(codes)-few)
}
