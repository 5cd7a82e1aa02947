package recipe

import (
	"fmt"
	"strings"

	"unpick/domain"
)

// NotStableAlone is the kind of advice that a free end or a half-height wall gets.
const NotStableAlone = "not-stable-alone"

// warnStudWall warns of a wall that does not stand alone: a free end, or half height.
func warnStudWall(p StudWall, a domain.Assembly, made domain.Records) []domain.Advice {
	var why []string
	var codes []string
	studs := []string{}
	for _, e := range made.Elements {
		switch e.Kind {
		case domain.Stud:
			studs = append(studs, e.Code)
		case domain.CapPlate:
			codes = append(codes, e.Code)
		}
	}
	if p.HalfHeight {
		why = append(why, "it is half height and nothing holds its top")
	}
	if len(studs) > 0 && p.Start.Meets == "free" {
		why, codes = append(why, "its set-out end is free"), append(codes, studs[0])
	}
	if len(studs) > 0 && p.End.Meets == "free" {
		why, codes = append(why, "its far end is free"), append(codes, lastUpright(made))
	}
	if len(why) == 0 {
		return nil
	}
	return []domain.Advice{{
		Kind: NotStableAlone, Severity: domain.Warning, Codes: codes,
		Text: fmt.Sprintf("%s is not stable alone: %s", a.Code, strings.Join(why, ", and ")),
		Mend: "brace it while it stands alone; give it a return wall or a post at the free end, or have a competent person say that it holds",
	}}
}

// lastUpright is the full-height stud at the far end of a wall: the last one built before anything was put over a
// doorway, which is the one furthest from the first.
func lastUpright(made domain.Records) string {
	var first *domain.Element
	far, code := -1.0, ""
	for i := range made.Elements {
		e := &made.Elements[i]
		if e.Kind != domain.Stud {
			continue
		}
		if first == nil {
			first = e
		}
		d := e.Placement.Origin.Vector().Sub(first.Placement.Origin.Vector())
		if run := (domain.Vector{X: d.X, Y: d.Y}).Length(); run > far {
			far, code = run, e.Code
		}
	}
	return code
}
