package pages

import (
	"fmt"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
)

// answersPage is where every item stands, with a form in which one party answers.
type answersPage struct {
	FitOut   domain.FitOut
	Standing service.Standing
	Form     answering
}

// At is the address of the issue, or of a page below it.
func (page *answersPage) At(more ...string) string {
	return issueAt(page.FitOut.Code, page.Standing.Issue.Document, page.Standing.Issue.Number, more...)
}

func (page *answersPage) screen() screen {
	is := page.Standing.Issue
	return screen{Name: "answers", Title: fmt.Sprintf("Answers to issue %d of %s", is.Number, is.Title), FitOut: &page.FitOut, Here: "issues", Data: page}
}

// Answers shows where the items stand.
func (p *Pages) Answers(c echo.Context) error {
	party := answer.Tenant
	if c.QueryParam("party") == string(answer.Landlord) {
		party = answer.Landlord
	}
	page, err := p.answersPage(c, party)
	if err != nil {
		return err
	}
	return p.show(c, page.screen())
}

func (p *Pages) answersPage(c echo.Context, party answer.Party) (*answersPage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	document, number, err := issueNamed(c)
	if err != nil {
		return nil, err
	}
	page := &answersPage{FitOut: f}
	if page.Standing, err = p.jobs.Standing(c.Request().Context(), f.Code, document, number); err != nil {
		return nil, err
	}
	page.Form = newAnswering(party, page.Standing.Positions, page.Standing.Issue.Currency)
	return page, nil
}

// SayAnswers takes what one party says, all of it or nothing.
func (p *Pages) SayAnswers(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.answersPage(c, partyOf(sent))
	if err != nil {
		return err
	}
	page.Form.fill(sent)
	is := page.Standing.Issue
	statements, of, err := page.Form.statements(is.Currency)
	if err == nil {
		if _, err = p.jobs.Answer(ctx, whoIs(ctx), page.FitOut.Code, is.Document, is.Number, page.Form.Party, statements); err == nil {
			return done(c, page.At("answers")+"?party="+string(page.Form.Party))
		}
		page.Form.blame(err, of)
	}
	return p.refuse(c, err, page.screen())
}
