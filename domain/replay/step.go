package replay

// Kind says what a step does.
type Kind string

// The kinds of step.
const (
	Remove     Kind = "remove"      // pieces out, fixings undone
	Prop       Kind = "prop"        // temporary support in
	StrikeProp Kind = "strike-prop" // temporary support out
	MakeDead   Kind = "make-dead"   // services isolated and proved dead, or their impairment agreed
)

// Step is one step of a plan as the checker sees it: codes only, so that nothing the planner worked out is
// believed. Only the lists of its kind may be filled.
//
// In a Remove step, first the fixings are undone whose held piece stays; then each piece in the order given has
// its own fixings undone and leaves. A subassembly leaves as one at the place of its first piece in the list.
type Step struct {
	Code     string   `json:"code"`
	Kind     Kind     `json:"kind"`
	Elements []string `json:"elements,omitempty"` // Remove: pieces out, in order
	Fixings  []string `json:"fixings,omitempty"`  // Remove: fixings undone
	Props    []string `json:"props,omitempty"`    // Prop, StrikeProp: the elements that the support is under
	Services []string `json:"services,omitempty"` // MakeDead: elements

	// OpenEdges are deck boards, in a step of any kind: from then on a hold has their open edges guarded by hand.
	OpenEdges []string `json:"open_edges,omitempty"`

	// KeepOff are pieces that stay, in a step of any kind: from then on a hold keeps people off them.
	KeepOff []string `json:"keep_off,omitempty"`
	// LetGo are linings that stay on their other fixings, once this step has undone those into what leaves next.
	LetGo []string `json:"let_go,omitempty"`
}

// muddled says what a step holds that its kind does not allow, "" when nothing.
func (s *Step) muddled() string {
	pieces, props, services := len(s.Elements)+len(s.Fixings) > 0, len(s.Props) > 0, len(s.Services) > 0
	switch s.Kind {
	case Remove:
		if props || services {
			return "takes pieces out, yet names props or services"
		}
	case Prop, StrikeProp:
		if pieces || services {
			return "is about props, yet names pieces, fixings or services"
		}
	case MakeDead:
		if pieces || props {
			return "makes services dead, yet names pieces, fixings or props"
		}
	default:
		return "is of no kind that the check knows"
	}
	return ""
}
