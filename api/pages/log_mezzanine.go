package pages

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/siting"
)

// mezzanineEntry logs a timber floor. Every size is the designer's: nothing here sizes anything.
func mezzanineEntry() entry {
	e := entry{Name: "mezzanine", Title: "A floor (mezzanine)", Noun: "Mezzanine", Letters: "M", Recipe: true,
		Lead:  "Joists on wall plates or beams, deck, stair and guard. Sizes are the designer's: nothing here sizes a joist, a post or an anchor.",
		Rows:  []rows{{"carriers", "/params/carriers/", "Another plate or beam"}},
		Again: func(k known, code string) map[string]string { return k.again(code, "mezzanine") },
		Aliases: map[string]string{"/params/origin": "/place/over", "/params/along": "/place/over", "/params/along_mm": "/place/over", "/params/across_mm": "/place/over",
			"/params/guard": "/place/guard", "/params/deck": "/params/deck/material", "/params/joists": "/params/joists/section/material", "/holes": "/place/over", "/elements": "/place/over"},
		Groups: mezzanineGroups}
	e.Read = func(k known, root map[string]any) (entered, error) { return readMezzanine(e, k, root) }
	return e
}

func mezzanineGroups(k known) []group {
	edge := []option{{"open", "Open"}, {"wall", "Against a wall"}}
	joists := k.materials(isSection, "timber")
	out := []group{
		{Legend: "Where and how high", Fields: []field{
			pick("/place/over", "Over", one("Choose the room or floor", k.areas()), ""),
			mm("/params/level_mm", "Top of the deck above the floor", "").as("2400"),
		}},
		{Legend: "Joists and deck", Fields: []field{
			pick("/params/joists/section/material", "Joists", joists, "As designed").as("c24-sawn-47x200"),
			mm("/params/joists/centres_mm", "Joist centres", "").as("400"),
			pick("/params/joists/carried", "Joists", []option{{"hangers", "In hangers between plates or beams"}, {"bearing", "On top of them"}}, ""),
			pick("/params/deck/material", "Deck", k.materials(nil, "board"), "").as("p5-22-tg"),
			yes("/params/deck/glued", "Deck glued", "It is then used once"),
		}},
	}
	for i := range k.rows("carriers", "/params/carriers/", 2) {
		out = append(out, carrierGroup(k, i))
	}
	return append(out,
		group{Legend: "Edges", Fields: []field{
			pick("/params/edges/near/is", "Near edge", edge, "").as("wall"), pick("/params/edges/far/is", "Far edge", edge, "").as("wall"),
			pick("/params/edges/left/is", "Left edge", edge, "").as("open"), pick("/params/edges/right/is", "Right edge", edge, "").as("wall"),
			yes("/place/guard", "Guard along every open edge", "1100 high, with a middle rail and a toe board").as("yes"),
			said("/place/unguarded", "Why an open edge has no guard", "Wanted where there is none"),
		}},
		stairGroup(),
		group{Legend: "More: hangers, strutting, guard", Folded: true, Fields: []field{
			pick("/params/joists/hanger/fixing", "Hangers fixed with", one("Connector screws 5 x 40", k.fixings("timber")), "Nails spoil the hanger and the timber"),
			said("/params/joists/hanger/reason", "Why nails", ""),
			said("/params/joists/no_strutting_reason", "Why no strutting", ""),
			mm("/params/deck/gap_mm", "Gap at walls", "Empty: 10"), mm("/params/guard/height_mm", "Guard height", "Empty: 1100"), mm("/params/guard/posts_at_mm", "Guard posts at most", "Empty: 1200"),
		}},
		areaGroup("The joists are set out along this"))
}

func carrierGroup(k known, i int) group {
	at := "/params/carriers/" + strconv.Itoa(i)
	side := []string{"near", "far"}[i%2]
	behind := []option{}
	for _, h := range k.hosts(func(h *domain.HostSurface) bool { return h.V.Unit().Z > 0.9 }) {
		behind = append(behind, option{"host " + h.Value, h.Label})
	}
	for _, a := range k.assemblies("stud-wall") {
		behind = append(behind, option{"wall " + a.Value, a.Label})
	}
	return group{Legend: fmt.Sprintf("Plate or beam %d", i+1), Fields: []field{
		pick(at+"/side", "On the side", []option{{"near", "Near"}, {"far", "Far"}, {"between", "Between"}}, "The joists run from near to far").as(side),
		pick(at+"/behind", "Held by", one("Posts on the floor: a beam", behind), "A wall behind it: a wall plate"),
		pick(at+"/section/material", "Section", k.materials(isSection, "timber", "metal"), "").as("c24-sawn-47x200"),
		pick(at+"/fixing/type", "A plate's fixings", one("The usual one for the wall", k.fixings("masonry", "timber", "steel")), "The designer's anchors"),
		digits(at+"/fixing/count", "How many", "", "Into studs: into each; else in all. Empty: 2 and 8"),
		digits(at+"/post_count", "A beam's posts", "", "Empty: 2"),
		mm(at+"/at_mm", "One between: its near face", "From the near edge"),
	}}
}

func stairGroup() group {
	at := "/params/stairs/0"
	return group{Legend: "Stair", Folded: true, Fields: []field{
		pick(at+"/edge", "Leads to the edge", []option{{"", "No stair"}, {"near", "Near"}, {"far", "Far"}, {"left", "Left"}, {"right", "Right"}}, ""),
		mm(at+"/at_mm", "From the start of that edge", ""), mm(at+"/width_mm", "Width", "Empty: 900"),
		mm(at+"/rise_mm", "Most a step may rise", "Empty: 220"), mm(at+"/going_mm", "Going", "Empty: 220"),
	}}
}

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
	carriers(k, params, place.Over, int(along))
	guards(params, place)
	if stairs, ok := params["stairs"].([]any); ok && len(stairs) > 0 {
		stair(params, stairs[0])
	}
	return e.assemble(root, found)
}

// carriers turns who holds a plate into the recipe's words, and gives a beam its posts, shared out.
func carriers(k known, params map[string]any, over string, alongMm int) {
	list, _ := params["carriers"].([]any)
	floor := strings.TrimPrefix(over, "host ")
	for _, item := range list {
		c, _ := item.(map[string]any)
		behind := told(c, "behind")
		count, _ := c["post_count"].(float64)
		fixing, _ := c["fixing"].(map[string]any)
		delete(c, "behind")
		delete(c, "post_count")
		delete(c, "fixing")
		noun, code, isPlate := cut(behind)
		if !isPlate {
			c["kind"] = "beam"
			c["posts"] = posts(k, floor, int(max(count, 2)), alongMm)
			continue
		}
		c["kind"], c[noun] = "wall-plate", code
		usual := map[string]any{"type": "structural-screw-8", "count": 2, "length_mm": 120}
		if t, ok := siting.TargetBy(k.r, behind); ok {
			usual = map[string]any{"type": "", "count": 8}
			if fits := siting.Fits(k.r, t); len(fits) > 0 {
				usual["type"] = fits[0].Slug
			}
		}
		c["fixing"] = overlaid(usual, fixing)
	}
}

// posts are so many under a beam, the first and last 200 mm from its ends.
func posts(k known, floor string, n, alongMm int) []any {
	const fromEndMm = 200
	if !k.isFloor(floor) {
		floor = ""
		if all := k.hosts(facesUp); len(all) > 0 {
			floor = all[0].Value
		}
	}
	out := []any{}
	for i := range n {
		out = append(out, map[string]any{
			"at_mm": fromEndMm + i*(alongMm-2*fromEndMm)/(n-1), "host": floor, "section": map[string]any{"material": "c24-post-100x100"},
			"base": map[string]any{"type": "concrete-screw-10", "count": 2, "length_mm": 100},
		})
	}
	return out
}

func (k known) isFloor(code string) bool {
	t, ok := siting.TargetBy(k.r, "host "+code)
	return ok && t.FacesUp()
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
	edges, _ := params["edges"].(map[string]any)
	for _, side := range edges {
		if edge, ok := side.(map[string]any); ok && edge["is"] == "open" && place.Unguarded != "" {
			edge["unguarded_reason"] = place.Unguarded
		}
	}
}

// stair gives a stair what is usual; without an edge there is none.
func stair(params map[string]any, typed any) {
	s, _ := typed.(map[string]any)
	if told(s, "edge") == "" {
		delete(params, "stairs")
		return
	}
	params["stairs"] = []any{overlaid(map[string]any{
		"at_mm": 0, "width_mm": 900, "rise_mm": 220, "going_mm": 220, "strings": map[string]any{"material": "redwood-par-38x225"}, "treads": map[string]any{"material": "redwood-par-32x225"},
		"head": map[string]any{"type": "structural-screw-8", "count": 2, "length_mm": 120},
	}, s)}
}

// cut takes "host BLK" apart.
func cut(ref string) (noun, code string, ok bool) { return strings.Cut(ref, " ") }
