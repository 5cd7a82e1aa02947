package pages

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/answer"
)

// answerItem is one item of an issued schedule, where it stands, and the fields for what a party says to it now. The
// fields start empty: what was said before stands above them and is not said again.
type answerItem struct {
	answer.Position
	Currency string
	Fields   []field // answer, figure, remarks
	Faults   []string
	Shown    string // the other party's figure as it stands in the list of answers, in minor units; "" for none
	seen     string // the same as it stood on the page that was sent
}

// answering is a form in which one party answers items.
type answering struct {
	Key    string
	Party  answer.Party
	Items  []answerItem
	Faults []string
}

func newAnswering(party answer.Party, positions []answer.Position, currency string) answering {
	a := answering{Party: party, Items: make([]answerItem, len(positions))}
	a.Key, _ = newKey()
	for i, p := range positions {
		n := p.Line.Number
		name := fmt.Sprintf("/items/%d", n)
		a.Items[i] = answerItem{Position: p, Currency: currency, Fields: []field{
			{Name: name + "/verdict", Label: fmt.Sprintf("Answer to item %d", n), Kind: choice, Options: verdicts(p, party, currency)},
			{Name: name + "/figure", Label: fmt.Sprintf("%s figure for item %d", map[answer.Party]string{answer.Tenant: "Tenant’s", answer.Landlord: "Landlord’s"}[party], n), Kind: cash, Unit: currency},
			{Name: name + "/remarks", Label: fmt.Sprintf("Remarks on item %d", n), Kind: lines},
		}}
		if other, known := p.Figure(party.Other()); known {
			a.Items[i].Shown = strconv.FormatInt(other, 10)
		}
	}
	return a
}

// which asks who says agreed and types another figure what is meant.
func (i answerItem) which(party answer.Party, typed int64) string {
	mine := domain.FormatMoney(typed, i.Currency)
	other, known := i.Figure(party.Other())
	if !known {
		return "there is no figure of the " + string(party.Other()) + "’s to agree to: choose “nothing more to say” and " + mine + " stands as your offer"
	}
	return "agreed and " + mine + " are two different things, for the " + string(party.Other()) + "’s figure is " + domain.FormatMoney(other, i.Currency) +
		": take your figure out to agree at that, or choose “nothing more to say” and " + mine + " stands as your offer"
}

// verdicts are the answers that make sense where an item stands.
func verdicts(p answer.Position, party answer.Party, currency string) []option {
	out := []option{{"", "nothing more to say"}}
	other, known := p.Figure(party.Other())
	switch {
	case p.State == answer.Agreed:
		out = append(out, option{string(answer.IsDone), "done and accepted"})
	case known && p.State != answer.Done:
		out = append(out, option{string(answer.Agree), "agreed at the " + string(party.Other()) + "’s " + domain.FormatMoney(other, currency)})
	}
	return append(out, option{string(answer.Dispute), "disputed"})
}

// fill puts back what was typed.
func (a *answering) fill(sent url.Values) {
	if key := sent.Get("key"); key != "" {
		a.Key = key
	}
	for i := range a.Items {
		for f := range a.Items[i].Fields {
			a.Items[i].Fields[f].Value = sent.Get(a.Items[i].Fields[f].Name)
		}
		a.Items[i].seen = sent.Get(fmt.Sprintf("/items/%d/seen", a.Items[i].Line.Number))
	}
}

// statements are what was typed, item by item; items at which nothing was typed are left out. of is where each comes from.
// Who says agreed and types another figure beside it is asked which is meant, and nothing is taken until then.
func (a *answering) statements(currency string) (out []answer.Statement, of []int, err error) {
	var faults domain.Errors
	for i := range a.Items {
		f := a.Items[i].Fields
		s := answer.Statement{Item: a.Items[i].Line.Number, Verdict: answer.Verdict(f[0].Value), Remarks: strings.TrimSpace(strings.ReplaceAll(f[2].Value, "\r\n", "\n"))}
		if text := strings.TrimSpace(f[1].Value); text != "" {
			minor, err := domain.ParseMoney(text, currency)
			if err != nil {
				faults.Addf(domain.Invalid, f[1].Name, "%v", err)
				continue
			}
			s.FigureMinor = &minor
		}
		if seen, err := strconv.ParseInt(a.Items[i].seen, 10, 64); err == nil && s.Verdict == answer.Agree {
			s.SeenMinor = &seen
		}
		if s.Verdict == answer.Agree && a.Items[i].Asks(a.Party, s, currency) != "" {
			faults.Addf(domain.Invalid, f[0].Name, "%s", a.Items[i].which(a.Party, *s.FigureMinor))
			continue
		}
		if !s.IsNothing() {
			out, of = append(out, s), append(of, i)
		}
	}
	if err := faults.OrNil(); err != nil {
		a.blame(err, nil)
		return nil, nil, err
	}
	if len(out) == 0 {
		err := domain.Errorf(domain.Refused, "nothing was typed: answer at least one item")
		a.blame(err, nil)
		return nil, nil, err
	}
	return out, of, nil
}

// blame puts each fault beside the field that it is about.
func (a *answering) blame(err error, of []int) {
	for _, fault := range faultsOf(err) {
		if !a.blamed(fault, of) {
			a.Faults = append(a.Faults, fault.Text)
		}
	}
}

func (a *answering) blamed(fault *domain.Error, of []int) bool {
	if rest, ok := strings.CutPrefix(fault.Field, "/statements/"); ok {
		at, name, _ := strings.Cut(rest, "/")
		n, err := strconv.Atoi(at)
		if err != nil || n >= len(of) {
			return false
		}
		item := &a.Items[of[n]]
		for f := range item.Fields {
			if strings.HasSuffix(item.Fields[f].Name, "/"+strings.TrimSuffix(name, "_minor")) {
				item.Fields[f].Faults = append(item.Fields[f].Faults, fault.Text)
				return true
			}
		}
		item.Faults = append(item.Faults, fault.Text)
		return true
	}
	for i := range a.Items {
		for f := range a.Items[i].Fields {
			if a.Items[i].Fields[f].Name == fault.Field {
				a.Items[i].Fields[f].Faults = append(a.Items[i].Fields[f].Faults, fault.Text)
				return true
			}
		}
	}
	return false
}
