package pages

import (
	"bytes"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
)

// labelsPage asks which labels are wanted, and on what.
type labelsPage struct {
	FitOut   domain.FitOut
	Form     form
	register *domain.Register
}

func (l *labelsPage) screen() screen {
	return screen{Name: "labels", Title: "Labels for " + l.FitOut.Name, FitOut: &l.FitOut, Here: "salvage", Data: l}
}

// Labels shows the form.
func (p *Pages) Labels(c echo.Context) error {
	page, err := p.labelsPage(c)
	if err != nil {
		return err
	}
	page.Form.fill(url.Values{"/to": {c.QueryParam("/to")}})
	return p.show(c, page.screen())
}

func (p *Pages) labelsPage(c echo.Context) (*labelsPage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return nil, err
	}
	var sheets []option
	for _, s := range service.LabelSheets() {
		sheets = append(sheets, option{s.Name, s.Words})
	}
	of := []option{{"", "Everything that is kept"}}
	for _, a := range r.Assemblies {
		of = append(of, option{a.Code, strings.TrimSpace(a.Code + " " + a.Name)})
	}
	page := &labelsPage{register: r, FitOut: f, Form: form{Groups: []group{{Fields: []field{
		{Name: "/sheet", Label: "Sheet or label", Kind: suggested, Value: sheets[0].Value, Options: sheets, Help: "One of the list. Any single label: 90x40. A sheet of your own, measured in mm: 63.5x38.1-3x7+7.25+15.15+66+38.1 is size, columns x rows, left, top, then from one edge to the same edge of the next, across and down"},
		{Name: "/first", Label: "Begin at label", Kind: number, Least: 1, Most: mostFigure, Help: "On a sheet that was begun: 5 leaves the first four out"},
		pick("/of", "Which pieces", of, ""),
		{Name: "/pieces", Label: "Or only these", Kind: words, Codes: true, Value: c.QueryParam("piece"), Help: "Codes, with commas between"},
		yes("/outline", "Lines round the labels, to cut by", ""),
	}}}}}
	others, err := p.jobs.Layouts(c.Request().Context(), f.Code)
	if err != nil {
		return nil, err
	}
	if !f.NotBuilt && len(others) > 0 {
		page.askMove(others, c.QueryParams())
	}
	return page, nil
}

// askMove asks for what the pieces become where. The terms of the move come from its page, and nobody types them again.
func (l *labelsPage) askMove(others []domain.FitOut, sent url.Values) {
	to := []option{{"", "Nothing of a move"}}
	for _, other := range others {
		to = append(to, option{other.Code, "What they become in " + other.Name})
	}
	fields := &l.Form.Groups[0].Fields
	*fields = append(*fields, pick("/to", "The next premises", to, "Each label then says which new piece it becomes, how long it is cut, the load and the order of putting up"))
	if sent.Has(typedMark) {
		*fields = append(*fields, field{Name: typedMark, Kind: hidden, Value: sent.Get(typedMark)})
	}
	for _, g := range moveForm(l.FitOut, true).Groups {
		for _, f := range g.Fields {
			if value := sent.Get(f.Name); value != "" {
				*fields = append(*fields, field{Name: f.Name, Kind: hidden, Value: value})
			}
		}
	}
}

// LabelSheet writes the labels that the form asks for, or says beside the field what is wrong with it.
func (p *Pages) LabelSheet(c echo.Context) error {
	ctx := c.Request().Context()
	page, err := p.labelsPage(c)
	if err != nil {
		return err
	}
	sent := c.QueryParams()
	page.Form.fill(sent)
	page.Form.spell(page.register)
	asked, err := p.labelsAsked(c, page, sent)
	var out bytes.Buffer
	if err == nil {
		var d service.Document
		if d, err = p.jobs.Labels(ctx, auth.Who(ctx), page.FitOut.Code, asked); err == nil {
			err = d.Write(&out)
		}
	}
	switch code := domain.CodeOf(err); {
	case err == nil:
		c.Response().Header().Set("Content-Disposition", `inline; filename="labels.pdf"`)
		return c.Blob(http.StatusOK, "application/pdf", out.Bytes())
	case code == domain.Invalid || code == domain.Refused || code == domain.NotFound:
		page.Form.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	return err
}

// labelsAsked reads the form: codes that were typed are stronger than an assembly, and an assembly stands for what of it
// is kept.
func (p *Pages) labelsAsked(c echo.Context, page *labelsPage, sent url.Values) (service.LabelsAsked, error) {
	asked := service.LabelsAsked{Sheet: strings.TrimSpace(sent.Get("/sheet")), Outline: sent.Get("/outline") != "", To: sent.Get("/to")}
	terms, _, err := p.termsForm(c, page.FitOut)
	if err != nil {
		return asked, err
	}
	if asked.Terms, err = termsIn(&terms); err != nil {
		return asked, err
	}
	if asked.First, err = page.Form.whole("/first"); err != nil {
		return asked, err
	}
	for code := range strings.SplitSeq(page.Form.nearest("/pieces").Value, ",") {
		if code = strings.TrimSpace(code); code != "" && !slices.Contains(asked.Pieces, code) {
			asked.Pieces = append(asked.Pieces, code)
		}
	}
	of := sent.Get("/of")
	if len(asked.Pieces) > 0 || of == "" {
		return asked, nil
	}
	all, err := p.jobs.Salvage(c.Request().Context(), page.FitOut.Code)
	if err != nil {
		return asked, err
	}
	for i := range all.Pieces {
		if s := &all.Pieces[i]; s.Assembly == of && s.Kept() {
			asked.Pieces = append(asked.Pieces, s.Code)
		}
	}
	if len(asked.Pieces) == 0 {
		return asked, domain.FieldErrorf(domain.Invalid, "/of", "nothing of %.60s is kept", of)
	}
	return asked, nil
}
