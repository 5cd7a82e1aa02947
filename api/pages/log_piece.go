package pages

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"unpick/domain"
	"unpick/domain/siting"
)

// pieceEntry logs one piece: what it is, its size, where it is.
func pieceEntry() entry {
	return entry{
		Name: "piece", Title: "A single piece", Noun: "Piece", Letters: "P",
		Lead:   "Anything that no other entry describes: its size, its material, its place.",
		Groups: func(k known) []group { return pieceGroups(k, "P") },
		Read:   readPiece, Again: pieceAgain,
		Aliases: map[string]string{"/elements/0/placement": "/place/on", "/elements": "/elements/0/kind"},
	}
}

func pieceGroups(k known, letters string) []group {
	return []group{
		{Legend: "What it is", Fields: append([]field{pick("/elements/0/kind", "Kind", one("Choose", plainKinds()), "")}, sizeFields(k)...)},
		{Legend: "Where it is", Fields: placeFields(k)},
		figuresGroup(),
		{Legend: "More: code, assembly, room, how known", Folded: true, Fields: []field{
			said("/elements/0/code", "Code", "Empty: "+k.nextCode(letters)),
			said("/elements/0/name", "Name", ""),
			pick("/elements/0/assembly", "Belongs to", one("Nothing", k.assemblies()), ""),
			pick("/elements/0/zone", "Room or area", one("Not said", k.zones()), ""),
			pick("/elements/0/known", "How known", knownOptions(), ""),
			yes("/elements/0/treated", "Treated timber, or too old to say", ""),
			yes("/elements/0/fire_rated", "Part of a fire-rated set", ""),
			digits("/elements/0/mass_kg", "Mass", "kg", "Empty: from its material").decimals(),
			said("/elements/0/note", "Note", ""),
		}},
	}
}

func sizeFields(k known) []field {
	return []field{
		pick("/elements/0/material", "Material", one("Choose", k.materials(nil, "timber", "board", "metal", "door", "trim", "insulation", "service", "glazing", "membrane")), ""),
		mm("/elements/0/length_mm", "Length", "Empty: as it is sold"),
		mm("/elements/0/width_mm", "Width", "Empty: as it is sold"),
		mm("/elements/0/thickness_mm", "Thickness", "Empty: as it is sold"),
	}
}

func placeFields(k known) []field {
	return []field{
		pick("/place/on", "Flat on", one("Not on a surface: in figures below", k.hosts(nil)), ""),
		mm("/place/along_mm", "From the left end of that", "To its lower left corner").below(),
		mm("/place/up_mm", "Up from its foot", "On a floor: away from its first edge").below(),
		pick("/place/way", "Its length runs", []option{{"", "Along it"}, {"up", "Up it"}}, ""),
	}
}

func figuresGroup() group {
	at := "/elements/0/placement"
	return group{Legend: "More: place in figures", Folded: true, Fields: []field{
		mm(at+"/origin/x", "Corner, x", ""), mm(at+"/origin/y", "Corner, y", ""), mm(at+"/origin/z", "Corner, level", ""),
		digits(at+"/along/x", "Length runs, x", "", ""), digits(at+"/along/y", "Length runs, y", "", ""), digits(at+"/along/z", "Length runs, up", "", ""),
		digits(at+"/across/x", "Width runs, x", "", ""), digits(at+"/across/y", "Width runs, y", "", ""), digits(at+"/across/z", "Width runs, up", "", ""),
	}}
}

// piecePlace is what a form says of a piece's place on a surface.
type piecePlace struct {
	On      string `json:"on"`
	AlongMm int    `json:"along_mm"`
	UpMm    int    `json:"up_mm"`
	Way     string `json:"way"`
}

// recordsOf are the records that a form says, as far as they are typed.
func recordsOf(root map[string]any) (domain.Records, error) {
	var out domain.Records
	text, err := json.Marshal(root)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		return out, fmt.Errorf("reading records out of a form: %w", err)
	}
	return out, nil
}

func readPiece(k known, root map[string]any) (entered, error) {
	place, err := placeOf[piecePlace](root)
	if err != nil {
		return entered{}, err
	}
	out, err := recordsOf(root)
	if err != nil {
		return entered{}, err
	}
	if len(out.Elements) == 0 {
		out.Elements = []domain.Element{{}}
	}
	e := &out.Elements[0]
	if err := completed(k, e, place, "P"); err != nil {
		return entered{}, err
	}
	return entered{records: out, drawWith: e.Assembly}, nil
}

// completed gives a piece the sizes of its material where none are typed, its place, a code and a turn.
func completed(k known, e *domain.Element, place piecePlace, letters string) error {
	m, ok := k.r.Catalogue.Materials[e.Material]
	if !ok {
		return domain.FieldErrorf(domain.Invalid, "/elements/0/material", "say what it is made of")
	}
	if e.Kind == "" {
		return domain.FieldErrorf(domain.Invalid, "/elements/0/kind", "say what kind of piece it is")
	}
	e.LengthMm, e.WidthMm, e.ThicknessMm = cmp.Or(e.LengthMm, m.LengthMm), cmp.Or(e.WidthMm, m.WidthMm), cmp.Or(e.ThicknessMm, int(math.Ceil(m.ThicknessMm)))
	for _, size := range []struct {
		name string
		mm   int
	}{{"length", e.LengthMm}, {"width", e.WidthMm}, {"thickness", e.ThicknessMm}} {
		if size.mm == 0 {
			return domain.FieldErrorf(domain.Invalid, "/elements/0/"+size.name+"_mm", "say its %s: %s is not sold in one", size.name, m.Name)
		}
	}
	e.Code, e.BuiltOrder = cmp.Or(e.Code, k.nextCode(letters)), k.r.LastBuilt()+1
	if place.On == "" && e.Placement.Along.IsZero() {
		return domain.FieldErrorf(domain.Invalid, "/place/on", "say where it is: on which surface, or in figures")
	}
	if place.On == "" {
		return nil
	}
	var err error
	e.Placement, err = siting.OnSurface(k.r, place.On, place.AlongMm, place.UpMm, e.WidthMm, place.Way == "up", "/place/on")
	return err
}

// pieceAgain keeps what the piece is and puts the next one beside it.
func pieceAgain(k known, code string) map[string]string {
	at, ok := k.r.Index().Elements[code]
	if !ok {
		return nil
	}
	e := k.r.Elements[at]
	next := e.Placement.Origin.Moved(e.Placement.Axes()[1].Scale(float64(e.WidthMm)))
	e.Code, e.BuiltOrder, e.Version, e.State, e.Placement.Origin = "", 0, 0, "", next
	text, err := json.Marshal(e)
	if err != nil {
		return nil
	}
	out := flat(text, "/elements/0")
	for _, axis := range []string{"x", "y", "z"} { // a corner at 0 is a place too
		if name := "/elements/0/placement/origin/" + axis; out[name] == "" {
			out[name] = strconv.Itoa(0)
		}
	}
	return out
}
