package pages

import (
	"unpick/domain"
	"unpick/domain/siting"
)

// ceilingEntry logs a ceiling: boards on joists or battens, or tiles in a grid.
func ceilingEntry() entry {
	e := entry{Name: "ceiling", Title: "A ceiling", Noun: "Ceiling", Letters: "C", Recipe: true,
		Lead:  "Boards under joists or battens, or a grid with tiles.",
		Again: ceilingAgain,
		Aliases: map[string]string{"/params/origin": "/place/over", "/params/along": "/place/over", "/params/joists": "/place/under", "/params/battens/host": "/place/under", "/params/grid/host": "/place/under",
			"/params/along_mm": "/place/over", "/params/across_mm": "/place/over", "/params": "/place/under", "/holes": "/place/under", "/elements": "/place/over"},
		Groups: ceilingGroups}
	e.Read = func(k known, root map[string]any) (entered, error) { return readCeiling(e, k, root) }
	return e
}

// areas are the rectangles on plan that one can name.
func (k known) areas() []option {
	var out []option
	for _, z := range k.r.Zones {
		if _, ok := siting.AreaOf(k.r, "zone "+z.Code); ok {
			out = append(out, option{"zone " + z.Code, z.Code + " " + z.Name})
		}
	}
	for _, h := range k.hosts(facesUp) {
		out = append(out, option{"host " + h.Value, "All of " + h.Label})
	}
	return out
}

func ceilingGroups(k known) []group {
	var under []option
	for _, a := range k.assemblies("mezzanine") {
		under = append(under, option{"joists " + a.Value, "The joists of " + a.Label})
	}
	for _, h := range k.hosts(facesDown) {
		under = append(under, option{"battens " + h.Value, "Battens on " + h.Label}, option{"grid " + h.Value, "A grid hung from " + h.Label})
	}
	battens := k.sectionFields("/params/battens/section", "Battens", "50 x 25")
	return []group{
		{Fields: []field{
			pick("/place/over", "Over", one("Choose the room or floor", k.areas()), ""),
			pick("/place/under", "Held by", one("Choose", under), ""),
			pick("/params/board", "Boards or tiles", k.materials(nil, "board"), "").as("pb-a-12"),
		}},
		{Legend: "More: battens, grid, fixings", Folded: true, Fields: []field{
			battens[0], battens[1], battens[2], mm("/params/battens/centres_mm", "Battens at", "Empty: 400"), pick("/params/battens/fixing", "Battens fixed with", one("The usual one", k.fixings("masonry", "timber", "steel")), ""),
			mm("/params/battens/pitch_mm", "Fixings every", "Empty: 600"), mm("/params/battens/fixing_length_mm", "Length of the battens' fixings", "Empty: as usual"),
			mm("/params/grid/hangers_at_mm", "A grid's hangers every", "Empty: 1200"), pick("/params/grid/tee", "A grid's tees", one("24 mm tees", k.materials(nil, "metal")), ""),
			mm("/params/grid/level_mm", "Underside of a grid above the floor", "Empty: 2400"), pick("/params/grid/fixing", "Hangers fixed with", one("The usual one", k.fixings("masonry", "timber", "steel")), ""),
			pick("/params/screw", "Boards screwed with", one("The board's own", k.fixings("lining", "timber")), ""), mm("/params/gap_mm", "Gap at the edges", ""),
		}},
		areaGroup("The boards run along this"),
	}
}

// areaGroup is a rectangle in figures.
func areaGroup(along string) group {
	return group{Legend: "More: place in figures", Folded: true, Note: "Only where no room or floor has its size.", Fields: []field{
		mm("/params/origin/x", "Corner, x", ""), mm("/params/origin/y", "Corner, y", ""), mm("/params/origin/z", "Corner, floor level", ""),
		digits("/params/along/x", "Runs, x", "", along), digits("/params/along/y", "Runs, y", "", ""), digits("/params/along/z", "Runs, up", "", "0: level"),
		mm("/params/along_mm", "Size along that", ""), mm("/params/across_mm", "Size to the left of it", ""),
	}}
}

// areaPlace is what a form says of a rectangle on plan.
type areaPlace struct {
	Over  string `json:"over"`
	Under string `json:"under"`
}

// area finds a rectangle, and fills up what is typed of one.
func (k known) area(root map[string]any, over string) (map[string]any, siting.Area, error) {
	params, _ := root["params"].(map[string]any)
	filled(params, "origin")
	filled(params, "along")
	if over == "" {
		return map[string]any{}, siting.Area{}, nil
	}
	a, ok := siting.AreaOf(k.r, over)
	if !ok {
		return nil, a, domain.FieldErrorf(domain.Invalid, "/place/over", "choose a room or a floor, or give the place in figures")
	}
	found, err := asMap(map[string]any{"origin": a.Origin, "along": a.Along, "along_mm": a.AlongMm, "across_mm": a.AcrossMm})
	return found, a, err
}

func readCeiling(e entry, k known, root map[string]any) (entered, error) {
	place, err := placeOf[areaPlace](root)
	if err != nil {
		return entered{}, err
	}
	params, _ := root["params"].(map[string]any)
	found, _, err := k.area(root, place.Over)
	if err != nil {
		return entered{}, err
	}
	held, err := heldBy(k, place.Under)
	if err != nil {
		return entered{}, err
	}
	for _, way := range []string{"battens", "grid"} {
		if held[way] == nil {
			delete(params, way) // its fields wait for the day when it is chosen
		}
	}
	return e.assemble(root, overlaid(found, held))
}

// heldBy is what a ceiling hangs on, with what is usual for it.
func heldBy(k known, under string) (map[string]any, error) {
	way, code, ok := cut(under)
	if way == "joists" {
		return map[string]any{"joists": code}, nil
	}
	target, known := siting.TargetBy(k.r, "host "+code)
	if !ok || !known {
		return nil, domain.FieldErrorf(domain.Invalid, "/place/under", "choose what holds it")
	}
	usual := ""
	if fits := siting.Fits(k.r, target); len(fits) > 0 {
		usual = fits[0].Slug
	}
	if way == "grid" {
		return map[string]any{"grid": map[string]any{"host": code, "fixing": usual, "level_mm": 2400}}, nil
	}
	return map[string]any{"battens": map[string]any{"host": code, "fixing": usual, "centres_mm": 400, "pitch_mm": 600,
		"section": map[string]any{"material": "c16-batten-25x50"}}}, nil
}

// ceilingAgain keeps what the ceiling is and asks for its place anew.
func ceilingAgain(k known, code string) map[string]string {
	out := k.again(code, "ceiling", "origin", "along", "along_mm", "across_mm")
	if out == nil {
		return nil
	}
	for way, held := range map[string]string{"joists": "/params/joists", "battens": "/params/battens/host", "grid": "/params/grid/host"} {
		if on := out[held]; on != "" {
			out["/place/under"] = way + " " + on
		}
		delete(out, held)
	}
	return out
}
