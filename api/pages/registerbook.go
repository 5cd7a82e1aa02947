package pages

import (
	"errors"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

// bookPage sends the register's workbook back: shown first, stored with a second touch.
type bookPage struct {
	FitOut domain.FitOut
	Edits  *service.BookEdits
	Stored bool
	Advice []domain.Advice // what there is to say about it
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
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page := &bookPage{FitOut: f, Form: bookForm()}
	page.Form.fill(nil)
	content, err := bookFrom(c)
	store := c.FormValue("/store") != ""
	if err == nil {
		err = p.takeBook(c, page, content, store)
	}
	if errors.Is(err, errAsk) {
		return p.refuse(c, domain.Errorf(domain.Refused, "there is advice on it"), page.screen())
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

// takeBook reads a workbook and stores it where that is asked for. Advice on it comes first: the page takes the answer, and
// stores once just this advice was seen.
func (p *Pages) takeBook(c echo.Context, page *bookPage, content []byte, store bool) error {
	ctx := c.Request().Context()
	take := func(consent service.Consent) (err error) {
		page.Edits, err = p.jobs.TakeRegisterBook(ctx, whoIs(ctx), page.FitOut.Code, content, consent)
		return err
	}
	if err := take(service.Consent{DryRun: true}); err != nil {
		return err
	}
	consent := service.Consent{}
	reason := strings.TrimSpace(c.FormValue("/why"))
	page.Advice = page.Edits.Advice
	if slices.ContainsFunc(page.Advice, func(a domain.Advice) bool { return a.Severity != domain.Note }) {
		asked := askAbout(page.Advice, reason, false)
		why, accept := asked.Reason, field{Name: "/accept", Label: "I have seen the advice: log it all the same", Kind: tick}
		why.Name = "/why"
		if asked.MustSay && reason == "" && c.FormValue("/accept") != "" {
			why.Faults = []string{"say why it is done all the same: the log keeps it"}
		}
		page.Form.Groups[0].Fields = append(page.Form.Groups[0].Fields, field{Name: "/seen", Kind: hidden, Value: asked.Seen}, accept, why)
		consent = service.Consent{Accept: c.FormValue("/accept") != "" && c.FormValue("/seen") == asked.Seen, Reason: reason}
		if store && (!consent.Accept || why.Faults != nil) {
			return errAsk
		}
	}
	if !store {
		return nil
	}
	return take(consent)
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
