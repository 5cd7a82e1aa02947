package pages

import (
	"crypto/sha256"
	"encoding/hex"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
	"unpick/domain/survey"
)

// stripOut is the strip-out as it stands.
type stripOut struct {
	FitOut    domain.FitOut
	States    []progress.StepState
	Next      *progress.StepState // nil when everything is out
	Pace      progress.Pace
	Left      int // planned minutes of the steps that are left, one after the other
	Forecast  int // the same at the real pace
	Pieces    int // left
	PiecesOut int
	Share     int // of the pieces, out, in hundredths
	Done      []domain.SignOff
	Changes   []string // what of the order that the crew had is not as it was, and why
	Unplanned string
	Basis     survey.Basis

	Changeovers, Alternatives string // how the order was chosen, in words
}

// StripOut lists the steps that are left, the next one first, and what has been done.
func (p *Pages) StripOut(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "strip-out"); answered || err != nil {
		return err
	}
	page := stripOut{FitOut: f}
	w, err := p.jobs.Working(c.Request().Context(), f.Code)
	switch code := domain.CodeOf(err); {
	case code == domain.Cycle || code == domain.Unclean:
		page.Unplanned = err.Error()
	case err != nil:
		return err
	default:
		page.fill(w)
		if page.Basis, err = p.jobs.Survey(c.Request().Context(), f.Code); err != nil {
			return err
		}
	}
	return p.show(c, screen{Name: "stripout", Title: "Strip-out of " + f.Name, FitOut: &f, Here: "strip-out", Data: page})
}

func (s *stripOut) fill(w service.Working) {
	s.States, s.Pace, s.Changes = w.States, w.Pace, w.Changes()
	s.Changeovers, s.Alternatives = w.Sequence().Changeovers.Words(), w.Sequence().Alternatives.Words()
	if next := progress.Next(w.States); next >= 0 {
		s.Next = &w.States[next]
	}
	for _, state := range w.States {
		if state.Done {
			continue
		}
		s.Left += state.Step.DurationMinutes
		if state.Step.Kind == strip.Remove {
			s.Pieces += len(state.Step.Elements)
		}
	}
	s.Forecast = w.Pace.Forecast(s.Left)
	for _, o := range w.Done {
		s.PiecesOut += len(o.About)
	}
	if all := s.Pieces + s.PiecesOut; all > 0 {
		s.Share = s.PiecesOut * 100 / all
	}
	s.Done = slices.Clone(w.Done)
	slices.Reverse(s.Done)
}

// stepPage is one step: what to do, what must be signed first, and the form that ticks it off.
type stepPage struct {
	FitOut   domain.FitOut
	State    progress.StepState
	Left     int    // steps in the plan
	First    string // address of the step that lists what stands before everything
	InTheWay []inTheWay
	Takes    bool
	All      bool // all of its pieces are said to be out
	Ticked   map[string]bool
	Tick     form
	Sign     []form // one for each hold
	Advice   []domain.Advice
	Who      string
}

// Step shows one step of the plan by a piece of it or by its number; one that is done says who did it and when.
func (p *Pages) Step(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page, gone, err := p.step(c, f, nil)
	if err != nil {
		return err
	}
	if gone != nil {
		return p.show(c, screen{Name: "stepdone", Title: "Step " + strconv.Itoa(gone.Number) + ", " + f.Name, FitOut: &f, Here: "strip-out", Data: gone})
	}
	for i := range page.Sign {
		page.Sign[i].fill(nil)
	}
	page.Tick.fill(nil)
	return p.show(c, page.screen())
}

func (s *stepPage) screen() screen {
	return screen{Name: "step", Title: "Step " + strconv.Itoa(s.State.Step.Number) + ": " + s.State.Step.Title, FitOut: &s.FitOut, Here: "strip-out", Data: s}
}

// step is the page of the step that the address names, or that what was sent was typed for; or what is known of one that
// is done with.
func (p *Pages) step(c echo.Context, f domain.FitOut, sent url.Values) (*stepPage, *stepDone, error) {
	ctx := c.Request().Context()
	w, err := p.jobs.Working(ctx, f.Code)
	if err != nil {
		return nil, nil, err
	}
	name := c.Param("step")
	at := stepMeant(w.States, name, sent)
	if at < 0 {
		if gone := doneStep(w.Order(), w.Done, name); gone != nil {
			gone.FitOut = f
			return nil, gone, nil
		}
		return nil, nil, domain.Errorf(domain.NotFound, "no step of the plan is called %.60s: look it up in the list of the strip-out", name)
	}
	s := &stepPage{FitOut: f, State: w.States[at], Left: len(w.States), First: stepAddress(w.States[0].Step), Ticked: map[string]bool{}, Who: auth.Who(ctx).Name}
	if s.Who == nobodyYet {
		s.Who = "" // nobody signs with the program's name
	}
	s.InTheWay = stillInTheWay(w.States, s.State)
	s.Takes = s.State.Step.Kind == strip.Remove
	s.Tick = tickForm(s.State.Step, s.Who)
	for _, h := range s.State.Holds {
		s.Sign = append(s.Sign, signForm(h.Hold, s.Who, mark(s.State.Step)))
	}
	return s, nil, nil
}

// sentStep is the page of the step that a form was typed for. One that is done with takes no form: nothing is lost, since
// nothing of it is left.
func (p *Pages) sentStep(c echo.Context, f domain.FitOut, sent url.Values) (*stepPage, error) {
	page, gone, err := p.step(c, f, sent)
	if err == nil && gone != nil {
		return nil, domain.Errorf(domain.Stale, "step %d is no longer in the plan: nothing was saved; see on its page what became of it", gone.Number)
	}
	return page, err
}

func tickForm(step strip.Step, who string) form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/minutes", Label: "Minutes it really took", Kind: number, Most: 100_000, Required: true, Help: "Planned: " + strconv.Itoa(step.DurationMinutes)},
		{Name: "/people", Label: "People who did it", Kind: number, Most: 1000, Help: "Planned: " + strconv.Itoa(step.People)},
		{Name: "/by", Label: "Done by", Kind: words, Required: true, Value: who},
		{Name: "/found", Label: "Found different", Kind: lines, Help: "A stripped screw, a split stud, a fixing nobody knew of: it counts for the next steps and for the salvage"},
	}}}}
}

// adviceGroup asks why advice is not followed.
func adviceGroup() group {
	return group{Legend: "It is so all the same", Note: "What is said above speaks against it. If it is out all the same, tick this and say how that came about.", Fields: []field{
		{Name: "/accept_advice", Label: "I have seen this. It is so all the same", Kind: tick},
		{Name: "/reason", Label: "How it came about", Kind: lines, Help: "In a few words: the log keeps them"},
	}}
}

func signForm(h strip.Hold, who, marked string) form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/hold", Kind: hidden, Value: h.Kind},
		{Name: "/step", Kind: hidden, Value: marked},
		{Name: "/by", Label: "Signed by", Kind: words, Required: true, Value: who},
		{Name: "/role", Label: "As", Kind: words, Value: h.Who},
		{Name: "/note", Label: "Certificate, reference or note", Kind: words},
	}}}}
}

// TickOff takes the ticked pieces out of the register as done.
func (p *Pages) TickOff(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	if sent.Get("/accept_advice") == "" {
		sent.Del("/accept_advice")
	}
	all := sent.Get("/all") != ""
	if all {
		sent["/elements"] = sent["/listed"]
	}
	page, err := p.sentStep(c, f, sent)
	if err != nil {
		return err
	}
	work, err := doneFrom(&page.Tick, sent, page.State.Step)
	if err == nil {
		_, err = p.jobs.TickOff(ctx, auth.Who(ctx), f.Code, work, consentFrom(sent))
	}
	if err == nil {
		return done(c, at(f.Code, "strip-out"))
	}
	page.All = all
	for _, code := range sent["/elements"] {
		page.Ticked[code] = !all
	}
	if domain.CodeOf(err) == domain.Refused || sent.Has("/reason") {
		page.Tick.Groups = append(page.Tick.Groups, adviceGroup())
	}
	page.Tick.fill(sent)
	page.Tick.blame(err, "")
	for i := range page.Sign {
		page.Sign[i].fill(nil)
	}
	return p.refuse(c, err, page.screen())
}

// doneFrom reads the form of a step that was done.
func doneFrom(f *form, sent url.Values, step strip.Step) (progress.Done, error) {
	f.fill(sent)
	if _, err := f.JSON(); err != nil {
		return progress.Done{}, err
	}
	d := progress.Done{What: step.Title, Elements: sent["/elements"], Found: sent.Get("/found"), By: sent.Get("/by"), PlannedMinutes: step.DurationMinutes}
	if len(d.Elements) < len(step.Elements) { // a part of the step has a part of its minutes
		d.PlannedMinutes = step.DurationMinutes * len(d.Elements) / max(len(step.Elements), 1)
	}
	var faults domain.Errors
	for _, figure := range []struct {
		name string
		into *int
	}{{"/minutes", &d.Minutes}, {"/people", &d.People}} {
		n, err := f.whole(figure.name)
		faults = append(faults, faultsOf(err)...)
		*figure.into = n
	}
	return d, faults.OrNil()
}

// consentFrom is what a form says to advice.
func consentFrom(sent url.Values) service.Consent {
	return service.Consent{Accept: sent.Get("/accept_advice") != "", Reason: sent.Get("/reason")}
}

// nobodyYet is what the log calls a person who has given no name.
const nobodyYet = "local"

// mark stands for a step as it was read: what is signed is this step or nothing.
func mark(s strip.Step) string {
	sum := sha256.Sum256([]byte(s.Title + "\n" + strings.Join(s.Elements, "\n")))
	return hex.EncodeToString(sum[:8])
}

// SignHold puts a name under one hold of a step.
func (p *Pages) SignHold(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.sentStep(c, f, sent)
	if err != nil {
		return err
	}
	which := slices.IndexFunc(page.State.Holds, func(h progress.HoldState) bool { return h.Kind == sent.Get("/hold") })
	if which < 0 {
		return domain.Errorf(domain.NotFound, "step %d has no such hold now: load the page again", page.State.Step.Number)
	}
	if sent.Get("/step") != mark(page.State.Step) {
		return domain.Errorf(domain.Stale, "the order has changed since this page was read, and step %d is not as it was: nothing was signed; read the step again and sign there", page.State.Step.Number)
	}
	met := progress.Met{Hold: page.State.Holds[which].Hold, About: page.State.Step.Elements, By: sent.Get("/by"), Role: sent.Get("/role"), Note: sent.Get("/note")}
	if _, err = p.jobs.SignHold(ctx, auth.Who(ctx), f.Code, met); err == nil {
		return done(c, at(f.Code, "strip-out", stepAddress(page.State.Step)))
	}
	page.Tick.fill(nil)
	for i := range page.Sign {
		page.Sign[i].fill(nil)
	}
	page.Sign[which].fill(sent)
	page.Sign[which].blame(err, "")
	return p.refuse(c, err, page.screen())
}
