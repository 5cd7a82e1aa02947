package pages

import (
	"cmp"
	"slices"
	"strconv"

	"unpick/domain"
	"unpick/domain/siting"
)

// foundEntry logs what one finds on a walk round: pieces of other trades or earlier people, and holes with nothing in
// them.
func foundEntry() entry {
	return entry{
		Name: "found", Title: "Found, not logged", Noun: "Found", Letters: "X",
		Lead:   "What other trades or earlier people put in, and holes with nothing in them.",
		Groups: foundGroups, Read: readFound, Again: foundAgain,
		Aliases: map[string]string{
			"/elements/0/placement": "/place/on", "/elements": "/elements/0/kind", "/holes/0/host": "/place/hole_on", "/holes/0/run": "/place/hole_along_mm",
			"/holes/0/count": "/place/count", "/fixings/0": "/place/fixed_with", "/holes": "/place/hole_on",
		},
	}
}

func foundGroups(k known) []group {
	return []group{
		{Legend: "Holes with nothing in them", Folded: true, Fields: []field{
			pick("/place/hole_on", "In", one("Choose the surface", k.hosts(nil)), ""),
			digits("/place/count", "How many", "", "Empty: 1"),
			mm("/holes/0/diameter_mm", "Across", "").decimals(),
			mm("/holes/0/depth_mm", "Depth", "Empty: the usual for its size"),
			pick("/holes/0/state", "Whose", []option{{"inherited", "There before the tenant: not charged"}, {"abandoned", "Ours: drilled and not used"}, {"empty", "Ours: its fixing is out"}}, ""),
			mm("/place/hole_along_mm", "First one from the left end", ""),
			mm("/place/hole_up_mm", "Up from the foot", "On a floor: away from its first edge"),
			mm("/place/hole_pitch_mm", "Then one every", ""),
			pick("/place/hole_way", "The line runs", []option{{"", "Along it"}, {"up", "Up it"}}, ""),
			said("/holes/0/residue", "What is left in it", "A plug, a stub; empty is a clean hole"),
			said("/holes/0/note", "Note on the holes", ""),
		}},
		{Legend: "A piece", Folded: true, Fields: append(append([]field{
			pick("/elements/0/kind", "Kind", one("Choose", plainKinds()), "")}, sizeFields(k)...), placeFields(k)...)},
		{Legend: "Whose the piece is, how it is held", Folded: true, Fields: []field{
			pick("/place/whose", "Put in by", []option{{"", "Another trade, for the tenant"}, {"landlord", "The landlord"}, {"earlier", "An earlier tenant: the landlord's now"}}, ""),
			said("/elements/0/builder", "Who", "The electrician"),
			pick("/elements/0/known", "How known", knownOptions(), "What is not seen is planned as the worst case"),
			pick("/place/fixed_with", "Held with", one("Not seen, not logged", k.fixings("masonry", "steel", "timber", "lining", "service", "adhesive")), ""),
			digits("/place/fixed_count", "How many hold it", "", ""),
			said("/elements/0/name", "Name", ""), said("/elements/0/note", "Note", ""),
		}},
		figuresGroup(),
	}
}

// foundPlace is what the form says of places.
type foundPlace struct {
	piecePlace
	HoleOn      string `json:"hole_on"`
	Count       int    `json:"count"`
	HoleAlongMm int    `json:"hole_along_mm"`
	HoleUpMm    int    `json:"hole_up_mm"`
	HolePitchMm int    `json:"hole_pitch_mm"`
	HoleWay     string `json:"hole_way"`
	Whose       string `json:"whose"`
	FixedWith   string `json:"fixed_with"`
	FixedCount  int    `json:"fixed_count"`
}

func readFound(k known, root map[string]any) (entered, error) {
	place, err := placeOf[foundPlace](root)
	if err != nil {
		return entered{}, err
	}
	typed, err := recordsOf(root)
	if err != nil {
		return entered{}, err
	}
	var out entered
	if len(typed.Elements) > 0 && typed.Elements[0].Material != "" {
		if err := foundPiece(k, &out, typed.Elements[0], place); err != nil {
			return out, err
		}
	}
	if place.HoleOn != "" {
		if err := foundHoles(k, &out, typed.Holes, place); err != nil {
			return out, err
		}
	}
	if len(out.records.Elements)+len(out.records.Holes) == 0 {
		return out, domain.FieldErrorf(domain.Invalid, "/place/hole_on", "say what was found: the surface that the holes are in, or what the piece is made of")
	}
	return out, nil
}

func foundPiece(k known, out *entered, e domain.Element, place foundPlace) error {
	if err := completed(k, &e, place.piecePlace, "X"); err != nil {
		return err
	}
	switch place.Whose {
	case "landlord":
		e.Owner = domain.LandlordOwns
	case "earlier":
		e.Owner, e.Builder = domain.LandlordOwns, cmp.Or(e.Builder, "an earlier tenant")
	}
	out.records.Elements, out.drawWith = []domain.Element{e}, e.Assembly
	if place.FixedWith == "" {
		return nil
	}
	joined := known{k.r.With(domain.Records{Elements: out.records.Elements}), k.sent}
	made, err := siting.Run(joined.r, siting.Said{Holds: e.Code, Type: place.FixedWith, Count: place.FixedCount, EndMm: usualEndMm, Head: "unknown"}, e.Code+"-F1", "/place")
	if err != nil {
		if f := faultsOf(err); len(f) == 1 {
			return domain.FieldErrorf(f[0].Code, "/place/fixed_with", "%s", f[0].Text)
		}
		return err
	}
	for i := range made.Fixings {
		made.Fixings[i].Known = cmp.Or(e.Known, domain.Assumed)
	}
	for i := range made.Holes {
		made.Holes[i].Known = made.Fixings[0].Known
		if place.Whose != "" { // whoever put it in drilled, before the tenant: shown, never charged
			made.Holes[i].State = domain.HoleInherited
		}
	}
	out.records.Append(made)
	return nil
}

// mostHolesFound is more than one line of holes has.
const mostHolesFound = 1000

func foundHoles(k known, out *entered, typed []domain.Hole, place foundPlace) error {
	var h domain.Hole
	if len(typed) > 0 {
		h = typed[0]
	}
	h.Count = cmp.Or(place.Count, 1)
	switch {
	case h.Count < 1 || h.Count > mostHolesFound:
		return domain.FieldErrorf(domain.Invalid, "/place/count", "from 1 to %d in one line", mostHolesFound)
	case h.DiameterMm <= 0:
		return domain.FieldErrorf(domain.Invalid, "/holes/0/diameter_mm", "say how large they are across")
	case h.Count > 1 && place.HolePitchMm <= 0:
		return domain.FieldErrorf(domain.Invalid, "/place/hole_pitch_mm", "say how far apart they are")
	}
	var err error
	h.Run, err = siting.OnSurfaceRun(k.r, place.HoleOn, place.HoleAlongMm, place.HoleUpMm, h.Count, place.HolePitchMm, place.HoleWay == "up", "/place/hole_on")
	if err != nil {
		return err
	}
	if h.DepthMm == 0 {
		h.DepthMm = usualDepthMm
	}
	h.Code, h.Host, h.Face = k.nextCode("H"), place.HoleOn, domain.FrontFace
	h.State = cmp.Or(h.State, domain.HoleInherited)
	out.records.Holes = append(out.records.Holes, h)
	return nil
}

// usualDepthMm is how deep a hole is taken to be that nobody measured (common practice, no source).
const usualDepthMm = 50

// foundAgain keeps what holes that were found are, and asks for their place on the same surface anew.
func foundAgain(k known, code string) map[string]string {
	at := slices.IndexFunc(k.r.Holes, func(h domain.Hole) bool { return h.Code == code && h.Fixing == "" })
	if at < 0 {
		return nil
	}
	h := k.r.Holes[at]
	out := map[string]string{"/place/hole_on": h.Host, "/place/count": strconv.Itoa(h.Count), "/holes/0/diameter_mm": strconv.FormatFloat(h.DiameterMm, 'f', -1, 64),
		"/holes/0/depth_mm": strconv.Itoa(h.DepthMm), "/holes/0/state": string(h.State), "/holes/0/residue": h.Residue}
	if p := h.Run.PositionsMm; len(p) > 1 {
		out["/place/hole_pitch_mm"] = strconv.Itoa(p[1] - p[0])
	}
	return out
}
