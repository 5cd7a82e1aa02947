package pages

import (
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/lease"
)

// notices is what the tenancy asks for in notices, what was given, and the form that records one.
type notices struct {
	FitOut domain.FitOut
	Given  []noticeShown
	Last   []lease.Date // the last day for a notice, where the lease has one
	Form   form
	Post   string
}

// noticeShown is a notice that was given, and where it is taken back.
type noticeShown struct {
	lease.Given
	Link string
}

func (n *notices) screen() screen {
	return screen{Name: "notices", Title: "Notices, " + n.FitOut.Name, FitOut: &n.FitOut, Here: "settings", Data: n}
}

// Notices lists the notices of the tenancy that were given.
func (p *Pages) Notices(c echo.Context) error {
	page, err := p.notices(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// GiveNotice records one. What is refused comes back with what was typed.
func (p *Pages) GiveNotice(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.notices(c)
	if err != nil {
		return err
	}
	page.Form.fill(sent)
	n := lease.Notice{Notice: domain.NoticeKind(sent.Get("/notice")), Ends: strings.TrimSpace(sent.Get("/ends")), On: strings.TrimSpace(sent.Get("/on")),
		How: sent.Get("/how"), By: sent.Get("/by"), Role: strings.TrimSpace(sent.Get("/role")), Note: sent.Get("/note")}
	if _, err = p.jobs.GiveNotice(ctx, whoIs(ctx), page.FitOut.Code, n); err == nil {
		return done(c, page.Post)
	}
	page.Form.blame(err, "")
	return p.refuse(c, err, page.screen())
}

func (p *Pages) notices(c echo.Context) (*notices, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	page := &notices{FitOut: f, Last: lease.NoticeDays(f), Form: noticeForm(f, signer(c)), Post: at(f.Code, "notices")}
	given, err := p.jobs.Notices(c.Request().Context(), f.Code)
	for _, g := range given {
		page.Given = append(page.Given, noticeShown{g, signatureAddress(f.Code, g.Code)})
	}
	return page, err
}

func noticeForm(f domain.FitOut, who string) form {
	kinds := []option{{string(domain.BreakNotice), "Notice of the break"}, {string(domain.LeavingNotice), "Notice of leaving, at the end or on another day"}}
	first := string(domain.BreakNotice)
	if f.Tenancy.BreakDate == "" {
		first = string(domain.LeavingNotice)
	}
	return form{Groups: []group{{Fields: []field{
		pick("/notice", "Which", kinds, "").as(first),
		field{Name: "/on", Label: "Served on", Kind: date, Help: "The day on which it reached the landlord: which day counts is for the lease to say"}.must(),
		said("/how", "How", "By hand, by special delivery; to whom").must(),
		said("/by", "Served by", "").as(who).must(), said("/role", "As", "Tenant, solicitor"),
		{Name: "/ends", Label: "The tenancy ends by it on", Kind: date, Help: "Left empty: the break date or the expiry of the lease"},
		{Name: "/note", Label: "Note", Kind: lines, Help: "Where the copy and the proof of posting are kept"},
	}}}}
}
