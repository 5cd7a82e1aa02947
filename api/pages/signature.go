package pages

import (
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/progress"
)

// signaturePage is something that was signed, what taking it back does, and the form that does.
type signaturePage struct {
	FitOut  domain.FitOut
	Signed  service.Signature
	Heading string
	Facts   []fact
	About   []fact
	More    int // of what it is about, not shown
	Work    bool
	Then    []string // what goes back with work
	Rests   []fact   // what came later and rests on it
	Never   string   // why it cannot be taken back in any case
	Asked   bool     // the form was sent and comes back
	Form    form
	Post    string
}

func (s *signaturePage) screen() screen {
	return screen{Name: "signature", Title: s.Heading + ", " + s.FitOut.Name, FitOut: &s.FitOut, Here: "strip-out", Data: s}
}

// Open reports whether the form stands there: not before what rests on work is taken back, unless somebody has typed in it.
func (s *signaturePage) Open() bool {
	return s.Signed.Back == nil && s.Never == "" && s.Signed.Withdraws == "" && (s.Asked || !s.Work || len(s.Rests) == 0)
}

// signatureAddress is where a signature is shown and taken back.
func signatureAddress(fitOut, code string) string { return at(fitOut, "strip-out", "signed", code) }

// Signature shows something that was signed.
func (p *Pages) Signature(c echo.Context) error {
	page, err := p.signature(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// TakeBack takes it back. What is refused comes back with what was typed, beside how it stands now.
func (p *Pages) TakeBack(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.signature(c)
	if err != nil {
		return err
	}
	fresh := page.Form.nearest("/version").Value
	page.Asked = true
	page.Form.fill(sent)
	_, err = page.Form.JSON()
	if err == nil {
		was, wrong := strconv.Atoi(sent.Get("/version"))
		if wrong != nil {
			was = 0 // none: it is stale
		}
		back := progress.Withdrawal{Code: page.Signed.Code, By: strings.TrimSpace(sent.Get("/by")), Role: sent.Get("/role"), Why: strings.TrimSpace(sent.Get("/reason"))}
		_, err = p.jobs.TakeBack(ctx, whoIs(ctx), page.FitOut.Code, was, back, sent.Get("/accept_advice") != "")
	}
	if err == nil && page.Work {
		about := page.Signed.About
		return done(c, at(page.FitOut.Code, "strip-out", "out-"+about[len(about)-1]))
	}
	if err == nil {
		return done(c, page.Post)
	}
	page.Form.nearest("/version").Value = fresh
	page.Form.blame(withoutRests(err, page.Rests), "")
	return p.refuse(c, err, page.screen())
}

// withoutRests is an error without the sentences that the page has in its list already.
func withoutRests(err error, rests []fact) error {
	var out domain.Errors
	for _, fault := range faultsOf(err) {
		listed := false
		for _, rest := range rests {
			listed = listed || strings.HasPrefix(fault.Text, rest.Text+": ")
		}
		if !listed {
			out = append(out, fault)
		}
	}
	return out
}

func (p *Pages) signature(c echo.Context) (*signaturePage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	code, _, err := param(c, "signed", "")
	if err != nil {
		return nil, err
	}
	s, err := p.jobs.Signature(c.Request().Context(), f.Code, code)
	if err != nil {
		return nil, err
	}
	page := &signaturePage{FitOut: f, Signed: s, Work: s.Kind == domain.WorkDone, Post: signatureAddress(f.Code, code), Heading: signedWords[s.Kind] + ": " + s.What}
	if s.Withdraws != "" {
		page.Heading = "Taken back: " + s.Withdraws
	}
	if s.Refused != nil {
		if !toldToPerson(s.Refused) {
			return nil, s.Refused
		}
		page.Never = s.Refused.Error()
	}
	if s.Kind == domain.HoleAgreed || s.Kind == domain.HoleDisputed {
		page.Never = "An answer on a walk-round is taken back there, by the party that gave it."
	}
	page.known(s.SignOff)
	l := look{r: s.Register, index: s.Register.Index(), fitOut: f}
	for i, code := range s.About {
		if i == mostInPart {
			page.More = len(s.About) - mostInPart
			break
		}
		page.About = append(page.About, fact{Text: l.named(code), Link: l.address(code)})
	}
	for _, rest := range s.Rests {
		shown := fact{Text: rest.Text, Link: l.address(rest.Record)}
		if rest.SignOff != "" {
			shown.Link = signatureAddress(f.Code, rest.SignOff)
		}
		page.Rests = append(page.Rests, shown)
	}
	for _, then := range []struct {
		n               int
		one, many, what string
	}{
		{len(s.Changes.Elements), "piece is", "pieces are", " up again"}, {len(s.Changes.Fixings), "set of fixings is", "sets of fixings are", " in again"},
		{len(s.Changes.Holes), "set of holes is", "sets of holes are", " in use again"},
	} {
		if then.n > 0 {
			page.Then = append(page.Then, plural(then.n, then.one, then.many)+then.what)
		}
	}
	page.Form = takeBackForm(s, signer(c), !page.Work && len(page.Rests) > 0)
	return page, nil
}

// signedWords say what a signature was for.
var signedWords = map[domain.SignOffKind]string{
	domain.WorkDone: "Ticked off", domain.HoldMet: "Signed", domain.ClosedUp: "Closed up", domain.Photographed: "Photographed", domain.MadeGood: "Signed",
	domain.PieceFound: "Found", domain.WasteAssessed: "Assessed", domain.HoleAgreed: "Agreed", domain.HoleDisputed: "Disputed", domain.NoticeGiven: "Recorded",
}

func (s *signaturePage) known(o domain.SignOff) {
	add := func(label, text string) {
		if text != "" {
			s.Facts = append(s.Facts, fact{Label: label, Text: text})
		}
	}
	who := o.By
	if o.Role != "" {
		who += ", " + o.Role
	}
	add("By", who)
	add("On", day(o.On))
	if o.Withdraws != "" {
		add("Why", o.What)
	}
	if o.Minutes > 0 {
		add("Took", hours(o.Minutes)+", planned "+hours(o.PlannedMinutes))
	}
	add("How", o.How)
	add("Note", o.Note)
	add("Signature", o.Code)
}

func takeBackForm(s service.Signature, who string, advised bool) form {
	fields := []field{
		{Name: "/version", Kind: hiddenInt, Value: strconv.Itoa(s.Version)},
		said("/by", "Taken back by", "Your name is your signature").as(who).must(), said("/role", "As", ""),
		field{Name: "/reason", Label: "Why", Kind: lines, Help: "The log keeps it: the wrong step, another building's certificate"}.must(),
	}
	if advised {
		fields = append(fields, field{Name: "/accept_advice", Label: "The work was done, and this does not hold all the same", Kind: tick})
	}
	return form{Groups: []group{{Fields: fields}}}
}
