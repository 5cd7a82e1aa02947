// Package progress is the strip-out as it goes: what is signed, what is done, what stands in the way of the next step.
//
// The idea: nothing is kept about a plan. A step that was done changes the register (pieces down, fixings undone, holes
// empty) and leaves a sign-off with the minutes that it really took; the plan is then made anew from the register as it
// stands, so that pieces already out stay out and what was found different counts.
//
// Looking for
//
//   - ticking off what was done: tick.go; signing a hold, withdrawing what was signed: hold.go
//   - taking back what was ticked off by mistake: back.go; what came later and rests on it: rests.go
//   - what speaks against ticking pieces off: against.go; temporary support that stands: support.go
//   - what pieces turned out to be, and which waste: found.go
//   - how far each step of a plan is: state.go
//   - how the real minutes compare with the planned: pace.go
package progress

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/replay"
)

// Done is what a crew says it has done: pieces taken out, by whom, in how many real minutes.
type Done struct {
	What           string   // in words: the title of the step
	Elements       []string // codes of the pieces taken out
	Found          string   // what was found different; "" for nothing
	Minutes        int
	PlannedMinutes int
	People         int
	By, Role       string
	On             string // ISO 8601
}

// The most that one tick-off may say (common practice, no source). A slip of the finger would spoil the pace and every date
// that is worked out from it.
const (
	MostMinutes = 5 * 8 * 60 // a working week
	MostPeople  = 50
)

// faults are the figures of done work that nobody can have meant.
func (d Done) faults() domain.Errors {
	var faults domain.Errors
	if d.Minutes > MostMinutes {
		faults.Addf(domain.Invalid, "/minutes", "%d minutes are more than a working week, %d: tick off day by day what is out, each with its own minutes", d.Minutes, MostMinutes)
	}
	if d.People > MostPeople {
		faults.Addf(domain.Invalid, "/people", "%d people are more than work on one step, %d at the most: count those who did it", d.People, MostPeople)
	}
	return faults
}

// Tick is the change that ticks off work: its pieces are taken down, every fixing that joined one of them to something
// that stays is undone and leaves its holes empty, and the sign-off says who did it in how long. Pieces that are not in
// place, or the landlord's, are refused.
func Tick(r *domain.Register, d Done) (domain.Change, error) {
	if err := built(r); err != nil {
		return domain.Change{}, err
	}
	faults := d.faults()
	index := r.Index()
	taken := map[string]bool{}
	out := tickedOff(r, index)
	var put domain.Records
	for _, code := range d.Elements {
		i, ok := index.Elements[code]
		switch {
		case !ok:
			faults.Addf(domain.Invalid, "/elements", "there is no piece %.60s here", code)
		case out[code] != nil:
			o := out[code]
			faults.Addf(domain.Refused, "/elements", "%s is out already: %s ticked it off (%s, %s)", code, o.By, o.Code, o.On)
		case !r.Elements[i].ComesOut():
			faults.Addf(domain.Refused, "/elements", "%s is not a piece of the tenant's that is still in place: load the page again", code)
		case !taken[code]:
			taken[code] = true
			e := r.Elements[i]
			e.State = domain.TakenDown
			put.Elements = append(put.Elements, e)
		}
	}
	if len(d.Elements) == 0 {
		faults.Addf(domain.Invalid, "/elements", "nothing is ticked: tick the pieces that are out")
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	put.Fixings, put.Holes = undone(r, taken)
	signed := domain.SignOff{Code: NextCode(r), Kind: domain.WorkDone, What: d.What, About: slices.Clone(d.Elements), By: d.By, Role: d.Role, On: d.On,
		Minutes: d.Minutes, People: d.People, PlannedMinutes: d.PlannedMinutes, Note: d.Found}
	what := fmt.Sprintf("out: %s (%d minutes)", d.What, d.Minutes)
	return domain.Change{Kind: domain.Amend, What: what, Put: put, Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

// tickedOff are the pieces that are out, with the work in force that took each out.
func tickedOff(r *domain.Register, index *domain.Index) map[string]*domain.SignOff {
	out := map[string]*domain.SignOff{}
	work := r.Signed(domain.WorkDone)
	for i := range work {
		for _, code := range work[i].About {
			if at, ok := index.Elements[code]; ok && !r.Elements[at].IsInPlace() {
				out[code] = &work[i]
			}
		}
	}
	return out
}

// undone are the fixings that taking pieces parts, undone, and their holes.
func undone(r *domain.Register, taken map[string]bool) ([]domain.Fixing, []domain.Hole) {
	var fixings []domain.Fixing
	loose := map[string]bool{}
	parts := parting(r, taken)
	for i := range r.Fixings {
		f := r.Fixings[i]
		if !f.InPlace() || !parts(&f) {
			continue
		}
		f.State = domain.FixingUndone
		loose[f.Code] = true
		fixings = append(fixings, f)
	}
	var holes []domain.Hole
	for i := range r.Holes {
		h := r.Holes[i]
		if h.State == domain.HoleInUse && loose[h.Fixing] {
			h.State = domain.HoleEmpty
			holes = append(holes, h)
		}
	}
	return fixings, holes
}

// parting reports of a fixing whether taking pieces parts what it joins. Only what leaves as one, a raised frame or a door
// set, keeps what holds it together; the plies of a beam leave in the same step, one after the other.
func parting(r *domain.Register, taken map[string]bool) func(*domain.Fixing) bool {
	whole := map[string]string{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Subassembly != "" && taken[e.Code] {
			whole[e.Code] = e.Subassembly
		}
	}
	return func(f *domain.Fixing) bool {
		with := joined(f)
		if !slices.ContainsFunc(with, func(code string) bool { return taken[code] }) {
			return false
		}
		set := whole[with[0]]
		return f.IntoHost != "" || set == "" || slices.ContainsFunc(with, func(code string) bool { return whole[code] != set })
	}
}

// Early says why pieces should not have left yet by the register as it stands: what they still carry, what still covers
// or holds them. nil where nothing speaks against it. Support that is signed as in counts, and so does that of the pieces in
// held, of which something else says that it is missing.
func Early(r *domain.Register, elements, held []string) []replay.Fault {
	taken := map[string]bool{}
	for _, code := range elements {
		taken[code] = true
	}
	step := replay.Step{Code: "now", Kind: replay.Remove, Elements: elements}
	parts := parting(r, taken)
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() && parts(f) {
			step.Fixings = append(step.Fixings, f.Code)
		}
	}
	step.OpenEdges = guardedByHand(r)
	var before []replay.Step
	if services := live(r); len(services) > 0 && dead(r) {
		before = append(before, replay.Step{Code: "dead", Kind: replay.MakeDead, Services: services})
	}
	if held = inPlace(r, append(supported(Supports(r)), held...)); len(held) > 0 {
		before = append(before, replay.Step{Code: "propped", Kind: replay.Prop, Props: held})
	}
	return replay.CheckPartial(r, append(before, step), elements...)
}

// live are the services in place.
func live(r *domain.Register) []string {
	var out []string
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() && e.Kind.IsService() {
			out = append(out, e.Code)
		}
	}
	return out
}

// NextCode is the next free number of a sign-off: S-1, S-2, ...
func NextCode(r *domain.Register) string {
	highest := 0
	for _, o := range r.SignOffs {
		if n, err := strconv.Atoi(strings.TrimPrefix(o.Code, "S-")); err == nil {
			highest = max(highest, n)
		}
	}
	return "S-" + strconv.Itoa(highest+1)
}
