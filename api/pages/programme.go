package pages

import (
	"html/template"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/lease"
	"unpick/domain/timetable"
)

// programme is what is left of the strip-out on its days.
type programme struct {
	FitOut    domain.FitOut
	Ask       form
	Table     *timetable.Timetable // nil where what was asked is wrong, or there is no plan
	Rooms     template.HTML        // when each room is worked on: written by our own drawing package, which escapes every word
	Days      []dayBars
	Dates     lease.Forecast
	More      []more // what more of something would save
	Mend      string // the address of the same begun on a day that mends the warnings, "" where there is none
	Unplanned string
}

// more is what more of something would save, and the address of its programme.
type more struct {
	timetable.Beside
	Link  string
	Shown bool // it is the one on this page
}

// Notice is the last day for notice of the break, or the one that was given; nil where the lease asks for none.
func (p programme) Notice() *lease.Date {
	for i := range p.Dates.Dates {
		if p.Dates.Dates[i].Kind == lease.NoticeBy {
			return &p.Dates.Dates[i]
		}
	}
	return nil
}

// dayBars is one day of the programme, hour by hour.
type dayBars struct {
	On  string
	SVG template.HTML
}

// Programme lays the strip-out on days, with what there is or with more of it.
func (p *Pages) Programme(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "strip-out"); answered || err != nil {
		return err
	}
	page := programme{FitOut: f, Ask: programmeForm()}
	page.Ask.fill(c.QueryParams())
	show := screen{Name: "programme", Title: "Programme of " + f.Name, FitOut: &f, Here: "strip-out"}
	page.Dates, err = p.jobs.Dates(ctx, f.Code)
	if domain.Unplannable(err) {
		page.Unplanned = err.Error()
		show.Data = page
		return p.show(c, show)
	} else if err != nil {
		return err
	}
	what, from, err := asked(&page.Ask, c.QueryParams())
	if err == nil {
		page.Table, err = p.jobs.Programme(ctx, f.Code, what, from)
	}
	if err != nil {
		page.Ask.blame(err, "")
		show.Data = page
		return p.refuse(c, err, show)
	}
	if page.Table.BeginOn != "" {
		page.Mend = programmeAddress(f.Code, what, page.Table.BeginOn)
	}
	for _, b := range page.Table.Beside {
		page.More = append(page.More, more{b, programmeAddress(f.Code, b.WhatIf, from), b.WhatIf == what})
	}
	if err := page.draw(width(c)); err != nil {
		return err
	}
	show.Data = page
	return p.show(c, show)
}

// draw makes the bar charts.
func (p *programme) draw(widthPx int) error {
	rooms, err := service.RoomBars(p.Table, widthPx)
	if err != nil {
		return err
	}
	p.Rooms = template.HTML(rooms)
	link := func(_, step string) string { return at(p.FitOut.Code, "strip-out", step) }
	for i, on := range p.Table.DayNames {
		bars, err := service.DayBars(p.Table, i, widthPx, link)
		if err != nil {
			return err
		}
		p.Days = append(p.Days, dayBars{on, template.HTML(bars)})
	}
	return nil
}

// programmeAddress is the page of a programme that begins on a day, "" where nobody says.
func programmeAddress(fitOut string, what timetable.WhatIf, from string) string {
	q := url.Values{}
	add := func(name, value string, said bool) {
		if said {
			q.Set(name, value)
		}
	}
	add("/from", from, from != "")
	add("/more_people", strconv.Itoa(what.People), what.People > 0)
	add("/more_towers", strconv.Itoa(what.Towers), what.Towers > 0)
	add("/saturdays", "on", what.Saturdays)
	if len(q) == 0 {
		return at(fitOut, "strip-out", "programme")
	}
	return at(fitOut, "strip-out", "programme") + "?" + q.Encode()
}

// programmeForm asks what if. Nothing is stored: it is sent as an address that can be kept.
func programmeForm() form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/from", Label: "Begin on", Kind: date, Help: "Left empty: the last safe day, or today"},
		{Name: "/more_people", Label: "More people", Kind: number, Most: service.MostMorePeople},
		{Name: "/more_towers", Label: "More towers", Kind: number, Most: service.MostMoreTowers},
		{Name: "/saturdays", Label: "Work on Saturdays", Kind: tick},
	}}}}
}

// asked reads what if. An empty figure is none.
func asked(f *form, q url.Values) (timetable.WhatIf, string, error) {
	var faults domain.Errors
	figure := func(name string) int {
		n, err := f.whole(name)
		faults = append(faults, faultsOf(err)...)
		return n
	}
	what := timetable.WhatIf{People: figure("/more_people"), Towers: figure("/more_towers"), Saturdays: q.Get("/saturdays") != ""}
	return what, strings.TrimSpace(q.Get("/from")), faults.OrNil()
}

// coming keeps, of the dates of a lease, those that are still to come for the end that is planned for, but the last safe day and a notice
// that was given, which stand by themselves. What follows the end is in the calendar file only.
func coming(f lease.Forecast) []lease.Date {
	var out []lease.Date
	for _, d := range f.Dates {
		last := d.Kind == lease.LastSafeDay && d.For == f.End
		afterwards := d.Kind == lease.ScheduleDue || d.Kind == lease.AnswerDue || d.Kind == lease.MeetingBy
		if !last && !afterwards && d.Given == nil && d.DaysLeft >= 0 && (d.For == f.End || d.Kind == lease.Expiry || d.For == lease.BreakDate) {
			out = append(out, d)
		}
	}
	return out
}
