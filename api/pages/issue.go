package pages

import (
	"fmt"
	"io"
	"strconv"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// issuePage is one issue: what it is, what changed, and, for the schedule, what stands between the parties.
type issuePage struct {
	FitOut   domain.FitOut
	Issue    service.Issued
	Standing *service.Standing // of the schedule; nil for other documents
	Back     *form             // reads a workbook that came back
	Link     *form             // makes a link
	Links    []linkShown
	Made     string // the address of the link that was just made, with its secret
}

type linkShown struct {
	service.Link
	Open bool
	Days int
}

func backForm() *form {
	return &form{Groups: []group{{Fields: []field{
		{Name: "/file", Label: "The workbook as it came back", Kind: upload, Accept: ".xlsx", Required: true, Help: fmt.Sprintf(".xlsx of at most %d MB. It is read first and shown; nothing is taken yet.", service.MostReturned>>20)},
		{Name: "/party", Label: "Whose answers to take from it", Kind: choice, Options: []option{{string(answer.Landlord), "the landlord’s"}, {string(answer.Tenant), "the tenant’s"}}},
	}}}}
}

func linkForm() *form {
	return &form{Groups: []group{{Fields: []field{
		{Name: "/made_for", Label: "Whom it is for", Kind: words, Required: true, Help: "A name and a firm: kept with every answer that comes by it"},
		{Name: "/days", Label: "Opens for", Unit: "days", Kind: number, Required: true, Least: 1, Most: service.MostLinkDays, Value: "28", Help: fmt.Sprintf("At most %d", service.MostLinkDays)},
	}}}}
}

// Issue shows one issue.
func (p *Pages) Issue(c echo.Context) error {
	page, err := p.issuePage(c)
	if err != nil {
		return err
	}
	return p.show(c, page.screen())
}

func (page *issuePage) screen() screen {
	return screen{Name: "issue", Title: fmt.Sprintf("Issue %d of %s", page.Issue.Number, page.Issue.Title), FitOut: &page.FitOut, Here: "issues", Data: page}
}

func (p *Pages) issuePage(c echo.Context) (*issuePage, error) {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	document, number, err := issueNamed(c)
	if err != nil {
		return nil, err
	}
	page := &issuePage{FitOut: f}
	if page.Issue, err = p.jobs.IssueOf(ctx, f.Code, document, number); err != nil || document != issue.Reinstatement {
		return page, err
	}
	standing, err := p.jobs.Standing(ctx, f.Code, document, number)
	if err != nil {
		return nil, err
	}
	links, err := p.jobs.Links(ctx, f.Code, document, number)
	if err != nil {
		return nil, err
	}
	for _, l := range links {
		page.Links = append(page.Links, linkShown{l, p.jobs.LinkIsOpen(l), p.jobs.LinkDays(l)})
	}
	page.Standing, page.Back, page.Link = &standing, backForm(), linkForm()
	page.Back.fill(nil)
	page.Link.fill(nil)
	page.Link.Key = "" // an answer with a secret in it is not kept
	return page, nil
}

// At is the address of the issue, or of a page below it.
func (page *issuePage) At(more ...string) string {
	return issueAt(page.FitOut.Code, page.Issue.Document, page.Issue.Number, more...)
}

// MakeLink makes a link. Its page shows the secret, once: it is not sent on to another address, where it would lie in a
// history.
func (p *Pages) MakeLink(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.issuePage(c)
	if err != nil {
		return err
	}
	if page.Link == nil {
		return domain.Errorf(domain.NotFound, "%s is not answered by a link", page.Issue.Document)
	}
	page.Link.fill(sent)
	page.Link.Key = ""
	days, err := page.Link.whole("/days")
	token, hash := auth.NewToken()
	if err == nil {
		_, err = p.jobs.MakeLink(ctx, whoIs(ctx), page.FitOut.Code, page.Issue.Document, page.Issue.Number, sent.Get("/made_for"), days, hash)
	}
	if err != nil {
		page.Link.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	if page, err = p.issuePage(c); err != nil {
		return err
	}
	page.Made = c.Scheme() + "://" + c.Request().Host + auth.LinkPath(token)
	c.Response().Header().Set("Cache-Control", "no-store")
	return p.show(c, page.screen())
}

// RevokeLink ends a link for good.
func (p *Pages) RevokeLink(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	document, number, err := issueNamed(c)
	if err != nil {
		return err
	}
	link, err := strconv.ParseInt(c.Param("link"), 10, 64)
	if err != nil {
		return domain.Errorf(domain.NotFound, "there is no such link")
	}
	if err := p.jobs.RevokeLink(ctx, whoIs(ctx), f.Code, document, number, link); err != nil {
		return err
	}
	return done(c, issueAt(f.Code, document, number)+"#links")
}

// ReceiveBack reads a workbook that came back and goes on to what it would say. One that is refused is not kept.
func (p *Pages) ReceiveBack(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.issuePage(c)
	if err != nil {
		return err
	}
	if page.Back == nil {
		return domain.Errorf(domain.NotFound, "%s is not answered item by item", page.Issue.Document)
	}
	page.Back.fill(sent)
	party := answer.Party(sent.Get("/party"))
	content, err := backFrom(c)
	if err == nil {
		var read service.Read
		if read, err = p.jobs.Receive(ctx, whoIs(ctx), page.FitOut.Code, page.Issue.Document, page.Issue.Number, party, content); err == nil {
			return done(c, page.At("returned", read.SHA256)+"?party="+string(party))
		}
	}
	for _, fault := range faultsOf(err) {
		page.Back.Faults = append(page.Back.Faults, fault.Error())
	}
	return p.refuse(c, err, page.screen())
}

// backFrom is the workbook that a form sends; one that is too large is not read.
func backFrom(c echo.Context) ([]byte, error) {
	header, err := c.FormFile("/file")
	if err != nil || header.Size == 0 {
		return nil, domain.FieldErrorf(domain.Invalid, "", "no file was chosen: choose the workbook that came back")
	}
	if header.Size > service.MostReturned {
		return nil, domain.Errorf(domain.TooLarge, "the file has %.1f MB, and the most that is taken is %d MB", float64(header.Size)/(1<<20), service.MostReturned>>20)
	}
	file, err := header.Open()
	if err != nil {
		return nil, fmt.Errorf("opening an uploaded workbook: %w", err)
	}
	defer file.Close()
	content, err := io.ReadAll(file)
	if err != nil {
		return nil, fmt.Errorf("reading an uploaded workbook: %w", err)
	}
	return content, nil
}
