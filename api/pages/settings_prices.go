package pages

import (
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// mostJobs is how many other jobs are offered to take prices from.
const mostJobs = 200

// pricesPage takes the prices of another of the firm's jobs.
type pricesPage struct {
	FitOut domain.FitOut
	Form   form
}

func (page *pricesPage) screen() screen {
	return screen{Name: "pricesof", Title: "Prices of another job, " + page.FitOut.Name, FitOut: &page.FitOut, Here: "settings", Data: page}
}

func (p *Pages) pricesOf(c echo.Context) (*pricesPage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	jobs, err := p.jobs.FitOuts(c.Request().Context(), "", mostJobs)
	if err != nil {
		return nil, err
	}
	var options []option
	for _, j := range jobs {
		if j.Code != f.Code {
			options = append(options, option{j.Code, j.Code + ", " + j.Name})
		}
	}
	page := &pricesPage{FitOut: f}
	if len(options) > 0 {
		page.Form = form{Groups: []group{{Fields: []field{{Name: "/from", Label: "Job", Kind: choice, Options: options, Value: options[0].Value, Required: true, Help: "Its newest price of each thing, with the day since which it holds. What is here since a later day stays"}}}}}
	}
	return page, nil
}

// PricesOf offers the firm's other jobs.
func (p *Pages) PricesOf(c echo.Context) error {
	page, err := p.pricesOf(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// TakePrices takes the prices of one.
func (p *Pages) TakePrices(c echo.Context) error {
	ctx := c.Request().Context()
	page, err := p.pricesOf(c)
	if err != nil {
		return err
	}
	sent, err := page.Form.sent(c)
	if err != nil {
		return err
	}
	if _, err = p.jobs.TakePrices(ctx, whoIs(ctx), page.FitOut.Code, sent.Get("/from")); err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	return done(c, at(page.FitOut.Code, "settings"))
}

// pricedName is what a key of a price list means in words, with the size it names; "" where the key says it by itself.
func pricedName(key string) string {
	c := catalogue.Default()
	of, rest, _ := strings.Cut(key, ":")
	code, size, sized := strings.Cut(rest, "/")
	name := ""
	switch of {
	case "labour-hour":
		name = "an hour of labour"
	case "material":
		name = c.Materials[code].Name
	case "fixing":
		name = c.FixingTypes[code].Name
	case "repair":
		name = c.Repairs[code].AppliesTo
	case "waste":
		return c.WasteCodes[rest].Description
	}
	if name != "" && sized {
		name += ", " + size + " mm"
	}
	return name
}
