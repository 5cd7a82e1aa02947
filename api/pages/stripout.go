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
	Last      *domain.SignOff  // work ticked off last, nil where none is
	Signed    []domain.SignOff // holds in force, the newest first
	Stops     []domain.Advice  // what nobody goes on or under: nothing holds it any more
	Supports  []standing       // temporary support that is in
	Changes   []string         // what of the order that the crew had is not as it was, and why
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
	switch {
	case domain.Unplannable(err):
		page.Unplanned = err.Error()
	case err != nil:
		return err
	default:
		page.fill(w)
		page.Supports = supports(w.Supports, signer(c))
		if page.Basis, err = p.jobs.Survey(c.Request().Context(), f.Code); err != nil {
			return err
		}
	}
	return p.show(c, page.screen())
}

// standing is temporary support that is in, with the form that says it is out again once it may be.
type standing struct {
	progress.Support
	Form form
}

// supports are the temporary supports that stand, each with its form.
func supports(all []progress.Support, who string) []standing {
	var out []standing
	for _, s := range all {
		f := signForm(s.Struck(), who, "")
		f.fill(nil)
		out = append(out, standing{s, f})
	}
	return out
}

// StrikeSupport signs that temporary support is out again.
func (p *Pages) StrikeSupport(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	w, err := p.jobs.Working(ctx, f.Code)
	if err != nil {
		return err
	}
	page := stripOut{FitOut: f}
	page.fill(w)
	page.Supports = supports(w.Supports, signer(c))
	if page.Basis, err = p.jobs.Survey(ctx, f.Code); err != nil {
		return err
	}
	which := slices.IndexFunc(page.Supports, func(s standing) bool { return s.Signed.Code == c.Param("signed") })
	if which < 0 {
		return domain.Errorf(domain.NotFound, "no temporary support that stands was signed as %.60s: look at the strip-out again", c.Param("signed"))
	}
	s := &page.Supports[which]
	met := progress.Met{Hold: s.Struck(), About: s.Pieces, By: sent.Get("/by"), Role: sent.Get("/role"), Note: sent.Get("/note")}
	if _, err = p.jobs.SignHold(ctx, auth.Who(ctx), f.Code, met); err == nil {
		return done(c, at(f.Code, "strip-out"))
	}
	s.Form.fill(sent)
	s.Form.blame(err, "")
	return p.refuse(c, err, page.screen())
}

func (s *stripOut) screen() screen {
	return screen{Name: "stripout", Title: "Strip-out of " + s.FitOut.Name, FitOut: &s.FitOut, Here: "strip-out", Data: *s}
}

func (s *stripOut) fill(w service.Working) {
	s.States, s.Pace, s.Changes, s.Stops = w.States, w.Pace, w.Changes(), w.Stops
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
	if len(s.Done) > 0 {
		s.Last = &s.Done[0]
	}
	s.Signed = slices.Clone(w.Signed)
	slices.Reverse(s.Signed)
}

// stepPage is one step: what to do, what must be signed first, and the form that ticks it off.
type stepPage struct {
	FitOut   domain.FitOut
	State    progress.StepState
	Left     int         // steps in the plan
	First    *strip.Step // the first with what stands before everything and nobody has signed, nil for none
	InTheWay []inTheWay
	Takes    bool
	Strikes  bool // takes temporary support away
	All      bool // all of its pieces are said to be out
	Ticked   map[string]bool
	Tick     form
	Sign     []form       // one for each hold
	Against  *against     // why it should not be ticked off yet, nil until somebody tries
	Besides  []typedPiece // that were ticked and are not in the step now
	Lost     *typed       // a signature under a hold that the step does not have now
	Who      string

	working service.Working
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
		return p.show(c, gone.screen())
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
	s := &stepPage{FitOut: f, State: w.States[at], Left: len(w.States), Ticked: map[string]bool{}, Who: signer(c), working: w}
	if i := progress.Signing(w.States); i >= 0 {
		s.First = &w.States[i].Step
	}
	s.InTheWay = stillInTheWay(w.States, s.State)
	s.Takes, s.Strikes = s.State.Step.Kind == strip.Remove, s.State.Step.Kind == strip.StrikeProp
	s.Tick = tickForm(s.State.Step, s.Who)
	for _, h := range s.State.Holds {
		s.Sign = append(s.Sign, signForm(h.Hold, s.Who, mark(s.State.Step)))
	}
	return s, nil, nil
}

func tickForm(step strip.Step, who string) form {
	minutes := field{Name: "/minutes", Label: "Minutes it really took", Kind: number, Required: true}
	people := field{Name: "/people", Label: "People who did it", Kind: number}
	if step.Number > 0 {
		minutes.Help, people.Help = "Planned: "+strconv.Itoa(step.DurationMinutes), "Planned: "+strconv.Itoa(step.People)
	}
	return form{Groups: []group{{Fields: []field{
		minutes, people,
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

// roleIn is what a form says that the one who signs is: a tick where only one answer will do.
func roleIn(sent url.Values, h strip.Hold) string {
	if !progress.ByStanding(h) {
		return sent.Get("/role")
	}
	if sent.Get("/role") == "yes" {
		return h.Who
	}
	return ""
}

func signForm(h strip.Hold, who, marked string) form {
	as := field{Name: "/role", Label: "As", Kind: words, Value: h.Who}
	if progress.ByStanding(h) {
		as = field{Name: "/role", Label: "The one who signs is a " + h.Who, Kind: tick, Help: "Nobody else signs this"}
	}
	return form{Groups: []group{{Fields: []field{
		{Name: "/hold", Kind: hidden, Value: h.Kind},
		{Name: "/step", Kind: hidden, Value: marked},
		{Name: "/by", Label: "Signed by", Kind: words, Required: true, Value: who},
		as,
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
	page, gone, err := p.step(c, f, sent)
	if err != nil || gone != nil {
		return p.lostStep(c, f, gone, err, tickTyped(c, signer(c), sent))
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
	page.Besides = elsewhere(page.working, page.State.Step, sent["/elements"])
	page.Against = againstOf(page.working.States, work.Elements, err)
	if page.Against != nil || sent.Has("/reason") {
		page.Tick.Groups = append(page.Tick.Groups, adviceGroup())
	}
	page.Tick.fill(sent)
	if page.Against != nil {
		page.Tick.blame(consentFaults(err), "")
	} else {
		page.Tick.blame(err, "")
	}
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
	page, gone, err := p.step(c, f, sent)
	if err != nil || gone != nil {
		return p.lostStep(c, f, gone, err, signTyped(c, signer(c), "", sent))
	}
	step := page.State.Step
	which := slices.IndexFunc(page.State.Holds, func(h progress.HoldState) bool { return h.Kind == sent.Get("/hold") })
	switch {
	case which < 0:
		err = domain.Errorf(domain.Stale, "step %d has no such hold now: nothing was signed", step.Number)
	case sent.Get("/step") != mark(step):
		err = domain.Errorf(domain.Stale, "step %d is not as it was when this was read: nothing was signed; read it again, then sign", step.Number)
	default:
		met := progress.Met{Hold: page.State.Holds[which].Hold, About: step.Elements, By: sent.Get("/by"), Role: roleIn(sent, page.State.Holds[which].Hold), Note: sent.Get("/note")}
		_, err = p.jobs.SignHold(ctx, auth.Who(ctx), f.Code, met)
	}
	if err == nil {
		return done(c, at(f.Code, "strip-out", stepAddress(step)))
	}
	page.Tick.fill(nil)
	for i := range page.Sign {
		page.Sign[i].fill(nil)
	}
	if which < 0 {
		lost := signTyped(c, page.Who, mark(step), sent)
		lost.Form.blame(err, "")
		page.Lost = &lost
		return p.refuse(c, err, page.screen())
	}
	page.Sign[which].fill(sent)
	page.Sign[which].nearest("/step").Value = mark(step) // sent again it is for the step as it is now
	page.Sign[which].blame(err, "")
	return p.refuse(c, err, page.screen())
}
