package release

import "fmt"

// Reason says why one thing must happen before another.
type Reason uint8

// The reasons.
const (
	Carried  Reason = iota // After carries Before, by a fixing, a logged bearing or one read from the boxes
	Clamped                // After is clamped between Before and what Before is fixed to
	Hidden                 // Before covers the fixings of After
	Trapped                // Before lies in After's only way out
	Tongued                // Before was laid later, tongue in groove
	Sealed                 // Before is a seal on After
	Live                   // After is, or holds, a service that must be proved dead
	Running                // Before runs through or on After
	Served                 // After guards, gives access to or lights work on Before
	Braced                 // After braces what carries Before
	Steadied               // After keeps Before from falling over
	Undone                 // the fixing Before holds, passes through or goes into After
)

var reasonNames = [...]string{"carried", "clamped", "hidden", "trapped", "tongued", "sealed", "live", "running", "served", "braced", "steadied", "undone"}

func (r Reason) String() string { return reasonNames[r] }

// sentence words a fact for people: before and after are codes.
func (r Reason) sentence(before, after string) string {
	switch r {
	case Carried:
		return fmt.Sprintf("%s carries %s", after, before)
	case Clamped:
		return fmt.Sprintf("%s is clamped by %s", after, before)
	case Hidden:
		return fmt.Sprintf("%s hides the fixings of %s", before, after)
	case Trapped:
		return fmt.Sprintf("%s traps %s", before, after)
	case Tongued:
		return fmt.Sprintf("%s is tongued to %s and was laid after it", before, after)
	case Sealed:
		return fmt.Sprintf("the seal %s on %s is cut first", before, after)
	case Live:
		return fmt.Sprintf("%s must be proved dead before %s is touched", before, after)
	case Running:
		return fmt.Sprintf("%s runs through %s", before, after)
	case Braced:
		return fmt.Sprintf("%s braces what carries %s", after, before)
	case Steadied:
		return fmt.Sprintf("%s keeps %s from falling over", after, before)
	case Served:
		return fmt.Sprintf("%s serves the work on %s", after, before)
	}
	return fmt.Sprintf("%s is undone before %s leaves", before, after)
}

// Explain words an arc and names its evidence: fixing and relation codes, or how it was read from the boxes.
func (g *Graph) Explain(a Arc) (sentence string, evidence []string) {
	sentence = a.Reason.sentence(g.Nodes[a.Before].Code, g.Nodes[a.After].Code)
	if a.Fixing >= 0 {
		evidence = append(evidence, g.Register.Fixings[a.Fixing].Code)
	}
	if a.Relation >= 0 {
		evidence = append(evidence, g.Register.Relations[a.Relation].Code)
	}
	if len(evidence) == 0 {
		evidence = []string{fromPlaces}
	}
	return sentence, evidence
}

// ExplainWay words one way of a gate.
func (g *Graph) ExplainWay(gate Gate, w Way) string {
	after := g.Nodes[gate.After].Code
	names := ""
	for i, n := range w.Nodes {
		if i > 0 {
			names += ", "
		}
		names += g.Nodes[n].Code
	}
	if gate.Reason == Hidden {
		return fmt.Sprintf("%s can be undone once %s is out", after, names)
	}
	return fmt.Sprintf("%s can leave once %s is out", after, names)
}
