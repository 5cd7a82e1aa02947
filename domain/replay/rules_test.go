package replay

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// before moves the step that takes a piece out before the one that takes another.
func before(steps []Step, piece, other string) []Step {
	at := func(code string) int {
		return slices.IndexFunc(steps, func(s Step) bool { return slices.Contains(s.Elements, code) })
	}
	from := steps[at(piece)]
	rest := slices.Delete(slices.Clone(steps), at(piece), at(piece)+1)
	to := slices.IndexFunc(rest, func(s Step) bool { return slices.Contains(s.Elements, other) })
	return slices.Insert(rest, to, from)
}

// change is the plan with the step that takes a piece out changed.
func change(steps []Step, piece string, how func(*Step)) []Step {
	return with(steps, slices.IndexFunc(steps, func(s Step) bool { return slices.Contains(s.Elements, piece) }), how)
}

// fault is what a test looks for.
type fault struct {
	Rule Rule
	Code string
}

func faultsOf(faults []Fault) []fault {
	var out []fault
	for _, f := range faults {
		out = append(out, fault{f.Rule, f.Code})
	}
	return out
}

// TestEveryRule breaks every rule once, by one change to a plan or a register that is clean without it.
func TestEveryRule(t *testing.T) {
	t.Parallel()
	steps := lastFirst(fullWall())
	onPlatform := func(props bool) []Step {
		s, _ := workable(platform(), props, builtLast(platform()))
		return s
	}
	framed := func() *domain.Register {
		var b builder
		b.wall(wall{name: "W", bays: 2, heightMm: 2400, framed: true})
		return &b.r
	}
	table := []struct {
		name  string
		r     *domain.Register
		steps []Step
		want  fault
	}{
		{"a step of another kind", fullWall(), with(steps, 1, func(s *Step) { s.Kind = "lift" }), fault{Muddled, "2"}},
		{"a removal that names props", fullWall(), with(steps, 1, func(s *Step) { s.Props = []string{"W-S1"} }), fault{Muddled, "2"}},
		{"a piece nobody knows", fullWall(), change(steps, "W-SK", func(s *Step) { s.Elements = append([]string{"W-SKK"}, s.Elements...) }), fault{NoSuchCode, "W-SKK"}},
		{"a fixing nobody knows", fullWall(), change(steps, "W-SK", func(s *Step) { s.Fixings = append(slices.Clone(s.Fixings), "F999") }), fault{NoSuchCode, "F999"}},
		{"props struck that are not there", fullWall(), slices.Insert(slices.Clone(steps), 1, Step{Code: "x", Kind: StrikeProp, Props: []string{"W-S1"}}), fault{NotInPlace, "W-S1"}},
		{"a piece that is down already", taken(fullWall(), "W-SL"), steps, fault{NotInPlace, "W-SL"}},
		{"a frame in two halves", framed(), change(lastFirst(framed()), "W-S2", func(s *Step) {
			s.Elements = slices.DeleteFunc(slices.Clone(s.Elements), func(c string) bool { return c == "W-S2" })
		}), fault{Apart, "W-HP"}},
		{"posts let go by the beam", platform(), slices.DeleteFunc(onPlatform(false), func(s Step) bool { return s.Kind == Prop || s.Kind == StrikeProp }), fault{Unsteadied, "BEAM"}},
		{"a plate unscrewed too early", fullWall(), slices.Insert(change(steps, "W-SP", func(s *Step) { s.Fixings = nil }), 0,
			Step{Code: "x", Kind: Remove, Fixings: []string{"F1"}}), fault{Ungrounded, "W-INS1"}},
		{"the landlord's pipe taken", platform(), append(onPlatform(false), Step{Code: "x", Kind: Remove, Elements: []string{"PIPE"}}), fault{Landlords, "PIPE"}},
		{"a piece taken twice", fullWall(), append(slices.Clone(steps), Step{Code: "x", Kind: Remove, Elements: []string{"W-SK"}}), fault{Twice, "W-SK"}},
		{"a fixing undone twice", fullWall(), change(steps, "W-HP", func(s *Step) { s.Fixings = append([]string{"F1"}, s.Fixings...) }), fault{Twice, "F1"}},
		{"a piece with its own fixing in", fullWall(), change(steps, "W-SP", func(s *Step) { s.Fixings = nil }), fault{Held, "W-SP"}},
		{"a stud under its boards", fullWall(), before(steps, "W-S2", "W-BB1"), fault{Carried, "W-S2"}},
		{"a board behind its skirting", fullWall(), before(steps, "W-BA1", "W-SK"), fault{Clamped, "W-BA1"}},
		{"a screw behind insulation", fullWall(), before(steps, "W-S1", "W-INS1"), fault{Hidden, "F5"}},
		{"insulation behind boards", fullWall(), before(before(steps, "W-INS1", "W-BA1"), "W-SK", "W-INS1"), fault{Trapped, "W-INS1"}},
		{"a tongue drawn the wrong way", platform(), before(onPlatform(false), "D1", "D2"), fault{Interlocked, "D1"}},
		{"a board before its seal", fullWall(), before(steps, "W-BA1", "W-SL"), fault{Sealed, "W-BA1"}},
		{"a cable that is live", fullWall(), steps[1:], fault{Live, "W-CA"}},
		{"the landlord's pipe not drained", platform(), slices.DeleteFunc(onPlatform(false), func(s Step) bool { return s.Kind == MakeDead }), fault{Live, "PIPE"}},
		{"a stud with a cable in it", fullWall(), before(steps, "W-S2", "W-CA"), fault{ServiceIn, "W-S2"}},
		{"a guard before the deck it guards", platform(), before(onPlatform(false), "GUARD", "D2"), fault{Unserved, "GUARD"}},
		{"a deck with an open edge", platform(), with(onPlatform(false), 0, func(s *Step) { s.OpenEdges = nil }), fault{OpenEdge, "D3"}},
		{"a cover off a hole", hatch(), with(lastFirst(hatch()), 0, func(s *Step) { s.OpenEdges = nil }), fault{OpenEdge, "COVER"}},
		{"a wall off the edge that it guards", hatch(), before(lastFirst(hatch()), "RAIL", "D1"), fault{OpenEdge, "RAIL"}},
		{"a nogging out of a stud under a floor", ledger(), before(lastFirst(ledger()), "NOG", "WP"), fault{Unbraced, "NOG"}},
		{"half a double plate under a floor", ledger(), before(lastFirst(ledger()), "PLY", "D1"), fault{Unbraced, "PLY"}},
		{"a head off the studs that slide in it", sliding(), before(lastFirst(sliding()), "HP", "S1"), fault{Unsteadied, "HP"}},
		{"props struck under a joist", platform(), strikeEarly(), fault{PropNeeded, "J1"}},
		{"props left behind", platform(), slices.DeleteFunc(onPlatform(true), func(s Step) bool { return s.Kind == StrikeProp }), fault{PropLeft, "BEAM"}},
		{"a piece forgotten", fullWall(), slices.DeleteFunc(slices.Clone(steps), func(s Step) bool { return slices.Contains(s.Elements, "W-SL") }), fault{Never, "W-SL"}},
	}
	broken := map[Rule]bool{}
	for _, tt := range table {
		broken[tt.want.Rule] = true
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := faultsOf(Check(tt.r, tt.steps))
			if !slices.Contains(got, tt.want) {
				t.Errorf("Check = %v, want %v among them", got, tt.want)
			}
		})
	}
	for _, rule := range Rules() {
		if !broken[rule] {
			t.Errorf("no line of the table breaks %q", rule)
		}
	}
}

// taken is a register in which one piece is down already.
func taken(r *domain.Register, code string) *domain.Register {
	i := slices.IndexFunc(r.Elements, func(e domain.Element) bool { return e.Code == code })
	r.Elements[i].State = domain.TakenDown
	return r
}

// strikeEarly props the first joist, takes its wall plate out, and strikes the props at once.
func strikeEarly() []Step {
	r := platform()
	steps, _ := workable(r, false, builtLast(r))
	out := slices.IndexFunc(steps, func(s Step) bool { return slices.Contains(s.Elements, "J1") })
	early := []Step{
		{Code: "prop", Kind: Prop, Props: []string{"J1"}},
		{Code: "plate", Kind: Remove, Elements: []string{"WP"}},
		{Code: "strike", Kind: StrikeProp, Props: []string{"J1"}},
	}
	return slices.Insert(slices.Clone(steps), out, early...)
}

func TestFaultAsJSON(t *testing.T) {
	t.Parallel()
	got, err := json.Marshal(Fault{Step: "12", Rule: Carried, Code: "S1", Because: "stud S1 leaves while it carries board B1", Evidence: []string{"F3", "B1"}})
	want := `{"step":"12","rule":"carried","code":"S1","because":"stud S1 leaves while it carries board B1","evidence":["F3","B1"]}`
	if diff := cmp.Diff(want, string(got)); diff != "" || err != nil {
		t.Errorf("Marshal (-want +got):\n%s%v", diff, err)
	}
}
