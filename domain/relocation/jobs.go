package relocation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain/programme"
	"unpick/domain/strip"
)

// Kind is what a piece of work is.
type Kind string

// The kinds of work, in the order in which they come.
const (
	TakeOut Kind = "take-out"
	Repair  Kind = "repair"
	Paint   Kind = "paint"
	Load    Kind = "load" // loading, the way, unloading
	PutUp   Kind = "put-up"
)

// job is one piece of work that runs through once begun, save for the hours in which its place is closed.
type job struct {
	kind    Kind
	code    string
	title   string
	group   string // room or assembly, for a chart
	in, out place  // where it begins and ends; two places for a trip
	minutes int    // of the clock
	people  int
	whole   bool // begun and ended on one day, where it is no longer than one
	vehicle int  // that it takes, -1 for none
	needs   []programme.Need
	after   []after
	loading int // of minutes of a trip, before it leaves
	pieces  []string
	step    int // number of the step
	host    string
	cure    int  // days after its end until a repair is hard
	bought  bool // waits for what is bought
}

// after is a job that has to be over before; with days, so many days of the calendar later.
type after struct{ job, days int }

// work is everything that is to do: first what begins at the old place, then putting up.
type work struct {
	jobs   []job
	old    int // jobs before this one begin at the old place
	stores []programme.Resource
	bound  programme.Bound // what taking out alone cannot go below
	starts []int           // of the steps, in a programme of taking out alone
	short  []programme.Shortage
}

// workOf makes jobs of both ends for a crew of so many.
func workOf(h Here, t There, terms Terms, dayMinutes int) (*work, error) {
	w := &work{}
	if err := w.takeOut(h, terms.People, dayMinutes); err != nil {
		return nil, err
	}
	steps := len(w.jobs)
	makingGood := w.makeGood(h, terms.People)
	w.load(h, t, terms, steps)
	if terms.EmptyFirst {
		for i := steps; i < makingGood; i++ {
			for k := makingGood; k < len(w.jobs); k++ {
				w.jobs[i].after = append(w.jobs[i].after, after{job: k})
			}
		}
	}
	w.old = len(w.jobs)
	w.putUp(h, t, terms.People, makingGood)
	return w, nil
}

// takeOut makes a job of each step, with the links and the equipment that the programme of taking out has.
func (w *work) takeOut(h Here, people, dayMinutes int) error {
	if h.Register == nil {
		return nil
	}
	means := programme.MeansOf(h.Register)
	means.People = people
	_, w.short = means.Raised(h.Steps)
	steps := means.Within(h.Steps)
	p, err := programme.FromSteps(h.Graph, steps, means)
	if err != nil {
		return fmt.Errorf("scheduling the strip-out of %s: %w", h.Register.FitOut.Code, err)
	}
	p.DayMinutes = dayMinutes
	// No search: an order to begin with and the bounds are enough, since both ends are searched together.
	found, err := programme.Solve(p, programme.Limits{Seed: searchSeed, Stop: func() bool { return true }})
	if err != nil {
		return fmt.Errorf("scheduling the strip-out of %s: %w", h.Register.FitOut.Code, err)
	}
	w.bound, w.starts, w.stores = found.Bound, found.Starts, p.Resources
	for i := range steps {
		s, a := &steps[i], &p.Activities[i]
		j := job{kind: TakeOut, code: a.Code, title: s.Title, group: s.Zone, minutes: a.Minutes, people: s.People, whole: a.Whole, vehicle: -1, step: s.Number}
		for _, n := range a.Needs {
			if p.Resources[n.Resource].Code != programme.People {
				j.needs = append(j.needs, n)
			}
		}
		for _, b := range a.After {
			j.after = append(j.after, after{job: b})
		}
		for _, q := range s.Pieces {
			j.pieces = append(j.pieces, q.Code)
		}
		w.jobs = append(w.jobs, j)
	}
	return nil
}

// makeGood makes two jobs of each surface that something is owed to: the repairs, once everything is out, and its paint,
// once they are hard. One person repairs; two paint, where there are two (common practice, no source). It returns how
// many jobs there are then.
func (w *work) makeGood(h Here, people int) int {
	type owed struct {
		name               string
		repair, cure, coat int
	}
	var hosts []string
	of := map[string]*owed{}
	get := func(code, name string) *owed {
		if of[code] == nil {
			of[code] = &owed{name: name}
			hosts = append(hosts, code)
		}
		return of[code]
	}
	for i := range h.MakingGood.Rows {
		if row := &h.MakingGood.Rows[i]; row.Charged {
			o := get(row.Host, row.HostName)
			o.repair += row.Minutes
			o.cure = max(o.cure, (row.CureHours+23)/24)
		}
	}
	for i := range h.MakingGood.Planes {
		if p := &h.MakingGood.Planes[i]; p.Minutes > 0 && p.Done == "" {
			get(p.Host, p.HostName).coat += p.Minutes
		}
	}
	steps := len(w.jobs)
	last := w.ends(steps)
	for _, code := range hosts {
		o := of[code]
		repairs := -1
		if o.repair > 0 {
			repairs = len(w.jobs)
			w.jobs = append(w.jobs, job{kind: Repair, code: "repair " + code, title: "Repair " + o.name, group: "Repairs", minutes: o.repair, people: 1, vehicle: -1, host: code, cure: o.cure, after: slices.Clone(last)})
		}
		if o.coat > 0 {
			coat := job{kind: Paint, code: "paint " + code, title: "Redecorate " + o.name, group: "Redecoration", people: min(2, people), vehicle: -1, host: code, after: slices.Clone(last)}
			coat.minutes = shared(o.coat, coat.people)
			if repairs >= 0 {
				coat.after = []after{{repairs, o.cure}}
				w.jobs[repairs].cure = 0 // hard before it is painted
			}
			w.jobs = append(w.jobs, coat)
		}
	}
	return len(w.jobs)
}

// ends are the steps that no other step waits for: when they are over, everything is out.
func (w *work) ends(steps int) []after {
	waited := make([]bool, steps)
	for i := range steps {
		for _, a := range w.jobs[i].after {
			waited[a.job] = true
		}
	}
	var out []after
	for i := range steps {
		if !waited[i] {
			out = append(out, after{job: i})
		}
	}
	return out
}

// load makes one job of each trip: it begins once its pieces are out, and the way back is left to whoever goes.
func (w *work) load(h Here, t There, terms Terms, steps int) {
	if h.Register == nil {
		return
	}
	stepOf := map[string]int{}
	for i := range steps {
		for _, code := range w.jobs[i].pieces {
			stepOf[code] = i
		}
	}
	before := map[int]int{} // the trip before, by vehicle
	for _, trip := range t.Trips {
		j := job{kind: Load, code: trip.Name, title: strings.ToUpper(trip.Name[:1]) + trip.Name[1:], group: trip.Name, in: here, out: there, people: min(max(trip.People, 1), terms.People), whole: true, vehicle: trip.Vehicle, pieces: trip.Pieces}
		j.loading = shared(trip.Loading, j.people)
		j.minutes = j.loading + terms.Travel + shared(trip.Unloading, j.people)
		waits := map[int]bool{}
		for _, code := range trip.Pieces {
			if at, ok := stepOf[code]; ok && !waits[at] {
				waits[at] = true
				j.after = append(j.after, after{job: at})
			}
		}
		if at, ok := before[trip.Vehicle]; ok {
			j.after = append(j.after, after{job: at})
		}
		slices.SortFunc(j.after, func(a, b after) int { return cmp.Compare(a.job, b.job) })
		before[trip.Vehicle] = len(w.jobs)
		w.jobs = append(w.jobs, j)
	}
}

// putUp makes a job of each package. Two put up together, where there are two (common practice, no source). The access
// equipment is the crew's one set: what a package is reached from is at no other work while it goes up.
func (w *work) putUp(h Here, t There, people, firstTrip int) {
	first, parts, part := len(w.jobs), map[string]int{}, map[string]int{}
	for _, p := range t.Packages {
		parts[p.Assembly]++
	}
	for _, p := range t.Packages {
		part[p.Assembly]++
		j := job{kind: PutUp, code: p.Assembly, title: p.Name, group: strings.TrimSpace(p.Assembly + " " + p.Name), in: there, out: there, people: min(2, people), vehicle: -1, pieces: p.Pieces, bought: p.Bought}
		if n := parts[p.Assembly]; n > 1 {
			j.code, j.title = fmt.Sprintf("%s %d/%d", p.Assembly, part[p.Assembly], n), fmt.Sprintf("%s, part %d of %d", p.Name, part[p.Assembly], n)
		}
		j.minutes = shared(p.Minutes, j.people)
		for _, a := range p.Access {
			j.needs = append(j.needs, programme.Need{Resource: w.equipment(h, a), Amount: 1})
		}
		for _, k := range p.Trips {
			j.after = append(j.after, after{job: firstTrip + k})
		}
		for _, k := range p.After {
			j.after = append(j.after, after{job: first + k})
		}
		w.jobs = append(w.jobs, j)
	}
}

// equipment is the place of a sort of access equipment in the stores, put there where taking out needs none.
func (w *work) equipment(h Here, a strip.Access) int {
	means := programme.Means{}
	if h.Register != nil {
		means = programme.MeansOf(h.Register)
	}
	r := programme.Equipment(a, means)
	if i := slices.IndexFunc(w.stores, func(s programme.Resource) bool { return s.Code == r.Code }); i >= 0 {
		return i
	}
	w.stores = append(slices.Clip(w.stores), r)
	return len(w.stores) - 1
}

// shared is how long people together take over so many minutes of one.
func shared(minutes, people int) int { return (minutes + people - 1) / max(people, 1) }

// worked reports whether there is anything to do in a job.
func (j *job) worked() bool { return j.minutes > 0 }
