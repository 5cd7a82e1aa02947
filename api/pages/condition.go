package pages

import (
	"cmp"
	"context"
	"encoding/json"
	"net/url"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/condition"
)

// conditionPage is every surface as it was found at the start and at the end, side by side.
type conditionPage struct {
	FitOut   domain.FitOut
	Report   condition.Report
	Surfaces []conditionOf
	Late     int // records of the start that were entered late, and say so
}

// conditionOf is one surface with its photos.
type conditionOf struct {
	condition.Surface
	Sides []conditionSide
	Map   string // address of its hole map; "" where it has no holes
}

// conditionSide is one column: the start, the end beside it, then what was recorded in between.
type conditionSide struct {
	Title   string
	Records []recordFound
	None    string
}

// recordFound is one condition record with its photos, and whether it can be withdrawn here.
type recordFound struct {
	condition.Record
	Shown []shown
}

// Condition shows every surface at the start beside the end.
func (p *Pages) Condition(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Recorded(ctx, f.Code)
	if err != nil {
		return err
	}
	page := conditionPage{FitOut: f, Report: condition.Of(r)}
	for _, s := range page.Report.Surfaces {
		for _, record := range s.Start {
			if record.Flagged {
				page.Late++
			}
		}
		of, err := p.sideBySide(ctx, f, s)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(r.Holes, func(h domain.Hole) bool { return h.Host == s.Host && h.State != domain.HoleStruck }) {
			of.Map = at(f.Code, "walk-round", s.Host)
		}
		page.Surfaces = append(page.Surfaces, of)
	}
	return p.show(c, screen{Name: "condition", Title: "Condition, " + f.Name, FitOut: &f, Here: "condition", Data: page})
}

func (p *Pages) sideBySide(ctx context.Context, f domain.FitOut, s condition.Surface) (conditionOf, error) {
	of := conditionOf{Surface: s, Sides: []conditionSide{{Title: "At the start", None: "Nobody recorded it at the start."}, {Title: "At the end", None: "Not recorded yet."}, {Title: "While in"}}}
	for i, records := range [][]condition.Record{s.Start, s.End, s.During} {
		for _, record := range records {
			known, err := p.jobs.Photos(ctx, f.Code, record.Photos)
			if err != nil {
				return of, err
			}
			of.Sides[i].Records = append(of.Sides[i].Records, recordFound{record, shownOf(f.Code, known, record.Photos, record.Text, record.By, record.On)})
		}
	}
	if len(s.During) == 0 {
		of.Sides = of.Sides[:2]
	}
	return of, nil
}

// KindWords is what a defect is called.
func (conditionOf) KindWords(k domain.DefectKind) string { return condition.KindWords(k) }

// StageWords says when a defect was found.
func (conditionOf) StageWords(s domain.Stage) string { return stageWords(s) }

func stageWords(s domain.Stage) string {
	switch s {
	case domain.AtStart:
		return "at the start"
	case domain.AtEnd:
		return "at the end"
	case domain.Between:
		return "while in"
	}
	return "not said when"
}

// Numbers shortens the numbers of holes: 1-3, 7.
func (conditionOf) Numbers(of []int) string { return domain.NumberRuns(of) }

// recordingPage is the form that records how one surface was found, or withdraws a record.
type recordingPage struct {
	FitOut   domain.FitOut
	Host     domain.HostSurface
	Form     form
	Withdraw form
	Records  []recordFound
	Next     *offered // the next surface that lacks the stage
	Open     string   // the form that came back
	Kept     string   // what was stored just now, in words: the records stand far below on a phone
	// ShownLate says what a record of the start would be marked with, before somebody enters it; "" for nothing.
	ShownLate string
	Post      string
}

func (page *recordingPage) screen() screen {
	return screen{Name: "recording", Title: "Condition of " + page.Host.Code + ", " + page.FitOut.Name, FitOut: &page.FitOut, Here: "condition", Data: page}
}

// Recording shows the form.
func (p *Pages) Recording(c echo.Context) error {
	page, err := p.recording(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	page.Form.begin(c.QueryParams())
	page.Withdraw.fill(nil)
	switch c.QueryParam(keptField) {
	case "record":
		if n := len(page.Records); n > 0 {
			page.Kept = "Recorded, as No. " + strconv.Itoa(page.Records[n-1].Number) + " of this surface: it stands below."
		}
	case "withdrawal":
		page.Kept = "Withdrawn: that record counts no more, and stays in the log."
	}
	return p.show(c, page.screen())
}

// keptField says in an address what was stored just now.
const keptField = "kept"

func (p *Pages) recording(c echo.Context) (*recordingPage, error) {
	ctx := c.Request().Context()
	_, host, err := param(c, "code", "host")
	if err != nil {
		return nil, err
	}
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	r, err := p.jobs.Recorded(ctx, f.Code)
	if err != nil {
		return nil, err
	}
	k, ok := r.Index().Hosts[host]
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no surface %.60q of the landlord's in this fit-out", host)
	}
	page := &recordingPage{FitOut: f, Host: r.Hosts[k], Post: at(f.Code, "condition", host)}
	report := condition.Of(r)
	of, err := p.sideBySide(ctx, f, report.Surfaces[k])
	if err != nil {
		return nil, err
	}
	for _, side := range of.Sides {
		page.Records = append(page.Records, side.Records...)
	}
	slices.SortFunc(page.Records, func(a, b recordFound) int { return cmp.Compare(a.Number, b.Number) })
	stage := usualStage(report, k)
	if page.ShownLate, err = p.jobs.ShownLate(ctx, r, host); err != nil {
		return nil, err
	}
	page.Form, page.Withdraw = recordingForm(r.Hosts[k], stage), withdrawForm(page.Records)
	for i := range report.Surfaces { // round to the first again
		s := report.Surfaces[(k+1+i)%len(report.Surfaces)]
		if s.Host != host && (stage == domain.AtStart && len(s.Start) == 0 || stage == domain.AtEnd && len(s.End) == 0) {
			page.Next = &offered{at(f.Code, "condition", s.Host), s.Host + ", " + s.Name}
			break
		}
	}
	return page, nil
}

// usualStage is the stage that a surface lacks: the start until it has one.
func usualStage(report condition.Report, k int) domain.Stage {
	switch s := report.Surfaces[k]; {
	case len(s.Start) == 0:
		return domain.AtStart
	case len(s.End) == 0 && len(report.Surfaces) > report.WithoutEnd: // others have been recorded at the end
		return domain.AtEnd
	}
	return domain.Between
}

func recordingForm(h domain.HostSurface, stage domain.Stage) form {
	kinds := []option{{"", "No defect: the surface as a whole"}}
	for _, k := range domain.DefectKinds() {
		kinds = append(kinds, option{string(k), condition.KindWords(k)})
	}
	return form{Groups: []group{
		{Fields: []field{
			pick("/stage", "When", []option{{string(domain.AtStart), "At the start"}, {string(domain.Between), "While the tenant is in"}, {string(domain.AtEnd), "At the end"}}, "").as(string(stage)),
			{Name: "/text", Label: "How it was found", Kind: lines, Required: true, Help: "Cracks, old holes, stains, or: no defects"},
			photoField(false), placeField(),
			{Name: "/on", Label: "On", Kind: date, Help: "Empty: today. With another day, the day of entry is shown beside it"}, said("/by", "Seen by", "Empty: you"),
		}},
		{Legend: "One defect, with its place and size", Folded: true, Note: "What is recorded at the start is not charged: a hole in an old hole, plug, broken place or repair of at most half a metre. Record each defect by itself, with its photo.", Fields: []field{
			pick("/defects/0/kind", "What", kinds, ""),
			mm("/defects/0/u_mm", "Its middle, from the left end", "The surface is "+strconv.Itoa(h.UMm)+" long").from(0, h.UMm),
			mm("/defects/0/v_mm", "Its middle, up from the foot", "On a floor: away from its first edge; "+strconv.Itoa(h.VMm)+" in all").from(0, h.VMm),
			mm("/defects/0/width_mm", "Across", ""), mm("/defects/0/height_mm", "High", "Empty: as across"),
			mm("/defects/0/depth_mm", "Deep", "Empty: nobody measured"),
		}},
	}}
}

func withdrawForm(records []recordFound) form {
	var which []option
	for _, r := range records {
		which = append(which, option{strconv.Itoa(r.Number), "No. " + strconv.Itoa(r.Number) + ", " + day(r.On) + ": " + firstWords(r.Text)})
	}
	return form{Groups: []group{{Fields: []field{pick("/withdraws", "Record", which, ""), said("/why", "Why", "Another wall, measured wrong").must()}}}}
}

// firstWords is the beginning of a text, for a list to choose from.
func firstWords(text string) string {
	const most = 60
	letters := []rune(text)
	if len(letters) <= most {
		return text
	}
	return string(letters[:most]) + "…"
}

// KeepCondition records it. A form with /withdraws takes an earlier record back.
func (p *Pages) KeepCondition(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.recording(c)
	if err != nil {
		return err
	}
	found, f := domain.Condition{}, &page.Form
	if page.Open = "condition"; sent.Has("/withdraws") {
		f, page.Open = &page.Withdraw, "withdraw"
	}
	f.fill(sent)
	text, err := f.JSON()
	if err == nil && page.Open == "withdraw" {
		found.Withdraws, err = strconv.Atoi(sent.Get("/withdraws"))
		if found.Text = sent.Get("/why"); err != nil {
			err = domain.FieldErrorf(domain.Invalid, "/withdraws", "choose the record that is wrong")
		}
	} else if err == nil {
		found, err = conditionFrom(text)
	}
	photo, seeing := photoFrom(c, "/photo")
	if err = cmp.Or(err, seeing); err == nil {
		photo.KeepPlace = sent.Get("/place") != ""
		found.By = cmp.Or(found.By, whoIs(ctx).Name)
		_, err = p.jobs.AddCondition(ctx, whoIs(ctx), page.FitOut.Code, page.Host.Code, found, photo)
	}
	if err == nil {
		kept := "record"
		if f == &page.Withdraw {
			kept = "withdrawal"
		}
		return done(c, page.Post+"?"+url.Values{keptField: {kept}}.Encode())
	}
	other := &page.Withdraw
	if f == other {
		other = &page.Form
	}
	other.fill(nil)
	f.blame(err, "")
	if len(photo.Content) > 0 && f.nearest("/photo") != nil {
		f.nearest("/photo").Faults = append(f.nearest("/photo").Faults, "Choose the photo again: a browser does not keep it.")
	}
	return p.refuse(c, err, page.screen())
}

// conditionFrom is a record as its form says it. A defect of no kind is none, unless something of it was typed.
func conditionFrom(text json.RawMessage) (domain.Condition, error) {
	var found domain.Condition
	var typed struct {
		domain.Condition
		Photo any `json:"photo"`
		Place any `json:"place"`
	}
	if err := json.Unmarshal(text, &typed); err != nil {
		return found, unfit(err)
	}
	found = typed.Condition
	if len(found.Defects) == 1 && found.Defects[0].Kind == "" {
		if found.Defects[0] != (domain.Defect{}) {
			return found, domain.FieldErrorf(domain.Invalid, "/defects/0/kind", "say what the defect is")
		}
		found.Defects = nil
	}
	for i := range found.Defects {
		found.Defects[i].Text = found.Text
	}
	return found, nil
}
