package pages

import "github.com/labstack/echo/v4"

// FitOuts lists the fit-outs.
func (p *Pages) FitOuts(c echo.Context) error {
	list, err := p.jobs.FitOuts(c.Request().Context(), "", 100)
	if err != nil {
		return err
	}
	return p.show(c, screen{Name: "fitouts", Title: "Fit-outs", Data: list})
}
