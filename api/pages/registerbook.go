package pages

import (
	"errors"
	"io"
	"net/http"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

// bookPage sends the register's workbook back: shown first, stored with a second touch.
type bookPage struct {
	FitOut domain.FitOut
	Edits  *service.BookEdits
	Stored bool
	Faults []string
	Form   form
}

func bookForm() form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/book", Label: "The workbook, .xlsx", Kind: upload, Accept: ".xlsx", Required: true, Help: "A browser does not keep a file: choose it again to store it"},
		yes("/store", "Store it", "Without the tick it is only shown what would change"),
	}}}}
}

func (page *bookPage) screen() screen {
	return screen{Name: "registerbook", Title: "The register as a workbook, " + page.FitOut.Name, FitOut: &page.FitOut, Here: "register", Data: page}
}

// RegisterBook offers the workbook and takes one back.
func (p *Pages) RegisterBook(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page := &bookPage{FitOut: f, Form: bookForm()}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// TakeRegisterBook shows what a workbook says anew, or stores all of it.
func (p *Pages) TakeRegisterBook(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page := &bookPage{FitOut: f, Form: bookForm()}
	page.Form.fill(nil)
	content, err := bookFrom(c)
	store := c.FormValue("/store") != ""
	if err == nil {
		page.Edits, err = p.jobs.TakeRegisterBook(ctx, whoIs(ctx), f.Code, content, !store)
	}
	if err != nil {
		for _, fault := range faultsOf(err) {
			page.Faults = append(page.Faults, fault.Error())
		}
		return p.refuse(c, err, page.screen())
	}
	page.Stored = store
	return p.show(c, page.screen())
}

// bookFrom is the workbook that was sent.
func bookFrom(c echo.Context) ([]byte, error) {
	header, err := c.FormFile("/book")
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return nil, domain.FieldErrorf(domain.Invalid, "/book", "choose the workbook first")
	}
	if err != nil {
		return nil, err
	}
	if header.Size > service.MostBookBytes {
		return nil, domain.FieldErrorf(domain.TooLarge, "/book", "the file is larger than %d MB: it is not read", service.MostBookBytes>>20)
	}
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, service.MostBookBytes+1))
}
