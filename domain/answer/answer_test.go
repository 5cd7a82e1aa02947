package answer_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

func item(n int, amount int64) issue.Line {
	return issue.Line{Key: fmt.Sprint("k", n), Number: n, What: "holes", Quantity: 1, Unit: "hole", RateKnown: amount > 0, RateMinor: amount, AmountMinor: amount}
}

func issued(number int, lines ...issue.Line) issue.Issue {
	return issue.Issue{Document: issue.Reinstatement, Number: number, Entry: int64(number * 100), Currency: "GBP", Lines: lines}
}

func fig(minor int64) *int64 { return &minor }

// TestTalk walks one item of 100.00 through what two parties say; design.md, section 7, and issue 5: proposed, answered,
// agreed, disputed, done.
func TestTalk(t *testing.T) {
	t.Parallel()
	type turn struct {
		party   answer.Party
		says    answer.Statement
		refused domain.Code
		state   answer.State
		agreed  int64
	}
	const l, te = answer.Landlord, answer.Tenant
	for _, tt := range []struct {
		name  string
		turns []turn
	}{
		{"the landlord agrees", []turn{{party: l, says: answer.Statement{Verdict: answer.Agree}, state: answer.Agreed, agreed: 10000}}},
		{"remarks only are an answer", []turn{{party: l, says: answer.Statement{Remarks: "to match existing"}, state: answer.Answered}}},
		{"the tenant's own words change nothing first", []turn{{party: te, says: answer.Statement{Remarks: "as licensed"}, state: answer.Proposed}}},
		{"another figure is an offer, not an agreement", []turn{
			{party: l, says: answer.Statement{Verdict: answer.Agree, FigureMinor: fig(12000)}, state: answer.Answered},
			{party: te, says: answer.Statement{Verdict: answer.Agree}, state: answer.Agreed, agreed: 12000}}},
		{"disputed, met half-way, agreed, done", []turn{
			{party: l, says: answer.Statement{Verdict: answer.Dispute, FigureMinor: fig(15000), Remarks: "too low"}, state: answer.Disputed},
			{party: te, says: answer.Statement{FigureMinor: fig(12500)}, state: answer.Disputed},
			{party: l, says: answer.Statement{Verdict: answer.Agree}, state: answer.Agreed, agreed: 12500},
			{party: te, says: answer.Statement{Verdict: answer.IsDone}, state: answer.Done, agreed: 12500},
			{party: l, says: answer.Statement{Verdict: answer.Dispute, Remarks: "not flush"}, state: answer.Disputed}}},
		{"nobody agrees with themselves", []turn{{party: te, says: answer.Statement{Verdict: answer.Agree}, refused: domain.Refused, state: answer.Proposed}}},
		{"done comes after agreed", []turn{{party: l, says: answer.Statement{Verdict: answer.IsDone}, refused: domain.Refused, state: answer.Proposed}}},
		{"moving away from what was agreed reopens it", []turn{
			{party: l, says: answer.Statement{Verdict: answer.Agree}, state: answer.Agreed, agreed: 10000},
			{party: te, says: answer.Statement{FigureMinor: fig(9000)}, state: answer.Disputed}}},
		{"remarks on what is agreed leave it agreed", []turn{
			{party: l, says: answer.Statement{Verdict: answer.Agree}, state: answer.Agreed, agreed: 10000},
			{party: l, says: answer.Statement{Remarks: "thank you"}, state: answer.Agreed, agreed: 10000}}},
		{"a figure is not negative", []turn{{party: l, says: answer.Statement{FigureMinor: fig(-1)}, refused: domain.Invalid, state: answer.Proposed}}},
		{"nothing is nothing", []turn{{party: l, refused: domain.Invalid, state: answer.Proposed}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := answer.Position{Line: item(1, 10000), State: answer.Proposed}
			for i, u := range tt.turns {
				u.says.Item = 1
				err := p.Say(u.party, u.says)
				if domain.CodeOf(err) != u.refused {
					t.Fatalf("turn %d: %v, want code %q", i, err, u.refused)
				}
				if p.State != u.state || p.AgreedMinor != u.agreed {
					t.Fatalf("turn %d: %s at %d, want %s at %d", i, p.State, p.AgreedMinor, u.state, u.agreed)
				}
			}
		})
	}
}

// An item without a rate cannot be agreed until somebody names a figure and the other agrees to it.
func TestNoRateNoAgreement(t *testing.T) {
	t.Parallel()
	p := answer.Position{Line: item(1, 0), State: answer.Proposed}
	if err := p.Say(answer.Landlord, answer.Statement{Item: 1, Verdict: answer.Agree}); domain.CodeOf(err) != domain.Refused {
		t.Errorf("agreeing to no figure: %v", err)
	}
	if err := p.Say(answer.Landlord, answer.Statement{Item: 1, Verdict: answer.Agree, FigureMinor: fig(500)}); err != nil || p.State != answer.Answered {
		t.Errorf("naming a figure: %v, %s, want answered", err, p.State)
	}
	if err := p.Say(answer.Tenant, answer.Statement{Item: 1, Verdict: answer.Agree}); err != nil || p.State != answer.Agreed || p.AgreedMinor != 500 {
		t.Errorf("the tenant agrees: %v, %s at %d", err, p.State, p.AgreedMinor)
	}
}

// What stays as it was keeps where it stood in the next issue; what changed starts again, with its history.
func TestLaterIssueCarriesWhatStayed(t *testing.T) {
	t.Parallel()
	changed := item(2, 20000)
	changed.Quantity = 2
	issues := []issue.Issue{issued(1, item(1, 10000), item(2, 10000), item(3, 10000)), issued(2, item(1, 10000), changed)}
	var said []answer.Said
	for n := 1; n <= 3; n++ {
		said = append(said, answer.Said{Statement: answer.Statement{Item: n, Verdict: answer.Agree}, Party: answer.Landlord, Issue: 1, Entry: 150})
	}
	got := answer.Standing(issues, said)
	type short struct {
		state   answer.State
		agreed  int64
		reset   int
		history int
	}
	var stands []short
	for _, p := range got {
		stands = append(stands, short{p.State, p.AgreedMinor, p.Reset, len(p.History)})
	}
	want := []short{{answer.Agreed, 10000, 0, 1}, {answer.Proposed, 0, 2, 1}}
	if diff := cmp.Diff(want, stands, cmp.AllowUnexported(short{})); diff != "" {
		t.Errorf("standing (-want +got):\n%s", diff)
	}
	if at := answer.At(issues[:1], said); at[0].State != answer.Proposed {
		t.Errorf("as issue 1 went out item 1 was %s, want proposed: it was agreed later", at[0].State)
	}
}

// An item that an issue of a part leaves out comes back where it stood.
func TestPartInBetween(t *testing.T) {
	t.Parallel()
	issues := []issue.Issue{issued(1, item(1, 10000), item(2, 10000)), issued(2, item(2, 10000)), issued(3, item(1, 10000), item(2, 10000))}
	got := answer.Standing(issues, []answer.Said{{Statement: answer.Statement{Item: 1, Verdict: answer.Agree}, Party: answer.Landlord, Issue: 1, Entry: 150}})
	if got[0].State != answer.Agreed || got[0].AgreedMinor != 10000 || got[1].State != answer.Proposed {
		t.Errorf("after an issue of a part: %s at %d, %s", got[0].State, got[0].AgreedMinor, got[1].State)
	}
}

// An issue of a part says of what it leaves alone that it stays: that moves nothing that was agreed on the whole. What is
// said to an item that is the same in both counts for both.
func TestPartMovesNothingElse(t *testing.T) {
	t.Parallel()
	stays := item(1, 0)
	stays.Free, stays.Group, stays.How = true, "stays", "stays in place"
	part := issued(2, stays, item(2, 10000))
	part.Scope = "partial: D1 alone"
	issues := []issue.Issue{issued(1, item(1, 10000), item(2, 10000)), part, issued(3, item(1, 10000), item(2, 10000))}
	got := answer.Standing(issues, []answer.Said{
		{Statement: answer.Statement{Item: 1, Verdict: answer.Agree}, Party: answer.Landlord, Issue: 1, Entry: 150},
		{Statement: answer.Statement{Item: 2, Verdict: answer.Agree}, Party: answer.Landlord, Issue: 2, Entry: 250}})
	for i := range got {
		if got[i].State != answer.Agreed || got[i].AgreedMinor != 10000 || got[i].Reset != 0 {
			t.Errorf("item %d is %s at %d, reset by issue %d: want it agreed at 10000", i+1, got[i].State, got[i].AgreedMinor, got[i].Reset)
		}
	}
}

// All or nothing: one statement that is refused leaves every item as it was, and is named by its place.
func TestSayAllOrNothing(t *testing.T) {
	t.Parallel()
	now := answer.Standing([]issue.Issue{issued(1, item(1, 100), item(2, 100))}, nil)
	err := answer.SayAll(now, answer.Landlord, []answer.Statement{{Item: 1, Verdict: answer.Agree}, {Item: 2, Verdict: answer.IsDone}, {Item: 9, Verdict: answer.Agree}})
	faults, ok := err.(domain.Errors)
	if !ok || len(faults) != 2 || faults[0].Field != "/statements/1/verdict" || faults[1].Field != "/statements/2/item" {
		t.Fatalf("faults = %v", err)
	}
	if now[0].State != answer.Proposed {
		t.Errorf("item 1 is %s although nothing was taken", now[0].State)
	}
}

// Whatever is said: an item is in one state, the states count every item once, an agreed item has a figure that both
// stand at, and the parts add up to the whole.
func TestSummaryAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "items")
		lines := make([]issue.Line, n)
		for i := range lines {
			lines[i] = item(i+1, rapid.SampledFrom([]int64{0, 1, 999, 12345}).Draw(t, "amount"))
		}
		now := answer.Standing([]issue.Issue{issued(1, lines...)}, nil)
		for range rapid.IntRange(0, 25).Draw(t, "turns") {
			s := answer.Statement{Item: rapid.IntRange(1, n).Draw(t, "item"), Verdict: rapid.SampledFrom([]answer.Verdict{"", answer.Agree, answer.Dispute, answer.IsDone}).Draw(t, "verdict"),
				Remarks: rapid.SampledFrom([]string{"", "words"}).Draw(t, "remarks")}
			if rapid.Bool().Draw(t, "figure") {
				s.FigureMinor = fig(rapid.Int64Range(0, 20000).Draw(t, "minor"))
			}
			_ = now[s.Item-1].Say(rapid.SampledFrom([]answer.Party{answer.Tenant, answer.Landlord}).Draw(t, "party"), s)
		}
		s := answer.Summarise(now)
		if s.Proposed+s.Answered+s.Agreed+s.Disputed+s.Done != n {
			t.Fatalf("%+v counts other than %d items", s, n)
		}
		want := int64(0)
		for i := range now {
			p := &now[i]
			tenant, known := p.Figure(answer.Tenant)
			if p.Settled() {
				landlord, ok := p.Figure(answer.Landlord)
				if !known || !ok || tenant != p.AgreedMinor || landlord != p.AgreedMinor {
					t.Fatalf("item %d is %s at %d, the tenant stands at %d and the landlord at %d", i+1, p.State, p.AgreedMinor, tenant, landlord)
				}
			}
			want += tenant
		}
		scheduled := int64(0)
		for i := range now {
			scheduled += now[i].Line.AmountMinor
		}
		if s.ScheduledMinor != scheduled || s.AsAgreedMinor != scheduled+s.AgreedDifferenceMinor || s.TenantMinor != s.AsAgreedMinor+s.TenantDifferenceMinor {
			t.Fatalf("from %d as scheduled the differences do not lead on: %+v", scheduled, s)
		}
		if a := answer.AsAgreed(now, domain.FitOut{}); a != nil && (a.TotalMinor != s.AsAgreedMinor || a.Figures.Now.Gross != a.TotalMinor || len(a.Items) != s.Agreed+s.Done) || a == nil && s.Agreed+s.Done > 0 {
			t.Fatalf("as agreed %+v, in the summary %+v", a, s)
		}
		if s.TenantMinor != want {
			t.Fatalf("the parts come to %d, the whole to %d: %+v", s.TenantMinor, want, s)
		}
	})
}
