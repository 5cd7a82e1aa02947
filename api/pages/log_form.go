package pages

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"html/template"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/recipe"
)

// logForm is a page on which something is logged.
type logForm struct {
	FitOut  domain.FitOut
	Entry   entry
	Form    *form
	Preview *service.Preview
	NotYet  []string // why nothing can be drawn yet
	Advice  *adviceAsked
}

// adviceAsked is advice shown before saving, with what was typed about it.
type adviceAsked struct {
	Advice  []domain.Advice
	Choices bool   // the page says what a choice of fixing costs later
	Seen    string // stands for just this advice: other advice is shown anew
	MustSay bool   // some of it stops: why it is not followed is wanted
	Reason  field
	Title   string
	Button  string
}

// Elevation and Plan are drawings for the page, written by the drawing package, which escapes what people typed.
func (f logForm) Elevation() template.HTML { return template.HTML(f.Preview.Elevation) }

// Plan is the plan with what is to be logged in it.
func (f logForm) Plan() template.HTML { return template.HTML(f.Preview.Plan) }

// entryOf is the way of logging that an address names.
func (p *Pages) entryOf(c echo.Context) (*entry, error) {
	name := c.Param("recipe")
	if name == "" {
		parts := strings.Split(c.Path(), "/")
		name = parts[len(parts)-1]
	}
	e := entryBy(name)
	if e == nil || e.Recipe != (c.Param("recipe") != "") {
		return nil, domain.Errorf(domain.NotFound, "there is no way to log %q", name)
	}
	return e, nil
}

// LogForm shows a form, filled in as far as can be known or as it was sent, with the drawing of what it says so far.
// Nothing is stored: it may be asked for on every change.
func (p *Pages) LogForm(c echo.Context) error {
	e, err := p.entryOf(c)
	if err != nil {
		return err
	}
	page, k, err := p.logForm(c, *e, c.QueryParams())
	if err != nil {
		return err
	}
	sent := c.QueryParams().Has("key")
	what, err := e.read(k, page.Form)
	if err == nil {
		page.Preview, err = p.tryOut(c.Request().Context(), page.FitOut.Code, what)
	}
	switch {
	case err != nil && !toldToPerson(err):
		return err
	case err != nil && sent && !swap(c):
		e.blame(page.Form, err)
	}
	if err != nil && sent {
		page.NotYet = sentences(*e, page.Form, err)
	}
	if swap(c) {
		return p.part(c, "log_form", "drawing", page)
	}
	return p.show(c, page.screen())
}

func (f *logForm) screen() screen {
	return screen{Name: "log_form", Title: f.Entry.Title + ", " + f.FitOut.Name, FitOut: &f.FitOut, Here: "log", Data: f}
}

// logForm is the page of an entry with what was sent in it.
func (p *Pages) logForm(c echo.Context, e entry, sent url.Values) (*logForm, known, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, known{}, err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return nil, known{}, err
	}
	k := known{r, sent}
	page := &logForm{FitOut: f, Entry: e}
	if like := sent.Get("like"); like != "" && !sent.Has("key") && e.Again != nil {
		if values := e.Again(k, like); values != nil {
			k.sent = url.Values{}
			for name, value := range values {
				k.sent.Set(name, value)
			}
		}
	}
	page.Form = e.form(k)
	if sent.Has("key") {
		page.Form.fill(sent)
	} else {
		page.Form.fill(nil)
		page.Form.begin(k.sent)
	}
	return page, k, nil
}

// begin puts values into a fresh form by the names of its fields; what is not named keeps what it is filled with.
func (f *form) begin(values url.Values) {
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			if field := &f.Groups[g].Fields[i]; values.Has(field.Name) {
				field.Value = values.Get(field.Name)
			}
		}
	}
}

// tryOut is what a form's entry would make. Nothing is stored.
func (p *Pages) tryOut(ctx context.Context, code string, what entered) (*service.Preview, error) {
	var made service.Preview
	var err error
	if what.assembly != nil {
		made, err = p.jobs.PreviewAssembly(ctx, code, *what.assembly)
	} else {
		made, err = p.jobs.PreviewRecords(ctx, code, what.records, what.drawWith)
	}
	if err != nil {
		return nil, err
	}
	return &made, nil
}

// sentences are the faults of a form in words, each with the label of its field before it.
func sentences(e entry, f *form, err error) []string {
	shown := form{Groups: make([]group, len(f.Groups)), rows: f.rows}
	for i, g := range f.Groups {
		shown.Groups[i] = group{Fields: append([]field(nil), g.Fields...)}
		for j := range shown.Groups[i].Fields {
			shown.Groups[i].Fields[j].Faults = nil
		}
	}
	e.blame(&shown, err)
	out := shown.Faults
	for _, g := range shown.Groups {
		for _, field := range g.Fields {
			for _, fault := range field.Faults {
				out = append(out, field.Label+": "+fault)
			}
		}
	}
	return firstFaults(out)
}

// SaveLog logs what a form says. Advice comes before anything is stored: the form comes back with it, and takes the
// answer. What was typed stays.
func (p *Pages) SaveLog(c echo.Context) error {
	e, err := p.entryOf(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, k, err := p.logForm(c, *e, sent)
	if err != nil {
		return err
	}
	entry, err := p.save(c, page, k, sent)
	if errors.Is(err, errAsk) {
		return p.refuse(c, domain.Errorf(domain.Refused, "there is advice on it"), page.screen())
	}
	if err != nil {
		e.blame(page.Form, err)
		return p.refuse(c, err, page.screen())
	}
	return done(c, at(page.FitOut.Code, "log", "made", strconv.FormatInt(entry, 10)))
}

// errAsk says that advice is to be shown first.
var errAsk = errors.New("advice is to be shown first")

// save stores what a form says, or shows what there is to say about it first.
func (p *Pages) save(c echo.Context, page *logForm, k known, sent url.Values) (int64, error) {
	ctx := c.Request().Context()
	what, err := page.Entry.read(k, page.Form)
	if err != nil {
		return 0, err
	}
	if page.Preview, err = p.tryOut(ctx, page.FitOut.Code, what); err != nil {
		return 0, err
	}
	reason := strings.TrimSpace(sent.Get("/reason"))
	asked := askAbout(page.Preview.Advice, reason, len(page.Preview.Choices) > 0)
	if asked != nil {
		page.Advice = asked
		switch {
		case sent.Get("/accept") != asked.Seen:
			return 0, errAsk
		case asked.MustSay && reason == "":
			asked.Reason.Faults = []string{"say why it is done all the same: the log keeps it"}
			return 0, errAsk
		}
		what.note(reason)
	}
	consent := service.Consent{Accept: asked != nil, Reason: reason}
	who := auth.Who(ctx)
	var logged service.Logged
	if what.assembly != nil {
		logged, err = p.jobs.LogAssembly(ctx, who, page.FitOut.Code, *what.assembly, consent)
	} else {
		logged, err = p.jobs.LogRecords(ctx, who, page.FitOut.Code, what.records, consent)
	}
	return logged.Entry, err
}

// askAbout is what is to be shown before saving; nil where there is nothing to say.
func askAbout(said []domain.Advice, reason string, choices bool) *adviceAsked {
	if len(said) == 0 {
		return nil
	}
	a := &adviceAsked{Advice: said, Choices: choices, Title: "Before it is logged", Button: "Log it all the same"}
	a.Reason = field{Name: "/reason", Label: "Why it is done all the same", Kind: words, Value: reason, Help: "A note for the day when it comes out"}
	sum := sha256.New()
	for _, s := range said {
		sum.Write([]byte(string(s.Severity) + s.Text + "\n"))
		a.MustSay = a.MustSay || s.Severity == domain.Stop || s.Kind == recipe.NotStableAlone
	}
	if a.MustSay {
		a.Reason.Help = "Wanted here: the log keeps it"
		a.Reason.Required = false // the form must be sendable without it; the server asks
	}
	a.Seen = hex.EncodeToString(sum.Sum(nil)[:8])
	return a
}

// note keeps a reason with what is logged, where the day of the strip-out finds it.
func (w *entered) note(reason string) {
	if reason == "" {
		return
	}
	if w.assembly != nil {
		if !strings.Contains(w.assembly.Note, reason) {
			w.assembly.Note = strings.TrimPrefix(w.assembly.Note+"; "+reason, "; ")
		}
		return
	}
	for i := range w.records.Fixings {
		if f := &w.records.Fixings[i]; f.Reason == "" {
			f.Reason = reason
		}
	}
	for i := range w.records.Holes {
		if h := &w.records.Holes[i]; h.Reason == "" && h.Fixing == "" {
			h.Reason = reason
		}
	}
	for i := range w.records.Elements {
		if e := &w.records.Elements[i]; e.Note == "" {
			e.Note = reason
		}
	}
}

func escapeQuery(text string) string { return url.QueryEscape(text) }
