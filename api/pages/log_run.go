package pages

import (
	"cmp"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/siting"
)

// runEntry logs a run of fixings, with the holes that it makes.
func runEntry() entry {
	return entry{
		Name: "run", Title: "A run of fixings", Noun: "Fixings", Letters: "F",
		Lead:   "Screws, plugs, clamps or bolts that hold one piece, with their holes.",
		Groups: runGroups, Read: readRun, Again: runAgain,
		Aliases: map[string]string{
			"/fixings/0/type": "/place/type", "/fixings/0/count": "/place/count", "/fixings/0/holds": "/place/holds", "/fixings/0/code": "/place/code",
			"/fixings/0/into_host": "/place/into", "/fixings/0/into_element": "/place/into", "/fixings": "/place/holds",
			"/holes/0/depth_mm": "/place/depth_mm", "/holes": "/place/into",
		},
	}
}

func runGroups(k known) []group {
	return []group{
		{Fields: []field{
			pick("/place/holds", "Holds", one("Choose the piece", k.pieces()), "The piece logged last comes first"),
			pick("/place/into", "Goes into", one("What the piece lies against", k.targets()), ""),
			pick("/place/type", "With", one("The usual one for that", k.fitting()), ""),
			mm("/place/pitch_mm", "Every", "Empty: 600"),
		}},
		{Legend: "More: count, ends, head, depth", Folded: true, Fields: []field{
			digits("/place/count", "Or how many in all", "", "Shared out evenly; instead of every so much"),
			mm("/place/end_mm", "First one from an end", "Empty: 150"),
			pick("/place/head", "Undone from", []option{{"", "Away from what it goes into"}, {"up", "Above"}, {"down", "Below"}, {"unknown", "Nobody knows"}}, "Which way the head faces"),
			mm("/fixings/0/length_mm", "Length of one", ""),
			mm("/place/depth_mm", "Depth of the hole", "Empty: the usual for it"),
			pick("/fixings/0/known", "How known", knownOptions(), ""),
			said("/fixings/0/reason", "Why this one", "Where it is not one that unscrews"),
			said("/fixings/0/note", "Note", ""),
			said("/place/code", "Code", "Empty: "+k.nextCode("F")),
		}},
	}
}

func knownOptions() []option {
	return []option{{"", "Seen"}, {"measured", "Measured"}, {"assumed", "Assumed"}, {"unknown", "Unknown until opened"}}
}

// targets are what fixings can go into: the landlord's surfaces, then pieces.
func (k known) targets() []option {
	var out []option
	for _, h := range k.hosts(nil) {
		out = append(out, option{"host " + h.Value, h.Label})
	}
	for _, e := range k.pieces() {
		out = append(out, option{"piece " + e.Value, e.Label})
	}
	return out
}

// fitting are the fixings that fit what was chosen, the usual one first; all where nothing is chosen yet.
func (k known) fitting() []option {
	target, ok := siting.TargetBy(k.r, k.sent.Get("/place/into"))
	if !ok {
		if at, held := k.r.Index().Elements[k.sent.Get("/place/holds")]; held {
			if against := siting.Against(k.r, &k.r.Elements[at]); len(against) > 0 {
				target, ok = against[0], true
			}
		}
	}
	if !ok {
		return k.fixings("masonry", "steel", "timber", "lining", "dry")
	}
	var out []option
	chosen := k.sent.Get("/place/type")
	for _, t := range siting.Fits(k.r, target) {
		out = append(out, option{t.Slug, t.Name})
		if t.Slug == chosen {
			chosen = ""
		}
	}
	if t, ok := k.r.Catalogue.FixingTypes[chosen]; ok {
		out = append(out, option{t.Slug, t.Name + " (does not usually go there)"})
	}
	return out
}

// runPlace is what the form says of a run.
type runPlace struct {
	Holds   string `json:"holds"`
	Into    string `json:"into"`
	Type    string `json:"type"`
	PitchMm int    `json:"pitch_mm"`
	Count   int    `json:"count"`
	EndMm   *int   `json:"end_mm"`
	Head    string `json:"head"`
	DepthMm int    `json:"depth_mm"`
	Code    string `json:"code"`
}

// usualEndMm is how far the first fixing of a run stands from an end (common practice, no source).
const usualEndMm = 150

func readRun(k known, root map[string]any) (entered, error) {
	place, err := placeOf[runPlace](root)
	if err != nil {
		return entered{}, err
	}
	s := siting.Said{Holds: place.Holds, Into: place.Into, Type: place.Type, PitchMm: place.PitchMm, Count: place.Count, EndMm: usualEndMm, Head: place.Head, DepthMm: place.DepthMm}
	if place.EndMm != nil {
		s.EndMm = *place.EndMm
	}
	made, err := siting.Run(k.r, s, cmp.Or(place.Code, k.nextCode("F")), "/place")
	if err != nil {
		return entered{}, err
	}
	typed, err := recordsOf(root)
	if err != nil {
		return entered{}, err
	}
	if len(typed.Fixings) > 0 {
		f, t := &made.Fixings[0], typed.Fixings[0]
		f.LengthMm, f.Known, f.Reason, f.Note = t.LengthMm, t.Known, t.Reason, t.Note
	}
	at := k.r.Index().Elements[made.Fixings[0].Holds]
	return entered{records: made, drawWith: k.r.Elements[at].Assembly}, nil
}

// runAgain keeps what the run is and moves on to the next piece of the same kind that nothing of the kind holds yet.
func runAgain(k known, code string) map[string]string {
	index := k.r.Index()
	at, ok := index.Fixings[code]
	if !ok {
		return nil
	}
	f := k.r.Fixings[at]
	out := map[string]string{"/place/type": f.Type}
	if f.IntoHost != "" {
		out["/place/into"] = "host " + f.IntoHost
	}
	if f.LengthMm > 0 {
		out["/fixings/0/length_mm"] = strconv.Itoa(f.LengthMm)
	}
	if n := len(f.Run.PositionsMm); n > 1 {
		out["/place/pitch_mm"] = strconv.Itoa(f.Run.PositionsMm[1] - f.Run.PositionsMm[0])
		out["/place/end_mm"] = strconv.Itoa(f.Run.PositionsMm[0])
	}
	if next := k.nextUnfixed(f.Holds); next != "" {
		out["/place/holds"] = next
	}
	return out
}

// nextUnfixed is the piece of the same kind, in order of building, that no fixing holds; "" where all are held.
func (k known) nextUnfixed(piece string) string {
	index := k.r.Index()
	at, ok := index.Elements[piece]
	if !ok {
		return ""
	}
	held := map[string]bool{}
	for i := range k.r.Fixings {
		if k.r.Fixings[i].InPlace() {
			held[k.r.Fixings[i].Holds] = true
		}
	}
	best := -1
	for i := range k.r.Elements {
		e := &k.r.Elements[i]
		if e.IsInPlace() && e.Kind == k.r.Elements[at].Kind && !held[e.Code] && (best < 0 || e.BuiltOrder < k.r.Elements[best].BuiltOrder) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	return k.r.Elements[best].Code
}

// plainKinds are the kinds of piece as choices.
func plainKinds() []option {
	var out []option
	for _, kind := range domain.ElementKinds() {
		out = append(out, option{string(kind), strings.ReplaceAll(string(kind), "-", " ")})
	}
	return out
}
