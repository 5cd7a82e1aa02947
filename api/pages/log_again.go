package pages

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
	"unpick/domain/siting"
)

// assemblyBy is an assembly of the register by its code.
func (k known) assemblyBy(code string) (domain.Assembly, bool) {
	at := slices.IndexFunc(k.r.Assemblies, func(a domain.Assembly) bool { return a.Code == code })
	if at < 0 {
		return domain.Assembly{}, false
	}
	return k.r.Assemblies[at], true
}

// flat are the values of JSON by their pointers, as a form's fields take them.
func flat(text json.RawMessage, at string) map[string]string {
	out := map[string]string{}
	var value any
	if json.Unmarshal(text, &value) == nil {
		flatten(out, value, at)
	}
	return out
}

func flatten(out map[string]string, value any, at string) {
	switch v := value.(type) {
	case map[string]any:
		for name, inner := range v {
			flatten(out, inner, at+"/"+name)
		}
	case []any:
		var listed []string
		for i, inner := range v {
			switch one := inner.(type) {
			case map[string]any, []any:
				flatten(out, inner, at+"/"+strconv.Itoa(i))
			default:
				listed = append(listed, fmt.Sprint(one))
			}
		}
		if listed != nil { // typed into one field, with commas between
			out[at] = strings.Join(listed, ", ")
		}
	case string:
		out[at] = v
	case bool:
		if v {
			out[at] = "yes"
		}
	case float64:
		out[at] = strconv.FormatFloat(v, 'f', -1, 64)
	}
}

// again fills a form from an assembly that was logged before, by the pointers of its parameters; without those that say
// where it is, which are asked for anew.
func (k known) again(code, recipeName string, without ...string) map[string]string {
	a, ok := k.assemblyBy(code)
	if !ok || a.Recipe != recipeName {
		return nil
	}
	out := flat(a.Params, "/params")
	for _, name := range without {
		maps.DeleteFunc(out, func(at, _ string) bool { return at == "/params/"+name || strings.HasPrefix(at, "/params/"+name+"/") })
	}
	out["/name"], out["/zone"], out["/licensed"] = a.Name, a.Zone, a.Licensed
	return out
}

// movedOnMm is how far on the same again is proposed along a face.
const movedOnMm = 1200

// studWallAgain keeps what the wall is and moves it on along the face that it starts from.
func studWallAgain(k known, code string) map[string]string {
	out := k.again(code, "stud-wall", "origin", "along", "start/meets", "start/code", "start/onto", "end/meets", "end/code", "end/onto", "foot/host",
		"height_mm", "end_height_mm", "end_floor_mm", "length_mm", "half_height", "head/host", "head/crossings", "head/kind", "junctions", "face_a/share_cut", "face_b/share_cut")
	a, _ := k.assemblyBy(code)
	var p recipe.StudWall
	if out == nil || json.Unmarshal(a.Params, &p) != nil {
		return nil
	}
	if p.HalfHeight {
		out["/place/head"], out["/params/height_mm"] = siting.HalfHeight, strconv.Itoa(p.HeightMm)
	}
	out["/place/share_cut"] = "yes"
	for _, f := range siting.Faces(k.r) {
		u := p.Origin.Vector().Sub(f.LeftEnd).Dot(f.Right.Unit())
		off := p.Origin.Vector().Sub(f.LeftEnd).Dot(f.Out().Unit())
		if math.Abs(off) <= 3 && f.Out().Unit().Dot(p.Along.Unit()) > 0.99 && u >= 0 && u <= f.LengthMm {
			out["/place/from"] = f.Ref
			if next := u + movedOnMm; next < f.LengthMm {
				out["/place/at_mm"] = fmt.Sprint(int(math.Round(next)))
			}
		}
	}
	return out
}
