package pages

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// letter is what somebody with a link sees: one issue and nothing else. Its frame has no menu, no script and no way into
// the rest of the program.
type letter struct {
	Link     service.Link
	Token    string
	Days     int
	Premises string
	Tenant   string
	FitOut   string
	Issue    issue.Issue
	Still    []issue.Agreed
	Changes  []issue.Change
	Before   int
	Standing service.Standing
	Form     answering
	Taken    bool
}

// At is the address of the link, or of what lies below it.
func (l letter) At(more ...string) string {
	return auth.LinkPath(l.Token) + strings.Join(append([]string{""}, more...), "/")
}

// Letter shows the issue of a link.
func (p *Pages) Letter(c echo.Context) error {
	l, err := p.letter(c, service.DidRead)
	if err != nil {
		return p.closed(c, err)
	}
	l.Taken = c.QueryParam("taken") != ""
	return p.showLetter(c, http.StatusOK, l)
}

// AnswerLetter takes what the landlord says by a link.
func (p *Pages) AnswerLetter(c echo.Context) error {
	ctx := c.Request().Context()
	link, err := p.jobs.OpenLink(ctx, secretOf(c), c.RealIP())
	if err != nil {
		return p.closed(c, err)
	}
	refused, did := p.answered(c, link), service.DidAnswer
	if refused != nil {
		did = service.DidNotTaken
	}
	if err := p.jobs.Visited(ctx, link, did, c.RealIP()); err != nil {
		return err
	}
	return refused
}

// answered takes an answer that came by a link, or says why not with what was typed.
func (p *Pages) answered(c echo.Context, link service.Link) error {
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	l, err := p.letterOf(c, link)
	if err != nil {
		return p.closed(c, err)
	}
	l.Form.fill(sent)
	statements, of, err := l.Form.statements(l.Issue.Currency)
	if err == nil {
		if _, err = p.jobs.AnswerByLink(c.Request().Context(), l.Link, statements); err == nil {
			sealed(c)
			return c.Redirect(http.StatusSeeOther, "?taken=1") // without the secret: the answer to a form is kept
		}
		if !toldToPerson(err) {
			return err
		}
		l.Form.blame(err, of)
	}
	html, err := p.drawLetter("letter.html", l)
	if err != nil {
		return err
	}
	sealed(c)
	return &Refused{http.StatusUnprocessableEntity, html}
}

// LetterFile serves the document of a link as it was sent.
func (p *Pages) LetterFile(c echo.Context) error { return p.ofLetter(c, p.jobs.IssueFile) }

// LetterPrint serves the print that went out with it.
func (p *Pages) LetterPrint(c echo.Context) error { return p.ofLetter(c, p.jobs.IssuePrint) }

func (p *Pages) ofLetter(c echo.Context, file issuedFile) error {
	l, err := p.visit(c, service.DidFile)
	if err != nil {
		return p.closed(c, err)
	}
	sealed(c)
	return sentFile(c, file, l.FitOut, l.Document, l.Issue)
}

// visit is the link that an address opens; the visit is kept.
func (p *Pages) visit(c echo.Context, did string) (service.Link, error) {
	return p.jobs.Visit(c.Request().Context(), secretOf(c), did, c.RealIP())
}

// secretOf is the hash of the secret in an address, nil where it is none.
func secretOf(c echo.Context) []byte {
	hash, ok := auth.TokenHash(c.Param("token"))
	if !ok {
		return nil
	}
	return hash
}

func (p *Pages) letter(c echo.Context, did string) (letter, error) {
	link, err := p.visit(c, did)
	if err != nil {
		return letter{}, err
	}
	return p.letterOf(c, link)
}

// letterOf is what the page of a link shows.
func (p *Pages) letterOf(c echo.Context, link service.Link) (letter, error) {
	ctx := c.Request().Context()
	l := letter{Link: link, Token: c.Param("token"), Days: p.jobs.LinkDays(link)}
	f, err := p.jobs.FitOut(ctx, link.FitOut)
	if err != nil {
		return l, err
	}
	l.FitOut, l.Premises, l.Tenant = f.Name, f.Premises.Address, f.Tenant
	is, err := p.jobs.IssueOf(ctx, link.FitOut, link.Document, link.Issue)
	if err != nil {
		return l, err
	}
	l.Issue, l.Changes, l.Still, l.Before = is.Issue, is.Changes, is.Still, is.Before
	if l.Standing, err = p.jobs.Standing(ctx, link.FitOut, link.Document, link.Issue); err != nil {
		return l, err
	}
	l.Form = newAnswering(answer.Landlord, l.Standing.Positions, is.Currency)
	return l, nil
}

// sealed keeps an answer out of caches and indexes, and lets it load nothing but our stylesheet.
func sealed(c echo.Context) {
	h := c.Response().Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Robots-Tag", "noindex, nofollow, noarchive")
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
}

func (p *Pages) showLetter(c echo.Context, status int, l letter) error {
	html, err := p.drawLetter("letter.html", l)
	if err != nil {
		return err
	}
	sealed(c)
	return c.HTMLBlob(status, html)
}

// closed is the one answer to every link that opens nothing.
func (p *Pages) closed(c echo.Context, err error) error {
	if domain.CodeOf(err) != domain.NotFound {
		return err
	}
	html, drawing := p.drawLetter("closed.html", nil)
	if drawing != nil {
		return drawing
	}
	sealed(c)
	return c.HTMLBlob(http.StatusNotFound, html)
}

// letterFault says what went wrong to somebody with a link, in the frame that they know.
func (p *Pages) letterFault(c echo.Context, status int, title, detail string) error {
	html, err := p.drawLetter("stopped.html", map[string]string{"Title": title, "Detail": detail})
	if err != nil {
		return err
	}
	sealed(c)
	return c.HTMLBlob(status, html)
}

func (p *Pages) drawLetter(name string, data any) ([]byte, error) {
	var out bytes.Buffer
	if err := p.letters.ExecuteTemplate(&out, name, data); err != nil {
		return nil, fmt.Errorf("drawing the page %s: %w", name, err)
	}
	return out.Bytes(), nil
}
