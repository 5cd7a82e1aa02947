package pages

import (
	"fmt"
	"strconv"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
)

// returnedPage is what a workbook that came back would say, before any of it is taken.
type returnedPage struct {
	FitOut domain.FitOut
	Issue  service.Issued
	Read   service.Read
	Key    string
	Faults []string
	By     field // who filled it in
}

// At is the address that takes it.
func (page returnedPage) At(more ...string) string {
	return issueAt(page.FitOut.Code, page.Issue.Document, page.Issue.Number, more...)
}

// Money words a figure.
func (page returnedPage) Money(minor *int64) string {
	if minor == nil {
		return ""
	}
	return domain.FormatMoney(*minor, page.Issue.Currency)
}

func (page returnedPage) screen() screen {
	return screen{Name: "returned", Title: fmt.Sprintf("Came back: issue %d of %s", page.Issue.Number, page.Issue.Title), FitOut: &page.FitOut, Here: "issues", Data: page}
}

// Meaning is what the statement at a place comes to, in words.
func (page returnedPage) Meaning(i int) string { return page.Read.Means[i] }

// Returned shows what would be taken.
func (p *Pages) Returned(c echo.Context) error {
	page, err := p.returned(c, partyOf(c.QueryParams()))
	if err != nil {
		return err
	}
	return p.show(c, page.screen())
}

func (p *Pages) returned(c echo.Context, party answer.Party) (returnedPage, error) {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return returnedPage{}, err
	}
	document, number, err := issueNamed(c)
	if err != nil {
		return returnedPage{}, err
	}
	page := returnedPage{FitOut: f}
	if page.Issue, err = p.jobs.IssueOf(ctx, f.Code, document, number); err != nil {
		return page, err
	}
	page.Key, _ = newKey()
	page.By = speaking(c, party)
	page.Read, err = p.jobs.ReadAgain(ctx, f.Code, document, number, party, c.Param("sum"))
	return page, err
}

// TakeReturned takes all of it, or nothing.
func (p *Pages) TakeReturned(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.returned(c, partyOf(sent))
	if err != nil {
		return err
	}
	seen, err := strconv.Atoi(sent.Get("seen"))
	if err != nil {
		seen = -1 // which is stale
	}
	by, err := page.By.spoken(sent)
	if err != nil {
		return p.refuse(c, err, page.screen())
	}
	if _, err = p.jobs.Take(ctx, whoIs(ctx), page.FitOut.Code, page.Issue.Document, page.Issue.Number, page.Read.Party, by, page.Read.SHA256, seen, sent.Get("asked") != ""); err == nil {
		return done(c, page.At("answers"))
	}
	for _, fault := range faultsOf(err) {
		page.Faults = append(page.Faults, fault.Error())
	}
	return p.refuse(c, err, page.screen())
}
