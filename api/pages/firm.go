package pages

import (
	"cmp"
	"context"
	"encoding/json"
	"maps"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
	"unpick/domain/catalogue"
)

// firmPage is what the firm keeps for its next job.
type firmPage struct {
	Currencies []firmCurrency
	Rates      []firmRate
}

// firmCurrency is the newest price of each thing in one currency.
type firmCurrency struct {
	Code   string
	Prices []domain.FirmPrice
}

// firmRate is one of the firm's own minutes beside the trade's.
type firmRate struct {
	domain.OwnRate
	Rate domain.WorkRate
}

// Firm shows the firm's list.
func (p *Pages) Firm(c echo.Context) error {
	l, err := p.jobs.FirmList(c.Request().Context())
	if err != nil {
		return err
	}
	newest := map[string]map[string]domain.FirmPrice{}
	for _, price := range l.Prices { // of two on one day the later given holds
		list := newest[price.Currency]
		if list == nil {
			list = map[string]domain.FirmPrice{}
			newest[price.Currency] = list
		}
		if has, ok := list[price.Key]; !ok || price.Since >= has.Since {
			list[price.Key] = price
		}
	}
	var page firmPage
	for _, code := range slices.Sorted(maps.Keys(newest)) {
		prices := slices.SortedFunc(maps.Values(newest[code]), func(a, b domain.FirmPrice) int { return cmp.Compare(a.Key, b.Key) })
		page.Currencies = append(page.Currencies, firmCurrency{code, prices})
	}
	for _, o := range l.Rates {
		page.Rates = append(page.Rates, firmRate{o, catalogue.Default().WorkRates[o.Key]})
	}
	return p.show(c, screen{Name: "firm", Title: "The firm's list", Data: page})
}

// firmFormPage is one form over the firm's list.
type firmFormPage struct {
	Title, Action, Says string
	Form                form
}

func (page *firmFormPage) screen() screen {
	return screen{Name: "firmform", Title: page.Title, Data: page}
}

// firmPriceForm is the form of a price in the currency that its address names.
func firmPriceForm(c echo.Context) (*firmFormPage, string, error) {
	currency := strings.ToUpper(strings.TrimSpace(c.QueryParam("currency")))
	if !domain.IsCurrency(currency) {
		return nil, "", domain.FieldErrorf(domain.Invalid, "query currency", "%.20q is no currency: go back and give the three capital letters of ISO 4217, like GBP or EUR", currency)
	}
	f := priceForm(&domain.Register{FitOut: domain.FitOut{Currency: currency}, Catalogue: catalogue.Default()})
	return &firmFormPage{"A price in " + currency, "/firm/new-price?" + url.Values{"currency": {currency}}.Encode(), "For the firm's list. Jobs that are open keep their own until they take the list again.", f}, currency, nil
}

// NewFirmPrice shows the form of a price.
func (p *Pages) NewFirmPrice(c echo.Context) error {
	page, _, err := firmPriceForm(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// KeepFirmPrice stores it.
func (p *Pages) KeepFirmPrice(c echo.Context) error {
	ctx := c.Request().Context()
	page, currency, err := firmPriceForm(c)
	if err != nil {
		return err
	}
	if _, err := page.Form.sent(c); err != nil {
		return err
	}
	if err = p.keepFirmPrice(ctx, &page.Form, currency); err != nil {
		page.Form.blame(err, "/prices/0")
		return p.refuse(c, err, page.screen())
	}
	return done(c, "/firm")
}

func (p *Pages) keepFirmPrice(ctx context.Context, f *form, currency string) error {
	text, err := f.JSON()
	if err != nil {
		return err
	}
	said, err := priceFrom(&domain.Register{FitOut: domain.FitOut{Currency: currency}}, nil, text)
	if err != nil {
		return err
	}
	return p.jobs.KeepFirmPrices(ctx, auth.Who(ctx), currency, said.Prices)
}

func (p *Pages) firmRatesForm(c echo.Context) (*firmFormPage, error) {
	l, err := p.jobs.FirmList(c.Request().Context())
	if err != nil {
		return nil, err
	}
	return &firmFormPage{"The firm's own minutes", "/firm/work-rates", "How long a job takes your people. Jobs that are open keep theirs until they take the list again.", ownRates("", l.Rates)}, nil
}

// FirmRates shows the firm's own minutes to be changed.
func (p *Pages) FirmRates(c echo.Context) error {
	page, err := p.firmRatesForm(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// KeepFirmRates stores them, all or none.
func (p *Pages) KeepFirmRates(c echo.Context) error {
	page, err := p.firmRatesForm(c)
	if err != nil {
		return err
	}
	if _, err := page.Form.sent(c); err != nil {
		return err
	}
	var said struct {
		Rates []domain.OwnRate `json:"work_rates"`
	}
	text, err := page.Form.Patch()
	if err == nil {
		if err = json.Unmarshal(text, &said); err != nil {
			err = unfit(err)
		}
	}
	if err == nil {
		err = p.jobs.SetFirmRates(c.Request().Context(), said.Rates)
	}
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	return done(c, "/firm")
}

// UseFirmList takes the firm's list into a fit-out, or keeps the fit-out's in it.
func (p *Pages) UseFirmList(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	switch do := c.FormValue("do"); do {
	case "take":
		_, err = p.jobs.TakeFirmList(ctx, auth.Who(ctx), f.Code)
	case "keep":
		_, err = p.jobs.GiveToFirmList(ctx, auth.Who(ctx), f.Code)
	default:
		err = domain.FieldErrorf(domain.Invalid, "/do", "is %.20q: take, or keep", do)
	}
	if err != nil {
		return err
	}
	if c.FormValue("do") == "keep" {
		return done(c, "/firm")
	}
	return done(c, at(f.Code, "settings")+"#prices")
}
