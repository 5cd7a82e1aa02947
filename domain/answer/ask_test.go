package answer_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// A row that came back says agreed. Each case is reasoned by hand: item 1 went out at 100.00. Agreement is to the figure
// that the workbook had and the tenant has still, with nothing else beside it.
func TestAgreedInAWorkbook(t *testing.T) {
	t.Parallel()
	issues := []issue.Issue{issued(1, item(1, 10000))}
	said := func(party answer.Party, entry int64, s answer.Statement) answer.Said {
		s.Item = 1
		return answer.Said{Statement: s, Party: party, Issue: 1, Entry: entry}
	}
	disputed := said(answer.Landlord, 50, answer.Statement{Verdict: answer.Dispute, FigureMinor: fig(15000)}) // before it went out again
	moved := said(answer.Tenant, 150, answer.Statement{FigureMinor: fig(9000)})                               // since
	for _, tt := range []struct {
		name   string
		before []answer.Said // the workbook went out
		since  []answer.Said
		row    func(r *answer.Row)
		state  answer.State // once it is taken
		stands *int64       // the landlord's figure then
		means  string       // "" where nothing is taken
		asks   string
	}{
		{"and nothing else", nil, nil, func(*answer.Row) {}, answer.Agreed, fig(10000), "agrees at GBP 100.00", ""},
		{"with the same figure", nil, nil, func(r *answer.Row) { r.Figure[1] = typed("100.00", 10000) }, answer.Agreed, fig(10000), "agrees at GBP 100.00", ""},
		{"with another figure", nil, nil, func(r *answer.Row) { r.Figure[1] = typed("120.00", 12000) }, answer.Answered, fig(12000),
			"offers GBP 120.00; the tenant stands at GBP 100.00", "it says agreed, with GBP 120.00 beside the tenant’s GBP 100.00: taken as an offer of GBP 120.00, not as agreement"},
		{"with another figure that went out with it", []answer.Said{disputed}, nil, func(*answer.Row) {}, answer.Disputed, fig(15000), "",
			"it says agreed, with GBP 150.00 beside the tenant’s GBP 100.00: taken as an offer of GBP 150.00"},
		{"to a figure that the tenant has left", nil, []answer.Said{moved}, func(*answer.Row) {}, answer.Answered, fig(10000),
			"offers GBP 100.00; the tenant stands at GBP 90.00", "it says agreed, with GBP 100.00 beside the tenant’s GBP 90.00: taken as an offer of GBP 100.00"},
		{"to the figure that the tenant has now", nil, []answer.Said{moved}, func(r *answer.Row) { r.Figure[1] = typed("90.00", 9000) }, answer.Agreed, fig(9000), "agrees at GBP 90.00", ""},
		{"to another amount, typed over ours", nil, nil, func(r *answer.Row) { r.Amount = typed("120.00", 12000) }, answer.Proposed, nil, "",
			"it says agreed, and its amount came back as GBP 120.00 instead of GBP 100.00: not taken as agreement. Ask the landlord what is agreed"},
		{"to another quantity, with a remark", nil, nil, func(r *answer.Row) {
			r.Quantity, r.Remarks[1] = answer.Cell{At: "H2", Text: "2", Minor: fig(2000)}, answer.Cell{At: "P2", Text: "two"}
		}, answer.Answered, nil, "remarks only", "its quantity came back as 2 instead of 1: not taken as agreement"},
		{"to other words", nil, nil, func(r *answer.Row) { r.Words[4].Text = "rebuild it" }, answer.Proposed, nil, "", "its reinstatement came back as rebuild it instead of nothing"},
		{"to another figure of the tenant's, typed there", nil, nil, func(r *answer.Row) { r.Figure[0] = typed("120.00", 12000) }, answer.Proposed, nil, "", "the tenant’s figure came back as GBP 120.00 instead of nothing"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			atIssue, now := answer.Standing(issues, tt.before), answer.Standing(issues, append(tt.before, tt.since...))
			row := answer.Written(atIssue[0])
			row.State = answer.Cell{At: "Schedule!R2", Text: "agreed"}
			tt.row(&row)
			read, err := answer.Match(answer.Sheet{Rows: []answer.Row{row}}, answer.Landlord, atIssue, now, "GBP")
			if err != nil {
				t.Fatal(err)
			}
			if err := answer.SayAll(now, answer.Landlord, read.Statements); err != nil {
				t.Fatal(err)
			}
			if now[0].State != tt.state || cmp.Diff(tt.stands, now[0].Landlord.FigureMinor) != "" || tt.state == answer.Agreed && now[0].AgreedMinor != *tt.stands {
				t.Errorf("taken, the item is %s at %d, landlord %v; want %s", now[0].State, now[0].AgreedMinor, now[0].Landlord.FigureMinor, tt.state)
			}
			if means := strings.Join(read.Means, "; "); means != tt.means {
				t.Errorf("it reads %q, want %q", means, tt.means)
			}
			switch {
			case tt.asks == "" && len(read.Asks) > 0, tt.asks != "" && (len(read.Asks) != 1 || read.Asks[0].At != "Schedule!R2" || !strings.Contains(read.Asks[0].Says, tt.asks)):
				t.Errorf("to ask: %+v, want %q", read.Asks, tt.asks)
			}
			again, err := answer.Match(answer.Sheet{Rows: []answer.Row{row}}, answer.Landlord, atIssue, now, "GBP")
			if err != nil || len(again.Statements) != 0 {
				t.Errorf("read a second time it says %+v, %v: want nothing new", again.Statements, err)
			}
		})
	}
}

func typed(text string, minor int64) answer.Cell {
	return answer.Cell{At: "Schedule!Q2", Text: text, Minor: &minor}
}

// Who offered under the word agreed and agrees to the other's figure later says something new; and so does who agrees anew
// after the other has moved away from what was agreed.
func TestAgreedAfterAnOfferIsNews(t *testing.T) {
	t.Parallel()
	issues := []issue.Issue{issued(1, item(1, 10000))}
	for _, said := range [][]answer.Said{
		{{Statement: answer.Statement{Item: 1, Verdict: answer.Agree, FigureMinor: fig(12000)}, Party: answer.Landlord, Issue: 1, Entry: 150}},
		{{Statement: answer.Statement{Item: 1, Verdict: answer.Agree}, Party: answer.Landlord, Issue: 1, Entry: 150},
			{Statement: answer.Statement{Item: 1, FigureMinor: fig(8000)}, Party: answer.Tenant, Issue: 1, Entry: 151},
			{Statement: answer.Statement{Item: 1, FigureMinor: fig(10000)}, Party: answer.Tenant, Issue: 1, Entry: 152}},
	} {
		now := answer.Standing(issues, said)
		if now[0].State == answer.Agreed {
			t.Fatalf("%+v is agreed before it is said", now[0])
		}
		row := answer.Written(answer.Standing(issues, nil)[0])
		row.State = answer.Cell{At: "R2", Text: "agreed"}
		read, err := answer.Match(answer.Sheet{Rows: []answer.Row{row}}, answer.Landlord, answer.Standing(issues, nil), now, "GBP")
		if err != nil || len(read.Statements) != 1 || read.Means[0] != "agrees at GBP 100.00" {
			t.Errorf("agreed after %+v reads %+v, %v", said, read, err)
		}
	}
}

// An agreement to a figure that is no longer the other's is refused, and one to the figure that is, taken.
func TestAgreedToWhatWasSeen(t *testing.T) {
	t.Parallel()
	p := answer.Position{Line: item(1, 10000), State: answer.Proposed}
	if err := p.Say(answer.Landlord, answer.Statement{Item: 1, Verdict: answer.Agree, SeenMinor: fig(11000)}); domain.CodeOf(err) != domain.Refused || p.State != answer.Proposed {
		t.Errorf("agreed to another figure: %v, %s", err, p.State)
	}
	if err := p.Say(answer.Landlord, answer.Statement{Item: 1, Verdict: answer.Agree, SeenMinor: fig(10000)}); err != nil || p.State != answer.Agreed {
		t.Errorf("agreed to the figure that is: %v, %s", err, p.State)
	}
}

// Whatever was said before: an agreed item stands at one figure that both have, "agreed" beside another figure than the other
// party's never makes one, and it is always asked about.
func TestAgreedBesideAnotherFigureIsNeverAgreement(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := answer.Position{Line: item(1, rapid.SampledFrom([]int64{0, 1000}).Draw(t, "amount")), State: answer.Proposed}
		for range rapid.IntRange(0, 12).Draw(t, "turns") {
			s := answer.Statement{Item: 1, Verdict: rapid.SampledFrom([]answer.Verdict{"", answer.Agree, answer.Dispute, answer.IsDone}).Draw(t, "verdict")}
			if rapid.Bool().Draw(t, "figure") {
				s.FigureMinor = fig(rapid.SampledFrom([]int64{0, 900, 1000, 1100}).Draw(t, "minor"))
			}
			party := rapid.SampledFrom([]answer.Party{answer.Tenant, answer.Landlord}).Draw(t, "party")
			theirs, known := p.Figure(party.Other())
			asks, means := p.Asks(party, s, "GBP"), p.Means(party, s, "GBP")
			if p.Say(party, s) != nil {
				continue
			}
			if beside := s.Verdict == answer.Agree && s.FigureMinor != nil && (!known || *s.FigureMinor != theirs); beside && (p.Settled() || asks == "" || strings.HasPrefix(means, "agrees")) {
				t.Fatalf("agreed beside %d where the other stands at %d (%t): %s, %q, asked %q", *s.FigureMinor, theirs, known, p.State, means, asks)
			}
			if p.Settled() && p.State == answer.Agreed {
				a, _ := p.Figure(answer.Tenant)
				b, ok := p.Figure(answer.Landlord)
				if !ok || a != b || a != p.AgreedMinor {
					t.Fatalf("agreed at %d, the parties stand at %d and %d", p.AgreedMinor, a, b)
				}
			}
		}
	})
}
