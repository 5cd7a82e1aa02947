package domain_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"unpick/domain"
)

// smallCatalogue holds a type that drills, one that clamps, one that goes through masonry, and one that goes
// through steel.
func smallCatalogue() *domain.Catalogue {
	return &domain.Catalogue{
		FixingTypes: map[string]domain.FixingType{
			"concrete-screw-6": {Slug: "concrete-screw-6", Family: "masonry", HoleInHostMm: 6},
			"beam-clamp-m8":    {Slug: "beam-clamp-m8", Family: "steel"},
			"through-bolt-m10": {Slug: "through-bolt-m10", Family: "masonry", HoleInHostMm: 12, ThroughHost: true},
			"self-drill":       {Slug: "self-drill", Family: "steel", HoleInHostMm: 5, ThroughHost: true},
			"wood-screw-5":     {Slug: "wood-screw-5", Family: "timber", HoleInHostMm: 3.5},
		},
		Materials: map[string]domain.Material{"c16-cls-38x89": {Code: "c16-cls-38x89", StockLengthsMm: []int{2400, 3000}}},
		HostKinds: map[string]domain.HostKind{"concrete-slab": {Slug: "concrete-slab"}},
		Repairs:   map[string]domain.Repair{"concrete-fill-small": {Slug: "concrete-fill-small"}},
	}
}

func along(x, y, z int) domain.Direction { return domain.Direction{X: x, Y: y, Z: z} }

func piece(code string, kind domain.ElementKind) domain.Element {
	return domain.Element{Code: code, Kind: kind, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38,
		Placement: domain.Placement{Along: along(1, 0, 0), Across: along(0, 1, 0)}}
}

// sound is a sole plate screwed to a slab, a stud screwed to the plate, a cable through the stud and a seal.
func sound() *domain.Register {
	run := domain.Run{Start: domain.Point{X: 100, Y: 40}, Along: along(1, 0, 0), PositionsMm: []int{0, 600, 1200}}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "F1", Name: "unit", Currency: "GBP",
			Exits:   []domain.Exit{{Code: "X1", Name: "door", WidthMm: 900, HeightMm: 2000}},
			Tenancy: domain.Tenancy{Start: "2024-01-01", BreakDate: "2027-01-01", Expiry: "2029-01-01"}},
		Zones: []domain.Zone{{Code: "Z1", Name: "store"}},
		Hosts: []domain.HostSurface{{Code: "SLAB", Name: "slab", Kind: "concrete-slab", U: along(1, 0, 0), V: along(0, 1, 0),
			UMm: 5000, VMm: 4000, ThicknessMm: 150, Rule: domain.Allowed}},
		Assemblies: []domain.Assembly{{Code: "W1", Name: "wall", Zone: "Z1"}},
		Elements: []domain.Element{piece("P1", domain.SolePlate), piece("S1", domain.Stud),
			piece("CABLE", domain.Cable), piece("SEAL", domain.Seal)},
		Fixings: []domain.Fixing{
			{Code: "A1", Type: "concrete-screw-6", Count: 3, Holds: "P1", IntoHost: "SLAB", Run: run},
			{Code: "A2", Type: "wood-screw-5", Count: 2, Holds: "S1", IntoElement: "P1"},
		},
		Holes: []domain.Hole{{Code: "H1", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 55, Count: 3, Run: run,
			State: domain.HoleInUse, Fixing: "A1"}},
		Relations: []domain.Relation{
			{Code: "R1", Kind: domain.RunsThrough, From: "CABLE", To: "S1"},
			{Code: "R2", Kind: domain.Seals, From: "SEAL", To: "P1"},
			{Code: "R3", Kind: domain.BearsOn, From: "P1", To: "SLAB"},
			{Code: "R4", Kind: domain.Hides, From: "S1", To: "A1"},
		},
		Prices:    []domain.Price{{Key: "repair:concrete-fill-small", Amount: 300, Unit: "hole"}},
		Catalogue: smallCatalogue(),
	}
}

func TestCheckTakesWhatIsSound(t *testing.T) {
	t.Parallel()
	if faults := domain.Check(sound()); len(faults) > 0 {
		t.Errorf("Check of a sound register = %v", faults)
	}
}

// Each row breaks one rule of the sound register; the fault has to be the only one, at the place, with the mend.
func TestCheckFinds(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name     string
		spoil    func(r *domain.Register)
		at, text string
	}{
		{"a code twice in a noun", func(r *domain.Register) { r.Zones = append(r.Zones, r.Zones[0]) }, "/zones/1/code", "taken by the zone at /zones/0"},
		{"a code twice across nouns", func(r *domain.Register) { r.Zones[0].Code, r.Assemblies[0].Zone = "X1", "" }, "/zones/0/code", "taken by the exit"},
		{"a finish larger than its surface", func(r *domain.Register) { r.Hosts[0].FinishM2 = 20.5 }, "/host_surfaces/0/finish_m2", "20.00 m2 in all"},
		{"a currency that is none", func(r *domain.Register) { r.FitOut.Currency = "XYZ" }, "/fit_out/currency", "ISO 4217"},
		{"a code of ISO 4217 that buys nothing", func(r *domain.Register) { r.FitOut.Currency = "XXX" }, "/fit_out/currency", "ISO 4217"},
		{"a currency in small letters", func(r *domain.Register) { r.FitOut.Currency = "gbp" }, "/fit_out/currency", "ISO 4217"},
		{"a share over all of it", func(r *domain.Register) {
			r.Prices[0] = domain.Price{Key: domain.ShareDowngraded, Amount: 101, Unit: "percent"}
		}, "/prices/0/unit", "0 to 100"},
		{"a share of nothing known", func(r *domain.Register) {
			r.Prices[0] = domain.Price{Key: "share:old", Amount: 10, Unit: "percent"}
		}, "/prices/0/key", "share:downgraded"},
		{"a code with a blank", func(r *domain.Register) { r.FitOut.Exits[0].Code = "X 1" }, "/fit_out/exits/0/code", "plain letters"},
		{"a code too long", func(r *domain.Register) { r.FitOut.Exits[0].Code = strings.Repeat("x", 41) }, "/fit_out/exits/0/code", "40"},
		{"a code that starts with a mark", func(r *domain.Register) { r.FitOut.Exits[0].Code = "-x" }, "/fit_out/exits/0/code", "first"},
		{"into both", func(r *domain.Register) { r.Fixings[1].IntoHost = "SLAB" }, "/fixings/1/into_host", "one thing"},
		{"into nothing", func(r *domain.Register) { r.Fixings[1].IntoElement = "" }, "/fixings/1/into_element", "goes into nothing"},
		{"into itself", func(r *domain.Register) { r.Fixings[1].IntoElement = "S1" }, "/fixings/1/into_element", "to itself"},
		{"into another noun", func(r *domain.Register) { r.Fixings[1].IntoElement = "SLAB" }, "/fixings/1/into_element", "host surface SLAB"},
		{"holds what is not there", func(r *domain.Register) { r.Fixings[1].Holds = "S9" }, "/fixings/1/holds", `"S9"`},
		{"through what is not there", func(r *domain.Register) { r.Fixings[1].Through = []string{"S9"} }, "/fixings/1/through/0", `"S9"`},
		{"through what it holds", func(r *domain.Register) { r.Fixings[1].Through = []string{"S1"} }, "/fixings/1/through/0", "lies between"},
		{"no count", func(r *domain.Register) { r.Fixings[1].Count = 0 }, "/fixings/1/count", "1 to"},
		{"more positions than fixings", func(r *domain.Register) {
			r.Fixings[1].Run = domain.Run{Along: along(1, 0, 0), PositionsMm: []int{0, 1, 2}}
		}, "/fixings/1/run/positions_mm", "one for each"},
		{"a run that points nowhere", func(r *domain.Register) { r.Fixings[1].Run = domain.Run{PositionsMm: []int{0, 50}} }, "/fixings/1/run/along", "no length"},
		{"a fixing type misspelt", func(r *domain.Register) { r.Fixings[1].Type = "wood-scew-5" }, "/fixings/1/type", `did you mean "wood-screw-5"?`},
		{"a fixing that makes more holes than logged", func(r *domain.Register) {
			r.Fixings[0].Count, r.Fixings[0].Run = 4, domain.Run{}
		}, "/fixings/0/count", "add up to 3"},
		{"holes counted again in another set", func(r *domain.Register) {
			h := r.Holes[0]
			h.Code, h.Run = "H2", domain.Run{}
			r.Holes = append(r.Holes, h)
		}, "/fixings/0/count", "add up to 6"},
		{"a hole over a hole", func(r *domain.Register) {
			h := r.Holes[0]
			h.Code, h.State, h.Fixing = "H2", domain.HoleAbandoned, ""
			r.Holes = append(r.Holes, h)
		}, "/holes/1/run", "hole H1 is already"},
		{"a bolt right through without its far face", func(r *domain.Register) {
			r.Fixings[0].Type, r.Holes[0].Through = "through-bolt-m10", true
		}, "/fixings/0/count", "far face"},
		{"in use by nothing", func(r *domain.Register) {
			r.Holes = append(r.Holes, domain.Hole{Code: "H2", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 5, Count: 1, State: domain.HoleInUse})
		}, "/holes/1/fixing", "names no fixing"},
		{"a hole beside its surface", func(r *domain.Register) { r.Holes[0].Run.Start.X = 3806 }, "/holes/0/run", "beside host surface SLAB"},
		{"a hole off its surface", func(r *domain.Register) { r.Holes[0].Run.Start.Z = 6 }, "/holes/0/run", "off host surface SLAB"},
		{"no diameter", func(r *domain.Register) { r.Holes[0].DiameterMm = 0 }, "/holes/0/diameter_mm", "more than 0"},
		{"a diameter that is no number", func(r *domain.Register) { r.Holes[0].DiameterMm = math.NaN() }, "/holes/0/diameter_mm", "NaN"},
		{"no depth", func(r *domain.Register) { r.Holes[0].DepthMm = 0 }, "/holes/0/depth_mm", "goes through"},
		{"a relation to itself", func(r *domain.Register) { r.Relations[0].To = "CABLE" }, "/relations/0/to", "itself"},
		{"a stud that runs through", func(r *domain.Register) { r.Relations[0].From, r.Relations[0].To = "S1", "P1" }, "/relations/0/from", "cable or a pipe"},
		{"a stud that seals", func(r *domain.Register) { r.Relations[1].From = "S1" }, "/relations/1/from", "only a seal"},
		{"steadies a host", func(r *domain.Register) { r.Relations[2].Kind = domain.Steadies }, "/relations/2/to", "another noun"},
		{"said twice", func(r *domain.Register) {
			again := r.Relations[0]
			again.Code = "R9"
			r.Relations = append(r.Relations, again)
		}, "/relations/4", "R1"},
		{"longer than a hundred metres", func(r *domain.Register) { r.Elements[1].LengthMm = 100_001 }, "/elements/1/length_mm", "100001"},
		{"a mass below nothing", func(r *domain.Register) { r.Elements[1].MassKg = -1 }, "/elements/1/mass_kg", "-1"},
		{"a mass that is no number", func(r *domain.Register) { r.Elements[1].MassKg = math.NaN() }, "/elements/1/mass_kg", "NaN"},
		{"no direction", func(r *domain.Register) { r.Elements[1].Placement.Along = domain.Direction{} }, "/elements/1/placement/along", "no length"},
		{"parallel directions", func(r *domain.Register) { r.Elements[1].Placement.Across = along(-3, 0, 0) }, "/elements/1/placement/across", "same line"},
		{"an outline off the piece", func(r *domain.Register) {
			r.Elements[1].Outline = []domain.FacePoint{{AlongMm: 0}, {AlongMm: 2401}, {AlongMm: 0, AcrossMm: 89}}
		}, "/elements/1/outline", "off its own face"},
		{"an unknown kind", func(r *domain.Register) { r.Elements[1].Kind = "studd" }, "/elements/1/kind", "use sole-plate"},
		{"an unknown state", func(r *domain.Register) { r.Elements[1].State = "gone" }, "/elements/1/state", "use in-place"},
		{"a zone that is not there", func(r *domain.Register) { r.Elements[1].Zone = "Z9" }, "/elements/1/zone", `"Z9"`},
		{"an assembly that is not there", func(r *domain.Register) { r.Elements[1].Assembly = "W9" }, "/elements/1/assembly", `"W9"`},
		{"struck without a word", func(r *domain.Register) { r.Elements[3].State = domain.Struck }, "/elements/3/reason", "say why"},
		{"struck as not drilled, with its holes", func(r *domain.Register) {
			r.Fixings[0].State, r.Fixings[0].Reason = domain.FixingStruck, "moved"
		}, "/fixings/0/drilled", "still in being"},
		{"struck as drilled, with no hole", func(r *domain.Register) {
			r.Fixings[1].State, r.Fixings[1].Reason, r.Fixings[1].Drilled = domain.FixingStruck, "moved", true
		}, "/fixings/1/drilled", "leaves no hole"},
		{"not a date", func(r *domain.Register) { r.FitOut.Tenancy.Start = "2024-02-30" }, "/fit_out/tenancy/start", "no date"},
		{"a break that runs backwards", func(r *domain.Register) { r.FitOut.Calendar.Breaks = []string{"10:00/10:15", "13:00/12:30"} }, "/fit_out/calendar/breaks/1", "like 12:30/13:00"},
		{"a break after work", func(r *domain.Register) {
			r.FitOut.Calendar = domain.Calendar{StartsAt: "08:00", DayMinutes: 240, Breaks: []string{"10:00/10:15", "12:15/12:30"}}
		}, "/fit_out/calendar/breaks/1", "from 10:15 to 12:15"},
		{"a break in the break before", func(r *domain.Register) { r.FitOut.Calendar.Breaks = []string{"12:30/13:00", "12:45/13:15"} }, "/fit_out/calendar/breaks/1", "not within work"},
		{"days off that run backwards", func(r *domain.Register) { r.FitOut.Calendar.DaysOff = []string{"2026-12-23", "2027-01-03/2026-12-23"} }, "/fit_out/calendar/days_off/1", "write a date like"},
		{"days off longer than a year", func(r *domain.Register) { r.FitOut.Calendar.DaysOff = []string{"2026-01-01/2027-01-02"} }, "/fit_out/calendar/days_off/0", "a year apart"},
		{"too many days in hand", func(r *domain.Register) { r.FitOut.Tenancy.ContingencyDays = 251 }, "/fit_out/tenancy/contingency_working_days", "0 to 250"},
		{"a break before the start", func(r *domain.Register) { r.FitOut.Tenancy.BreakDate = "2023-12-31" }, "/fit_out/tenancy/break_date", "not after it starts"},
		{"a break after the end", func(r *domain.Register) { r.FitOut.Tenancy.BreakDate = "2029-01-02" }, "/fit_out/tenancy/break_date", "after it expires"},
		{"a price of no length", func(r *domain.Register) { r.Prices[0].Key = "material:c16-cls-38x89/long" }, "/prices/0/key", "a length in mm"},
		{"a price of a length not sold", func(r *domain.Register) { r.Prices[0].Key = "material:c16-cls-38x89/2500" }, "/prices/0/key", "2400 3000"},
		{"a price of a sized nothing", func(r *domain.Register) { r.Prices[0].Key = "material:c16-cls/2400" }, "/prices/0/key", "not in the catalogue"},
		{"a price of a screw of no length", func(r *domain.Register) { r.Prices[0].Key = "fixing:wood-screw-5/-80" }, "/prices/0/key", "length of one"},
		{"a price of nothing known", func(r *domain.Register) { r.Prices[0].Key = "repair:concrete-fill-smal" }, "/prices/0/key", "concrete-fill-small"},
		{"a price of one unit for what is counted by another", func(r *domain.Register) {
			r.Prices[0] = domain.Price{Key: "labour-hour", Amount: 4150, Unit: "m2"}
		}, "/prices/0/unit", "counted by the hour"},
		{"a price of hire by the item", func(r *domain.Register) {
			r.Prices[0] = domain.Price{Key: "prelim:access-tower", Amount: 4000, Unit: "item"}
		}, "/prices/0/unit", "price of one day"},
		{"a price of nothing at all", func(r *domain.Register) {
			r.Prices[0] = domain.Price{Key: "sundries", Amount: 340, Unit: "item"}
		}, "/prices/0/key", "prices nothing"},
		{"a sign-off about nothing known", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.ClosedUp, What: "closed up", By: "J. Carter", On: "2026-05-01", About: []string{"NOBODY"}}}
		}, "/sign_offs/0/about", "NOBODY"},
		{"a sign-off by nobody", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.ClosedUp, What: "closed up", On: "2026-05-01"}}
		}, "/sign_offs/0/by", ""},
		{"a sign-off of no day", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.ClosedUp, What: "closed up", By: "J. Carter"}}
		}, "/sign_offs/0/on", "no date"},
		{"a withdrawal of a later one", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.HoldMet, What: "not so", Withdraws: "S-2", By: "J. Carter", On: "2026-05-01"}, {Code: "S-2", Kind: domain.HoldMet, What: "props in", By: "J. Carter", On: "2026-05-01"}}
		}, "/sign_offs/0/withdraws", "no sign-off before it"},
		{"a notice of nothing known", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.NoticeGiven, What: "served", By: "J. Carter", On: "2026-05-01", Notice: "rent", Ends: "2026-12-24", How: "by hand"}}
		}, "/sign_offs/0/notice", "rent"},
		{"a notice for no day", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.NoticeGiven, What: "served", By: "J. Carter", On: "2026-05-01", Notice: domain.BreakNotice, How: "by hand"}}
		}, "/sign_offs/0/ends", "no date"},
		{"a notice served nobody knows how", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.NoticeGiven, What: "served", By: "J. Carter", On: "2026-05-01", Notice: domain.LeavingNotice, Ends: "2026-12-24"}}
		}, "/sign_offs/0/how", ""},
		{"a notice about a piece", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.NoticeGiven, What: "served", By: "J. Carter", On: "2026-05-01", Notice: domain.LeavingNotice, Ends: "2026-12-24", How: "by hand", About: []string{r.Elements[0].Code}}}
		}, "/sign_offs/0/about", "notice of the tenancy"},
		{"work done that says how it was served", func(r *domain.Register) {
			r.SignOffs = []domain.SignOff{{Code: "S-1", Kind: domain.ClosedUp, What: "closed up", By: "J. Carter", On: "2026-05-01", How: "by hand"}}
		}, "/sign_offs/0/notice", "is none"},
		{"text that is not UTF-8", func(r *domain.Register) { r.Elements[1].Note = "\xC3\x28" }, "/elements/1/note", "UTF-8"},
		{"a NUL", func(r *domain.Register) { r.Elements[1].Note = "a\x00" }, "/elements/1/note", "NUL"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := sound()
			tt.spoil(r)
			faults := domain.Check(r)
			if len(faults) != 1 || faults[0].Field != tt.at || !strings.Contains(faults[0].Text, tt.text) {
				t.Errorf("Check = %v, want one fault at %s that says %q", faults, tt.at, tt.text)
			}
		})
	}
}

// What looks like a fault and is none.
func TestCheckAllows(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		vary  func(r *domain.Register)
		count int
	}{
		{"a hole 5 mm off the edge: a tape's own error", func(r *domain.Register) { r.Holes[0].Run.Start.X = 3805 }, 0},
		{"an abandoned hole that names its fixing", func(r *domain.Register) {
			r.Holes = append(r.Holes, domain.Hole{Code: "H2", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 20, Count: 1, State: domain.HoleAbandoned, Fixing: "A1"})
		}, 0},
		{"a bolt right through with both faces", func(r *domain.Register) {
			r.Fixings[0].Type, r.Holes[0].Through = "through-bolt-m10", true
			back := r.Holes[0]
			back.Code, back.Face, back.Run.Start.Z = "H2", domain.BackFace, -150
			r.Holes = append(r.Holes, back)
		}, 0},
		{"through thin steel, whose far face is the same hole", func(r *domain.Register) { r.Fixings[0].Type, r.Holes[0].Through = "self-drill", true }, 0},
		{"struck as drilled, its hole left", func(r *domain.Register) {
			r.Fixings[0].State, r.Fixings[0].Reason, r.Fixings[0].Drilled = domain.FixingStruck, "moved 50 mm", true
			r.Holes[0].State = domain.HoleAbandoned
		}, 0},
		{"a relation said again, the first one struck", func(r *domain.Register) {
			again := r.Relations[0]
			again.Code, r.Relations[0].Struck, r.Relations[0].Reason = "R9", true, "wrong cable"
			r.Relations = append(r.Relations, again)
		}, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := sound()
			tt.vary(r)
			if faults := domain.Check(r); len(faults) != tt.count {
				t.Errorf("Check = %v, want none", faults)
			}
		})
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	names := []string{"length_mm", "width_mm", "note", "code", "concrete-screw-6", "concrete-screw-8"}
	for _, tt := range []struct{ word, want string }{
		{"lenght_mm", "length_mm"}, {"length_cm", "length_mm"}, {"length", "length_mm"}, {"Code", "code"},
		{"concrete-screw-7", "concrete-screw-6"}, // as near to both: the first in the alphabet
		{"entirely-else", ""}, {"", ""}, {strings.Repeat("length_mm", 20), ""},
	} {
		if got := domain.Nearest(tt.word, func(yield func(string) bool) {
			for i := len(names) - 1; i >= 0 && yield(names[i]); i-- {
			}
		}); got != tt.want {
			t.Errorf("Nearest(%q) = %q, want %q", tt.word, got, tt.want)
		}
	}
}

func large(n int) *domain.Register {
	r := sound()
	for i := range n {
		code := fmt.Sprintf("W1-S%d", i)
		e := piece(code, domain.Stud)
		e.Assembly = "W1"
		r.Elements = append(r.Elements, e)
		r.Fixings = append(r.Fixings, domain.Fixing{Code: fmt.Sprintf("W1-F%d", i), Type: "concrete-screw-6", Count: 2, Holds: code, IntoHost: "SLAB"})
		r.Holes = append(r.Holes, domain.Hole{Code: fmt.Sprintf("W1-H%d", i), Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 55, Count: 2,
			Run:   domain.Run{Start: domain.Point{X: i % 5000, Y: i / 50 % 4000}, Along: along(1, 0, 0)},
			State: domain.HoleInUse, Fixing: fmt.Sprintf("W1-F%d", i)})
	}
	return r
}

// The peer is the index of codes alone, which any check has to build.
func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		r := large(n)
		if faults := domain.Check(r); len(faults) > 0 {
			b.Fatalf("Check = %v", faults[0])
		}
		b.Run(fmt.Sprintf("check/%d", n), func(b *testing.B) {
			for b.Loop() {
				domain.Check(r)
			}
		})
		b.Run(fmt.Sprintf("index/%d", n), func(b *testing.B) {
			for b.Loop() {
				r.Index()
			}
		})
	}
}
