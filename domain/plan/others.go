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
	dead, props, count, who := uses{}, uses{}, map[string]uses{}, map[string]string{}
	for _, s := range steps {
		switch s.Kind {
		case strip.MakeDead:
			dead.add(float64(s.PersonMinutes)/60, s.Assembly)
		case strip.Prop:
			props.add(float64(len(s.Elements)), s.Assembly)
		}
		for _, h := range s.Holds {
			if h.Kind != "services-dead" && h.Who != "contractor" && h.Who != "foreman" {
				if count[h.Kind] == nil {
					count[h.Kind] = uses{}
				}
				count[h.Kind].add(1, s.Assembly)
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
		out = append(out, n.other("prelim:"+kind, what, "item", "holds to sign", thousandth))
	}
	if len(dead) > 0 {
		out = append(out, dead.other("prelim:make-dead", "services isolated and proved dead by a licensed person", "hour", "strip-out sequence", thousandth))
	}
	if len(props) > 0 {
		out = append(out, props.other("prelim:props", "hire of props, each for as long as it stands", "piece", "strip-out sequence", thousandth))
	}
	return out
}

// ofEquipment counts the days on which each sort of access equipment is used. A day is for every assembly that uses it then.
func ofEquipment(p *Plan) []schedule.Other {
	used := map[strip.Access]uses{}
	for _, d := range p.Days {
		today := map[strip.Access][]string{}
		for _, part := range d.Work {
			step := p.Step(part.Step)
			today[step.Access] = append(today[step.Access], step.Assembly)
		}
		for a, assemblies := range today {
			if used[a] == nil {
				used[a] = uses{}
			}
			used[a].add(1, assemblies...)
		}
	}
	var out []schedule.Other
	for a, n := range used {
		if a != strip.FromFloor && a != "" {
			out = append(out, n.other("prelim:access-"+string(a), "hire of "+strings.ReplaceAll(string(a), "-", " "), "day", "strip-out sequence", thousandth))
		}
	}
	return out
}

// ofWaste weighs what is not kept by its List of Waste code. A mirror entry is shown as such: nobody prices it before
// it is assessed.
func ofWaste(r *domain.Register, pieces []salvage.Piece) []schedule.Other {
	kg, what := map[string]uses{}, map[string]string{}
	var all []string
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
		if kg[key] == nil {
			kg[key] = uses{}
		}
		kg[key].add(p.MassKg, p.Assembly)
		all = append(all, p.Assembly)
	}
	var out []schedule.Other
	for key, mass := range kg {
		out = append(out, mass.other(key, "recycling or disposal of "+what[key], "kg", "salvage inventory", tenth))
	}
	if len(all) > 0 {
		carrier := uses{}
		carrier.add(1, all...)
		out = append(out, carrier.other("prelim:waste-carrier", "waste carrier's vehicle and notes", "item", "salvage inventory", thousandth))
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
