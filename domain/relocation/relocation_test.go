package relocation_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/domain/release"
	"unpick/domain/relocation"
	"unpick/domain/strip"
)

// tb is what both kinds of test can do.
type tb interface {
	Helper()
	Fatalf(string, ...any)
	Errorf(string, ...any)
}

func day(words string) time.Time {
	t, err := time.Parse(time.DateOnly, words)
	if err != nil {
		panic(err)
	}
	return t
}

// left is an example as the old place, with its plan.
func left(t tb, file string) relocation.Here {
	t.Helper()
	text, err := os.Open("../../testdata/examples/" + file + ".json")
	if err != nil {
		t.Fatalf("%v", err)
	}
	defer text.Close()
	r, err := fitoutfile.Read(text, catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatalf("%v", err)
	}
	p, err := plan.Make(r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return relocation.Here{Register: r, Graph: release.Build(r.Leaving()), Steps: p.Sequence.Steps, MakingGood: p.MakingGood}
}

// bare is a place of which nothing is left to take out, with a surface to repair and paint: minutes of one person.
func bare(f domain.FitOut, repair, cureHours, paint int) relocation.Here {
	r := &domain.Register{FitOut: f, Catalogue: catalogue.Default()}
	h := relocation.Here{Register: r, Graph: release.Build(r)}
	if repair > 0 {
		h.MakingGood.Rows = []makinggood.Row{{Host: "WALL", HostName: "Wall", Minutes: repair, CureHours: cureHours, Charged: true}}
	}
	if paint > 0 {
		h.MakingGood.Planes = []makinggood.Plane{{Host: "WALL", HostName: "Wall", Minutes: paint}}
	}
	return h
}

// english is a fit-out worked Monday to Friday from eight, 450 minutes, by the public holidays of England.
func english(t domain.Tenancy) domain.FitOut {
	return domain.FitOut{Code: "A", Name: "the old unit", Currency: "GBP", Calendar: domain.Calendar{Region: "GB-ENG"}, Tenancy: t, Crew: domain.Crew{People: 2}}
}

func mustMake(t tb, h relocation.Here, n relocation.There, terms relocation.Terms, today string) *relocation.Programme {
	t.Helper()
	p, err := relocation.Make(h, n, terms, day(today))
	if err != nil {
		t.Fatalf("Make: %v", err)
	}
	return p
}

// TestByHand is worked by hand. The lease ends on Wednesday 31 March 2027; Friday 26 and Monday 29 March are Good Friday
// and Easter Monday. One working day in hand: work is done by Tuesday 30. A repair of 60 minutes hardens for 24 hours,
// then 900 minutes of paint by two are 450: the whole of Tuesday 30, so the repair is done by the close of Monday 29, which
// is a holiday, as are the days back to Friday: Thursday 25. The one load, 100 kg: 23 minutes of one, 12 by two, at each end: 12 + 30 + 12 = 54 minutes. With paint on all Tuesday it would have to go on Thursday 25; but the load comes first
// seen from the end: at the end of Tuesday, paint begins 54 minutes earlier, on Thursday, and the repair on Wednesday 24.
func TestByHand(t *testing.T) {
	t.Parallel()
	here := bare(english(domain.Tenancy{Expiry: "2027-03-31", ContingencyDays: 1}), 60, 24, 900)
	next := relocation.There{FitOut: english(domain.Tenancy{Start: "2027-03-01"}),
		Trips:    []relocation.Trip{{Name: "load 1", Pieces: []string{"S1"}, Loading: 23, Unloading: 23, People: 2}},
		Packages: []relocation.Package{{Assembly: "N1", Name: "Wall", Pieces: []string{"N1-S1"}, Minutes: 1000, Trips: []int{0}}, {Assembly: "N2", Name: "Bought", Pieces: []string{"N2-S1"}, Minutes: 100, Bought: true, After: []int{0}}}}
	terms := relocation.Usual()
	terms.RentHere, terms.RentThere = 100_000, 73_000
	p := mustMake(t, here, next, terms, "2027-02-01")
	if p.Refused != "" || !p.Fits || p.HandBack != "2027-03-31" || p.Entry != "2027-03-01" {
		t.Fatalf("refused %q, fits %v, from %s to %s", p.Refused, p.Fits, p.Entry, p.HandBack)
	}
	var got []string
	for _, e := range p.Work {
		got = append(got, fmt.Sprintf("%s %s %s-%s %s by %v", e.Code, e.Starts, e.StartsAt, e.Ends, e.EndsAt, e.People))
	}
	// 1000 minutes by two are 500: Wednesday 31 and 50 minutes of Thursday 1 April; 100 by two are 50 more.
	want := []string{
		"repair WALL 2027-03-24 14:30-2027-03-24 15:30 by [1]",
		"paint WALL 2027-03-25 14:36-2027-03-30 14:36 by [1 2]",
		"load 1 2027-03-30 14:36-2027-03-30 15:30 by [1 2]",
		"N1 2027-03-31 08:00-2027-04-01 08:50 by [1 2]",
		"N2 2027-04-01 08:50-2027-04-01 09:40 by [1 2]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("work (-want +got):\n%s", diff)
	}
	// Both rents: Tuesday 30 and Wednesday 31. 1000.00 x 12 / 365 x 2 = 65.753; 730.00 x 12 / 365 x 2 = 48.00.
	o := p.Latest
	if o.Starts != "2027-03-24" || o.Needed != "2027-03-30" || o.Both.Days != 2 || o.Least != 2 || !o.Proven || o.Ready != "2027-04-01" {
		t.Errorf("latest: %+v", o)
	}
	if r := o.Both.Rent; r.HereMinor != 6575 || r.ThereMinor != 4800 || !r.Known() || r.Minor() != 11375 {
		t.Errorf("rent over two days: %+v", r)
	}
	// As agreed: 1 to 31 March.
	if p.AsAgreed.Days != 31 || p.AsAgreed.Rent.HereMinor != 101918 {
		t.Errorf("as agreed: %+v", p.AsAgreed)
	}
	// Soonest: not before Monday 1 March at the next place, one day in hand after it.
	if s := p.Soonest; s.Needed != "2027-03-01" || s.WorkDone != "2027-03-01" || s.HandBack != "2027-03-02" {
		t.Errorf("soonest: %+v", s)
	}
}

// TestRentRunsToTheEnd: a break with vacant possession on Saturday 27 March 2027 has the place given back on Thursday 25, for
// Friday is Good Friday; rent runs to Saturday. Where work may not begin before a day, nothing does.
func TestRentRunsToTheEnd(t *testing.T) {
	t.Parallel()
	here := bare(english(domain.Tenancy{BreakDate: "2027-03-27", BreakVacant: true, Expiry: "2029-03-27"}), 60, 0, 0)
	next := relocation.There{FitOut: english(domain.Tenancy{}), Trips: []relocation.Trip{{Name: "load 1", Pieces: []string{"S1"}, Loading: 3, Unloading: 3, People: 2}}}
	terms := relocation.Usual()
	terms.NotBefore = "2027-03-08"
	p := mustMake(t, here, next, terms, "2027-02-01")
	if p.HandBack != "2027-03-25" || p.RentEnds != "2027-03-27" || p.Latest.Needed != "2027-03-25" || p.Latest.Both.To != "2027-03-27" || p.Latest.Both.Days != 3 || p.Latest.Least != 3 {
		t.Errorf("given back %s, rent to %s, %+v", p.HandBack, p.RentEnds, p.Latest)
	}
	if p.Soonest.Starts != "2027-03-08" || p.Soonest.HandBack != "2027-03-08" || p.Soonest.Both.Days != 1 {
		t.Errorf("soonest: %+v", p.Soonest)
	}
}

// TestDoesNotFit: by how many days, and what would help. Work may begin on Monday 22 March 2027 and the lease ends on
// Thursday 25; 3000 minutes of repairs of one surface are 6 days and 300 minutes of
// one person, two holidays left out: to Thursday 1 April; with Saturday 27 to Wednesday 31.
func TestDoesNotFit(t *testing.T) {
	t.Parallel()
	here := bare(english(domain.Tenancy{Expiry: "2027-03-25"}), 3000, 0, 0)
	next := relocation.There{FitOut: english(domain.Tenancy{})}
	p := mustMake(t, here, next, relocation.Usual(), "2027-03-22")
	if p.Fits || p.Shown != relocation.Soonest || p.Soonest.HandBack != "2027-04-01" || p.LateDays != 7 {
		t.Errorf("fits %v, shown %s, soonest %s, late %d", p.Fits, p.Shown, p.Soonest.HandBack, p.LateDays)
	}
	all := strings.Join(p.Mends, "\n")
	for _, want := range []string{"7 days later, on Thu 1 Apr 2027", "would have to begin on Wed 17 Mar 2027: 5 days before it can", "One more person: no help", "Saturdays: then it is late by 6 days"} {
		if !strings.Contains(all, want) {
			t.Errorf("the mends do not say %q:\n%s", want, all)
		}
	}
}

// TestEntryAfterTheEnd: a next place that opens after the old one is given back leaves the pieces nowhere to go.
func TestEntryAfterTheEnd(t *testing.T) {
	t.Parallel()
	here := bare(english(domain.Tenancy{Expiry: "2027-02-26"}), 0, 0, 0)
	next := relocation.There{FitOut: english(domain.Tenancy{Start: "2027-03-15"}), Trips: []relocation.Trip{{Name: "load 1", Pieces: []string{"S1"}, Loading: 3, Unloading: 3, People: 2}}}
	p := mustMake(t, here, next, relocation.Usual(), "2027-01-04")
	if p.Fits || p.LateDays != 17 || p.AsAgreed.Days != 0 || !strings.Contains(strings.Join(p.Mends, "\n"), "17 days before its day of entry") {
		t.Errorf("fits %v, late by %d, as agreed %+v, %q", p.Fits, p.LateDays, p.AsAgreed, p.Mends)
	}
}

// TestBeyondTheLease: a break on Saturday 27 March 2027 needs the place empty before its day. A later day of giving back, asked
// for or given as what would help, says what it costs; an earlier one says to when rent runs all the same.
func TestBeyondTheLease(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{BreakDate: "2027-03-27", BreakVacant: true, Expiry: "2029-03-27"}
	for _, c := range []struct{ name, today, handBack, says string }{
		{"after the break", "2027-01-04", "2027-04-14", "Wed 14 Apr 2027 is not before the break on Sat 27 Mar 2027, which needs vacant possession: given back then, the break can be lost, and the lease and its rent run on to Tue 27 Mar 2029."},
		{"on its day", "2027-01-04", "2027-03-27", "Sat 27 Mar 2027 is not before the break"},
		{"before it", "2027-01-04", "2027-03-10", "Rent here is counted to Wed 10 Mar 2027, as asked. It runs to the break on Sat 27 Mar 2027, unless the landlord agrees"},
		{"what would help", "2027-03-25", "", "is not before the break on Sat 27 Mar 2027"},
		{"as the lease says", "2027-01-04", "", ""},
	} {
		terms := relocation.Usual()
		terms.HandBack, terms.Saturdays = c.handBack, true
		p := mustMake(t, bare(english(tenancy), 3000, 0, 0), relocation.There{FitOut: english(domain.Tenancy{})}, terms, c.today)
		all := strings.Join(append(p.Words, p.Mends...), "\n")
		if said := strings.Contains(all, "break on") || strings.Contains(all, "can be lost"); !strings.Contains(all, c.says) || said != (c.says != "") {
			t.Errorf("%s: wanted %q in:\n%s", c.name, c.says, all)
		}
	}
	p := mustMake(t, bare(english(domain.Tenancy{Expiry: "2027-03-25"}), 3000, 0, 0), relocation.There{FitOut: english(domain.Tenancy{})}, relocation.Usual(), "2027-03-22")
	if all := strings.Join(p.Mends, "\n"); !strings.Contains(all, "Thu 1 Apr 2027 is after the lease ends on Thu 25 Mar 2027") {
		t.Errorf("after expiry:\n%s", all)
	}
}

// TestRefused: what cannot be laid is said with its mend, what is typed wrongly by its place.
func TestRefused(t *testing.T) {
	t.Parallel()
	lease := domain.Tenancy{Expiry: "2027-03-31", Start: "2027-03-01"}
	trip := func(minutes int) []relocation.Trip {
		return []relocation.Trip{{Name: "load 1", Pieces: []string{"S1"}, Loading: minutes, Unloading: minutes, People: 2}}
	}
	night := english(lease)
	night.Calendar.StartsAt = "20:00"
	sundays := english(lease)
	sundays.Calendar.WorkingDays = []string{"sun"}
	for name, tt := range map[string]struct {
		here, there domain.FitOut
		loading     int
		says        string
	}{
		"no date":         {english(domain.Tenancy{}), english(domain.Tenancy{}), 3, "neither the day of giving back"},
		"a load too long": {english(lease), english(lease), 1150, "smaller payload"},
		"hours that miss": {english(lease), night, 3, "do not meet"},
		"days that miss":  {english(lease), sundays, 3, "longest day on which both places are worked has 0"},
	} {
		p := mustMake(t, bare(tt.here, 10, 0, 0), relocation.There{FitOut: tt.there, Trips: trip(tt.loading)}, relocation.Usual(), "2027-02-01")
		if !strings.Contains(p.Refused, tt.says) || len(p.Work) > 0 {
			t.Errorf("%s: refused %q, want %q", name, p.Refused, tt.says)
		}
	}
	for field, terms := range map[string]relocation.Terms{
		"/hand_back": {HandBack: "31.3.2027"}, "/entry": {Entry: "2027-02-30"}, "/not_before": {NotBefore: "9999-01-01"}, "/people": {People: -1}, "/travel_minutes": {Travel: 100_000},
		"/rent_here_minor_a_month": {RentHere: -5}, "/delivery": {Entry: "2027-03-01", Delivery: "2027-02-01"},
	} {
		_, err := relocation.Make(bare(english(lease), 10, 0, 0), relocation.There{FitOut: english(lease)}, terms, day("2027-02-01"))
		var at []string
		if es, ok := err.(domain.Errors); ok {
			for _, e := range es {
				at = append(at, e.Field)
			}
		}
		if domain.CodeOf(err) != domain.Invalid || !slices.Contains(at, field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// example is one old place, planned once.
var examples = []string{"one-wall", "corner", "half-height-counter"}

// moveOf draws a next place for a old place: its pieces on trips, packages of putting up, calendars and terms.
func moveOf(t *rapid.T, h relocation.Here) (relocation.Here, relocation.There, relocation.Terms) {
	r := *h.Register
	r.FitOut.Calendar = calendarOf(t, "here")
	r.FitOut.Crew.People = rapid.IntRange(1, 5).Draw(t, "crew")
	r.FitOut.Tenancy = domain.Tenancy{Expiry: dateIn(t, "expiry", 120, 260), ContingencyDays: rapid.IntRange(0, 5).Draw(t, "in hand")}
	h.Register = &r
	h.MakingGood = makinggood.List{}
	for i := range rapid.IntRange(0, 4).Draw(t, "surfaces") {
		host := fmt.Sprint("HOST", i)
		if rapid.Bool().Draw(t, "repaired") {
			h.MakingGood.Rows = append(h.MakingGood.Rows, makinggood.Row{Host: host, HostName: host, Minutes: rapid.IntRange(1, 900).Draw(t, "repair"), CureHours: rapid.IntRange(0, 80).Draw(t, "cure"), Charged: true})
		}
		if rapid.Bool().Draw(t, "painted") {
			h.MakingGood.Planes = append(h.MakingGood.Planes, makinggood.Plane{Host: host, HostName: host, Minutes: rapid.IntRange(1, 900).Draw(t, "paint")})
		}
	}
	n := relocation.There{FitOut: domain.FitOut{Code: "NEXT", Name: "the next unit", Currency: "GBP", Calendar: calendarOf(t, "there")}}
	if rapid.Bool().Draw(t, "has a start") {
		n.FitOut.Tenancy.Start = dateIn(t, "start", 100, 250)
	}
	var pieces []string
	for i := range r.Elements {
		pieces = append(pieces, r.Elements[i].Code)
	}
	trips := rapid.IntRange(0, 4).Draw(t, "trips")
	for i := range trips {
		n.Trips = append(n.Trips, relocation.Trip{Name: fmt.Sprint("load ", i+1), Vehicle: rapid.IntRange(0, 1).Draw(t, "vehicle"), Loading: rapid.IntRange(1, 160).Draw(t, "loading"), Unloading: rapid.IntRange(0, 160).Draw(t, "unloading"), People: rapid.IntRange(0, 3).Draw(t, "loaders")})
	}
	for _, code := range pieces {
		if trips > 0 && rapid.Bool().Draw(t, "moves") {
			k := rapid.IntRange(0, trips-1).Draw(t, "trip")
			n.Trips[k].Pieces = append(n.Trips[k].Pieces, code)
		}
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "packages") {
		g := relocation.Package{Assembly: fmt.Sprint("N", i), Name: "wall", Pieces: []string{fmt.Sprint("N", i, "-1")}, Minutes: rapid.IntRange(0, 1500).Draw(t, "up"), Bought: rapid.Bool().Draw(t, "bought")}
		for k := range n.Trips {
			if rapid.Bool().Draw(t, "brought") {
				g.Trips = append(g.Trips, k)
			}
		}
		g.Access = rapid.SampledFrom([][]strip.Access{nil, {strip.FromSteps}, {strip.FromTower}, {strip.FromSteps, strip.FromTower}}).Draw(t, "reached from")
		if i > 0 && rapid.Bool().Draw(t, "on another") {
			g.After = []int{rapid.IntRange(0, i-1).Draw(t, "on")}
		}
		n.Packages = append(n.Packages, g)
	}
	terms := relocation.Terms{Travel: rapid.IntRange(0, 90).Draw(t, "travel"), Saturdays: rapid.Bool().Draw(t, "saturdays"), EmptyFirst: rapid.Bool().Draw(t, "empty first"), Soonest: rapid.Bool().Draw(t, "soonest"), People: rapid.IntRange(0, 5).Draw(t, "people")}
	if n.FitOut.Tenancy.Start != "" && rapid.Bool().Draw(t, "delivered") {
		terms.Delivery = day(n.FitOut.Tenancy.Start).AddDate(0, 0, rapid.IntRange(0, 40).Draw(t, "delivery")).Format(time.DateOnly)
	}
	return h, n, terms
}

const firstDay = "2027-01-04"

func dateIn(t *rapid.T, name string, least, most int) string {
	return day(firstDay).AddDate(0, 0, rapid.IntRange(least, most).Draw(t, name)).Format(time.DateOnly)
}

func calendarOf(t *rapid.T, name string) domain.Calendar {
	c := domain.Calendar{Region: rapid.SampledFrom([]string{"", "GB-ENG", "GB-SCT", "IE", "DE"}).Draw(t, name+" region"), StartsAt: rapid.SampledFrom([]string{"", "07:00", "09:30"}).Draw(t, name+" starts"), DayMinutes: rapid.IntRange(360, 540).Draw(t, name+" day")}
	if rapid.Bool().Draw(t, name+" breaks") {
		c.Breaks = []string{"10:00/10:15", "12:30/13:00"}
	}
	if rapid.Bool().Draw(t, name+" part week") {
		c.WorkingDays = []string{"mon", "tue", "thu", "sat"}
	}
	if rapid.Bool().Draw(t, name+" away") {
		c.DaysOff = []string{dateIn(t, name+" off", 90, 250)}
	}
	return c
}

// TestOneTowerAtATime: with four people two walls go up side by side, and one after the other where both need the one tower.
// The second opinion finds the first programme where there is a tower for one.
func TestOneTowerAtATime(t *testing.T) {
	t.Parallel()
	h := left(t, "one-wall")
	r := *h.Register
	r.FitOut.Calendar, r.FitOut.Crew.People = domain.Calendar{Region: "GB-ENG"}, 4
	r.FitOut.Tenancy = domain.Tenancy{Expiry: "2027-05-28"}
	h.Register = &r
	plan := func(from ...strip.Access) (*relocation.Programme, relocation.There) {
		n := relocation.There{FitOut: english(domain.Tenancy{Start: "2027-05-03"}), Packages: []relocation.Package{
			{Assembly: "N1", Name: "wall", Pieces: []string{"N1-1"}, Minutes: 300, Access: from}, {Assembly: "N2", Name: "wall", Pieces: []string{"N2-1"}, Minutes: 300, Access: from}}}
		return mustMake(t, h, n, relocation.Usual(), "2027-03-01"), n
	}
	apart := func(p *relocation.Programme) bool {
		var at [][2]string
		for _, e := range p.Work {
			if e.Kind == relocation.PutUp {
				at = append(at, [2]string{fmt.Sprintf("%s %05d", e.Starts, e.Parts[0].From), fmt.Sprintf("%s %05d", e.Ends, e.Parts[len(e.Parts)-1].To)})
			}
		}
		if len(at) != 2 {
			t.Fatalf("%d packages are laid, want 2", len(at))
		}
		return at[0][1] <= at[1][0] || at[1][1] <= at[0][0]
	}
	floor, _ := plan()
	tower, n := plan(strip.FromTower)
	if apart(floor) || !apart(tower) {
		t.Errorf("one after the other: %v from the floor, %v from the one tower; want false, true", apart(floor), apart(tower))
	}
	facts := relocation.Facts{Here: r.FitOut, There: n.FitOut, Steps: h.Steps, Packages: n.Packages, Stores: map[string]int{"towers": 1, "steps": 1}, NotBefore: day("2027-03-01"), Entry: day("2027-05-03")}
	facts.MakingGood = h.MakingGood
	if faults := relocation.Check(tower, facts); len(faults) > 0 {
		t.Errorf("one tower at a time, and yet %q", faults)
	}
	if faults := relocation.Check(floor, facts); !slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, "2 of towers are in use") }) {
		t.Errorf("two walls from one tower at once are not found: %q", faults)
	}
}

// TestAnyMove: any move is laid and holds by the second opinion (Make refuses one that does not, which fails here), no
// programme betters its bounds, what fits is in time, and the same again is the same.
func TestAnyMove(t *testing.T) {
	t.Parallel()
	ready := map[string]relocation.Here{}
	for _, file := range examples {
		ready[file] = left(t, file)
	}
	rapid.Check(t, func(t *rapid.T) {
		h, n, terms := moveOf(t, ready[rapid.SampledFrom(examples).Draw(t, "example")])
		p := mustMake(t, h, n, terms, firstDay)
		if p.Refused != "" {
			if !strings.Contains(p.Refused, "smaller payload") {
				t.Fatalf("refused: %s", p.Refused)
			}
			return
		}
		for name, o := range map[string]*relocation.Outcome{"latest": p.Latest, "soonest": p.Soonest} {
			if o == nil {
				t.Fatalf("there is no %s", name)
			}
			if o.Both.Days < o.Least || o.Starts > o.StartBound && o.Starts != "" {
				t.Fatalf("%s betters its bound: %+v", name, o)
			}
		}
		if p.Fits != (p.LateDays == 0) || p.Fits && (p.Soonest.HandBack > p.HandBack || p.Latest.Starts != "" && p.Latest.Starts < p.NotBefore) {
			t.Fatalf("fits %v, late %d, soonest %s for %s", p.Fits, p.LateDays, p.Soonest.HandBack, p.HandBack)
		}
		if len(p.WhatIf) == 0 || p.WhatIf[0].Fits != p.Fits || p.WhatIf[0].Soonest != p.Soonest.HandBack {
			t.Fatalf("what if nothing changed: %+v", p.WhatIf)
		}
		if diff := cmp.Diff(p, mustMake(t, h, n, terms, firstDay)); diff != "" {
			t.Fatalf("the same move twice differs (-first +second):\n%s", diff)
		}
	})
}

// copied is a programme that can be changed without the other.
func copied(t tb, p *relocation.Programme) *relocation.Programme {
	t.Helper()
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatalf("%v", err)
	}
	var out relocation.Programme
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatalf("%v", err)
	}
	return &out
}

// TestCheckFinds breaks a good programme in every way that the second opinion is there for, and wants it found.
func TestCheckFinds(t *testing.T) {
	t.Parallel()
	h := left(t, "one-wall")
	r := *h.Register
	r.FitOut.Calendar, r.FitOut.Crew.People = domain.Calendar{Region: "GB-ENG"}, 2
	r.FitOut.Tenancy = domain.Tenancy{Expiry: "2027-05-28", ContingencyDays: 1}
	h.Register = &r
	h.MakingGood = makinggood.List{Rows: []makinggood.Row{{Host: "W", HostName: "W", Minutes: 60, CureHours: 48, Charged: true}, {Host: "V", HostName: "V", Minutes: 60, CureHours: 24, Charged: true}}, Planes: []makinggood.Plane{{Host: "W", HostName: "W", Minutes: 300}}}
	n := relocation.There{FitOut: english(domain.Tenancy{Start: "2027-05-03"}),
		Trips:    []relocation.Trip{{Name: "load 1", Loading: 46, Unloading: 46, People: 2}, {Name: "load 2", Loading: 46, Unloading: 46, People: 2}},
		Packages: []relocation.Package{{Assembly: "N1", Name: "wall", Pieces: []string{"N1-1"}, Minutes: 300, Trips: []int{0}}, {Assembly: "N2", Name: "wall", Pieces: []string{"N2-1"}, Minutes: 300, Trips: []int{0, 1}, Bought: true, After: []int{0}}}}
	for i := range r.Elements {
		n.Trips[i%2].Pieces = append(n.Trips[i%2].Pieces, r.Elements[i].Code)
	}
	terms := relocation.Usual()
	terms.Delivery = "2027-05-28"
	good := mustMake(t, h, n, terms, "2027-03-01")
	facts := relocation.Facts{Here: r.FitOut, There: n.FitOut, Steps: h.Steps, MakingGood: h.MakingGood, Trips: n.Trips, Packages: n.Packages, Stores: map[string]int{"towers": 1, "steps": 1}, NotBefore: day("2027-03-01"), Entry: day("2027-05-03")}
	if faults := relocation.Check(good, facts); len(faults) > 0 {
		t.Fatalf("a good programme is faulted: %q", faults)
	}
	find := func(p *relocation.Programme, code string) *relocation.Entry {
		at := slices.IndexFunc(p.Work, func(e relocation.Entry) bool { return e.Code == code })
		if at < 0 {
			t.Fatalf("there is no %s", code)
		}
		return &p.Work[at]
	}
	move := func(e *relocation.Entry, on string, from int) {
		long := 0
		for _, x := range e.Parts {
			long += x.To - x.From
		}
		e.Parts, e.Starts, e.Ends = []relocation.Part{{On: on, From: from, To: from + long}}, on, on
	}
	lastStep := h.Steps[len(h.Steps)-1]
	step := fmt.Sprint("step ", lastStep.Number)
	for name, tt := range map[string]struct {
		change func(p *relocation.Programme)
		says   string
	}{
		"a step left out": {func(p *relocation.Programme) {
			p.Work = slices.DeleteFunc(p.Work, func(e relocation.Entry) bool { return e.Code == step })
		}, "left out"},
		"a load left out": {func(p *relocation.Programme) {
			p.Work = slices.DeleteFunc(p.Work, func(e relocation.Entry) bool { return e.Code == "load 2" })
		}, "load 2 is left out"},
		"a repair left out": {func(p *relocation.Programme) {
			p.Work = slices.DeleteFunc(p.Work, func(e relocation.Entry) bool { return e.Code == "repair V" })
		}, "repair V is left out"},
		"a piece left out": {func(p *relocation.Programme) {
			p.Work = slices.DeleteFunc(p.Work, func(e relocation.Entry) bool { return e.Code == "N2" })
		}, "goes up 0 times"},
		"done twice":          {func(p *relocation.Programme) { p.Work = append(p.Work, *find(p, "load 1")) }, "done twice"},
		"put up twice":        {func(p *relocation.Programme) { p.Work = append(p.Work, *find(p, "N1")) }, "goes up 2 times"},
		"work cut short":      {func(p *relocation.Programme) { find(p, "paint W").Parts[0].To -= 60 }, "takes more"},
		"too many people":     {func(p *relocation.Programme) { find(p, "N1").People = []int{2, 3} }, "of a crew of 2"},
		"the same one twice":  {func(p *relocation.Programme) { find(p, "N1").People = []int{1, 1} }, "is done by"},
		"nobody":              {func(p *relocation.Programme) { find(p, "N1").People = nil }, "takes more"},
		"on a Sunday":         {func(p *relocation.Programme) { move(find(p, "N1"), "2027-05-30", 0) }, "a Sunday there"},
		"on a holiday":        {func(p *relocation.Programme) { move(find(p, "N1"), "2027-05-31", 0) }, "there"},
		"past the hours":      {func(p *relocation.Programme) { move(find(p, "N1"), "2027-05-28", 400) }, "part that is none"},
		"up before it came":   {func(p *relocation.Programme) { move(find(p, "N1"), "2027-05-11", 0) }, "before load 1 has brought"},
		"up before delivered": {func(p *relocation.Programme) { move(find(p, "N2"), "2027-05-27", 449) }, "before what is bought is delivered"},
		"up before its other": {func(p *relocation.Programme) { x := find(p, "N1"); move(x, "2027-06-30", 0) }, "which it is fixed to"},
		"loaded before out": {func(p *relocation.Programme) {
			move(find(p, "load 1"), "2027-05-04", 0)
			move(find(p, "load 2"), "2027-05-04", 300)
		}, "is loaded with"},
		"before the entry":  {func(p *relocation.Programme) { move(find(p, "load 1"), "2027-04-30", 0) }, "before the day of entry"},
		"before the first":  {func(p *relocation.Programme) { move(find(p, step), "2027-02-26", 0) }, "before anybody may"},
		"painted wet":       {func(p *relocation.Programme) { w := find(p, "repair W"); move(w, find(p, "paint W").Starts, 0) }, "its repairs are hard"},
		"given back wet":    {func(p *relocation.Programme) { move(find(p, "repair V"), "2027-05-27", 0) }, "are not hard by"},
		"after giving back": {func(p *relocation.Programme) { move(find(p, "paint W"), "2027-05-28", 0) }, "last day of work"},
		"good before out":   {func(p *relocation.Programme) { move(find(p, "repair V"), "2027-05-04", 0) }, "is over"},
		"two at once": {func(p *relocation.Programme) {
			x := find(p, "load 2")
			y := find(p, "load 1")
			move(x, y.Starts, y.Parts[0].From)
		}, "is needed for"},
		"no way between": {func(p *relocation.Programme) {
			x := find(p, "load 2")
			y := find(p, "load 1")
			move(x, y.Starts, y.Parts[0].To)
		}, "and the way made"},
		"a load over night": {func(p *relocation.Programme) {
			x := find(p, "load 2")
			x.Parts = append(x.Parts, relocation.Part{On: "2027-05-28", From: 0, To: 5})
		}, "not on one day"},
	} {
		bad := copied(t, good)
		tt.change(bad)
		faults := relocation.Check(bad, facts)
		if !slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, tt.says) }) {
			t.Errorf("%s is not found: want %q in %q", name, tt.says, faults)
		}
	}
	// Two steps that follow each other, and steps that need the one tower.
	facts.Before = [][2]int{{lastStep.Number, h.Steps[0].Number}}
	if faults := relocation.Check(good, facts); !slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, "begins before step") }) {
		t.Errorf("steps the wrong way round are not found: %q", faults)
	}
	facts.Before, facts.Stores = nil, map[string]int{}
	if uses := slices.ContainsFunc(h.Steps, func(s strip.Step) bool { return s.Access != strip.FromFloor }); uses {
		if faults := relocation.Check(good, facts); !slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, "are in use") }) {
			t.Errorf("equipment that there is none of is not found: %q", faults)
		}
	} else {
		t.Error("the example needs no equipment, so nothing is tried with it")
	}
}
