package pages

import (
	"errors"
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// Refused is a page that answers a form that was not taken: everything typed is in it, with the faults beside their
// fields. It travels as an error, so that nothing the form began is kept, its key included.
type Refused struct {
	Status int
	HTML   []byte
}

// Error says that a form was not taken.
func (r *Refused) Error() string { return "the form was not taken" }

// refuse draws the form again. What no person may be told goes on as it is.
func (p *Pages) refuse(c echo.Context, err error, s screen) error {
	if !toldToPerson(err) {
		return err
	}
	html, drawing := p.draw(c, s)
	if drawing != nil {
		return drawing
	}
	status := http.StatusUnprocessableEntity
	if domain.CodeOf(err) == domain.Stale {
		status = http.StatusPreconditionFailed
	}
	return &Refused{status, html}
}

// toldToPerson reports whether an error says something that mending what was typed can answer.
func toldToPerson(err error) bool {
	return slices.Contains([]domain.Code{domain.Invalid, domain.Exists, domain.Refused, domain.Stale, domain.NotFound, domain.TooLarge, domain.Cycle}, domain.CodeOf(err))
}

// faultsOf are the sentences of an error, each with its place.
func faultsOf(err error) []*domain.Error {
	if many, ok := errors.AsType[domain.Errors](err); ok {
		return many
	}
	if one, ok := errors.AsType[*domain.Error](err); ok {
		return []*domain.Error{one}
	}
	return nil
}

// done sends the browser on to a page once a form was taken. A script that sends forms itself asks for less (RFC 7240):
// it wants to know where to go, not to be given the page.
func done(c echo.Context, to string) error {
	if c.Request().Header.Get("Prefer") == "return=minimal" {
		c.Response().Header().Set("Location", to)
		return c.NoContent(http.StatusNoContent)
	}
	return c.Redirect(http.StatusSeeOther, to)
}
