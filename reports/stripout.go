package reports

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// StripOut writes the strip-out workbook: the sequence, the points to sign, a crew sheet for each day, what is
// undone, and why the order is as it is.
func StripOut(w io.Writer, in Input) error {
	b := newBook(in, "Strip-out sequence")
	s := in.Plan.Sequence
	b.cover("The order in which the fit-out comes out, step by step. Checked by a second program that replays it against the register.", slices.Concat(b.in.stopFacts(), b.in.daysFacts(), []fact{
		{"Steps", fmt.Sprintf("%d, over %s for one crew, one step after the other", len(s.Steps), days(len(in.Plan.Days)))},
		{"Work", fmt.Sprintf("%.1f person-hours", in.Plan.Summary.PersonHours)},
		{"How long", b.in.howLong() + b.in.byThePlan()},
		{"Clock times", b.in.clockWords()},
		{"Programme", programmeWords(in.Timetable)},
	}, b.in.moreFacts(), b.in.noticeFacts(), []fact{
		{"Changeovers", s.Changeovers.Words()},
		{"Alternatives", s.Alternatives.Words()},
		{"On paper", "all sheets but the rows of \"" + everyReason + "\", which is for checking on a screen; \"Why this order\" has the reasons step by step"},
		{"Replay", b.in.replayWords()},
	}))
	b.planSheet()
	b.steps(s.Steps)
	b.holdsToSign(s.Steps)
	if in.Timetable != nil {
		b.programme(in.Timetable)
	}
	only := in.gates()
	for _, d := range in.Plan.Days {
		b.crewSheet(d, only)
	}
	b.elevations()
	b.undone(s.Steps)
	b.whyThisOrder()
	b.everyReason()
	b.sources()
	return b.write(w)
}

// byThePlan says that the days counted for a crew are the plan's where the real pace is another; "" where it is not.
func (in Input) byThePlan() string {
	if words := progress.PaceOf(in.Register).Words(); words != "" {
		return ". That, and the crew sheets, are by the plan's minutes, and " + words + ": the programme goes at that pace"
	}
	return ""
}

// replayWords says what the second program found. What nothing holds from the first is no fault of the order, but the
// sentence that everything in place stands would not be true then.
func (in Input) replayWords() string {
	const otherwise = "nothing leaves while it is covered, clamped, trapped, sealed or live"
	var loose []string
	for _, a := range in.Plan.Warnings {
		if a.Kind == advice.NotHeld {
			loose = append(loose, a.Codes...)
		}
	}
	if len(loose) == 0 {
		return "clean: at every step each piece still in place reaches the landlord's fabric, and " + otherwise
	}
	return "clean but for what nothing holds, or too little, before the first step: " + someOf(loose, 24) + ". At every step each other piece still in place reaches the landlord's fabric, by props where a step puts them, and " + otherwise
}

// stops are what nobody goes on or under, since nothing holds it any more and no support of it is signed as in.
func (in Input) stops() []string {
	var out []string
	for _, a := range progress.Stops(in.Register, &in.Plan.Sequence) {
		begins := "FIRST. "
		if a.Severity == domain.Stop {
			begins = "STOP. "
		}
		out = append(out, begins+a.Text+".")
	}
	return out
}

func (in Input) stopFacts() []fact {
	var out []fact
	for _, line := range in.stops() {
		out = append(out, fact{"Before anything else", line})
	}
	return out
}

func days(n int) string {
	if n == 1 {
		return "1 working day"
	}
	return fmt.Sprintf("%d working days", n)
}

func (b *book) steps(steps []strip.Step) {
	t := b.newTable("Steps", []column{{"Step", 6, number}, {"What", 34, strong}, {"Pieces", 28, plain}, {"Fixings to undo", 34, plain}, {"Tool", 18, plain},
		{"People", 8, number}, {"From", 8, plain}, {"Crew stands", 22, plain}, {"Mass (kg)", 9, tenths}, {"Heaviest (kg)", 10, tenths},
		{"Work (person-min)", 12, whole}, {"Lasts (min)", 8, whole}, {"Goes to", 14, plain}, {"Then open to view", 18, plain}, {"Cautions", 34, plain}}, a3, len(steps))
	for _, s := range steps {
		t.add(s.Number, s.Title, strings.Join(s.Elements, ", "), fixingWords(s), s.Tool, s.People, s.Access.Words(), s.Standing(), s.MassKg, s.HeaviestKg,
			s.PersonMinutes, s.DurationMinutes, goesTo(s), strings.Join(s.Opens, "; "), strings.Join(s.Cautions, "; "))
	}
	mass, lasts := 0.0, 0
	for _, s := range steps {
		mass += s.MassKg
		lasts += s.DurationMinutes
	}
	t.total("Total", "B", sum{"I", mass, ""}, sum{"K", b.in.Plan.Sequence.PersonMinutes, ""}, sum{"L", lasts, ""})
	t.end()
}

// fixingWords lists what a step undoes: "24 x wood screw 5 mm".
func fixingWords(s strip.Step) string {
	var out []string
	for _, f := range s.Fixings {
		if f.Metres > 0 {
			out = append(out, fmt.Sprintf("%.1f m %s", f.Metres, f.Name))
			continue
		}
		out = append(out, fmt.Sprintf("%d x %s", f.Count, f.Name))
	}
	if len(s.Inside) > 0 {
		out = append(out, fmt.Sprintf("%d sets stay joined until it is down", len(s.Inside)))
	}
	return strings.Join(out, "; ")
}

// goesTo counts where a step's pieces go.
func goesTo(s strip.Step) string {
	var routes []string
	counts := map[string]int{}
	for _, p := range s.Pieces {
		word := string(p.Goes)
		if p.Waste != "" {
			word += " (" + p.Waste + ")"
		}
		if counts[word] == 0 {
			routes = append(routes, word)
		}
		counts[word]++
	}
	for i, r := range routes {
		routes[i] = fmt.Sprintf("%d %s", counts[r], r)
	}
	return strings.Join(routes, ", ")
}

func (b *book) holdsToSign(steps []strip.Step) {
	n := 0
	for _, s := range steps {
		n += len(s.Holds)
	}
	t := b.newTable("Holds to sign", []column{{"Before step", 8, number}, {"Hold", 18, plain}, {"What must be so", 60, plain}, {"Who signs", 16, plain},
		{"Name", 20, toFill}, {"Signed", 18, toFill}, {"Date and time", 14, toFill}}, a4, n)
	for _, s := range steps {
		for _, h := range s.Holds {
			t.add(s.Number, strings.ReplaceAll(h.Kind, "-", " "), h.Text, h.Who, "", "", "")
		}
	}
	t.end()
}

func (b *book) undone(steps []strip.Step) {
	n := 0
	for _, s := range steps {
		n += len(s.Fixings)
	}
	t := b.newTable("Fixings undone", []column{{"Step", 6, number}, {"Fixing", 40, plain}, {"Undo with", 28, plain}, {"Count", 8, whole}, {"Bead (m)", 9, tenths},
		{"Work (person-min)", 12, tenths}, {"Undoing it", 20, plain}, {"Codes", 44, plain}}, a4, n)
	for _, s := range steps {
		for _, f := range s.Fixings {
			t.add(s.Number, f.Name, f.Tool, f.Count, some(f.Metres), f.Minutes, strings.ReplaceAll(string(f.Release), "-", " "), someOf(f.Codes, 24))
		}
	}
	t.end()
}

// some leaves a cell empty where there is none of it.
func some(amount float64) any {
	if amount == 0 {
		return nil
	}
	return amount
}

// someOf lists codes, the first few in full.
func someOf(codes []string, most int) string {
	if len(codes) <= most {
		return strings.Join(codes, ", ")
	}
	return strings.Join(codes[:most], ", ") + fmt.Sprintf(" and %d more", len(codes)-most)
}
