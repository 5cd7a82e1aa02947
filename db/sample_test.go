package db_test

import (
	"fmt"
	"strings"

	"unpick/domain"
)

var jo = domain.Actor{Name: "Jo", DeviceTime: "2026-03-14T09:26:53+01:00"}

// bare is a fit-out with its slab and block wall, before anything is built.
func bare(code string) *domain.Register {
	return &domain.Register{
		FitOut: domain.FitOut{
			Code: code, Name: "Store in unit 4", Currency: "EUR", Tenant: "Tenant", Landlord: "Landlord", Firm: "Contractor",
			Premises: domain.Premises{Address: "Unit 4", BuiltYear: 1987, Survey: "R&D 12"},
			Calendar: domain.Calendar{Region: "IE", WorkingDays: []string{"mon", "tue"}, StartsAt: "07:30", DayMinutes: 450, Breaks: []string{"12:30/13:00"}, DaysOff: []string{"2026-12-21/2027-01-01"}},
			Crew:     domain.Crew{People: 2, Access: []string{"steps"}, Rates: []domain.OwnRate{{Key: "take-down-stud", Minutes: 2.5}}},
			LinkBase: "https://register.example",
			NotBuilt: true,
			Tenancy:  domain.Tenancy{Start: "2024-01-01", BreakDate: "2027-01-01", BreakVacant: true, Expiry: "2029-12-31", NoticeMonths: 6, ContingencyDays: 5},
			Exits:    []domain.Exit{{Code: "X1", Name: "roller door", WidthMm: 3000, HeightMm: 3200}},
		},
		Zones: []domain.Zone{{Code: "Z1", Name: "Store", Outline: []domain.Point{{}, {X: 9000}, {X: 9000, Y: 9000}}, Capacity: 2}},
		Hosts: []domain.HostSurface{
			{Code: "SLAB", Name: "Floor", Kind: "concrete-slab", Zone: "Z1", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1},
				UMm: 9000, VMm: 9000, Rule: domain.Allowed, AgreedHoles: 40, MaxDiameterMm: 6.5, MaxDepthMm: 60,
				GridLines:  []domain.GridLine{{Name: "A", Axis: "u", AtMm: 0}},
				Conditions: []domain.Condition{{On: "2024-01-02", By: "Jo", Text: "hairline crack", Photos: []string{"ab"}}}},
			{Code: "BLOCK", Name: "Party wall", Kind: "block-wall", Zone: "Z1", U: domain.Direction{X: 1}, V: domain.Direction{Z: 1},
				UMm: 9000, VMm: 3000, FinishM2: 24.5, Rule: domain.Ask},
		},
		Prices: []domain.Price{{Key: "labour-hour", Amount: 4200, Unit: "hour", Since: "2026-01-01"}, {Key: "labour-hour", Amount: 4300, Unit: "hour"}},
		SignOffs: []domain.SignOff{
			{Code: "S-2", Kind: domain.HoldMet, Hold: "asbestos", What: "survey seen", By: "J. Carter", Role: "contractor", On: "2026-05-01"},
			{Code: "S-1", Kind: domain.HoldMet, Hold: "asbestos", What: "not this building's", Withdraws: "S-2", By: "J. Carter", On: "2026-05-02"},
			{Code: "S-4", Kind: domain.PieceFound, What: "3 pieces found cut", About: []string{"SLAB"}, Found: domain.Cut, UsableMm: 2300, By: "J. Carter", On: "2026-05-04", Note: "nailed foot"},
			{Code: "S-6", Kind: domain.NoticeGiven, What: "notice of the break", Notice: domain.BreakNotice, Ends: "2028-06-24", How: "by hand", By: "J. Carter", On: "2026-05-04"},
			{Code: "S-7", Kind: domain.NoticeGiven, What: "not served after all", Withdraws: "S-6", By: "J. Carter", On: "2026-05-05"},
			{Code: "S-5", Kind: domain.WasteAssessed, What: "assessed", About: []string{"SLAB"}, WasteCode: "17 02 01", By: "J. Carter", On: "2026-05-04", Note: "invoice of 2024"},
			{Code: "S-3", Kind: domain.WorkDone, What: "taken down", About: []string{"SLAB"}, By: "J. Carter", On: "2026-05-03", Minutes: 25, People: 2, PlannedMinutes: 20, Photos: []string{strings.Repeat("0a", 32)}, Note: "one stripped"},
		},
	}
}

// wall is one assembly of 33 elements, each held by so many sets of fixings, with holes in the slab under the first. Every
// code starts with the wall's. Walls of different rows, 0 to 290, have holes of their own.
func wall(code string, row, runs int) domain.Records {
	w := domain.Records{Assemblies: []domain.Assembly{{Code: code, Name: "Wall " + code, Recipe: "stud-wall", Params: []byte(`{"length_mm":4200}`), Zone: "Z1"}}}
	sole := code + "-E00"
	for i := range 33 {
		element := fmt.Sprintf("%s-E%02d", code, i)
		w.Elements = append(w.Elements, domain.Element{
			Code: element, Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2644, WidthMm: 89, ThicknessMm: 38,
			Placement: domain.Placement{Origin: domain.Point{X: 600 * i}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}},
			Assembly:  code, Zone: "Z1", Builder: "Jo", BuiltOrder: i + 1, State: domain.InPlace, Owner: domain.TenantOwns, Known: domain.Seen,
			Outline: []domain.FacePoint{{}, {AlongMm: 2644}, {AlongMm: 2644, AcrossMm: 89}}, StartCutDeg: 1.5, MassKg: 3.25,
		})
		for k := range runs {
			f := domain.Fixing{
				Code: fmt.Sprintf("%s-F%02d-%d", code, i, k), Type: "wood-screw-5x80", LengthMm: 80, Count: 4, Holds: element, IntoElement: sole,
				Run:  domain.Run{Start: domain.Point{X: 600 * i, Y: 20, Z: 30 * k}, Along: domain.Direction{Z: 1}, PositionsMm: []int{25, 325, 625, 925}},
				Undo: []domain.Direction{{Y: 1}, {Y: -1}}, Assembly: code, Builder: "Jo", BuiltOrder: i + 1,
			}
			if i == 0 {
				f.IntoElement, f.IntoHost, f.Type = "", "SLAB", "concrete-screw-6"
				f.Run.Start, f.Run.Along = domain.Point{X: 700 * k, Y: 30 * row}, domain.Direction{X: 1}
				w.Holes = append(w.Holes, domain.Hole{Code: fmt.Sprintf("%s-H%d", code, k), Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6,
					DepthMm: 50, Count: 4, Run: f.Run, State: domain.HoleInUse, Fixing: f.Code, Assembly: code})
			}
			if i == 1 {
				f.Through = []string{fmt.Sprintf("%s-E02", code)}
			}
			w.Fixings = append(w.Fixings, f)
		}
		if i > 0 {
			w.Relations = append(w.Relations, domain.Relation{Code: fmt.Sprintf("%s-R%02d", code, i), Kind: domain.BearsOn, From: element,
				To: sole, Origin: domain.FromRecipe, Assembly: code})
		}
	}
	return w
}

// built is a register of walls, W001 and on.
func built(code string, walls, runs int) *domain.Register {
	r := bare(code)
	var all domain.Records
	for i := range walls {
		all.Append(wall(fmt.Sprintf("W%03d", i+1), i, runs))
	}
	return r.With(all)
}

func adding(what string, more domain.Records) func(*domain.Register) (domain.Change, error) {
	return func(*domain.Register) (domain.Change, error) {
		return domain.Change{Kind: domain.Append, What: what, Add: more}, nil
	}
}
