package pages

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/schedule"
)

// scopeIn is how much of the works a request asks for: in the address, so that a schedule of a part can be sent on.
func scopeIn(c echo.Context) schedule.Scope {
	q := c.QueryParams()
	s := schedule.Scope{Everything: q.Get("everything") == "true", Clause: q.Get("clause")}
	for _, codes := range q["only"] {
		for code := range strings.SplitSeq(codes, ",") {
			if code = strings.TrimSpace(code); code != "" {
				s.Only = append(s.Only, code)
			}
		}
	}
	return s
}

// scopeQuery is a scope as a part of an address, "" for the whole.
func scopeQuery(s schedule.Scope) string {
	if q := scopeValues(s); len(q) > 0 {
		return "?" + q.Encode()
	}
	return ""
}

func scopeValues(s schedule.Scope) url.Values {
	q := url.Values{}
	if s.Everything {
		q.Set("everything", "true")
	}
	if len(s.Only) > 0 {
		q.Set("only", strings.Join(s.Only, ","))
	}
	if s.Clause != "" {
		q.Set("clause", s.Clause)
	}
	return q
}

// scopePage is what the schedule's page asks: which of the works it is for.
type scopePage struct {
	Scope    schedule.Scope
	Words    string
	Query    string
	Works    []work
	Clauses  []string // that an item of what is shown comes under
	Narrowed bool     // a part is shown
	Consents bool     // something stays by consent
}

// work is an assembly that a schedule may be for.
type work struct {
	Code, Name, LeftBy string
	Picked             bool
}

func (p *Pages) narrowing(c echo.Context, code string) (scopePage, error) {
	r, err := p.jobs.Register(c.Request().Context(), code)
	if err != nil {
		return scopePage{}, err
	}
	s := scopeIn(c)
	page := scopePage{Scope: s, Words: s.Words(r), Query: scopeQuery(s), Narrowed: scopeQuery(s) != "", Consents: len(r.Consents()) > 0}
	picked := map[string]bool{}
	for _, code := range s.Only {
		picked[code] = true
	}
	there := map[string]bool{} // it comes out, or is out and its holes are still owed
	for i := range r.Elements {
		there[r.Elements[i].Assembly] = there[r.Elements[i].Assembly] || r.Elements[i].ComesOut()
	}
	for i := range r.Holes {
		there[r.Holes[i].Assembly] = there[r.Holes[i].Assembly] || r.Holes[i].Charged()
	}
	for _, a := range r.Assemblies {
		if there[a.Code] {
			page.Works = append(page.Works, work{a.Code, a.Name, a.LeftBy, picked[a.Code]})
		}
	}
	return page, nil
}

// Schedule shows the reinstatement schedule, item by item, of all the works or of a part of them.
func (p *Pages) Schedule(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	narrowed, err := p.narrowing(c, f.Code)
	if err != nil {
		return err
	}
	return p.plannedPart(c, "schedule", "Schedule", "schedule", narrowed, func(page *planPage) {
		items := page.Plan.Schedule.Items
		rows := make([][]cell, len(items))
		for i, item := range items {
			state := plain(string(item.State))
			if item.Provisional {
				state.Text += ", provisional"
			}
			quantity, rate, amount := cell{Text: strconv.FormatFloat(item.Quantity, 'f', -1, 64), Value: item.Quantity}, priced(item.RateMinor, item.RateKnown, page.FitOut.Currency), priced(item.AmountMinor, item.RateKnown, page.FitOut.Currency)
			if item.Free {
				quantity, rate, amount = plain(""), plain(""), plain("nothing to pay")
			}
			rows[i] = []cell{count(item.Number), plain(item.Group), plain(item.Clause), plain(item.Location), plain(item.AsBuilt), plain(item.Reinstatement),
				quantity, plain(item.Unit), rate, amount, state}
		}
		page.Files = []string{"reinstatement.xlsx", "reinstatement.pdf"}
		page.Tables = []table{newTable(c, "items", "Items", []column{
			{Key: "item", Title: "Item", Figure: true}, {Key: "group", Title: "Group"}, {Key: "clause", Title: "Clause", Rest: true}, {Key: "where", Title: "Location", Rest: true},
			{Key: "built", Title: "Alteration as built"}, {Key: "put-back", Title: "Reinstatement", Rest: true}, {Key: "quantity", Title: "Quantity", Figure: true, Rest: true},
			{Key: "unit", Title: "Unit", Rest: true}, {Key: "rate", Title: "Rate", Figure: true, Rest: true},
			{Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(page.FitOut.Currency)}, {Key: "state", Title: "State", Rest: true},
		}, rows)}
		if of := page.Plan.Schedule.PartOf; of != nil {
			page.Left, page.Hours = schedule.LeftWords(of, func(minor int64) string { return domain.FormatMoney(minor, page.FitOut.Currency) }), schedule.HoursWords(of)
			page.Tables = append(page.Tables, notInPart(c, of, page.FitOut.Currency))
		}
	})
}

// sums is a table of what the schedule comes to, as scheduled or as agreed.
type sums struct {
	Caption  string
	Figures  schedule.Figures
	AsAgreed *schedule.AsAgreed
	Currency string
}

// newSums is what the parts "comesto" and "agreedsofar" are given.
func newSums(caption string, of any, currency string) (sums, error) {
	switch of := of.(type) {
	case schedule.Figures:
		return sums{Caption: caption, Figures: of, Currency: currency}, nil
	case *schedule.AsAgreed:
		return sums{Caption: caption, AsAgreed: of, Currency: currency}, nil
	}
	return sums{}, fmt.Errorf("%T adds up to nothing", of)
}

// notInPart lists what the schedule of a part leaves out, with the figures that lead to the whole.
func notInPart(c echo.Context, of *schedule.PartOf, currency string) table {
	rows := make([][]cell, len(of.Not))
	for i, l := range of.Not {
		item, quantity, why := plain(""), plain(""), l.Why
		if l.Item > 0 {
			item = count(l.Item)
		}
		if l.Quantity > 0 {
			quantity = plain(strconv.FormatFloat(l.Quantity, 'f', -1, 64) + " " + l.Unit)
		}
		if l.Common {
			why = "common: " + why
		}
		rows[i] = []cell{plain(l.What), plain(why), item, quantity, priced(l.AmountMinor, l.RateKnown || l.AmountMinor > 0, currency)}
	}
	return newTable(c, "left", "Not in this part, and not charged here", []column{{Key: "what", Title: "What"}, {Key: "why", Title: "Why"}, {Key: "item", Title: "Item", Figure: true, Rest: true}, {Key: "quantity", Title: "Quantity", Rest: true},
		{Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(currency)}}, rows)
}

// Unpriced is where the nth thing that is not in the figure is given a price, its key and unit filled in. What nobody can
// price before it is assessed has none.
func (p planPage) Unpriced(n int) string {
	if n >= len(p.Plan.Schedule.NotInTotal) {
		return ""
	}
	o := p.Plan.Schedule.NotInTotal[n]
	if _, listed := catalogue.Default().WasteCodes[strings.TrimPrefix(o.Key, "waste:")]; strings.HasPrefix(o.Key, "waste:") && !listed {
		return ""
	}
	return at(p.FitOut.Code, "settings", "new-price") + "?" + url.Values{"/key": {o.Key}, "/unit": {o.Unit}}.Encode()
}
