package pages

import (
	"cmp"
	"fmt"
	"strconv"

	"unpick/domain"
	"unpick/domain/recipe"
	"unpick/domain/siting"
)

// studWallEntry logs a timber stud wall: where it starts, boards, doors; everything else is found or folded away.
func studWallEntry() entry {
	e := entry{
		Name: "stud-wall", Title: "A wall", Noun: "Wall", Letters: "W", Recipe: true,
		Lead:   "Timber studs, full or half height, bare or lined, with doorways.",
		Groups: studWallGroups,
		Again:  studWallAgain,
		Aliases: map[string]string{
			"/place/length_mm": "/params/length_mm", "/params/along": "/place/from", "/params/origin": "/place/from", "/params/start": "/place/at_mm",
			"/params/end": "/params/length_mm", "/params/foot": "/place/from", "/params/head": "/place/head", "/params/face_a": "/params/face_a/board", "/params/face_b": "/params/face_b/board",
			"/params/end_height_mm": "/params/height_mm",
		},
	}
	e.Read = func(k known, root map[string]any) (entered, error) { return readStudWall(e, k, root) }
	return e
}

func studWallGroups(k known) []group {
	boards := one("No boards", k.materials(nil, "board"))
	out := []group{
		{Legend: "Where it stands", Fields: []field{
			pick("/place/from", "Starts from", one("Choose", k.faces(nil)), "The wall or surface that its set-out end stands against; a left end is as you look at it"),
			mm("/place/at_mm", "From its left end", "To the near side of the studs"),
			mm("/params/length_mm", "Length", "Empty: to what stands opposite"),
			mm("/params/height_mm", "Height", "Empty: to what is overhead"),
		}},
		{Legend: "Boards", Fields: []field{
			pick("/params/face_a/board", "On face a, to the right as you look along it", boards, "").as(k.usualBoard()),
			pick("/params/face_b/board", "On face b, to the left", boards, "").as(k.usualBoard()),
			yes("/place/share_cut", "Share a narrow cut between two boards", "Else a strip under 100 mm is refused").as("yes"),
		}},
	}
	for i := range k.rows("doors", "/params/openings/", 1) {
		out = append(out, doorwayGroup(k, i))
	}
	out = append(out, studGroup(k), frameFixingsGroup(k), boardsGroup(k, "a"), boardsGroup(k, "b"))
	for i := range k.rows("junctions", "/params/junctions/", 1) {
		out = append(out, junctionGroup(k, i))
	}
	return append(out, crossingsGroup(k), wallPlaceGroup(k))
}

func doorwayGroup(k known, i int) group {
	at := "/params/openings/" + strconv.Itoa(i)
	return group{Legend: fmt.Sprintf("Doorway %d", i+1), Folded: true, Asked: k.asked("doors", i), More: k.more("doors", "/params/openings/", 1, i, "Another doorway"), Fields: []field{
		mm(at+"/at_mm", "From the start of the wall", "To the near side of the opening between the studs"),
		pick(at+"/leaf", "Door leaf", one("Hollow, 762 x 1981, 14 kg", k.materials(isSection, "door")), "The opening follows from it"),
		mm(at+"/leaf_width_mm", "Or leaf width", "Both leaves of a pair together"),
		mm(at+"/leaf_height_mm", "Leaf height", ""),
		digits(at+"/leaf_mass_kg", "Leaf mass", "kg", "Over 25 kg two studs stand each side").decimals(),
		mm(at+"/lining_mm", "Door lining: thickness", "Empty: 32"), mm(at+"/gap_mm", "Gap between leaf and lining", "Empty: 3"),
		mm(at+"/packing_mm", "Packing behind the lining", "Empty: 6"), mm(at+"/threshold_mm", "Under the leaf", "Empty: 8"),
	}}
}

func studGroup(k known) group {
	return group{Legend: "More: studs, noggings, insulation", Folded: true, Fields: []field{
		pick("/params/section", "Timber", one("CLS 38 x 89", k.materials(isSection, "timber")), ""),
		mm("/params/stud_centres_mm", "Stud centres", "Empty: 600"),
		mm("/params/set_out_mm", "Set-out slid along by", "Moves studs and board joints"),
		{Name: "/params/extra_studs_mm", Label: "Further studs at", Kind: figures, Unit: "mm", Help: "From the start, with commas between"},
		pick("/params/insulation", "Insulation", one("None", k.materials(nil, "insulation")), ""),
		yes("/params/mid_noggings", "One more row of noggings at half height", ""),
		{Name: "/params/nogging_rows_mm", Label: "Further rows of noggings at", Kind: figures, Unit: "mm", Help: "Heights to their middle, with commas between"},
		yes("/params/frames", "Raised in frames", "Else built in place"), mm("/params/max_frame_mm", "Longest frame", "Empty: 2400"),
		pick("/params/sole", "On a falling floor the sole plate", []option{{"", "Follows it"}, {"packed", "Lies level, packed up"}}, ""),
	}}
}

func frameFixingsGroup(k known) group {
	all, timber := k.fixings("masonry", "timber", "steel"), k.fixings("timber")
	g := group{Legend: "More: fixings, head that slides", Folded: true, Fields: []field{
		mm("/params/fix_pitch_mm", "Fixings into the fabric every", "Empty: 600"), mm("/params/fix_end_mm", "First one from an end", "Empty: 150"),
		pick("/params/stud_screw", "Studs to plates with", one("Wood screws 5", timber), ""),
		pick("/params/nogging_screw", "Noggings to studs with", one("Wood screws 5", timber), ""),
		pick("/place/screw", "Boards screwed with", one("The board's own", k.fixings("lining", "timber")), "On both faces"),
	}}
	for _, end := range []struct{ name, label, usual string }{
		{"foot", "Foot", "The usual one for the floor"}, {"head", "Head", "The usual one for what is overhead"},
		{"start", "Start", "The usual one for what it meets"}, {"end", "Far end", "The usual one for what it meets"},
	} {
		at := "/params/" + end.name
		g.Fields = append(g.Fields, pick(at+"/fixing", end.label+" fixed with", one(end.usual, all), ""),
			mm(at+"/fixing_length_mm", end.label+": length of one", "Of wood screws it says how deep they go; empty: six diameters"),
			said(at+"/engineer_agreed", end.label+": landlord's engineer agreed to holes in steel", "Reference of the agreement"))
	}
	g.Fields = append(g.Fields, pick("/params/head/kind", "Head", []option{{"", "As found: free to slide under a roof, else fixed"}, {"fixed", "Fixed"}, {"deflection", "Free to slide"}}, ""),
		mm("/params/head/movement_mm", "A head that slides lets the roof down by", "Empty: 20"))
	return g
}

func boardsGroup(k known, face string) group {
	return group{Legend: "More: boards on face " + face, Folded: true, Fields: boardFields(k, "/params/face_"+face)}
}

// boardFields are how boards are laid and screwed.
func boardFields(k known, at string) []field {
	return []field{
		pick(at+"/lay", "Boards stand", []option{{"", "Upright"}, {"laid", "Along the wall"}}, ""),
		mm(at+"/sheet_length_mm", "Length of the sheets bought", "Empty: as they are sold"),
		mm(at+"/gap_mm", "Between boards", "Empty: 3, for plasterboard 0"), mm(at+"/foot_gap_mm", "Above the floor", "Empty: 10"),
		mm(at+"/head_gap_mm", "Below the head", "Empty: 10, for half height 0"), mm(at+"/end_gap_mm", "At both ends", "Empty: none"),
		mm(at+"/stagger_mm", "Joints slid along by", "Whole stud centres"),
		pick(at+"/screw", "Screwed with", one("The board's own", k.fixings("lining", "timber")), ""),
	}
}

func junctionGroup(k known, i int) group {
	at := "/params/junctions/" + strconv.Itoa(i)
	return group{Legend: fmt.Sprintf("More: where another wall will meet it %d", i+1), Folded: true, Asked: k.asked("junctions", i),
		More: k.more("junctions", "/params/junctions/", 1, i, "Another meeting wall"), Fields: []field{
			mm(at+"/at_mm", "At", "From the start to the near side of the other wall's studs; boards stop there"),
			mm(at+"/width_mm", "Depth of the other wall's studs", ""),
			pick(at+"/face", "On face", []option{{"", "Not said"}, {"a", "a"}, {"b", "b"}}, ""),
		}}
}

// crossingsGroup is for a head under separate purlins or beams.
func crossingsGroup(k known) group {
	const prefix = "/params/head/crossings/"
	rows := k.rows("crossings", prefix, 1)
	g := group{Legend: "More: purlins or beams that the head passes under", Folded: true, Note: "Instead of one surface all along. They are found by themselves where the register has them.",
		Asked: k.asked("crossings", rows-1), More: k.more("crossings", prefix, 1, rows-1, "Another purlin or beam")}
	for i := range rows {
		at, n := prefix+strconv.Itoa(i), strconv.Itoa(i+1)
		g.Fields = append(g.Fields, pick(at+"/host", "Purlin or beam "+n, one("Choose", k.hosts(nil)), ""), mm(at+"/at_mm", n+" is at", "From the start of the wall"))
	}
	return g
}

func wallPlaceGroup(k known) group {
	meets := []option{{"", "As found"}, {"host", "The landlord's surface"}, {"wall", "A wall"}, {"free", "Nothing"}}
	onto := []option{{"", "As found"}, {"studs", "Its bare studs"}, {"lining", "Its lining"}}
	return group{Legend: "More: place in figures, half height, ends", Folded: true,
		Note: "Only for what the register cannot find by itself.", Fields: []field{
			pick("/place/run", "Runs", []option{{"", "Straight out from it"}, {"beside", "Beside it, from left to right"}}, ""),
			mm("/place/off_mm", "Clear of it by", "For one that runs beside"),
			pick("/place/head", "Reaches up to", append(one("What is overhead", k.hosts(facesDown)), option{siting.HalfHeight, "Nothing: half height"}), ""),
			mm("/params/end_height_mm", "Height at the far end", ""), mm("/params/end_floor_mm", "Floor at the far end", "Above the floor at the start; below with a minus").below(),
			mm("/params/origin/x", "Start, x", ""), mm("/params/origin/y", "Start, y", ""), mm("/params/origin/z", "Start, level", ""),
			digits("/params/along/x", "Direction, x", "", ""), digits("/params/along/y", "Direction, y", "", ""), digits("/params/along/z", "Direction, up", "", "0: level"),
			pick("/params/foot/host", "Stands on", one("The floor found there", k.hosts(facesUp)), ""),
			pick("/params/start/meets", "Its start meets", meets, ""), said("/params/start/code", "Code of that", "").coded(), pick("/params/start/onto", "Of a wall", onto, ""),
			pick("/params/end/meets", "Its end meets", meets, ""), said("/params/end/code", "Code of that", "").coded(), pick("/params/end/onto", "Of a wall", onto, ""),
		}}
}

// wallPlace is what the form says of a wall's place.
type wallPlace struct {
	From     string `json:"from"`
	Run      string `json:"run"`
	AtMm     int    `json:"at_mm"`
	OffMm    int    `json:"off_mm"`
	Head     string `json:"head"`
	ShareCut bool   `json:"share_cut"`
	Screw    string `json:"screw"`
}

func readStudWall(e entry, k known, root map[string]any) (entered, error) {
	place, err := placeOf[wallPlace](root)
	if err != nil {
		return entered{}, err
	}
	params, _ := root["params"].(map[string]any)
	if params == nil {
		params = map[string]any{}
		root["params"] = params
	}
	facesAsBoarded(params, place)
	if err := doorways(k, params); err != nil {
		return entered{}, err
	}
	found, err := siteOfWall(k, params, place)
	if err != nil {
		return entered{}, err
	}
	return e.assemble(root, found)
}

// siteOfWall finds what is not typed. A wall whose start and direction are typed in figures stands where it is said.
func siteOfWall(k known, params map[string]any, place wallPlace) (any, error) {
	height, typed := params["height_mm"]
	if place.Head == siting.HalfHeight {
		params["half_height"] = true
		if !typed {
			return nil, domain.FieldErrorf(domain.Invalid, "/params/height_mm", "say how high the wall is: nothing overhead tells it")
		}
	}
	_, origin := params["origin"]
	_, along := params["along"]
	if origin && along && place.From == "" {
		zeros, free := map[string]any{"x": 0, "y": 0, "z": 0}, map[string]any{"meets": "free"}
		return map[string]any{"origin": zeros, "along": zeros, "start": free, "end": free}, nil
	}
	length, _ := params["length_mm"].(float64)
	found, err := siting.Wall(k.r, siting.Line{
		From: place.From, Beside: place.Run == "beside", AtMm: place.AtMm, OffMm: place.OffMm, LengthMm: int(length),
		Head: place.Head, Section: told(params, "section"),
	}, "/place")
	if err != nil {
		return nil, err
	}
	if mm, _ := height.(float64); typed {
		found.HeightMm, found.EndHeightMm = int(mm), 0
	}
	return sparse(found)
}

// sparse is what was found of a wall, without what was not looked for.
func sparse(found recipe.StudWall) (map[string]any, error) {
	out, err := asMap(found)
	if head, ok := out["head"].(map[string]any); ok && len(head) == 0 {
		delete(out, "head")
	}
	return out, err
}

// facesAsBoarded leaves out a face without a board, and gives both what is said once for both.
func facesAsBoarded(params map[string]any, place wallPlace) {
	for _, name := range []string{"face_a", "face_b"} {
		face, _ := params[name].(map[string]any)
		if face["board"] == nil {
			delete(params, name)
			continue
		}
		if place.ShareCut {
			face["share_cut"] = true
		}
		if place.Screw != "" && face["screw"] == nil {
			face["screw"] = place.Screw
		}
	}
}

// usualLeaf is the door of a doorway for which none is chosen.
const usualLeaf = "door-leaf-hollow-762"

// doorways gives each doorway the sizes of its leaf where they are not typed.
func doorways(k known, params map[string]any) error {
	list, _ := params["openings"].([]any)
	for i, item := range list {
		o, _ := item.(map[string]any)
		leaf, ok := k.r.Catalogue.Materials[cmp.Or(told(o, "leaf"), usualLeaf)]
		if !ok {
			return domain.FieldErrorf(domain.Invalid, fmt.Sprintf("/params/openings/%d/leaf", i), "there is no door %q in the catalogue", told(o, "leaf"))
		}
		delete(o, "leaf")
		if o["leaf_width_mm"] == nil {
			o["leaf_width_mm"] = leaf.WidthMm
		}
		if o["leaf_height_mm"] == nil {
			o["leaf_height_mm"] = leaf.LengthMm
		}
		if o["leaf_mass_kg"] == nil && leaf.UnitMassKg > 0 {
			o["leaf_mass_kg"] = leaf.UnitMassKg
		}
	}
	return nil
}
