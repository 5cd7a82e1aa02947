package pages

import (
	"cmp"
	"fmt"
	"net/url"
	"strings"

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
	By       field // who says it
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
	page.By = speaking(c, party)
	return page, nil
}

// speaking is the field for the name of whoever says something for a party. On the tenant's own device the tenant is known.
func speaking(c echo.Context, party answer.Party) field {
	if party == answer.Landlord {
		return said("/by", "Who says it for the landlord", "The log keeps the name with every answer").must()
	}
	return said("/by", "Who says it for the tenant", "The log keeps the name with every answer").as(signer(c)).must()
}

// spoken is the name that was typed, or the fault of none.
func (f *field) spoken(sent url.Values) (string, error) {
	f.Value = strings.TrimSpace(sent.Get(f.Name))
	if f.Value == "" {
		const wanted = "type the name of who says it: the log keeps it with the answer"
		f.Faults = append(f.Faults, wanted)
		return "", domain.FieldErrorf(domain.Invalid, f.Name, wanted)
	}
	return f.Value, nil
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
	by, nameless := page.By.spoken(sent)
	statements, of, err := page.Form.statements(is.Currency)
	if err = cmp.Or(err, nameless); err == nil {
		if _, err = p.jobs.Answer(ctx, whoIs(ctx), page.FitOut.Code, is.Document, is.Number, page.Form.Party, by, statements); err == nil {
			return done(c, page.At("answers")+"?party="+string(page.Form.Party))
		}
		page.Form.blame(err, of)
	}
	return p.refuse(c, err, page.screen())
}
