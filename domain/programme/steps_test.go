package programme_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/programme"
	"unpick/domain/recipe"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// registers are the demo, the examples and every register with an answer key.
func registers(tb testing.TB) map[string]*domain.Register {
	tb.Helper()
	out := map[string]*domain.Register{}
	examples, _ := filepath.Glob("../../testdata/examples/*.json")
	for _, path := range append(examples, "../../testdata/demo.json") {
		file, err := os.Open(path)
		if err != nil {
			tb.Fatal(err)
		}
		r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
		file.Close()
		if err != nil {
			tb.Fatalf("%s: %v", path, err)
		}
		out[filepath.Base(path)] = r
	}
	keys, _ := filepath.Glob("../../testdata/keys/*.json")
	for _, path := range keys {
		out[filepath.Base(path)] = keyRegister(tb, path)
	}
	if len(keys) == 0 || len(examples) == 0 {
		tb.Fatalf("%d registers with keys and %d examples found", len(keys), len(examples))
	}
	return out
}

func keyRegister(tb testing.TB, path string) *domain.Register {
	tb.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatalf("%s: %v", path, err)
	}
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: catalogue.Default()}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}

// TestFromSteps schedules the strip-out of each register for a large crew, so that much runs side by side, and has the
// replay check the steps in the order in which they start and in that in which they finish.
func TestFromSteps(t *testing.T) {
	t.Parallel()
	for name, r := range registers(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			g, steps := sequence(t, r)
			p, err := programme.FromSteps(g, steps, programme.Means{People: 12, Towers: 3, Steps: 3})
			if err != nil {
				t.Fatal(err)
			}
			got, err := programme.Solve(p, programme.Limits{Seed: 1, Rounds: 5})
			if err != nil {
				t.Fatal(err)
			}
			if m, err := programme.Verify(p, got.Starts); err != nil || m != got.Minutes {
				t.Fatalf("length %d, said %d: %v", m, got.Minutes, err)
			}
			oneByOne := 0
			for _, s := range steps {
				oneByOne += s.DurationMinutes
			}
			if got.Minutes > oneByOne {
				t.Errorf("%d minutes, and one step after the other takes %d", got.Minutes, oneByOne)
			}
			byStart := func(a, b int) int { return cmp.Or(cmp.Compare(got.Starts[a], got.Starts[b]), cmp.Compare(a, b)) }
			finish := func(i int) int { return got.Starts[i] + steps[i].DurationMinutes }
			byFinish := func(a, b int) int { return cmp.Or(cmp.Compare(finish(a), finish(b)), cmp.Compare(a, b)) }
			for order, compare := range map[string]func(a, b int) int{"start": byStart, "finish": byFinish} {
				for _, fault := range replay.Check(r, reordered(steps, compare)) {
					t.Errorf("in order of %s, step %s, %s: %s (%s)", order, fault.Step, fault.Code, fault.Because, fault.Rule)
				}
			}
			arcsKept(t, g, steps, got.Starts)
		})
	}
}

// TestEachStepLate delays each step in turn for as long as the links let it, and has the replay check that order: what is
// propped, proved dead or guarded too late is found.
func TestEachStepLate(t *testing.T) {
	t.Parallel()
	for name, r := range registers(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			g, steps := sequence(t, r)
			p, err := programme.FromSteps(g, steps, programme.Means{People: 12, Towers: 3, Steps: 3})
			if err != nil {
				t.Fatal(err)
			}
			for late := range steps {
				place := latest(p, late)
				for _, fault := range replay.Check(r, reordered(steps, func(a, b int) int { return cmp.Compare(place[a], place[b]) })) {
					t.Errorf("with step %d late, step %s, %s: %s (%s)", steps[late].Number, fault.Step, fault.Code, fault.Because, fault.Rule)
				}
			}
		})
	}
}

// latest is the places of activities in an order that keeps the links and has one only when nothing else can go on.
func latest(p *programme.Problem, late int) []int {
	place := make([]int, len(p.Activities))
	done := make([]bool, len(p.Activities))
	for k := range place {
		next := -1
		for i, a := range p.Activities {
			if !done[i] && (next < 0 || next == late) && !slices.ContainsFunc(a.After, func(b int) bool { return !done[b] }) {
				next = i
			}
		}
		done[next], place[next] = true, k
	}
	return place
}

// TestFramesArePropped: the beams of the demo's mezzanine stand sideways by their joists, so their props are in before the
// first joist leaves, however late they come.
func TestFramesArePropped(t *testing.T) {
	t.Parallel()
	r := registers(t)["demo.json"]
	g, steps := sequence(t, r)
	p, err := programme.FromSteps(g, steps, programme.Means{People: 12, Towers: 3, Steps: 3})
	if err != nil {
		t.Fatal(err)
	}
	prop := slices.IndexFunc(steps, func(s strip.Step) bool { return s.Kind == strip.Prop && slices.Contains(s.Elements, "M1-BM1") })
	if prop < 0 {
		t.Fatal("the demo props no beam")
	}
	place, joists := latest(p, prop), 0
	for i, s := range steps {
		if s.Kind == strip.Remove && slices.ContainsFunc(s.Pieces, func(q strip.PieceOut) bool { return q.Kind == domain.Joist && strings.HasPrefix(q.Code, "M1-") }) {
			joists++
			if place[i] < place[prop] {
				t.Errorf("step %d takes joists out before step %d has their beam propped", s.Number, steps[prop].Number)
			}
		}
	}
	if joists == 0 {
		t.Error("no step takes the joists out")
	}
}

// arcsKept looks at every arc between pieces in different steps.
func arcsKept(t *testing.T, g *release.Graph, steps []strip.Step, starts []int) {
	t.Helper()
	stepOf := map[string]int{}
	for i, s := range steps {
		if s.Kind == strip.Remove {
			for _, code := range s.Elements {
				stepOf[code] = i
			}
		}
	}
	for _, a := range g.Arcs {
		if g.Nodes[a.Before].Kind != release.Piece || g.Nodes[a.After].Kind != release.Piece {
			continue
		}
		before := stepOf[g.Register.Elements[g.Elements(a.Before)[0]].Code]
		after := stepOf[g.Register.Elements[g.Elements(a.After)[0]].Code]
		if before != after && starts[before]+steps[before].DurationMinutes > starts[after] {
			t.Errorf("step %d starts at %d, before step %d is finished: %s before %s", steps[after].Number, starts[after], steps[before].Number, g.Nodes[a.Before].Code, g.Nodes[a.After].Code)
		}
	}
}

func sequence(tb testing.TB, r *domain.Register) (*release.Graph, []strip.Step) {
	tb.Helper()
	g := release.Build(r)
	s, err := strip.Plan(g, salvage.Take(r))
	if err != nil {
		tb.Fatal(err)
	}
	return g, s.Steps
}

// reordered is what the replay is told of the steps in another order.
func reordered(steps []strip.Step, compare func(a, b int) int) []replay.Step {
	order := make([]int, len(steps))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, compare)
	out := make([]replay.Step, len(steps))
	for k, i := range order {
		s := &steps[i]
		out[k] = replay.Step{Code: fmt.Sprint(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
		switch s.Kind {
		case strip.MakeDead:
			out[k].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[k].Props = s.Elements
		default:
			out[k].Elements = s.Elements
			for _, w := range s.Fixings {
				out[k].Fixings = append(out[k].Fixings, w.Codes...)
			}
		}
	}
	return out
}

// TestFromStepsWhatIf asks the demo for more people and for too few.
func TestFromStepsWhatIf(t *testing.T) {
	t.Parallel()
	r := registers(t)["demo.json"]
	g, steps := sequence(t, r)
	means, short := programme.MeansOf(r).Raised(steps)
	most := 2
	for _, s := range steps {
		most = max(most, s.People)
	}
	if means.People != most || (len(short) > 0) != (most > max(r.FitOut.Crew.People, 2)) {
		t.Errorf("raised to %d people for %v, and the largest step needs %d", means.People, short, most)
	}
	p, err := programme.FromSteps(g, steps, means)
	if err != nil {
		t.Fatal(err)
	}
	solve := func(p *programme.Problem) *programme.Result {
		got, err := programme.Solve(p, programme.Limits{Seed: 1, Rounds: 10})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	means.People, means.Zones = 20, nil
	more, err := programme.FromSteps(g, steps, means)
	if err != nil {
		t.Fatal(err)
	}
	if few, many := solve(p), solve(more); many.Minutes >= few.Bound.Minutes {
		t.Errorf("20 people need %d minutes, and %d no less than %d", many.Minutes, most, few.Bound.Minutes)
	}
	_, err = programme.FromSteps(g, steps, programme.Means{People: 1})
	if domain.CodeOf(err) != domain.Refused || !strings.Contains(fmt.Sprint(err), "there are 1") {
		t.Errorf("one person for steps that need two: %v", err)
	}
	if _, err := p.WithCapacity("crane", 1); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("a crane that is not there: %v", err)
	}
}
