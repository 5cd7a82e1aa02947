package pages

import (
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/siting"
)

// mezzaninePlace is what the form says beside the recipe's own words.
type mezzaninePlace struct {
	Over      string `json:"over"`
	Guard     bool   `json:"guard"`
	Unguarded string `json:"unguarded"`
}

func readMezzanine(e entry, k known, root map[string]any) (entered, error) {
	place, err := placeOf[mezzaninePlace](root)
	if err != nil {
		return entered{}, err
	}
	found, area, err := k.area(root, place.Over)
	if err != nil {
		return entered{}, err
	}
	params, _ := root["params"].(map[string]any)
	along := float64(area.AlongMm)
	if mm, ok := params["along_mm"].(float64); ok {
		along = mm
	}
	floor := k.floor(strings.TrimPrefix(place.Over, "host "))
	carriers(k, params, floor, int(along))
	guards(params, place)
	if err := stairs(params, floor); err != nil {
		return entered{}, err
	}
	return e.assemble(root, found)
}

// floor is a surface to stand on: the one named, or the first that there is.
func (k known) floor(code string) string {
	if t, ok := siting.TargetBy(k.r, "host "+code); ok && t.FacesUp() {
		return code
	}
	if all := k.hosts(facesUp); len(all) > 0 {
		return all[0].Value
	}
	return ""
}

// carriers turns who holds a plate into the recipe's words, and gives a beam its posts and brackets.
func carriers(k known, params map[string]any, floor string, alongMm int) {
	list, _ := params["carriers"].([]any)
	for _, item := range list {
		c, _ := item.(map[string]any)
		behind := told(c, "behind")
		count, counted := c["post_count"].(float64)
		fixing, _ := c["fixing"].(map[string]any)
		typed, _ := c["posts"].([]any)
		for _, name := range []string{"behind", "post_count", "fixing", "posts"} {
			delete(c, name)
		}
		noun, code, isWall := cut(behind)
		if !isWall && behind != byPieces {
			brackets(k, c)
			if _, some := c["brackets"]; !counted && !some {
				count = 2
			}
			c["kind"] = "beam"
			if all := posts(floor, typed, int(count), alongMm); len(all) > 0 {
				c["posts"] = all
			}
			continue
		}
		c["kind"] = "wall-plate"
		delete(c, "brackets")
		if isWall {
			c[noun] = code
		}
		c["fixing"] = overlaid(usualPlateFixing(k, behind), fixing)
	}
}

func usualPlateFixing(k known, behind string) map[string]any {
	usual := map[string]any{"type": "structural-screw-8", "count": 2, "length_mm": 120}
	if t, ok := siting.TargetBy(k.r, behind); ok {
		usual = map[string]any{"type": "", "count": 8}
		if fits := siting.Fits(k.r, t); len(fits) > 0 {
			usual["type"] = fits[0].Slug
		}
	}
	return usual
}

// posts are those under a beam: each at its own place where places are typed, else so many, the first and last 200 mm from
// the ends, all like the first.
func posts(floor string, typed []any, n, alongMm int) []any {
	const fromEndMm = 200
	usual := map[string]any{"host": floor, "section": map[string]any{"material": "c24-post-100x100"},
		"base": map[string]any{"type": "concrete-screw-10", "count": 2, "length_mm": 100}}
	out := []any{}
	placed := false
	for _, item := range typed {
		post, _ := item.(map[string]any)
		_, at := post["at_mm"]
		placed = placed || at
		out = append(out, overlaid(usual, post))
	}
	if placed {
		return out
	}
	if len(out) > 0 {
		usual, _ = out[0].(map[string]any)
	}
	out = []any{}
	for i := range min(n, mostPosts) {
		at := alongMm / 2
		if n > 1 {
			at = fromEndMm + i*(alongMm-2*fromEndMm)/(n-1)
		}
		out = append(out, overlaid(usual, map[string]any{"at_mm": at}))
	}
	return out
}

// mostPosts is more than any beam has.
const mostPosts = 100

// brackets gives those under the ends of a beam what is usual for their surface; rows without an end are none.
func brackets(k known, c map[string]any) {
	typed, _ := c["brackets"].([]any)
	var out []any
	for _, item := range typed {
		b, _ := item.(map[string]any)
		if told(b, "end") == "" {
			continue
		}
		usual := map[string]any{"count": 2}
		if t, ok := siting.TargetBy(k.r, "host "+told(b, "host")); ok {
			if fits := siting.Fits(k.r, t); len(fits) > 0 {
				usual["type"] = fits[0].Slug
			}
		}
		out = append(out, overlaid(map[string]any{"fixing": usual}, b))
	}
	if delete(c, "brackets"); len(out) > 0 {
		c["brackets"] = out
	}
}

// guards puts a guard along the open edges, or says why there is none.
func guards(params map[string]any, place mezzaninePlace) {
	typed, _ := params["guard"].(map[string]any)
	delete(params, "guard")
	if place.Guard {
		params["guard"] = overlaid(map[string]any{
			"height_mm": 1100, "posts_at_mm": 1200, "post": map[string]any{"material": "c24-sawn-47x100"}, "rail": map[string]any{"material": "c16-sawn-47x75"},
			"toe_board":   map[string]any{"material": "toeboard-ply-18x150"},
			"post_fixing": map[string]any{"type": "timber-bolt-m10", "count": 2, "reason": "as designed"},
		}, typed)
		return
	}
	if place.Unguarded == "" {
		return
	}
	edges, _ := params["edges"].(map[string]any)
	for _, side := range edges {
		if edge, ok := side.(map[string]any); ok && edge["is"] == "open" && edge["unguarded_reason"] == nil {
			edge["unguarded_reason"] = place.Unguarded
		}
	}
	openings, _ := params["openings"].([]any)
	for _, item := range openings {
		if o, ok := item.(map[string]any); ok && o["unguarded_reason"] == nil {
			o["unguarded_reason"] = place.Unguarded
		}
	}
}

// stairs gives each stair what is usual. One of which something is typed and not the edge is asked about.
func stairs(params map[string]any, floor string) error {
	list, _ := params["stairs"].([]any)
	for i, item := range list {
		s, _ := item.(map[string]any)
		if told(s, "edge") == "" {
			return domain.FieldErrorf(domain.Invalid, "/params/stairs/"+strconv.Itoa(i)+"/edge", "say which edge the stair leads to, or empty its other fields")
		}
		list[i] = stair(s, floor)
	}
	return nil
}

func stair(s map[string]any, floor string) map[string]any {
	usual := map[string]any{
		"at_mm": 0, "width_mm": 900, "rise_mm": 220, "going_mm": 220, "strings": map[string]any{"material": "redwood-par-38x225"}, "treads": map[string]any{"material": "redwood-par-32x225"},
		"head": map[string]any{"type": "structural-screw-8", "count": 2, "length_mm": 120},
		"handrail": map[string]any{"rail": map[string]any{"material": "c16-cls-38x63"}, "post": map[string]any{"material": "c16-cls-38x89"}, "mid_rails": 2,
			"post_fixing": map[string]any{"type": "coach-screw-8", "count": 2, "length_mm": 100}},
	}
	if s["foot"] != nil {
		usual["foot"], usual["foot_host"] = map[string]any{"count": 2}, floor
	}
	out := overlaid(usual, s)
	if rail, _ := out["handrail"].(map[string]any); told(rail, "sides") == noHandrail {
		delete(out, "handrail")
	}
	return out
}

// mezzanineAgain keeps what the floor is and asks for its place anew.
func mezzanineAgain(k known, code string) map[string]string {
	out := k.again(code, "mezzanine", "origin", "along")
	if out == nil {
		return nil
	}
	out["/place/guard"] = ""
	if out["/params/guard/height_mm"] != "" {
		out["/place/guard"] = "yes"
	}
	for i := range mostFormRows {
		carrier, stair := "/params/carriers/"+strconv.Itoa(i), "/params/stairs/"+strconv.Itoa(i)
		for _, noun := range []string{"host", "wall"} {
			if behind := out[carrier+"/"+noun]; behind != "" {
				out[carrier+"/behind"] = noun + " " + behind
			}
			delete(out, carrier+"/"+noun)
		}
		if out[carrier+"/elements"] != "" {
			out[carrier+"/behind"] = byPieces
		}
		delete(out, carrier+"/kind")
		if out[stair+"/edge"] != "" && out[stair+"/handrail/post/material"] == "" {
			out[stair+"/handrail/sides"] = noHandrail
		}
		if rails := stair + "/handrail/mid_rails"; out[stair+"/handrail/post/material"] != "" && out[rails] == "" {
			out[rails] = "0"
		}
		if out[stair+"/handrail/sides"] == "both" {
			delete(out, stair+"/handrail/sides")
		}
	}
	return out
}

// cut takes "host BLK" apart.
func cut(ref string) (noun, code string, ok bool) { return strings.Cut(ref, " ") }
