package pages

import (
	"fmt"
	"strconv"

	"unpick/domain"
)

// mezzanineEntry logs a timber floor. Every size is the designer's: nothing here sizes anything. What its form says is read
// in log_mezzanine_read.go.
func mezzanineEntry() entry {
	e := entry{Name: "mezzanine", Title: "A floor (mezzanine)", Noun: "Mezzanine", Letters: "M", Recipe: true,
		Lead:  "Joists on wall plates or beams, deck, stair and guard. Sizes are the designer's: nothing here sizes a joist, a post or an anchor.",
		Again: mezzanineAgain,
		Aliases: map[string]string{"/params/origin": "/place/over", "/params/along": "/place/over", "/params/along_mm": "/place/over", "/params/across_mm": "/place/over",
			"/params/guard": "/place/guard", "/params/deck": "/params/deck/material", "/params/joists": "/params/joists/section/material", "/holes": "/place/over", "/elements": "/place/over"},
		Groups: mezzanineGroups}
	for i := range mostFormRows {
		at := "/params/carriers/" + strconv.Itoa(i)
		for _, said := range []string{"host", "wall", "elements"} {
			e.Aliases[at+"/"+said] = at + "/behind"
		}
		e.Aliases[at+"/posts"], e.Aliases[at+"/section"] = at+"/post_count", at+"/section/material"
		e.Aliases[at], e.Aliases["/params/stairs/"+strconv.Itoa(i)] = at+"/side", "/params/stairs/"+strconv.Itoa(i)+"/edge"
		e.Aliases["/params/openings/"+strconv.Itoa(i)] = "/params/openings/" + strconv.Itoa(i) + "/x_mm"
	}
	e.Read = func(k known, root map[string]any) (entered, error) { return readMezzanine(e, k, root) }
	return e
}

func mezzanineGroups(k known) []group {
	edge := []option{{"open", "Open"}, {"wall", "Against a wall"}}
	out := []group{
		{Legend: "Where and how high", Fields: []field{
			pick("/place/over", "Over", one("Choose the room or floor", k.areas()), ""),
			mm("/params/level_mm", "Top of the deck above the floor", "").as("2400"),
		}},
		{Legend: "Joists and deck", Fields: []field{
			pick("/params/joists/section/material", "Joists", k.materials(nil, "timber"), "As designed").as("c24-sawn-47x200"),
			mm("/params/joists/centres_mm", "Joist centres", "").as("400"),
			pick("/params/joists/carried", "Joists are", []option{{"hangers", "In hangers between plates or beams"}, {"bearing", "On top of them"}}, ""),
			pick("/params/deck/material", "Deck", k.materials(nil, "board"), "").as("p5-22-tg"),
			yes("/params/deck/glued", "Deck glued", "It is then used once"),
		}},
	}
	for i := range k.rows("carriers", "/params/carriers/", 2) {
		out = append(out, carrierGroups(k, i)...)
	}
	out = append(out, group{Legend: "Edges", Fields: []field{
		pick("/params/edges/near/is", "Near edge", edge, "").as("wall"), pick("/params/edges/far/is", "Far edge", edge, "").as("wall"),
		pick("/params/edges/left/is", "Left edge", edge, "").as("open"), pick("/params/edges/right/is", "Right edge", edge, "").as("wall"),
		yes("/place/guard", "Guard along every open edge", "1100 high, with a middle rail and a toe board").as("yes"),
		said("/place/unguarded", "Why an open edge has no guard", "Wanted where there is none"),
	}})
	for i := range k.rows("openings", "/params/openings/", 1) {
		out = append(out, deckOpeningGroup(k, i))
	}
	for i := range k.rows("stairs", "/params/stairs/", 1) {
		out = append(out, stairGroups(k, i)...)
	}
	return append(out, joistsGroup(k), guardGroup(k), unguardedGroup(), areaGroup("The joists are set out along this"))
}

func carrierGroups(k known, i int) []group {
	at, n := "/params/carriers/"+strconv.Itoa(i), strconv.Itoa(i+1)
	side := []string{"near", "far"}[i%2]
	behind := []option{}
	for _, h := range k.hosts(func(h *domain.HostSurface) bool { return h.V.Unit().Z > 0.9 }) {
		behind = append(behind, option{"host " + h.Value, h.Label})
	}
	for _, a := range k.assemblies("stud-wall") {
		behind = append(behind, option{"wall " + a.Value, a.Label})
	}
	behind = append(behind, option{byPieces, "Pieces, one by one: a plate"})
	section := k.sectionFields(at+"/section", "Section", "")
	fixing := k.designedFields(at+"/fixing", "A plate's fixings", "The usual one for the wall", "masonry", "timber", "steel")
	fixing[1].Help = "Into studs: into each; else in all. Empty: 2 and 8"
	main := group{Legend: "Plate or beam " + n, Fields: []field{
		pick(at+"/side", "On the side", []option{{"near", "Near"}, {"far", "Far"}, {"between", "Between"}}, "The joists run from near to far").as(side),
		pick(at+"/behind", "Held by", one("Posts or brackets: a beam", behind), "A wall behind it: a wall plate"),
		section[0].as("c24-sawn-47x200"), fixing[0], fixing[1],
		digits(at+"/post_count", "A beam's posts", "", "Shared out along it. Empty: 2; with brackets none"),
		mm(at+"/at_mm", "One between: its near face", "From the near edge"),
	}, More: k.more("carriers", "/params/carriers/", 2, i, "Another plate or beam")}
	sizes := group{Legend: "Plate or beam " + n + ": size, from where to where, its fixings", Folded: true, Fields: append(append([]field{
		mm(at+"/from_mm", "Starts at", "Along the deck"), mm(at+"/to_mm", "Ends at", "Empty: the end of the deck"),
		digits(at+"/plies", "Pieces side by side in a beam", "", "1 or 2. Empty: 1"),
		{Name: at + "/elements", Label: "Pieces behind a plate", Kind: many, Codes: true, Help: "Codes, with commas between"},
	}, section[1:]...), fixing[2:]...)}
	return []group{main, sizes, postsGroup(k, at, n), bracketsGroup(k, at, n)}
}

// byPieces is what holds a plate that is held by pieces named one by one.
const byPieces = "pieces"

func postsGroup(k known, at, n string) group {
	g := group{Legend: "Plate or beam " + n + ": posts", Folded: true,
		Note: "Places are given for all posts or for none. Without places they are shared out, and post 1 says what all of them are.",
		More: k.more("posts"+n, at+"/posts/", 1, k.rows("posts"+n, at+"/posts/", 1)-1, "Another post under "+n)}
	for j := range k.rows("posts"+n, at+"/posts/", 1) {
		post, name := at+"/posts/"+strconv.Itoa(j), fmt.Sprintf("Post %d", j+1)
		g.Fields = append(g.Fields, mm(post+"/at_mm", name+": its middle, along", ""),
			pick(post+"/host", name+": stands on", one("The floor below", k.hosts(facesUp)), ""))
		g.Fields = append(g.Fields, k.sectionFields(post+"/section", name, "Timber 100 x 100")...)
		g.Fields = append(g.Fields, k.designedFields(post+"/base", name+": base plate fixed with", "Concrete screws 10 x 100", "masonry", "steel", "timber")...)
	}
	return g
}

func bracketsGroup(k known, at, n string) group {
	g := group{Legend: "Plate or beam " + n + ": brackets under its ends", Folded: true, Note: "Steel angles on the surface that the end of a beam meets.",
		More: k.more("brackets"+n, at+"/brackets/", 1, k.rows("brackets"+n, at+"/brackets/", 1)-1, "Another bracket under "+n)}
	for j := range k.rows("brackets"+n, at+"/brackets/", 1) {
		bracket, name := at+"/brackets/"+strconv.Itoa(j), fmt.Sprintf("Bracket %d", j+1)
		g.Fields = append(g.Fields, pick(bracket+"/end", name+": under", []option{{"", "No bracket"}, {"start", "The start"}, {"end", "The far end"}}, ""),
			pick(bracket+"/host", name+": on", one("Choose the surface", k.hosts(nil)), ""))
		g.Fields = append(g.Fields, k.designedFields(bracket+"/fixing", name+": fixed with", "The usual one for the surface", "masonry", "steel", "timber")...)
	}
	return g
}

func deckOpeningGroup(k known, i int) group {
	at, n := "/params/openings/"+strconv.Itoa(i), strconv.Itoa(i+1)
	return group{Legend: "Opening in the deck " + n, Folded: true, Note: "Measured from the near left corner of the deck.",
		More: k.more("openings", "/params/openings/", 1, i, "Another opening"), Asked: k.asked("openings", i),
		Fields: []field{
			mm(at+"/x_mm", "From the left edge", ""), mm(at+"/y_mm", "From the near edge", ""),
			mm(at+"/along_mm", "Clear size, left to right", ""), mm(at+"/across_mm", "Clear size, near to far", "Along the joists"),
			digits(at+"/trimmer_plies", "Pieces side by side in a trimmer", "", "Empty: 2"),
			said(at+"/name", "Name", "Stair, hoist"), said(at+"/unguarded_reason", "Why it has no guard", "Empty: it is guarded like the edges"),
		}}
}

func stairGroups(k known, i int) []group {
	at, n := "/params/stairs/"+strconv.Itoa(i), strconv.Itoa(i+1)
	main := group{Legend: "Stair " + n, Folded: true, Asked: k.asked("stairs", i), Fields: []field{
		pick(at+"/edge", "Leads to the edge", []option{{"", "No stair"}, {"near", "Near"}, {"far", "Far"}, {"left", "Left"}, {"right", "Right"}}, ""),
		digits(at+"/opening", "Of the opening", "", "1 is the first. Empty: the deck's own edge"),
		mm(at+"/at_mm", "From the start of that edge", ""), mm(at+"/width_mm", "Width", "Empty: 900"),
		mm(at+"/rise_mm", "Most a step may rise", "Empty: 220"), mm(at+"/going_mm", "Going", "Empty: 220"),
		pick(at+"/handrail/sides", "Handrail", []option{{"", "On both sides"}, {"left", "On the left, going down"}, {"right", "On the right, going down"}, {noHandrail, "None"}}, ""),
		digits(at+"/handrail/mid_rails", "Rails under the handrail", "", "Where a side is open. Empty: 2; 0 for a side against a wall"),
	}, More: k.more("stairs", "/params/stairs/", 1, i, "Another stair")}
	rail := at + "/handrail"
	more := group{Legend: "Stair " + n + ": sections, fixings, handrail", Folded: true}
	for _, some := range [][]field{
		k.sectionFields(at+"/strings", "Strings", "Softwood 38 x 225"), k.sectionFields(at+"/treads", "Treads", "Softwood 32 x 225"),
		k.designedFields(at+"/head", "Each string's head held with", "Structural screws 8 x 120", "timber", "steel"),
		k.designedFields(at+"/foot", "Each string's foot held with", "Nothing: it stands", "masonry", "timber", "steel"),
		{pick(at+"/foot_host", "Its foot stands on", one("The floor below", k.hosts(facesUp)), "")},
		{mm(rail+"/height_mm", "Handrail: top above the steps' edges", "Empty: 900"), mm(rail+"/posts_at_mm", "Handrail: posts at most", "Empty: 1200")},
		k.sectionFields(rail+"/rail", "Handrail", "CLS 38 x 63"), k.sectionFields(rail+"/post", "Handrail posts", "CLS 38 x 89"),
		k.designedFields(rail+"/post_fixing", "Handrail posts held with", "Coach screws 8 x 100", "timber", "steel"),
		{pick(rail+"/rail_screw", "Handrail screwed with", one("Wood screws 5 x 80", k.fixings("timber")), "")},
	} {
		more.Fields = append(more.Fields, some...)
	}
	return []group{main, more}
}

// noHandrail is chosen for a stair without one.
const noHandrail = "none"

func joistsGroup(k known) group {
	g := group{Legend: "More: joists, hangers, strutting, deck", Folded: true, Fields: k.sectionFields("/params/joists/section", "Joists", "")[1:]}
	for _, some := range [][]field{
		{pick("/params/joists/hanger/material", "Hangers", one("For 47 mm joists", k.materials(nil, "metal")), ""),
			pick("/params/joists/hanger/fixing", "Hangers fixed with", one("Connector screws 5 x 40", k.fixings("timber")), "Nails spoil the hanger and the timber"),
			digits("/params/joists/hanger/into_carrier", "Fixings of a hanger into the plate or beam", "", "One in every hole: read the hanger. Empty: 20"),
			digits("/params/joists/hanger/into_joist", "Fixings of a hanger into the joist", "", "Empty: 10"),
			said("/params/joists/hanger/reason", "Why nails", "")},
		k.sectionFields("/params/joists/strutting", "Strutting", "As the joists"),
		{said("/params/joists/no_strutting_reason", "Why no strutting", ""),
			digits("/params/joists/bearing_screws", "Screws where a joist bears on top", "", "Empty: 2"),
			mm("/params/deck/gap_mm", "Gap of the deck at walls", "Empty: 10"),
			pick("/params/deck/screw", "Deck screwed with", one("Sheet screws 4.5 x 50", k.fixings("lining", "timber")), ""),
			yes("/params/deck/square_edged", "Deck without tongues", "Boards then come up in any order")},
	} {
		g.Fields = append(g.Fields, some...)
	}
	return g
}

func guardGroup(k known) group {
	g := group{Legend: "More: guard", Folded: true, Fields: []field{
		mm("/params/guard/height_mm", "Guard height", "Empty: 1100"), mm("/params/guard/posts_at_mm", "Guard posts at most", "Empty: 1200"),
		digits("/params/guard/mid_rails", "Middle rails", "", "Empty: 1"), mm("/params/guard/max_rail_mm", "Longest rail", "Empty: 4800"),
		pick("/params/guard/rail_screw", "Rails screwed with", one("Wood screws 5 x 80", k.fixings("timber")), ""),
	}}
	for _, some := range [][]field{
		k.sectionFields("/params/guard/post", "Guard posts", "C24 47 x 100"), k.sectionFields("/params/guard/rail", "Guard rails", "C16 47 x 75"),
		k.sectionFields("/params/guard/toe_board", "Toe board", "Plywood 18 x 150"),
		k.designedFields("/params/guard/post_fixing", "Guard posts held with", "Bolts M10, 2 to each", "timber", "steel"),
	} {
		g.Fields = append(g.Fields, some...)
	}
	return g
}

func unguardedGroup() group {
	g := group{Legend: "More: one open edge without a guard", Folded: true, Note: "Where the reason differs from edge to edge. Nobody goes up before an edge is guarded."}
	for _, side := range []string{"near", "far", "left", "right"} {
		g.Fields = append(g.Fields, said("/params/edges/"+side+"/unguarded_reason", "Why the "+side+" edge has no guard", ""))
	}
	return g
}
