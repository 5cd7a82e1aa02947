package pages

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/relocation"
)

// typedMark is in the address where the form was sent: then it says all, and what is empty in it is meant so.
const typedMark = "typed"

// termsForm asks for the terms of a move or a first order: as the address says, or as they were last kept.
func (p *Pages) termsForm(c echo.Context, f domain.FitOut) (form, service.KeptTerms, error) {
	kept, err := p.jobs.MoveTerms(c.Request().Context(), f.Code)
	if err != nil {
		return form{}, kept, err
	}
	out := moveForm(f, !f.NotBuilt)
	if !c.QueryParams().Has(typedMark) {
		out.recall(kept.Typed)
	}
	out.fill(termsAsked(c))
	return out, kept, nil
}

// termsAsked is what an address asks. Earlier ones have the driving of a trip, there and back: half of it is the way.
func termsAsked(c echo.Context) url.Values {
	const way, trip = "/programme/travel_minutes", "/vehicle/minutes_per_trip"
	out := keptOf(c.QueryParams())
	if minutes, err := strconv.Atoi(out.Get(trip)); err == nil && minutes > 0 && !out.Has(way) {
		out.Set(way, strconv.Itoa(relocation.Halved(minutes)))
	}
	out.Del(trip)
	return out
}

// recall puts what was stored as JSON back into the fields as people type it.
func (f *form) recall(stored map[string]any) {
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			field := &f.Groups[g].Fields[i]
			if value, ok := valueAt(stored, field.Name); ok {
				field.Value = typedAs(field, value)
			}
		}
	}
}

// valueAt is what stands at a pointer, which goes through objects only.
func valueAt(stored map[string]any, pointer string) (any, bool) {
	var at any = stored
	for name := range strings.SplitSeq(strings.TrimPrefix(pointer, "/"), "/") {
		inner, ok := at.(map[string]any)
		if !ok {
			return nil, false
		}
		if at, ok = inner[name]; !ok {
			return nil, false
		}
	}
	return at, true
}

// typedAs is a stored value as it is typed into a field.
func typedAs(f *field, value any) string {
	if n, ok := value.(json.Number); ok && f.Kind == cash {
		if minor, err := n.Int64(); err == nil {
			return strings.ReplaceAll(strings.TrimPrefix(domain.FormatMoney(minor, f.Unit), f.Unit+" "), ",", "")
		}
	}
	if yes, ok := value.(bool); ok {
		return ticked(yes)
	}
	return fmt.Sprint(value)
}

// Typed are the terms that are typed now, to be kept: a field that is empty keeps nothing. Which sizes are tried belongs to
// one question.
func (m *movePage) Typed() []field {
	var out []field
	for _, g := range m.Form.Groups {
		for _, f := range g.Fields {
			if f.Value != "" && !strings.HasPrefix(f.Name, "/nearby/") && f.Name != "/prices_of" {
				f.Kind = hidden
				out = append(out, f)
			}
		}
	}
	return out
}

// Again is the question as it was asked, to come back to.
func (m *movePage) Again() string { return m.asked.Encode() }

// KeptWords say who kept the terms, and when; "" where nobody did.
func (m *movePage) KeptWords() string {
	if m.Kept.Typed == nil {
		return ""
	}
	return fmt.Sprintf("The form begins with the terms that %s kept on %s.", m.Kept.By, m.Kept.At.Format(time.DateOnly))
}

// KeepMoveTerms keeps the terms that were typed, and goes back to the question.
func (p *Pages) KeepMoveTerms(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	terms := moveForm(f, !f.NotBuilt)
	terms.fill(sent)
	text, err := terms.JSON()
	if err != nil {
		return err
	}
	if _, err := p.jobs.KeepMoveTerms(ctx, auth.Who(ctx), f.Code, text); err != nil {
		return err
	}
	back, err := url.ParseQuery(sent.Get("again"))
	if err != nil {
		return domain.Errorf(domain.Invalid, "what was asked before cannot be read: open the move again")
	}
	path := "move"
	if f.NotBuilt {
		path = "first-order"
	}
	return done(c, at(f.Code, path)+"?"+back.Encode())
}
