package answer

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
)

// Sheet is a schedule that came back, row by row, as it was typed. Nothing in it is believed yet.
type Sheet struct {
	Rows []Row
}

// Row is one row of a sheet that came back. The zero Cell is an empty one.
type Row struct {
	Item      Cell // whole number, or words where there is none
	Quantity  Cell
	Rate      Cell
	Amount    Cell
	Words     []Named // what was issued in words: location, alteration and the like
	Remarks   [2]Cell // tenant's, landlord's
	Figure    [2]Cell
	State     Cell
	HasNumber bool
	Number    int
}

// Quantity is the column whose figures are thousandths; those of the others are minor units of the currency.
const Quantity = "Quantity"

// Cell is a cell's place and what stands in it. A figure carries its value as a whole number of its smallest unit.
type Cell struct {
	At    string // "Schedule!N5"
	Text  string
	Minor *int64
}

// Named is a cell under a heading.
type Named struct {
	Column string
	Cell
}

// Difference is something of ours that came back changed. It is shown and never taken.
type Difference struct {
	At     string `json:"at"`
	Item   int    `json:"item"`
	Column string `json:"column"`
	Issued string `json:"issued"`
	Back   string `json:"came_back"`
}

// Stray is something that came back and belongs to no item.
type Stray struct {
	At   string `json:"at"`
	Says string `json:"says"`
}

// Reading is what a workbook that came back would say, before any of it is taken.
type Reading struct {
	Party       Party        `json:"party"`
	Statements  []Statement  `json:"statements"`
	Means       []string     `json:"meanings"` // of each statement, in words
	Asks        []Ask        `json:"to_ask"`   // what says two things at once: what it is taken as, and whom to ask
	Places      []string     `json:"-"`        // of each statement's row
	Differences []Difference `json:"differences"`
	Strays      []Stray      `json:"not_matched"`
	Missing     []int        `json:"missing_items"` // of the issue, without a row
	Unchanged   int          `json:"items_without_news"`
	Total       int          `json:"rows_read"`
}

// side is where a party's columns stand in a Row.
func (p Party) side() int {
	if p == Tenant {
		return 0
	}
	return 1
}

// Match holds a sheet that came back against what was issued and what was said since. party is whose answers are taken:
// the other one's columns are differences where they changed. issued is where each item stood in the workbook as it went
// out, now where it stands. A fault anywhere refuses the sheet whole, with every fault's cell.
func Match(sheet Sheet, party Party, issued, now []Position, currency string) (Reading, error) {
	m := matcher{party: party, issued: issued, now: clone(now), at: byNumber(issued), currency: currency}
	m.reading = Reading{Party: party, Statements: []Statement{}, Means: []string{}, Asks: []Ask{}, Differences: []Difference{}, Strays: []Stray{}, Missing: []int{}}
	rows := map[int]string{}
	for _, row := range sheet.Rows {
		m.row(row, rows)
	}
	for _, p := range issued {
		if _, ok := rows[p.Line.Number]; !ok {
			m.reading.Missing = append(m.reading.Missing, p.Line.Number)
		}
	}
	slices.Sort(m.reading.Missing)
	if err := m.faults.OrNil(); err != nil {
		return Reading{}, err
	}
	return m.reading, nil
}

// Written is a row as the workbook of an issue has it.
func Written(p Position) Row {
	l := p.Line
	thousandths := int64(math.Round(l.Quantity * 1000))
	row := Row{HasNumber: true, Number: l.Number, Quantity: Cell{Text: strconv.FormatFloat(l.Quantity, 'f', -1, 64), Minor: &thousandths},
		Rate: Cell{Text: "no rate"}, State: Cell{Text: string(p.State)},
		Words: []Named{{"Group", Cell{Text: l.Group}}, {"Clause", Cell{Text: l.Clause}}, {"Location", Cell{Text: l.Where}}, {"Alteration as built", Cell{Text: l.What}},
			{"Reinstatement", Cell{Text: l.How}}, {"Unit", Cell{Text: l.Unit}}}}
	switch {
	case l.Free:
		row.Quantity, row.Rate = Cell{}, Cell{}
	case l.RateKnown:
		row.Rate, row.Amount = figure(&l.RateMinor), figure(&l.AmountMinor)
	}
	for _, party := range []Party{Tenant, Landlord} {
		side := p.Of(party)
		row.Remarks[party.side()] = Cell{Text: side.Remarks}
		if side.FigureMinor != nil {
			row.Figure[party.side()] = figure(side.FigureMinor)
		}
	}
	return row
}

func figure(minor *int64) Cell { return Cell{Text: strconv.FormatInt(*minor, 10), Minor: minor} }

type matcher struct {
	party       Party
	issued, now []Position
	at          map[int]int
	currency    string
	reading     Reading
	faults      domain.Errors
}

func (m *matcher) row(row Row, rows map[int]string) {
	if !row.HasNumber {
		m.stray(row, "it has no item number")
		return
	}
	n, ok := m.at[row.Number]
	if !ok {
		m.stray(row, fmt.Sprintf("there is no item %d in this issue", row.Number))
		return
	}
	if before, ok := rows[row.Number]; ok {
		m.faults.Addf(domain.Invalid, row.Item.At, "item %d is here and in %s: leave one row for each item", row.Number, before)
		return
	}
	rows[row.Number] = row.Item.At
	m.reading.Total++
	was := Written(m.issued[n])
	m.compare(row, was)
	m.statement(row, was, n)
}

// stray lists a row without an item, where anything that could be an answer stands in it.
func (m *matcher) stray(row Row, why string) {
	for _, c := range []Cell{row.Remarks[0], row.Figure[0], row.Remarks[1], row.Figure[1]} {
		if c.Text != "" {
			m.reading.Strays = append(m.reading.Strays, Stray{c.At, why + ": " + c.Text})
		}
	}
	if row.HasNumber {
		if row.State.Text != "" {
			why += "; the row says " + row.State.Text
		}
		m.reading.Strays = append(m.reading.Strays, Stray{row.Item.At, why})
	}
}

// compare lists what was ours, or the other party's, and came back changed.
func (m *matcher) compare(row, was Row) {
	other := m.party.Other().side()
	names := [2]string{"Tenant's", "Landlord's"}
	pairs := []struct {
		column   string
		was, now Cell
	}{{Quantity, was.Quantity, row.Quantity}, {"Rate", was.Rate, row.Rate}, {"Amount", was.Amount, row.Amount},
		{names[other] + " remarks", was.Remarks[other], row.Remarks[other]}, {names[other] + " figure", was.Figure[other], row.Figure[other]}}
	for i, w := range row.Words {
		if i < len(was.Words) {
			pairs = append(pairs, struct {
				column   string
				was, now Cell
			}{w.Column, was.Words[i].Cell, w.Cell})
		}
	}
	for _, p := range pairs {
		if !same(p.was, p.now) {
			m.differs(row, p.column, p.was, p.now)
		}
	}
	own := m.party.side()
	if was.Remarks[own].Text != "" && row.Remarks[own].Text == "" {
		m.differs(row, names[own]+" remarks", was.Remarks[own], row.Remarks[own])
	}
	if was.Figure[own].Text != "" && row.Figure[own].Text == "" {
		m.differs(row, names[own]+" figure", was.Figure[own], row.Figure[own])
	}
}

func (m *matcher) differs(row Row, column string, was, is Cell) {
	m.reading.Differences = append(m.reading.Differences, Difference{is.At, row.Number, column, m.words(column, was), m.words(column, is)})
}

func (m *matcher) words(column string, c Cell) string {
	if c.Minor != nil && column != Quantity {
		return domain.FormatMoney(*c.Minor, m.currency)
	}
	if c.Text == "" {
		return "nothing"
	}
	return c.Text
}

// statement is what a row newly says, where it says anything: other than what went out, and other than the party has said
// since.
func (m *matcher) statement(row, was Row, n int) {
	own := m.party.side()
	s := Statement{Item: row.Number}
	last := m.now[n].Of(m.party)
	if text := row.Remarks[own].Text; text != "" && !same(was.Remarks[own], row.Remarks[own]) && text != last.Remarks {
		s.Remarks = text
	}
	if f := row.Figure[own].Minor; f != nil && !same(was.Figure[own], row.Figure[own]) && (last.FigureMinor == nil || *last.FigureMinor != *f) {
		s.FigureMinor = f
	}
	if state := strings.ToLower(row.State.Text); state != "" && state != was.State.Text {
		switch v := Verdict(state); v {
		case Agree:
			m.agreed(&s, row, was, n)
		case Dispute, IsDone:
			if !m.now[n].stands(m.party, v) || s.FigureMinor != nil || s.Remarks != "" {
				s.Verdict = v
			}
		default:
			if state != string(Proposed) && state != string(Answered) {
				m.faults.Addf(domain.Invalid, row.State.At, "%q is no state: agreed, disputed, answered, proposed or done", row.State.Text)
			}
		}
	}
	if says := m.now[n].Asks(m.party, s, m.currency); says != "" {
		m.ask(row, says)
	}
	if s.Verdict == Agree && m.repeats(s, n) {
		s.Verdict, s.FigureMinor = "", nil
	}
	if s.IsNothing() {
		m.reading.Unchanged++
		return
	}
	means := m.now[n].Means(m.party, s, m.currency)
	if err := m.now[n].Say(m.party, s); err != nil {
		for _, f := range placed("", err) {
			m.faults.Addf(f.Code, m.cellOf(row, f.Field), "%s", f.Text)
		}
		return
	}
	m.reading.Statements, m.reading.Means = append(m.reading.Statements, s), append(m.reading.Means, means)
	m.reading.Places = append(m.reading.Places, row.Item.At)
}

// stands reports whether a verdict of a party is what an item stands at already.
func (p *Position) stands(party Party, v Verdict) bool {
	switch v {
	case Agree:
		return p.Settled()
	case Dispute:
		return p.State == Disputed && p.Of(party).Verdict == Dispute
	}
	return p.State == Done
}

// agreed reads "agreed" in the column of states as what the whole row says. It is agreement to the figure that the other
// party had in this workbook and has still; not where a figure or the words of ours in the row came back changed, where
// another figure stands beside it, be it one that went out with the workbook, or where the other party has moved since.
func (m *matcher) agreed(s *Statement, row, was Row, n int) {
	other := m.party.Other()
	seen, wasKnown := m.issued[n].Figure(other)
	now, known := m.now[n].Figure(other)
	own := row.Figure[m.party.side()].Minor
	differs := m.changed(row, was)
	switch {
	case differs != "":
		m.ask(row, "it says agreed, and "+differs+": not taken as agreement. Ask the "+string(m.party)+" what is agreed")
	case own != nil && (!known || *own != now):
		s.Verdict, s.FigureMinor = Agree, own
	case own == nil && known && !wasKnown:
		m.ask(row, fmt.Sprintf("it says agreed, and the workbook had no figure of the %s, who stands at %s now: not taken as agreement. Ask the %s what is agreed", other, domain.FormatMoney(now, m.currency), m.party))
	case own == nil && known && seen != now:
		s.Verdict, s.FigureMinor = Agree, &seen // what it was said to
	case !m.now[n].stands(m.party, Agree) || s.FigureMinor != nil || s.Remarks != "":
		s.Verdict = Agree
	}
}

// repeats reports whether an offer that calls itself agreed was made already.
func (m *matcher) repeats(s Statement, n int) bool {
	last := m.now[n].Of(m.party).FigureMinor
	theirs, known := m.now[n].Figure(m.party.Other())
	return s.Remarks == "" && s.FigureMinor != nil && last != nil && *last == *s.FigureMinor && !(known && theirs == *last)
}

// changed names what of the item itself came back otherwise than it went out: "its amount came back as GBP 120.00 instead of
// GBP 100.00". Where an item stands, under which clause and in which group is not what is agreed.
func (m *matcher) changed(row, was Row) string {
	other := m.party.Other()
	pairs := []struct {
		name, column string
		was, now     Cell
	}{{"its quantity", Quantity, was.Quantity, row.Quantity}, {"its rate", "Rate", was.Rate, row.Rate}, {"its amount", "Amount", was.Amount, row.Amount},
		{"the " + string(other) + "’s figure", "Figure", was.Figure[other.side()], row.Figure[other.side()]}}
	for i, w := range row.Words {
		if i < len(was.Words) && (w.Column == "Alteration as built" || w.Column == "Reinstatement" || w.Column == "Unit") {
			pairs = append(pairs, struct {
				name, column string
				was, now     Cell
			}{"its " + strings.ToLower(w.Column), w.Column, was.Words[i].Cell, w.Cell})
		}
	}
	for _, p := range pairs {
		if !same(p.was, p.now) {
			return fmt.Sprintf("%s came back as %s instead of %s", p.name, m.words(p.column, p.now), m.words(p.column, p.was))
		}
	}
	return ""
}

func (m *matcher) ask(row Row, says string) {
	m.reading.Asks = append(m.reading.Asks, Ask{At: row.State.At, Item: row.Number, Says: says})
}

// cellOf is the cell that a fault of a statement is about.
func (m *matcher) cellOf(row Row, field string) string {
	switch field {
	case "/verdict":
		return row.State.At
	case "/figure_minor":
		return row.Figure[m.party.side()].At
	case "/remarks":
		return row.Remarks[m.party.side()].At
	}
	return row.Item.At
}

// same compares cells: figures as figures, words without the blanks round them.
func same(a, b Cell) bool {
	if a.Minor != nil || b.Minor != nil {
		return a.Minor != nil && b.Minor != nil && *a.Minor == *b.Minor
	}
	return strings.Join(strings.Fields(a.Text), " ") == strings.Join(strings.Fields(b.Text), " ")
}
