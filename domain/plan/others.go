package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/salvage"
	"unpick/domain/schedule"
	"unpick/domain/strip"
)

// others lists what the strip-out needs and the crew's hours do not pay for: licensed and competent persons that the
// holds call for, access equipment and props, and the disposal of each waste code. In order of key.
func others(r *domain.Register, p *Plan) []schedule.Other {
	out := slices.Concat(ofHolds(p.Sequence.Steps), ofEquipment(p), ofWaste(r, p.Salvage.Pieces))
	slices.SortFunc(out, func(a, b schedule.Other) int { return cmp.Compare(a.Key, b.Key) })
	return out
}

// holdWords says what is paid for behind a hold that somebody else answers. Holds that the contractor signs himself
// are part of his own hours.
var holdWords = map[string]string{
	"temporary-support": "design and check of temporary support by a competent person",
	"impairment":        "impairment of the landlord's fire alarm or sprinklers, as agreed with landlord and insurer",
	"asbestos-surface":  "plan of work for what holds asbestos, by a licensed or trained contractor",
	"fire-plan":         "escape routes and fire separation kept, as agreed with landlord and tenant",
}

func ofHolds(steps []strip.Step) []schedule.Other {
	dead, props, count, who := 0, 0, map[string]int{}, map[string]string{}
	for _, s := range steps {
		switch s.Kind {
		case strip.MakeDead:
			dead += s.PersonMinutes
		case strip.Prop:
			props += len(s.Elements)
		}
		for _, h := range s.Holds {
			if h.Kind != "services-dead" && h.Who != "contractor" && h.Who != "foreman" {
				count[h.Kind]++
				who[h.Kind] = h.Who
			}
		}
	}
	var out []schedule.Other
	for kind, n := range count {
		what, ok := holdWords[kind]
		if !ok {
			what = strings.ReplaceAll(kind, "-", " ") + ", " + who[kind]
		}
		out = append(out, schedule.Other{Key: "prelim:" + kind, What: what, Quantity: float64(n), Unit: "item", Evidence: "holds to sign"})
	}
	if dead > 0 {
		out = append(out, schedule.Other{Key: "prelim:make-dead", What: "services isolated and proved dead by a licensed person",
			Quantity: float64(dead) / 60, Unit: "hour", Evidence: "strip-out sequence"})
	}
	if props > 0 {
		out = append(out, schedule.Other{Key: "prelim:props", What: "hire of props, each for as long as it stands", Quantity: float64(props), Unit: "piece", Evidence: "strip-out sequence"})
	}
	return out
}

// ofEquipment counts the days on which each sort of access equipment is used.
func ofEquipment(p *Plan) []schedule.Other {
	used := map[strip.Access]int{}
	for _, d := range p.Days {
		today := map[strip.Access]bool{}
		for _, part := range d.Work {
			today[p.Step(part.Step).Access] = true
		}
		for a := range today {
			used[a]++
		}
	}
	var out []schedule.Other
	for a, n := range used {
		if a != strip.FromFloor && a != "" {
			out = append(out, schedule.Other{Key: "prelim:access-" + string(a), What: "hire of " + strings.ReplaceAll(string(a), "-", " "),
				Quantity: float64(n), Unit: "day", Evidence: "strip-out sequence"})
		}
	}
	return out
}

// ofWaste weighs what is not kept by its List of Waste code. A mirror entry is shown as such: nobody prices it before
// it is assessed.
func ofWaste(r *domain.Register, pieces []salvage.Piece) []schedule.Other {
	kg, what := map[string]float64{}, map[string]string{}
	total := 0.0
	for _, p := range pieces {
		if p.Goes != salvage.Waste && p.Goes != salvage.Recycling {
			continue
		}
		key := "waste:" + p.WasteCode
		switch {
		case p.WasteCode == "":
			key, what[key] = "waste:unknown", "what no List of Waste entry is known for: ask the carrier"
		case p.ConditionalWaste:
			key += "-assess"
			what[key] = p.WasteCode + " or its mirror entry, once assessed"
		default:
			what[key] = p.WasteCode + " " + r.Catalogue.WasteCodes[p.WasteCode].Description
		}
		kg[key] += p.MassKg
		total += p.MassKg
	}
	var out []schedule.Other
	for key, mass := range kg {
		out = append(out, schedule.Other{Key: key, What: "recycling or disposal of " + what[key], Quantity: tenth(mass), Unit: "kg", Evidence: "salvage inventory"})
	}
	if total > 0 {
		out = append(out, schedule.Other{Key: "prelim:waste-carrier", What: "waste carrier's vehicle and notes", Quantity: 1, Unit: "item", Evidence: "salvage inventory"})
	}
	return out
}

// NotInTotal words what no figure is in the total for: "hire of tower: 4 days".
func (p *Plan) NotInTotal() []string {
	out := make([]string, len(p.Schedule.NotInTotal))
	for i, o := range p.Schedule.NotInTotal {
		out[i] = fmt.Sprintf("%s: %s", o.What, quantity(o.Quantity, o.Unit))
	}
	return out
}

func quantity(n float64, unit string) string {
	switch {
	case unit == "kg":
		return fmt.Sprintf("%.1f kg", n)
	case n == 1:
		return "1 " + unit
	}
	return fmt.Sprintf("%g %ss", n, unit)
}
