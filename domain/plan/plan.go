// Package plan runs every planner once over a register and holds what they say: the whole of plan.json.
//
// The idea: data flows one way. Register in; release graph, strip-out, its replay, making good, schedule and
// salvage out. A plan that does not replay clean is never handed out.
//
// Looking for
//
//   - what a plan holds, and running the planners: plan.go; how fast: bench_test.go
//   - what others do and charge for: others.go
//   - a part of the works, charged as its share of the whole, and one clause: part.go
//   - what is left by consent, and whether it stands: leaving.go
//   - the figures at the top: summary.go; what is wrong or worth knowing: warnings.go
//   - the graph as facts in words: facts.go
//   - how far planning is: stage.go
//   - the schema of plan.json: schema.go
package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/detachability"
	"unpick/domain/licence"
	"unpick/domain/makinggood"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/schedule"
	"unpick/domain/strip"
)

// Format and FormatVersion name the form of plan.json.
const (
	Format        = "unpick-plan"
	FormatVersion = 1
)

// Plan is everything computed from one register.
type Plan struct {
	Format        string                `json:"format"`
	FormatVersion int                   `json:"format_version"`
	FitOut        domain.FitOut         `json:"fit_out"`
	Summary       Summary               `json:"summary"`
	Warnings      []domain.Advice       `json:"warnings"`
	Sequence      strip.Sequence        `json:"strip_out"`
	Days          []strip.Day           `json:"days"`
	Licence       licence.Comparison    `json:"licence" jsonschema_description:"what the licence allows against what was built; plans made before version 3 have none"`
	MakingGood    makinggood.List       `json:"making_good"`
	Schedule      schedule.Schedule     `json:"schedule"`
	Salvage       salvage.Inventory     `json:"salvage"`
	ComesApart    *detachability.Report `json:"comes_apart,omitempty" jsonschema_description:"how well each piece comes apart, by the published detachability measurement; plans made before it was measured have none"`
	Before        []Fact                `json:"before" jsonschema_description:"who goes before whom: the direct facts between pieces, each with its reason"`
	Choices       []Choice              `json:"choices" jsonschema_description:"facts with alternatives: any one way frees the piece or fixing"`
}

// Make plans the full strip-out of a register that passes domain.Check. A cycle is an error with code Cycle; a
// plan that does not replay clean is an error with code Unclean, which is a fault of the program or of a register
// that no check foresaw, and lists what the replay found.
func Make(r *domain.Register) (*Plan, error) { return MakeWith(r, Options{}) }

// Options are what a plan may be made with. The zero value is none of it.
type Options struct {
	Earlier strip.Order // the order that a crew has in its hands, kept as strip.PlanKeeping says
	Tell    func(Stage) // told what is being done, from one goroutine
	// Whole is the plan of the whole that the register is a part of, see domain.Register.Part: what the part is charged is its
	// share of that, under the numbers that it has there. It is wanted where the register says what comes out alone.
	Whole *Plan
}

// MakeWith is Make with options.
func MakeWith(r *domain.Register, o Options) (*Plan, error) {
	r = r.Leaving()
	if err := stands(r); err != nil {
		return nil, err
	}
	p := &Plan{Format: Format, FormatVersion: FormatVersion, FitOut: r.FitOut, Salvage: salvage.Take(r)}
	g, sequence, err := stripOut(r.Link(), p.Salvage, o)
	if err != nil {
		return nil, err
	}
	p.Sequence = sequence
	p.Days = strip.Days(p.Sequence.Steps, r.FitOut.Calendar)
	o.tell(Accounting, 0, len(r.Holes))
	if o.Whole != nil {
		p.partOf(o.Whole, r)
	} else {
		p.Licence = licence.Compare(r)
		p.MakingGood = makinggood.Against(r, p.Licence)
		p.Schedule = schedule.Make(r, p.MakingGood, workOf(p.Sequence.Steps), others(r, p))
	}
	if !p.MakingGood.Balance.Agrees {
		return nil, domain.Errorf(domain.Unclean, "making good does not account for every hole: %+v", p.MakingGood.Balance)
	}
	apart := detachability.Take(g)
	p.ComesApart = &apart
	p.Before, p.Choices = facts(g)
	p.Warnings = warnings(r, g, p.Sequence)
	p.Summary = summarise(r, p)
	return p, nil
}

// StripOut is the graph of a register and the sequence that takes everything out, replayed clean: the part of Make
// that grows with the register alone. Refused as Make says. The replay reads the register while the planner works.
func StripOut(l *domain.Links, inv salvage.Inventory) (*release.Graph, strip.Sequence, error) {
	return stripOut(l, inv, Options{})
}

func stripOut(l *domain.Links, inv salvage.Inventory, o Options) (*release.Graph, strip.Sequence, error) {
	var site *replay.Site
	var reading sync.WaitGroup
	reading.Go(func() { site = replay.Read(l) })
	r := l.Register
	o.tell(Linking, 0, len(r.Elements)+len(r.Fixings))
	g := release.BuildKeeping(l, o.Earlier.Pieces())
	o.tell(Ordering, 0, g.Pieces())
	sequence, err := strip.PlanKeeping(g, inv, o.Earlier, func(placed, of int) { o.tell(Ordering, placed, of) })
	reading.Wait()
	if err != nil {
		return nil, sequence, advice.Waiting(r, cmp.Or(g.Check(), err)) // the graph says who waits for whom
	}
	o.tell(Checking, 0, len(sequence.Steps))
	if faults := site.Check(replayed(sequence.Steps)); len(faults) > 0 {
		return nil, sequence, unclean(faults)
	}
	return g, sequence, nil
}

// replayed gives the checker codes only, so that nothing the planner worked out is believed.
func replayed(steps []strip.Step) []replay.Step {
	out := make([]replay.Step, len(steps))
	for i := range steps {
		s := &steps[i]
		out[i] = replay.Step{Code: strconv.Itoa(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
		switch s.Kind {
		case strip.MakeDead:
			out[i].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[i].Props = s.Elements
		default:
			out[i].Elements = s.Elements
			for _, f := range s.Fixings {
				out[i].Fixings = append(out[i].Fixings, f.Codes...)
			}
		}
	}
	return out
}

// unclean words what the replay found, the first few in full.
func unclean(faults []replay.Fault) error {
	const most = 20
	var lines []string
	for i, f := range faults {
		if i == most {
			lines = append(lines, fmt.Sprintf("and %d more", len(faults)-most))
			break
		}
		lines = append(lines, fmt.Sprintf("step %s, %s: %s (%s)", f.Step, f.Code, f.Because, f.Rule))
	}
	return domain.Errorf(domain.Unclean, "the plan does not replay clean and is not issued:\n  %s", strings.Join(lines, "\n  "))
}

// Step is the step of a number; every number that a plan gives has one.
func (p *Plan) Step(number int) *strip.Step {
	at := slices.IndexFunc(p.Sequence.Steps, func(s strip.Step) bool { return s.Number == number })
	return &p.Sequence.Steps[at]
}

// workOf adds up the crew's own person-minutes, by assembly. Props count for the assembly that they are set for, or
// for none; making services dead is a licensed person's work and is counted apart.
func workOf(steps []strip.Step) schedule.Work {
	w := schedule.Work{}
	for _, s := range steps {
		if s.Kind != strip.MakeDead {
			w[s.Assembly] += s.PersonMinutes
		}
	}
	return w
}
