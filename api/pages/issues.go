package pages

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// issuesPage is everything that was sent, and the form that sends the next.
type issuesPage struct {
	FitOut domain.FitOut
	Issues []issue.Issue // the newest first
	Form   *form
	Scope  string // how much of the works the next is for, in words; "" for all of them
	Query  string // the same, in the address
	NoPlan string
}

// Issues lists what was sent.
func (p *Pages) Issues(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "issues"); answered || err != nil {
		return err
	}
	page, err := p.issuesPage(c, f)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	if name := c.QueryParam("document"); name != "" {
		page.Form.nearest("/document").Value = name
	}
	return p.show(c, page.screen())
}

func (page *issuesPage) screen() screen {
	return screen{Name: "issues", Title: "Issues of " + page.FitOut.Name, FitOut: &page.FitOut, Here: "issues", Data: page}
}

func (p *Pages) issuesPage(c echo.Context, f domain.FitOut) (*issuesPage, error) {
	ctx := c.Request().Context()
	page := &issuesPage{FitOut: f, Query: scopeQuery(scopeIn(c))}
	if page.Query != "" {
		r, err := p.jobs.Register(ctx, f.Code)
		if err != nil {
			return nil, err
		}
		page.Scope = scopeIn(c).Words(r)
	}
	all, err := p.jobs.Issues(ctx, f.Code)
	if err != nil {
		return nil, err
	}
	for i := range all {
		page.Issues = append(page.Issues, all[len(all)-1-i])
	}
	if _, _, err := p.jobs.Plan(ctx, f.Code); domain.Unplannable(err) {
		page.NoPlan = err.Error()
	} else if err != nil {
		return nil, err
	}
	docs, err := p.jobs.Issueable(ctx, f.Code)
	if err != nil {
		return nil, err
	}
	var names []option
	for _, d := range docs {
		names = append(names, option{d.Name, d.Title})
		if d.Name == issue.Reinstatement {
			names[0], names[len(names)-1] = names[len(names)-1], names[0] // the one that goes out most stands first
		}
	}
	page.Form = &form{Groups: []group{{Fields: []field{
		{Name: "/document", Label: "Document", Kind: choice, Options: names, Required: true},
		{Name: "/to", Label: "Who it goes to", Kind: lines, Required: true, Help: "One name or firm a line"},
		{Name: "/note", Label: "Note", Kind: words, Help: "Printed on the cover"},
	}}}}
	return page, nil
}

// SendIssue issues a document.
func (p *Pages) SendIssue(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	is, err := p.jobs.IssueDocument(ctx, whoIs(ctx), f.Code, sent.Get("/document"), scopeIn(c), issue.Sent{To: strings.Split(sent.Get("/to"), "\n"), Note: sent.Get("/note")})
	if err == nil {
		return done(c, issueAt(f.Code, is.Document, is.Number))
	}
	if domain.CodeOf(err) == domain.Unclean {
		err = domain.Errorf(domain.Refused, "not issued: %v", err)
	}
	page, drawing := p.issuesPage(c, f)
	if drawing != nil {
		return drawing
	}
	page.Form.fill(sent)
	page.Form.blame(err, "")
	return p.refuse(c, err, page.screen())
}

// issueAt is the address of an issue, or of a page below it.
func issueAt(fitOut, document string, number int, more ...string) string {
	return at(fitOut, append([]string{"issues", document, strconv.Itoa(number)}, more...)...)
}

// issueNamed is the document and the number that an address names.
func issueNamed(c echo.Context) (document string, number int, err error) {
	document, text, err := param(c, "name", "number")
	if err != nil {
		return "", 0, err
	}
	number, err = strconv.Atoi(text)
	if err != nil || number < 1 {
		return "", 0, domain.Errorf(domain.NotFound, "there is no issue %.20q of %.60s", text, document)
	}
	return document, number, nil
}

// IssueFile serves an issue's bytes as they were sent.
func (p *Pages) IssueFile(c echo.Context) error { return p.ofIssue(c, p.jobs.IssueFile) }

// IssuePrint serves the print that went out with an issue.
func (p *Pages) IssuePrint(c echo.Context) error { return p.ofIssue(c, p.jobs.IssuePrint) }

// issuedFile answers a file of an issue as it was sent.
type issuedFile func(ctx context.Context, fitOut, document string, number int) (service.Document, []byte, error)

func (p *Pages) ofIssue(c echo.Context, file issuedFile) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	document, number, err := issueNamed(c)
	if err != nil {
		return err
	}
	return sentFile(c, file, f.Code, document, number)
}

func sentFile(c echo.Context, file issuedFile, fitOut, document string, number int) error {
	d, content, err := file(c.Request().Context(), fitOut, document, number)
	if err != nil {
		return err
	}
	h := c.Response().Header()
	h.Set("Content-Disposition", `attachment; filename="`+d.Name+`"`)
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
	return c.Blob(http.StatusOK, d.MediaType, content)
}

// partyOf is whose answers an address or a form is about, the landlord's where it does not say.
func partyOf(sent url.Values) answer.Party {
	if answer.Party(sent.Get("party")) == answer.Tenant {
		return answer.Tenant
	}
	return answer.Landlord
}
