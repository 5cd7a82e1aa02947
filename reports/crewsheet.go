package reports

import (
	"fmt"
	"strings"

	"unpick/domain/calendar"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// crewSheet writes one day's sheet to print and take along: what, with what, how many, and room to write.
func (b *book) crewSheet(d strip.Day, only gates) {
	t := b.newTable(fmt.Sprintf("Day %d", d.Number), []column{{b.in.clockTitle(), 8, plain}, {"Step", 6, number}, {"What", 27, strong}, {"Pieces", 22, plain},
		{"Undo, with", 28, plain}, {"People", 7, number}, {"From, standing", 20, plain}, {"Plan (min)", 7, whole}, {"Only after", 24, plain},
		{"Take care", 25, plain}, {"Done", 6, toFill}, {"Real (min)", 7, toFill}, {"Found different", 16, toFill}}, a4, len(b.in.stops())+len(d.Work), b.crewHeader(d))
	for _, line := range b.in.stops() {
		t.add("", nil, line, "", "", nil, "", nil, "", "", "", "", "")
	}
	for _, part := range d.Work {
		s := *b.in.Plan.Step(part.Step)
		what := s.Title
		if part.Went {
			what = "Go on: " + what
		}
		t.add(b.in.clock(part.Starts), s.Number, what, strings.Join(s.Elements, ", "), undoWith(s), s.People, s.Stand, part.Minutes,
			only.onlyAfter(s, part.Went), strings.Join(s.Cautions, "; "), "", "", "")
	}
	t.total("Day", "C", sum{"H", d.Minutes, ""}, sum{"L", 0, ""})
	t.end()
}

// crewHeader heads the printed sheet, with room for who leads the crew and the date.
func (b *book) crewHeader(d strip.Day) string {
	return fmt.Sprintf("&L&BDay %d of %d: %s, up to %d people&R&BDate ____________  Foreman ________________________",
		d.Number, len(b.in.Plan.Days), footer(b.in.Register.FitOut.Name), d.Persons)
}

// clock is when work begins that begins at a minute of the working day.
func (in Input) clock(minute int) string {
	return calendar.New(in.Register.FitOut.Calendar).Clock(calendar.Moment{Minute: minute})
}

// clockTitle heads such times, and says so where nobody has said when the breaks are.
func (in Input) clockTitle() string {
	if len(in.Register.FitOut.Calendar.Breaks) == 0 {
		return "Start, no breaks"
	}
	return "Start"
}

// clockWords say whether the times have the breaks in them.
func (in Input) clockWords() string {
	if breaks := in.Register.FitOut.Calendar.Breaks; len(breaks) > 0 {
		return "the breaks are in them: " + strings.ReplaceAll(strings.Join(breaks, ", "), "/", " to ")
	}
	return "no breaks are set, so none are in them: each moves what follows on by as long as it lasts"
}

// undoWith is what a step undoes with which tool, and what it wants brought up, moved or taken away.
func undoWith(s strip.Step) string {
	var out []string
	for _, f := range s.Fixings {
		amount := fmt.Sprintf("%d x", f.Count)
		if f.Metres > 0 {
			amount = fmt.Sprintf("%.1f m", f.Metres)
		}
		out = append(out, fmt.Sprintf("%s %s: %s", amount, f.Name, f.Tool))
	}
	if len(out) == 0 && s.Tool != "" {
		out = append(out, s.Tool)
	}
	for _, t := range s.SetUp {
		out = append(out, t.Words())
	}
	return strings.Join(out, "; ")
}

// gates are what each step waits for that a crew must know which works out of order, or beside another: by step number.
type gates map[int][]progress.Gate

func (in Input) gates() gates {
	out := gates{}
	for i, all := range progress.Gates(in.Register, in.Plan) {
		out[in.Plan.Sequence.Steps[i].Number] = all
	}
	return out
}

// onlyAfter says what is signed before a step is begun, and which steps are done.
func (g gates) onlyAfter(s strip.Step, went bool) string {
	if went {
		return ""
	}
	var out []string
	for _, h := range s.Holds {
		what := strings.ReplaceAll(h.Kind, "-", " ")
		if s.Kind == strip.Prop && h.Kind == "temporary-support" || s.Kind == strip.MakeDead && h.Kind == progress.ServicesDead {
			out = append(out, "signed once it is done: "+what+" ("+h.Who+")") // what the step is there for
			continue
		}
		out = append(out, what+" signed ("+h.Who+")")
	}
	for _, gate := range g[s.Number] {
		out = append(out, gateWords(gate))
	}
	return strings.Join(out, "; ")
}

func gateWords(g progress.Gate) string {
	if g.Props {
		return fmt.Sprintf("step %d: %s supported, signed", g.Step, someOf(g.Codes, mostNamed))
	}
	return fmt.Sprintf("step %d: %s out", g.Step, someOf(g.Codes, mostNamed))
}

// mostNamed is how many pieces of another step a line names.
const mostNamed = 3
