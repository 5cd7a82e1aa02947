package pages

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"mime/multipart"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
	"unpick/domain/calendar"
)

// setting is one page of terms of a fit-out: a form over the record of the fit-out itself.
type setting struct {
	Path, Title, Says string
	form              func(domain.FitOut) form
	Another           bool // its rows are added one after another
}

var settings = []setting{
	{"place", "The place and the people", "Address, age of the building, asbestos survey, tenant, landlord, contractor", placeForm, false},
	{"tenancy", "The lease", "Start, break, expiry, notice, licence, what has to be given back", tenancyForm, false},
	{"licence", "The licence, item by item", "What it allows: how many, where, how large, which fixings, on what conditions", licenceForm, true},
	{"crew", "Crew and working days", "People, access equipment, days and hours of work", crewForm, false},
	{"work-rates", "The crew's own minutes", "How long a job takes this crew, where that is not what the trade's table has", ratesForm, true},
	{"pricing", "Tax, contingency and sums", "What is added to quantity times rate: contingency, tax, provisional sums, how prices rise until the lease ends", pricingForm, false},
	{"labels", "Labels", "Where phones reach this program, so that the QR code on a piece opens it", labelsForm, false},
	{"exits", "Ways out", "Doors and openings that pieces must pass", exitsForm, true},
}

// settingsPage is where everything about a fit-out is set.
type settingsPage struct {
	FitOut   domain.FitOut
	Settings []setting
	Register *domain.Register
	Hosts    []hostRow
	Waiting  []domain.Price // from after the day of the prices: no figure uses them yet
	Stored   string         // key of one that was stored just now and waits
	Prices   []domain.Price // the newest of each
}

// hostRow is one of the landlord's surfaces in words.
type hostRow struct{ Code, Name, Kind, Rule, Clause, Link string }

// Settings lists what can be set, with the landlord's surfaces, the rooms and the prices as they are.
func (p *Pages) Settings(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return err
	}
	page := settingsPage{FitOut: f, Settings: settings, Register: r}
	l := look{r: r, index: r.Index(), fitOut: f}
	for _, h := range r.Hosts {
		page.Hosts = append(page.Hosts, hostRow{h.Code, h.Name, l.hostKind(h.Kind), ruleWords(h.Rule), h.Clause, l.address(h.Code)})
	}
	for _, price := range r.PriceList() {
		page.Prices = append(page.Prices, price)
	}
	page.Waiting = r.PricesWaiting()
	for _, price := range page.Waiting {
		if price.Key == c.QueryParam("waits") {
			page.Stored = price.Key
		}
	}
	slices.SortFunc(page.Prices, func(a, b domain.Price) int { return strings.Compare(a.Key, b.Key) })
	return p.show(c, screen{Name: "settings", Title: "Settings of " + f.Name, FitOut: &f, Here: "settings", Data: page})
}

// termsPage is one form of terms.
type termsPage struct {
	FitOut  domain.FitOut
	Setting setting
	Form    form
	Version int  // at which the terms were read
	Stored  bool // they were stored just now, and more are to be added
}

func (p *Pages) setting(c echo.Context) (*termsPage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	which := slices.IndexFunc(settings, func(s setting) bool { return s.Path == c.Param("setting") })
	if which < 0 {
		return nil, domain.Errorf(domain.NotFound, "there is no such setting")
	}
	return &termsPage{f, settings[which], settings[which].form(f), f.Version, c.QueryParam("stored") != ""}, nil
}

func (t *termsPage) screen() screen {
	return screen{Name: "terms", Title: t.Setting.Title + ", " + t.FitOut.Name, FitOut: &t.FitOut, Here: "settings", Data: t}
}

// Terms shows one form of terms.
func (p *Pages) Terms(c echo.Context) error {
	page, err := p.setting(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// KeepTerms stores it, if nobody has changed the terms since they were read.
func (p *Pages) KeepTerms(c echo.Context) error {
	ctx := c.Request().Context()
	page, err := p.setting(c)
	if err != nil {
		return err
	}
	sent, err := page.Form.sent(c)
	if err != nil {
		return err
	}
	was, err := strconv.Atoi(sent.Get("version"))
	if err != nil {
		return domain.Errorf(domain.Invalid, "what was sent does not say which version of the terms it was read at: open the page again and send its form")
	}
	if page.Form.codes() {
		r, err := p.jobs.Register(ctx, page.FitOut.Code)
		if err != nil {
			return err
		}
		page.Form.spell(r)
	}
	patch, err := page.Form.Patch()
	if err == nil {
		_, err = p.jobs.AmendFitOut(ctx, auth.Who(ctx), page.FitOut.Code, was, patch)
	}
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	if page.Setting.Another && sent.Get(another) != "" {
		return done(c, at(page.FitOut.Code, "settings", page.Setting.Path)+"?"+url.Values{"stored": {"yes"}}.Encode())
	}
	return done(c, at(page.FitOut.Code, "settings"))
}

// orEmpty writes a figure, and nothing for 0: there it stands for nothing said.
func orEmpty(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func ticked(yes bool) string {
	if yes {
		return "yes"
	}
	return ""
}

func placeForm(f domain.FitOut) form {
	return form{Groups: []group{
		{Legend: "The place", Fields: []field{
			{Name: "/name", Label: "Name of the fit-out", Kind: words, Required: true, Value: f.Name},
			{Name: "/premises/address", Label: "Address", Kind: lines, Value: f.Premises.Address},
			{Name: "/premises/built_year", Label: "Year built", Kind: number, Value: orEmpty(f.Premises.BuiltYear), Help: "Left empty, nobody knows: asbestos is then possible"},
			{Name: "/premises/asbestos_survey", Label: "Asbestos survey that was seen", Kind: words, Value: f.Premises.Survey, Help: "Refurbishment and demolition survey: its reference and the areas it covers"},
		}},
		{Legend: "The people", Fields: []field{
			{Name: "/tenant", Label: "Tenant", Kind: words, Value: f.Tenant},
			{Name: "/landlord", Label: "Landlord", Kind: words, Value: f.Landlord},
			{Name: "/firm", Label: "Contractor", Kind: words, Value: f.Firm},
			{Name: "/not_built_yet", Label: "A layout of the next premises: nothing of it is built yet", Kind: tick, Value: ticked(f.NotBuilt)},
			{Name: "/currency", Label: "Currency", Kind: words, Required: true, Value: f.Currency, Help: "Three capital letters: GBP, EUR"},
		}},
	}}
}

func tenancyForm(f domain.FitOut) form {
	t := f.Tenancy
	return form{Groups: []group{
		{Legend: "Dates", Fields: []field{
			{Name: "/tenancy/start", Label: "Tenancy starts", Kind: date, Value: t.Start},
			{Name: "/tenancy/break_date", Label: "Break date", Kind: date, Value: t.BreakDate},
			{Name: "/tenancy/break_needs_vacant_possession", Label: "The break needs vacant possession", Kind: tick, Value: ticked(t.BreakVacant), Help: "Then everything has to be out before the break date itself: a partition left standing can lose the break"},
			{Name: "/tenancy/expiry", Label: "Lease expires", Kind: date, Value: t.Expiry},
			{Name: "/tenancy/notice_months", Label: "Notice, months", Kind: number, Value: orEmpty(t.NoticeMonths)},
			{Name: "/tenancy/contingency_working_days", Label: "Working days kept in hand", Kind: number, Value: orEmpty(t.ContingencyDays), Help: "For what nobody foresees, before the place is given back"},
		}},
		{Legend: "The licence to alter, and what it asks for", Fields: []field{
			{Name: "/tenancy/licence", Label: "Licence", Kind: words, Value: t.Licence},
			{Name: "/tenancy/licence_date", Label: "Dated", Kind: date, Value: t.LicenceDate},
			{Name: "/tenancy/reinstatement_clause", Label: "Clause that asks for reinstatement", Kind: words, Value: t.Clause},
			{Name: "/tenancy/reinstatement_standard", Label: "To what standard", Kind: lines, Value: t.Standard},
			{Name: "/tenancy/leave_by_consent", Label: "What the landlord has agreed in writing may stay", Kind: lines, Value: t.LeaveByConsent},
		}},
	}}
}

func labelsForm(f domain.FitOut) form {
	return form{Groups: []group{{Legend: "QR codes on labels", Fields: []field{
		{Name: "/link_base", Label: "Address of this program", Kind: words, Value: f.LinkBase, Help: "As a phone types it: https://register.example. Left empty, the QR codes hold the code of the piece only"},
	}}}}
}

func crewForm(f domain.FitOut) form {
	cal := f.Calendar
	return form{Groups: []group{
		{Legend: "Crew", Fields: []field{
			{Name: "/crew/people", Label: "People", Kind: number, Value: orEmpty(f.Crew.People), Help: "Left empty: two"},
			{Name: "/crew/access", Label: "Access equipment", Kind: many, Value: strings.Join(f.Crew.Access, ", "), Help: "steps, tower, board-lifter, with commas between"},
		}},
		{Legend: "Working days", Fields: []field{
			{Name: "/calendar/region", Label: "Whose public holidays", Kind: suggested, Value: cal.Region, Options: regionOptions()},
			{Name: "/calendar/working_days", Label: "Days of work", Kind: many, Value: strings.Join(cal.WorkingDays, ", "), Help: "mon, tue, wed, thu, fri: left empty, these five"},
			{Name: "/calendar/starts_at", Label: "Work starts at", Kind: words, Value: cal.StartsAt, Help: "Like 07:30"},
			{Name: "/calendar/day_minutes", Label: "Working minutes a day", Kind: number, Value: orEmpty(cal.DayMinutes), Help: "Breaks taken off; left empty: 450"},
			{Name: "/calendar/breaks", Label: "Breaks", Kind: many, Value: strings.Join(cal.Breaks, ", "), Help: "Like 10:00/10:15, 12:30/13:00: they are not among the working minutes. Left empty: times of day have no breaks in them"},
			{Name: "/calendar/days_off", Label: "Days on which nobody works", Kind: many, Value: strings.Join(cal.DaysOff, ", "), Help: "Beside public holidays: 2026-12-23, or 2026-12-23/2027-01-03 from one day to another, with commas between"},
		}},
	}}
}

// regionOptions are the regions whose public holidays are known.
func regionOptions() []option {
	var out []option
	for _, r := range calendar.Regions() {
		out = append(out, option{r.Code, r.Name})
	}
	return out
}

func exitsForm(f domain.FitOut) form {
	var out form
	for i := range len(f.Exits) + 2 {
		var x domain.Exit
		g := group{Legend: "Another way out", Folded: i > len(f.Exits)}
		if i < len(f.Exits) {
			x = f.Exits[i]
			g.Legend = x.Name
		}
		row := fmt.Sprintf("/exits/%d/", i)
		g.Fields = []field{
			{Name: row + "code", Label: "Code", Kind: words, Value: x.Code},
			{Name: row + "name", Label: "Name", Kind: words, Value: x.Name, Help: "Empty all the fields of one to take it away"},
			{Name: row + "width_mm", Label: "Clear width", Unit: "mm", Kind: number, Value: orEmpty(x.WidthMm)},
			{Name: row + "height_mm", Label: "Clear height", Unit: "mm", Kind: number, Value: orEmpty(x.HeightMm)},
			{Name: row + "reach_mm", Label: "Longest piece that can be turned into it", Unit: "mm", Kind: number, Value: orEmpty(x.ReachMm), Help: "Left empty: any length"},
		}
		out.Groups = append(out.Groups, g)
	}
	return out
}

// takesList is ticked where a new fit-out begins with the firm's list.
const takesList = "/firm_list"

// blankFitOut is what a new fit-out's form starts from.
func blankFitOut() form {
	f := placeForm(domain.FitOut{Currency: "GBP"})
	people := &f.Groups[1]
	people.Fields = append(people.Fields, field{Name: takesList, Label: "Begin with the firm's prices and minutes", Kind: tick, Value: "yes", Help: "Those of the firm's list in this currency, where there are any"})
	f.Groups[0].Fields = slices.Insert(f.Groups[0].Fields, 0, field{Name: "/code", Label: "Short code", Kind: words, Required: true, Help: "Letters, digits and - : UNIT-3. It never changes"})
	return f
}

// NewFitOut shows the form that opens a fit-out, and the one that takes a file.
func (p *Pages) NewFitOut(c echo.Context) error {
	f := blankFitOut()
	f.fill(nil)
	return p.show(c, screen{Name: "newfitout", Title: "A new fit-out", Data: &f})
}

// OpenFitOut opens one.
func (p *Pages) OpenFitOut(c echo.Context) error {
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	form := blankFitOut()
	form.fill(sent)
	made, err := p.openFitOut(c.Request().Context(), &form)
	if err != nil {
		form.blame(err, "")
		return p.refuse(c, err, screen{Name: "newfitout", Title: "A new fit-out", Data: &form})
	}
	return done(c, at(made.Code, "settings"))
}

// openFitOut opens what a form says, or tells everything that is wrong with it at once.
func (p *Pages) openFitOut(ctx context.Context, form *form) (domain.FitOut, error) {
	text, faults, err := form.partly()
	if err != nil {
		return domain.FitOut{}, err
	}
	var said struct {
		domain.FitOut
		Takes bool `json:"firm_list"`
	}
	if err := json.Unmarshal(text, &said); err != nil {
		return domain.FitOut{}, besides(faults, unfit(err))
	}
	f := said.FitOut
	if len(faults) > 0 {
		if err = p.jobs.CheckFitOut(ctx, f); err != nil && !toldToPerson(err) {
			return domain.FitOut{}, err
		}
		return domain.FitOut{}, besides(faults, err)
	}
	if f, err = p.jobs.CreateFitOut(ctx, auth.Who(ctx), f); err != nil || !said.Takes {
		return f, err
	}
	_, err = p.jobs.TakeFirmList(ctx, auth.Who(ctx), f.Code)
	return f, err
}

// TakeFile stores an uploaded fit-out file, whole or not at all.
func (p *Pages) TakeFile(c echo.Context) error {
	ctx := c.Request().Context()
	upload, err := c.FormFile("file")
	if err == nil {
		var made domain.FitOut
		if made, err = p.takeFile(ctx, upload); err == nil {
			return done(c, at(made.Code))
		}
	} else {
		err = domain.FieldErrorf(domain.Invalid, "/file", "no file was chosen: choose a fit-out file first")
	}
	form := blankFitOut()
	form.fill(nil)
	form.blame(err, "\x00")
	return p.refuse(c, err, screen{Name: "newfitout", Title: "A new fit-out", Data: &form})
}

func (p *Pages) takeFile(ctx context.Context, upload *multipart.FileHeader) (domain.FitOut, error) {
	file, err := upload.Open()
	if err != nil {
		return domain.FitOut{}, fmt.Errorf("opening an uploaded file: %w", err)
	}
	defer file.Close()
	return p.jobs.ImportFile(ctx, auth.Who(ctx), file)
}

// unfit says which field of what was typed cannot be what it has to be.
func unfit(err error) error {
	if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		place := ""
		for name := range strings.SplitSeq(wrong.Field, ".") {
			if name != "" && unicode.IsLower(rune(name[0])) { // a struct within a struct is named too, and is no field
				place += "/" + name
			}
		}
		return domain.FieldErrorf(domain.Invalid, place, "%s does not fit here: a whole number is wanted", wrong.Value)
	}
	return domain.Errorf(domain.Invalid, "what was typed does not fit: %v", err)
}
