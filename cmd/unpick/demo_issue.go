package main

import (
	"context"
	"fmt"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/schedule"
)

// mailDemo issues the schedule of the demo to its landlord, lets the landlord answer the first items, and makes a link by
// which the landlord reads the rest. Everything said is invented.
func mailDemo(ctx context.Context, jobs *service.Service, code string, say func(string, ...any)) error {
	ours, theirs := domain.Actor{Name: "T. Hollin, Hollin & Rook Joinery (invented)"}, domain.Actor{Name: "J. Roe, Tannery Court Estate (invented)"}
	is, err := jobs.IssueDocument(ctx, ours, code, issue.Reinstatement, schedule.Scope{}, issue.Sent{To: []string{"Tannery Court Estate, J. Roe (invented)"}, Note: "first proposal"})
	if err != nil {
		return fmt.Errorf("issuing the demo's schedule: %w", err)
	}
	first := is.Lines[0]
	more := first.AmountMinor + first.AmountMinor/2
	for _, turn := range []struct {
		party answer.Party
		says  []answer.Statement
	}{
		{answer.Landlord, []answer.Statement{{Item: first.Number, Verdict: answer.Dispute, FigureMinor: &more, Remarks: "The wall wants a second visit once the first fill is dry."},
			{Item: is.Lines[1].Number, Verdict: answer.Agree}, {Item: is.Lines[2].Number, Remarks: "Please show the photographs of the opening."}}},
		{answer.Tenant, []answer.Statement{{Item: first.Number, Remarks: "The rate is for two passes; see the making-good list."}}},
	} {
		who := ours
		if turn.party == answer.Landlord {
			who = theirs
		}
		if _, err := jobs.Answer(ctx, who, code, issue.Reinstatement, is.Number, turn.party, "", turn.says); err != nil {
			return fmt.Errorf("answering the demo's schedule: %w", err)
		}
	}
	token, hash := auth.NewToken()
	if _, err := jobs.MakeLink(ctx, ours, code, issue.Reinstatement, is.Number, theirs.Name, 28, hash); err != nil {
		return fmt.Errorf("making the demo's link: %w", err)
	}
	say("the schedule is issued; its landlord reads and answers it on this machine at %s, shown this once", auth.LinkPath(token))
	return nil
}
