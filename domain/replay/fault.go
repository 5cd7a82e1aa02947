package replay

import (
	"cmp"
	"slices"
	"strings"

	"unpick/domain"
)

// Rule names the rule that a plan breaks.
type Rule string

// The rules, in the order in which faults of one moment are reported.
const (
	Muddled     Rule = "muddled"      // a step holds what its kind does not allow
	NoSuchCode  Rule = "no-such-code" // the register has no such record
	NotInPlace  Rule = "not-in-place" // the record is not in place, so nothing can be done to it
	Landlords   Rule = "landlords"    // the landlord's piece is taken
	Twice       Rule = "twice"        // out, undone or propped a second time
	Apart       Rule = "apart"        // one subassembly leaves in two steps
	Held        Rule = "held"         // a piece leaves with its own fixing still in
	Carried     Rule = "carried"      // a piece leaves while it carries another
	Clamped     Rule = "clamped"      // a piece leaves while another is fixed through it
	Hidden      Rule = "hidden"       // a piece or a fixing is still covered
	Trapped     Rule = "trapped"      // a piece has no way out
	Interlocked Rule = "interlocked"  // the piece laid after it is still in place
	Sealed      Rule = "sealed"       // its seal is not cut yet
	Live        Rule = "live"         // a service is touched before it is proved dead
	ServiceIn   Rule = "service-in"   // a service still runs through the piece
	Unserved    Rule = "unserved"     // guard, access or light goes before the work it serves
	OpenEdge    Rule = "open-edge"    // people are on a deck whose edge, or a hole in it, nothing guards
	Unbraced    Rule = "unbraced"     // a stud or a beam under a floor loses what braces it
	Unsteadied  Rule = "unsteadied"   // a piece is left standing unheld
	Ungrounded  Rule = "falls"        // a piece left no longer reaches the landlord's fabric
	PropNeeded  Rule = "prop-needed"  // support is struck that is still needed
	PropLeft    Rule = "prop-left"    // support is still there at the end
	Never       Rule = "never"        // a piece never leaves, or what was wanted is not free
)

// rules lists every rule, in the order above.
var rules = [...]Rule{Muddled, NoSuchCode, NotInPlace, Landlords, Twice, Apart, Held, Carried, Clamped, Hidden, Trapped,
	Interlocked, Sealed, Live, ServiceIn, Unserved, OpenEdge, Unbraced, Unsteadied, Ungrounded, PropNeeded, PropLeft, Never}

// Rules lists every rule, in the order in which faults of one moment are reported.
func Rules() []Rule { return slices.Clone(rules[:]) }

// Fault is one breach: the step in which it happens ("" for one that shows only at the end), the rule, the piece
// or fixing it happens to, a sentence for a person, and the codes of what proves it.
type Fault struct {
	Step     string   `json:"step"`
	Rule     Rule     `json:"rule"`
	Code     string   `json:"code"`
	Because  string   `json:"because"`
	Evidence []string `json:"evidence,omitempty"`

	// Ways is set where one of several mends would do: each lists all that would have to be out first.
	Ways [][]string `json:"-"`
}

// dated is a fault with the tick at which it happens, to put faults in the order of the plan.
type dated struct {
	Fault
	at int32
}

// report adds a fault that happens at a tick; a tick past the last one is the end of the plan.
func (c *checker) report(at int32, rule Rule, code, because string, evidence ...string) {
	step := ""
	if at >= 0 && int(at) < len(c.stepOf) {
		step = c.steps[c.stepOf[at]].Code
	}
	c.faults = append(c.faults, dated{Fault{Step: step, Rule: rule, Code: code, Because: because, Evidence: evidence}, at})
}

// reportWays adds a fault that any one of several ways would mend; because is worded up to them.
func (c *checker) reportWays(at int32, rule Rule, code, because string, ways [][]string) {
	words := make([]string, len(ways))
	var all []string
	for i, way := range ways {
		words[i] = strings.Join(way, " and ")
		all = append(all, way...)
	}
	slices.Sort(all)
	c.report(at, rule, code, because+strings.Join(words, ", or "), slices.Compact(all)...)
	c.faults[len(c.faults)-1].Ways = ways
}

// way is one way of a fault: the codes of what was found to have to be out first.
func (c *checker) way(found map[int32]bool) []string {
	codes := make([]string, 0, len(found))
	for e := range found {
		codes = append(codes, c.code(e))
	}
	slices.Sort(codes)
	return codes
}

// distinct keeps each way once, the one with the fewest first, and none that asks for all of another and more.
func distinct(ways [][]string) [][]string {
	slices.SortFunc(ways, func(a, b []string) int { return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b)) })
	var out [][]string
	for _, way := range ways {
		if !slices.ContainsFunc(out, func(less []string) bool { return includes(way, less) }) {
			out = append(out, way)
		}
	}
	return out
}

// includes reports whether one sorted list holds all of another.
func includes(all, some []string) bool {
	for _, code := range some {
		if _, ok := slices.BinarySearch(all, code); !ok {
			return false
		}
	}
	return true
}

// sorted is what was found: by moment, then by rule, then by code; never in the order of the passes. Faults that
// differ only in their evidence are one.
func (c *checker) sorted() []Fault {
	slices.SortFunc(c.faults, func(a, b dated) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(slices.Index(rules[:], a.Rule), slices.Index(rules[:], b.Rule)),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Because, b.Because), slices.Compare(a.Evidence, b.Evidence))
	})
	var out []Fault
	for i, f := range c.faults {
		if i == 0 || f.at != c.faults[i-1].at || f.Rule != c.faults[i-1].Rule || f.Code != c.faults[i-1].Code || f.Because != c.faults[i-1].Because {
			out = append(out, f.Fault)
			continue
		}
		same := &out[len(out)-1]
		for _, code := range f.Evidence {
			if !slices.Contains(same.Evidence, code) {
				same.Evidence = append(same.Evidence, code)
			}
		}
	}
	return out
}

// called is a piece as a person would call it: its kind and its code.
func (s *site) called(e int32) string {
	el := &s.register.Elements[e]
	kind := el.Kind
	if kind == domain.OtherPiece || kind == "" {
		kind = "piece"
	}
	return strings.ReplaceAll(string(kind), "-", " ") + " " + el.Code
}

func (s *site) code(e int32) string       { return s.register.Elements[e].Code }
func (s *site) fixingCode(f int32) string { return s.register.Fixings[f].Code }
