package pages

import (
	"fmt"
	"strconv"

	"unpick/domain"
	"unpick/domain/siting"
)

// serviceRunEntry logs a cable, conduit or pipe from point to point.
func serviceRunEntry() entry {
	e := entry{Name: "service-run", Title: "A cable or pipe", Noun: "Service run", Letters: "E", Recipe: true,
		Lead:  "From point to point on a surface; it must be dead and proved dead before anything near it comes out.",
		Again: serviceAgain,
		Aliases: map[string]string{"/params/points": "/place/points/0/along_mm", "/params/clips": "/place/clip_with", "/params/clips/0/centres_mm": "/place/clip_every_mm",
			"/holes": "/place/on", "/elements": "/place/on"},
		Groups: serviceGroups}
	e.Read = func(k known, root map[string]any) (entered, error) { return readServiceRun(e, k, root) }
	return e
}

func serviceGroups(k known) []group {
	runs := group{Legend: "Where it runs", Fields: []field{
		pick("/place/on", "On", one("Not on a surface: in figures", k.hosts(nil)), "Places are from its left end and up from its foot")}}
	for i := range k.rows("points", "/place/points/", 2) {
		at := "/place/points/" + strconv.Itoa(i)
		runs.Fields = append(runs.Fields, mm(at+"/along_mm", fmt.Sprintf("Point %d, along", i+1), "").below(), mm(at+"/up_mm", fmt.Sprintf("Point %d, up", i+1), "").below())
	}
	runs.More = k.more("points", "/place/points/", 2, k.rows("points", "/place/points/", 2)-1, "Another point")
	figures := group{Legend: "More: its points in figures", Folded: true, Note: "Instead of points on a surface: on its middle line."}
	figures.More = k.more("figures", "/params/points/", 2, k.rows("figures", "/params/points/", 2)-1, "Another point in figures")
	figures.Asked = k.sent.Has("figures")
	for i := range k.rows("figures", "/params/points/", 2) {
		at, n := "/params/points/"+strconv.Itoa(i), strconv.Itoa(i+1)
		figures.Fields = append(figures.Fields, mm(at+"/x", "Point "+n+", x", ""), mm(at+"/y", "Point "+n+", y", ""), mm(at+"/z", "Point "+n+", level", ""))
	}
	return []group{
		{Legend: "What it is", Fields: []field{
			pick("/params/kind", "It is", []option{{"cable", "A cable or conduit"}, {"pipe", "A pipe"}}, ""),
			pick("/params/material", "Material", k.materials(nil, "service", "metal"), "").as("cable-twin-2-5"),
			mm("/params/size_mm", "Across it", "Empty: as it is sold"),
			digits("/params/kg_per_m", "Mass a metre", "kg", "With what is in it; empty: as it is sold").decimals(),
		}},
		runs,
		{Legend: "More: clips, what it runs through, whose", Folded: true, Fields: []field{
			pick("/place/clip_with", "Clipped with", one("The usual clips", k.fixings("service")), "To the surface that it runs on"),
			mm("/place/clip_every_mm", "Clips every", "Empty: 600; 0 is none"),
			{Name: "/params/through", Label: "Runs through", Kind: many, Codes: true, Help: "Codes of pieces, with commas between"},
			said("/params/name", "Circuit or line", "Lighting, first floor"),
			said("/params/builder", "Run by", "The electrician"),
			pick("/params/known", "How known", knownOptions(), ""),
			pick("/params/owner", "Whose it is", []option{{"", "As said below"}, {"tenant", "The tenant's"}, {"hired", "Hired"}, {"landlord", "The landlord's"}}, ""),
		}},
		clipsGroup(k),
		figures,
	}
}

// clipsGroup is for clips to other things than the surface that the run is on.
func clipsGroup(k known) group {
	const prefix = "/params/clips/"
	rows := k.rows("clips", prefix, 1)
	g := group{Legend: "More: clips to pieces, or of several sorts", Folded: true, Note: "Instead of the clips above.",
		Asked: k.sent.Has("clips"), More: k.more("clips", prefix, 1, rows-1, "Another sort of clip")}
	for i := range rows {
		at, n := prefix+strconv.Itoa(i), "Clips "+strconv.Itoa(i+1)
		g.Fields = append(g.Fields, field{Name: at + "/elements", Label: n + ": to pieces", Kind: many, Codes: true, Help: "Codes, with commas between"},
			pick(at+"/host", n+": or to the surface", one("None", k.hosts(nil)), ""),
			pick(at+"/type", n+": which", one("The usual ones", k.fixings("service", "masonry", "timber")), ""),
			mm(at+"/centres_mm", n+": every", "Empty: 600"))
	}
	return g
}

// serviceAgain keeps what the run is and how it is clipped, and asks for its points anew.
func serviceAgain(k known, code string) map[string]string {
	return k.again(code, "service-run", "points", "through")
}

type servicePlace struct {
	On     string `json:"on"`
	Points []struct {
		AlongMm int `json:"along_mm"`
		UpMm    int `json:"up_mm"`
	} `json:"points"`
	ClipWith    string `json:"clip_with"`
	ClipEveryMm *int   `json:"clip_every_mm"`
}

func readServiceRun(e entry, k known, root map[string]any) (entered, error) {
	place, err := placeOf[servicePlace](root)
	if err != nil {
		return entered{}, err
	}
	params, _ := root["params"].(map[string]any)
	m := k.r.Catalogue.Materials[told(params, "material")]
	size, known := params["size_mm"].(float64)
	if !known {
		size = max(m.ThicknessMm, float64(m.WidthMm))
	}
	if size < 1 {
		return entered{}, domain.FieldErrorf(domain.Invalid, "/params/size_mm", "say how large it is across")
	}
	found := map[string]any{"size_mm": int(size + 0.5)}
	if m.MassKgM > 0 {
		found["kg_per_m"] = m.MassKgM
	} else if params["kg_per_m"] == nil {
		return entered{}, domain.FieldErrorf(domain.Invalid, "/params/kg_per_m", "say what a metre of it weighs")
	}
	clips, own := params["clips"].([]any)
	for i, c := range clips {
		if typed, ok := c.(map[string]any); ok {
			clips[i] = overlaid(map[string]any{"centres_mm": usualClipsMm}, typed)
		}
	}
	if place.On == "" {
		return e.assemble(root, found)
	}
	target, ok := siting.TargetBy(k.r, "host "+place.On)
	if !ok || len(place.Points) < 2 {
		return entered{}, domain.FieldErrorf(domain.Invalid, "/place/points/0/along_mm", "give two points at least, each along and up the surface")
	}
	var points []domain.Point
	for _, p := range place.Points {
		points = append(points, target.Point(p.AlongMm, p.UpMm, size/2))
	}
	found["points"] = points
	every := usualClipsMm
	if place.ClipEveryMm != nil {
		every = *place.ClipEveryMm
	}
	if every != 0 && !own {
		clips := map[string]any{"host": place.On, "centres_mm": every}
		if place.ClipWith != "" {
			clips["type"] = place.ClipWith
		}
		found["clips"] = []any{clips}
	}
	return e.assemble(root, found)
}

// usualClipsMm is how far apart clips are (common practice, no source).
const usualClipsMm = 600
