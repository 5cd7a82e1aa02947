package issue

import (
	"fmt"
	"math"
	"strings"

	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
	"unpick/domain/salvage"
)

// ScheduleLines are the items of the reinstatement schedule.
func ScheduleLines(p *plan.Plan) []Line {
	out := make([]Line, len(p.Schedule.Items))
	for i, item := range p.Schedule.Items {
		out[i] = Line{Key: item.Key, Number: item.Number, Group: item.Group, Clause: item.Clause, Where: item.Location, What: item.AsBuilt, How: item.Reinstatement,
			Evidence: item.Evidenced(p.MakingGood), Quantity: item.Quantity, Unit: item.Unit, RateMinor: item.RateMinor, RateKnown: item.RateKnown, AmountMinor: item.AmountMinor, Provisional: item.Provisional, Free: item.Free}
	}
	return out
}

// rowKey is what a row of the making-good list is about: a set of holes, those of them that lie in defects of the start, or
// what a fixing without holes leaves.
func rowKey(r makinggood.Row) string {
	switch {
	case r.Hole != "" && r.Defects != "":
		return "hole:" + r.Hole + atDefects
	case r.Hole != "":
		return "hole:" + r.Hole
	}
	return "fixing:" + r.Fixing
}

// atDefects is behind the key of those holes of a set that lie in defects of the start.
const atDefects = ":at-defects"

// MakingGoodLines are the rows of the making-good list and the planes that are redecorated.
func MakingGoodLines(p *plan.Plan) []Line {
	out := make([]Line, 0, len(p.MakingGood.Rows)+len(p.MakingGood.Planes))
	for _, r := range p.MakingGood.Rows {
		group := "repair"
		if !r.Charged {
			group = "there before, not charged"
		}
		where := r.HostName + " (" + r.Host + ")"
		if r.Where != "" {
			where += ", " + r.Where
		}
		what := r.What
		if r.Remnant != "" && r.Hole != "" { // of a film or a bruise the row says it already
			what += "; stays in it: " + r.Remnant
		}
		out = append(out, Line{Key: rowKey(r), Number: r.Number, Group: group, Where: where, What: what, How: r.Steps, Quantity: thousandths(r.Quantity), Unit: r.Unit,
			RateMinor: r.RateMinor, RateKnown: r.RateKnown, AmountMinor: r.AmountMinor, Provisional: r.Provisional})
	}
	for _, r := range p.MakingGood.Planes {
		out = append(out, Line{Key: "finish:" + r.Host, Group: "redecoration", Where: r.HostName + " (" + r.Host + ")", What: fmt.Sprintf("finish %s, repaired places: %d", r.Finish, r.Places),
			How: r.Steps, Quantity: thousandths(r.AreaM2), Unit: "m2", RateMinor: r.RateMinor, RateKnown: r.RateKnown, AmountMinor: r.AmountMinor})
	}
	return out
}

// SalvageLines are the pieces that come out; the amount is what each is worth.
func SalvageLines(p *plan.Plan) []Line {
	out := make([]Line, len(p.Salvage.Pieces))
	for i, s := range p.Salvage.Pieces {
		out[i] = Line{Key: "piece:" + s.Code, Group: string(s.Goes), Where: s.Assembly, What: sized(s), How: "expected " + string(s.Expected), Quantity: thousandths(s.MassKg), Unit: "kg",
			RateMinor: s.NewMinor, RateKnown: s.ValueKnown, AmountMinor: s.ValueMinor, Provisional: s.Provisional}
	}
	return out
}

func sized(s salvage.Piece) string {
	return fmt.Sprintf("%s, %s, %d x %d x %d", strings.ReplaceAll(string(s.Kind), "-", " "), s.MaterialName, s.LengthMm, s.WidthMm, s.ThicknessMm)
}

// StripOutLines are the work on each assembly and the pieces that leave. Steps have no lasting numbers, since the order is
// found anew whenever something is logged; what is in them has.
func StripOutLines(p *plan.Plan) []Line {
	type work struct{ minutes, pieces, holds int }
	byAssembly := map[string]*work{}
	var order []string
	var pieces []Line
	for _, s := range p.Sequence.Steps {
		w := byAssembly[s.Assembly]
		if w == nil {
			w = &work{}
			byAssembly[s.Assembly] = w
			order = append(order, s.Assembly)
		}
		w.minutes, w.pieces, w.holds = w.minutes+s.PersonMinutes, w.pieces+len(s.Pieces), w.holds+len(s.Holds)
		for _, o := range s.Pieces {
			pieces = append(pieces, Line{Key: "piece:" + o.Code, Group: "piece out", Where: s.Assembly, What: strings.ReplaceAll(string(o.Kind), "-", " "), How: string(o.Expected) + ", goes to " + string(o.Goes),
				Quantity: thousandths(o.MassKg), Unit: "kg"})
		}
	}
	var out []Line
	for _, a := range order {
		w := byAssembly[a]
		out = append(out, Line{Key: "work:" + a, Group: "work", Where: a, What: fmt.Sprintf("pieces out: %d; points to sign first: %d", w.pieces, w.holds), Quantity: float64(w.minutes), Unit: "person-minutes"})
	}
	return append(out, pieces...)
}

// SettingOutLines are the pieces of one assembly as they are set out: size, and the corner they start from.
func SettingOutLines(r *domain.Register, assembly string) []Line {
	var out []Line
	for i := range r.Elements {
		e := &r.Elements[i]
		if e.Assembly != assembly || !e.IsInPlace() {
			continue
		}
		o := e.Placement.Origin
		out = append(out, Line{Key: "piece:" + e.Code, Group: strings.ReplaceAll(string(e.Kind), "-", " "), Where: fmt.Sprintf("x %d, y %d, z %d", o.X, o.Y, o.Z),
			What: fmt.Sprintf("%d x %d x %d", e.LengthMm, e.WidthMm, e.ThicknessMm), Quantity: float64(e.LengthMm), Unit: "mm", Provisional: e.Known.Provisional()})
	}
	return out
}

func thousandths(x float64) float64 { return math.Round(x*1000) / 1000 }
