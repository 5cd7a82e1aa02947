package pages

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
	"unpick/domain/siting"
)

// What goes on a wall that stands: insulation, trim, a seal, the door.

// wallFace takes "wall W1 a" apart.
func wallFace(ref string) (wall, face string, ok bool) {
	rest, isWall := strings.CutPrefix(ref, "wall ")
	at := strings.LastIndex(rest, " ")
	if !isWall || at < 0 {
		return "", "", false
	}
	return rest[:at], rest[at+1:], true
}

func isWallFace(f siting.Face) bool { return f.Wall != "" }

// onPlace is what a form says that has one place to choose.
type onPlace struct {
	On string `json:"on"`
}

// trimEntry logs a skirting or another level trim along a face of a wall.
func trimEntry() entry {
	e := entry{Name: "trim", Title: "Skirting or trim", Noun: "Skirting", Letters: "T", Recipe: true,
		Lead:    "Along a face of a stud wall; it stops at doorways.",
		Again:   func(k known, code string) map[string]string { return k.again(code, "trim", "wall", "face") },
		Aliases: map[string]string{"/params/wall": "/place/on", "/params/face": "/place/on", "/params": "/place/on"},
		Groups: func(k known) []group {
			return []group{
				{Fields: []field{
					pick("/place/on", "On", one("Choose the face of a wall", k.faces(isWallFace)), ""),
					pick("/params/section", "Section", one("Softwood 19 x 94", k.materials(isSection, "trim")), ""),
				}},
				{Legend: "More: height, from where to where", Folded: true, Fields: []field{
					pick("/params/kind", "It is", []option{{"", "A skirting"}, {"trim", "Another trim"}}, ""),
					mm("/params/height_mm", "Underside above the floor", "Empty: on the floor"),
					mm("/params/from_mm", "From", "From the start of the wall"), mm("/params/to_mm", "To", "Empty: the far end"),
					pick("/params/screw", "Screwed with", one("Trim screws 4 x 50", k.fixings("timber", "lining")), ""),
				}}}
		}}
	e.Read = func(_ known, root map[string]any) (entered, error) {
		place, err := placeOf[onPlace](root)
		if err != nil {
			return entered{}, err
		}
		wall, face, ok := wallFace(place.On)
		if !ok {
			return entered{}, domain.FieldErrorf(domain.Invalid, "/place/on", "choose the face of the wall that it goes on")
		}
		return e.assemble(root, map[string]any{"wall": wall, "face": face})
	}
	return e
}

// insulationEntry logs insulation put into the bays of a wall.
func insulationEntry() entry {
	e := entry{Name: "insulation", Title: "Insulation", Noun: "Insulation", Letters: "N", Recipe: true,
		Lead:  "Into the bays of a stud wall that is still open on one side.",
		Again: func(k known, code string) map[string]string { return k.again(code, "insulation", "wall") },
		Groups: func(k known) []group {
			return []group{{Fields: []field{
				pick("/params/wall", "In the wall", one("Choose", k.assemblies("stud-wall")), ""),
				pick("/params/material", "Insulation", k.materials(nil, "insulation"), "").as("rw-45-50"),
			}}}
		}}
	e.Read = func(_ known, root map[string]any) (entered, error) {
		params, _ := root["params"].(map[string]any)
		if told(params, "wall") == "" {
			return entered{}, domain.FieldErrorf(domain.Invalid, "/params/wall", "choose the wall that it goes into")
		}
		return e.assemble(root, nil)
	}
	return e
}

// sealEntry logs a bead of sealant along an edge of a lined face, or anywhere by its figures.
func sealEntry() entry {
	e := entry{Name: "seal", Title: "A seal", Noun: "Seal", Letters: "Q", Recipe: true,
		Lead: "A bead along the foot, head or end of a lined wall; it is cut before anything that it joins comes out.",
		Again: func(k known, code string) map[string]string {
			return k.again(code, "seal", "wall", "face", "edge", "start", "along", "length_mm", "pieces")
		},
		Aliases: map[string]string{"/params/wall": "/place/on", "/params/face": "/place/on", "/params": "/place/on"},
		Groups: func(k known) []group {
			return []group{
				{Fields: []field{
					pick("/place/on", "On", one("Choose the face of a wall", k.faces(isWallFace)), ""),
					pick("/params/edge", "Along its", []option{{"", "Choose"}, {"foot", "Foot"}, {"head", "Head"}, {"start", "Start"}, {"end", "Far end"}}, ""),
					pick("/params/material", "Sealant", one("Acrylic bead", k.materials(nil, "sealant")), ""),
					pick("/params/host", "Sticks to", one("Nothing of the landlord's", k.hosts(nil)), ""),
				}},
				{Legend: "More: anywhere else, in figures", Folded: true, Fields: []field{
					mm("/params/bead_mm", "Width of the bead", "Empty: 6, for fire seals 10"),
					{Name: "/params/pieces", Label: "Pieces that it seals", Kind: many, Codes: true, Help: "Codes, with commas between"},
					mm("/params/start/x", "Starts at, x", ""), mm("/params/start/y", "Starts at, y", ""), mm("/params/start/z", "Starts at, level", ""),
					digits("/params/along/x", "Runs, x", "", ""), digits("/params/along/y", "Runs, y", "", ""), digits("/params/along/z", "Runs, up", "", ""),
					mm("/params/length_mm", "Length", ""),
				}}}
		}}
	e.Read = func(_ known, root map[string]any) (entered, error) {
		place, err := placeOf[onPlace](root)
		if err != nil {
			return entered{}, err
		}
		params, _ := root["params"].(map[string]any)
		filled(params, "start")
		filled(params, "along")
		wall, face, ok := wallFace(place.On)
		if !ok {
			return e.assemble(root, nil)
		}
		if params["edge"] == nil {
			return entered{}, domain.FieldErrorf(domain.Invalid, "/params/edge", "say along which edge it runs")
		}
		return e.assemble(root, map[string]any{"wall": wall, "face": face})
	}
	return e
}

// filled gives a point or direction of which some figures are typed zeros for the rest.
func filled(params map[string]any, name string) {
	if given, ok := params[name].(map[string]any); ok {
		params[name] = overlaid(map[string]any{"x": 0, "y": 0, "z": 0}, given)
	}
}

// liningEntry logs boards on a bare face of a stud wall, or on battens on a wall of the landlord's.
func liningEntry() entry {
	e := entry{Name: "lining", Title: "A lining", Noun: "Lining", Letters: "L", Recipe: true,
		Lead:  "Boards on a bare face of a stud wall, or on battens on the landlord's wall.",
		Again: func(k known, code string) map[string]string { return k.again(code, "lining", "wall", "face") },
		Aliases: map[string]string{"/params/wall": "/place/on", "/params/face": "/place/on", "/params/battens/host": "/place/on", "/params/battens": "/place/on",
			"/params/boards": "/params/boards/board", "/holes": "/place/on"},
		Groups: func(k known) []group {
			bare := func(f siting.Face) bool { return f.Host != "" || !f.Lined }
			return []group{
				{Fields: []field{
					pick("/place/on", "On", one("Choose", k.faces(bare)), "A bare face, or a wall of the landlord's"),
					pick("/params/boards/board", "Boards", k.materials(nil, "board"), "").as(k.usualBoard()),
					yes("/params/boards/share_cut", "Share a narrow cut between two boards", "Else a strip under 100 mm is refused").as("yes"),
				}},
				{Legend: "On the landlord's wall: size, battens, fixings", Folded: true, Fields: []field{
					mm("/params/battens/from_mm", "From the left end", "Empty: the end itself"), mm("/params/battens/up_mm", "Up from the foot", ""),
					mm("/params/battens/length_mm", "Length", "Empty: all of it"), mm("/params/battens/height_mm", "Height", "Empty: all of it"),
					pick("/params/battens/section", "Battens", one("25 x 50", k.materials(isSection, "timber")), ""),
					mm("/params/battens/centres_mm", "Centres", "Empty: 600"), mm("/params/battens/set_out_mm", "Set-out slid along by", "Moves battens and board joints"),
					pick("/params/battens/fixing", "Fixed with", one("The usual one for the wall", k.fixings("masonry", "timber", "steel")), ""),
					mm("/params/battens/fix_pitch_mm", "Fixings every", "Empty: 600"), mm("/params/battens/fix_end_mm", "First one from an end", "Empty: 150"),
					said("/params/battens/engineer_agreed", "Landlord's engineer agreed to holes in steel", ""),
				}},
				{Legend: "More: boards, gaps, screws", Folded: true, Fields: boardFields(k, "/params/boards")},
			}
		}}
	e.Read = func(k known, root map[string]any) (entered, error) { return readLining(e, k, root) }
	return e
}

func readLining(e entry, k known, root map[string]any) (entered, error) {
	place, err := placeOf[onPlace](root)
	if err != nil {
		return entered{}, err
	}
	params, _ := root["params"].(map[string]any)
	if wall, face, ok := wallFace(place.On); ok {
		return e.assemble(root, map[string]any{"wall": wall, "face": face})
	}
	for _, f := range siting.Faces(k.r) {
		if f.Ref != place.On {
			continue
		}
		battens := map[string]any{"host": f.Host, "length_mm": int(f.LengthMm), "height_mm": int(f.HeightMm)}
		if typed, ok := params["battens"].(map[string]any); ok {
			from, _ := typed["from_mm"].(float64)
			up, _ := typed["up_mm"].(float64)
			battens["length_mm"], battens["height_mm"] = int(f.LengthMm-from), int(f.HeightMm-up)
		}
		return e.assemble(root, map[string]any{"battens": battens})
	}
	return entered{}, domain.FieldErrorf(domain.Invalid, "/place/on", "choose the face that is lined")
}

// doorSetEntry logs a door in a doorway.
func doorSetEntry() entry {
	e := entry{Name: "door-set", Title: "A door", Noun: "Door", Letters: "D", Recipe: true,
		Lead:    "Lining, leaf, stops and architraves in a doorway of a stud wall.",
		Aliases: map[string]string{"/params/wall": "/place/doorway", "/params/opening": "/place/doorway", "/params": "/place/doorway"},
		Again:   func(k known, code string) map[string]string { return k.again(code, "door-set", "wall", "opening") },
		Groups: func(k known) []group {
			return []group{
				{Fields: []field{
					pick("/place/doorway", "In", one("Choose the doorway", k.doorways()), ""),
					pick("/params/leaf", "Leaf", one("The one that the doorway was made for", k.materials(isSection, "door")), ""),
					pick("/params/hung_on", "Opens to face", []option{{"", "a"}, {"b", "b"}}, "To the right of the wall as you look along it is a"),
					pick("/params/hinged_at", "Hinges on the side of the wall's", []option{{"", "Start"}, {"end", "Far end"}}, ""),
				}},
				{Legend: "More: pair, lining, architraves, fire", Folded: true, Fields: []field{
					yes("/params/pair", "A pair of leaves", ""), yes("/params/fire_rated", "Part of a fire-rated set", ""), yes("/params/as_set", "Goes in and comes out as one", ""),
					yes("/params/no_architraves", "No architraves", ""), digits("/params/hinges", "Hinges to each leaf", "", "Empty: 3"),
					pick("/params/lining", "Lining", one("Softwood 32 x 138", k.materials(isSection, "trim", "timber")), ""),
					pick("/params/stop", "Stops", one("Softwood 12 x 38", k.materials(isSection, "trim")), ""),
					pick("/params/architrave", "Architraves", one("Softwood 19 x 69", k.materials(isSection, "trim")), ""),
					pick("/params/lining_screw", "Lining screwed with", one("Wood screws 5 x 100", k.fixings("timber")), ""),
				}}}
		}}
	e.Read = func(k known, root map[string]any) (entered, error) {
		place, err := placeOf[struct {
			Doorway string `json:"doorway"`
		}](root)
		if err != nil {
			return entered{}, err
		}
		wall, n, ok := k.doorway(place.Doorway)
		if !ok {
			return entered{}, domain.FieldErrorf(domain.Invalid, "/place/doorway", "choose the doorway that it hangs in")
		}
		return e.assemble(root, map[string]any{"wall": wall.Code, "opening": n, "leaf": k.leafFor(wall, n)})
	}
	return e
}

// doorways are the doorways of walls in which no door hangs yet: "W1 0".
func (k known) doorways() []option {
	hung := map[string]bool{}
	for _, a := range k.r.Assemblies {
		var p recipe.DoorSet
		if a.Recipe == "door-set" && !a.Struck && json.Unmarshal(a.Params, &p) == nil {
			hung[fmt.Sprintf("%s %d", p.Wall, p.Opening)] = true
		}
	}
	var out []option
	for _, a := range k.r.Assemblies {
		var p recipe.StudWall
		if a.Recipe != "stud-wall" || a.Struck || json.Unmarshal(a.Params, &p) != nil {
			continue
		}
		for i, o := range p.Openings {
			if ref := fmt.Sprintf("%s %d", a.Code, i); !hung[ref] {
				out = append(out, option{ref, fmt.Sprintf("%s %s, doorway at %d for a leaf of %d x %d", a.Code, a.Name, o.AtMm, o.LeafWidthMm, o.LeafHeightMm)})
			}
		}
	}
	return out
}

// doorway reads "W1 0" back.
func (k known) doorway(ref string) (wall domain.Assembly, n int, ok bool) {
	for _, a := range k.r.Assemblies {
		var p recipe.StudWall
		if a.Recipe != "stud-wall" || a.Struck || json.Unmarshal(a.Params, &p) != nil {
			continue
		}
		for i := range p.Openings {
			if ref == fmt.Sprintf("%s %d", a.Code, i) {
				return a, i, true
			}
		}
	}
	return domain.Assembly{}, 0, false
}

// leafFor is the plain leaf of the size that a doorway was made for: the one nearest in mass, then the first by code.
func (k known) leafFor(wall domain.Assembly, n int) string {
	var p recipe.StudWall
	if json.Unmarshal(wall.Params, &p) != nil || n >= len(p.Openings) {
		return usualLeaf
	}
	o, best, off := p.Openings[n], "", 0.0
	for _, m := range k.r.Catalogue.Materials {
		if m.Kind != "door" || !strings.HasPrefix(m.Code, "door-leaf") || m.WidthMm != o.LeafWidthMm || m.LengthMm != o.LeafHeightMm {
			continue
		}
		d := max(m.UnitMassKg-o.LeafMassKg, o.LeafMassKg-m.UnitMassKg)
		if best == "" || d < off || d == off && m.Code < best {
			best, off = m.Code, d
		}
	}
	return cmp.Or(best, usualLeaf)
}
