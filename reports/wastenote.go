package reports

import (
	"fmt"
	"io"
	"strings"

	"unpick/domain/salvage"
	"unpick/reports/paper"
)

// noteFields are what the parties write on a waste note, with what is known of each; nothing is made up.
func (in Input) noteFields() []fact {
	f := in.Register.FitOut
	return []fact{
		{"From: premises", f.Premises.Address},
		{"Whose waste: tenant", f.Tenant},
		{"Handed over by: contractor", f.Firm},
		{"Contractor's licence or registration number", ""},
		{"Carrier: name and address", ""},
		{"Carrier's licence or registration number", ""},
		{"Vehicle", ""},
		{"To: site, name and address", ""},
		{"Site's permit or licence number", ""},
		{"Date and time of handing over", ""},
		{"Signed, handed over", ""},
		{"Signed, taken over", ""},
	}
}

// noteCautions stand on every waste note.
var noteCautions = []string{
	"Masses are worked out from mean densities: weigh the load where money or the law hangs on it, and write the weighed mass down.",
	"A code is the producer's word. Treated, painted or old timber may be hazardous: assess it, settle it in the program, and only then write a code.",
	"Gypsum apart from everything that rots, and dry. Hazardous waste never mixed with other waste, and never on this note.",
	"Only to a carrier and a site whose licence has been seen for these codes. Keep a signed copy as long as local law asks.",
	"Nothing disturbed before the asbestos survey was seen. What is found suspect stops the work and is not loaded.",
	"Local law decides what a note must hold and who signs it. This is no legal advice.",
}

// onNote parts what may go under a plain note from what may not: hazardous waste, and what has no settled code.
func onNote(all []salvage.WasteLine) (on, off []salvage.WasteLine) {
	for _, l := range all {
		if l.Code == "" || l.Hazardous {
			off = append(off, l)
		} else {
			on = append(on, l)
		}
	}
	return on, off
}

// WasteNote writes the note that goes with a load as a workbook: the parties, what goes under which code, and what may
// not go on it yet. Codes of mirror entries that nobody has assessed are never written.
func WasteNote(w io.Writer, in Input) error {
	b := newBook(in, "Waste note")
	on, off := onNote(in.Plan.Salvage.Waste)
	b.cover("To go with the load: who hands over what, under which code, to whom. What is left open is filled in before anybody signs.", []fact{
		{"On this note", fmt.Sprintf("%s, about %.0f kg", countOf(len(on), "code", "codes"), massOf(on))},
		{"Not on this note", notOnWords(off)},
		{"Before a load leaves", strings.Join(noteCautions, "\n")},
	})
	t := b.newTable("Parties", []column{{"What", 44, strong}, {"Who, which, when", 70, toFill}}, a4, len(in.noteFields()))
	for _, f := range in.noteFields() {
		t.add(f.name, f.value)
	}
	t.end()
	b.wasteLines("On this note", on)
	b.wasteLines("Not on this note", off)
	b.wastePieces(in.Plan.Salvage.Waste)
	b.sources()
	return b.write(w)
}

func notOnWords(off []salvage.WasteLine) string {
	if len(off) == 0 {
		return ""
	}
	return fmt.Sprintf("about %.0f kg that is hazardous, or whose code has to be assessed first: see that sheet", massOf(off))
}

func massOf(lines []salvage.WasteLine) float64 {
	kg := 0.0
	for _, l := range lines {
		kg += l.MassKg
	}
	return kg
}

func (b *book) wasteLines(name string, lines []salvage.WasteLine) {
	t := b.newTable(name, []column{{"List of Waste code", 20, strong}, {"Description", 36, plain}, {"Pieces", 8, whole}, {"Mass (kg), worked out", 12, tenths}, {"Of which out (kg)", 11, tenths},
		{"Mass (kg), weighed", 12, toFill}, {"Skip, bag or loose", 14, toFill}, {"Usual route", 20, plain}, {"Take care", 60, plain}}, a4, len(lines))
	n, kg, out := 0, 0.0, 0.0
	for _, l := range lines {
		t.add(l.Words(), l.Description, len(l.Pieces), round(l.MassKg, 1), round(l.OutKg, 1), nil, nil, l.Route, strings.Join(l.Cautions, "; "))
		n, kg, out = n+len(l.Pieces), kg+round(l.MassKg, 1), out+round(l.OutKg, 1)
	}
	t.total("All", "A", sum{"C", n, ""}, sum{"D", kg, ""}, sum{"E", out, ""})
	t.end()
}

// wastePieces names every piece under its code.
func (b *book) wastePieces(lines []salvage.WasteLine) {
	pieces := map[string]*salvage.Piece{}
	rows := 0
	for i := range b.in.Plan.Salvage.Pieces {
		pieces[b.in.Plan.Salvage.Pieces[i].Code] = &b.in.Plan.Salvage.Pieces[i]
	}
	for _, l := range lines {
		rows += len(l.Pieces)
	}
	t := b.newTable("Pieces", []column{{"List of Waste code", 20, strong}, {"Piece", 14, plain}, {"Material", 40, plain}, {"Size (mm)", 20, plain}, {"Mass (kg)", 10, tenths}, {"Where", 14, plain}, {"Because", 50, plain}}, a4, rows)
	kg := 0.0
	for _, l := range lines {
		for _, code := range l.Pieces {
			p := pieces[code]
			t.add(l.Words(), code, p.MaterialName, fmt.Sprintf("%d x %d x %d", p.LengthMm, p.WidthMm, p.ThicknessMm), round(p.MassKg, 2), whereWords(p), strings.Join(becauseOf(p), "; "))
			kg += round(p.MassKg, 2)
		}
	}
	t.total("All", "A", sum{"E", kg, ""})
	t.end()
}

// WasteNotePDF writes the same note to print: one to a load, with room to write.
func WasteNotePDF(w io.Writer, in Input) error {
	d := paper.New(in.about("Waste note"))
	size := paper.A4
	d.Page(size)
	y := opening(d, size.WideMm, "Waste note: "+in.Register.FitOut.Name, "To go with the load. What is left open is filled in before anybody signs.", nil)
	parties := paper.Table{LeastMm: 8, Columns: []paper.Column{{Title: "What", WideMm: 62, Strong: true}, {Title: "Who, which, when", WideMm: 128, Room: true}}}
	for _, f := range in.noteFields() {
		parties.Rows = append(parties.Rows, []string{f.name, f.value})
	}
	y = d.Table(y, parties, nil)
	on, off := onNote(in.Plan.Salvage.Waste)
	for _, part := range []struct {
		title string
		lines []salvage.WasteLine
	}{{"On this note", on}, {"Not on this note: hazardous, or to be assessed first", off}} {
		if len(part.lines) == 0 {
			continue
		}
		y = d.Heading(y+4, part.title, wordsMm+.6)
		y = d.Table(y, wasteTable(part.lines), nil)
	}
	if len(in.Plan.Salvage.Waste) == 0 {
		y = d.Paragraph(paper.MarginMm, y+4, size.WideMm-2*paper.MarginMm, "Nothing goes as waste.", wordsMm, false)
	}
	takeCare(d, y+4, size, noteCautions)
	return d.Write(w)
}

// wasteTable is the lines of a note on A4 upright: 190 mm between the margins.
func wasteTable(lines []salvage.WasteLine) paper.Table {
	t := paper.Table{LeastMm: 8, Columns: []paper.Column{{Title: "List of Waste code", WideMm: 26, Strong: true}, {Title: "Description", WideMm: 38}, {Title: "Pieces", WideMm: 13, Figure: true}, {Title: "kg, worked out", WideMm: 16, Figure: true},
		{Title: "of which out", WideMm: 15, Figure: true}, {Title: "kg, weighed", WideMm: 18, Room: true}, {Title: "Skip, bag, loose", WideMm: 18, Room: true}, {Title: "Take care", WideMm: 46}}}
	pieces, out := 0, 0.0
	for _, l := range lines {
		t.Rows = append(t.Rows, []string{l.Words(), l.Description, fmt.Sprint(len(l.Pieces)), decimals(l.MassKg, 1), decimals(l.OutKg, 1), "", "", strings.Join(l.Cautions, "; ")})
		pieces, out = pieces+len(l.Pieces), out+l.OutKg
	}
	t.Totals = []string{"All", "", fmt.Sprint(pieces), decimals(massOf(lines), 1), decimals(out, 1), "", "", ""}
	return t
}
