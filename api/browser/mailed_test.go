package browser

import (
	"bytes"

	"github.com/xuri/excelize/v2"

	"unpick/api/auth"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/schedule"
)

const (
	issueRoute    = "/f/:code/issues/:name/:number"
	scheduleIssue = demo + "/issues/reinstatement.xlsx/1"
)

// mailed issues the schedule of the demo, has the landlord answer it in every way, and answers the addresses of what has
// none before: the landlord's link, and a workbook that came back.
func (s *site) mailed() []string {
	s.tb.Helper()
	must := func(err error) {
		s.tb.Helper()
		if err != nil {
			s.tb.Fatal(err)
		}
	}
	ctx, jo := s.tb.Context(), domain.Actor{Name: "Jo"}
	_, err := s.jobs.IssueDocument(ctx, jo, "WREN-PRESS", issue.Reinstatement, schedule.Scope{}, issue.Sent{To: []string{"Harbour Estates"}, Note: "first proposal"})
	must(err)
	figure := int64(9900)
	_, err = s.jobs.Answer(ctx, jo, "WREN-PRESS", issue.Reinstatement, 1, answer.Landlord, "J. Roe", []answer.Statement{
		{Item: 1, Verdict: answer.Dispute, FigureMinor: &figure, Remarks: "wants a second visit"}, {Item: 2, Verdict: answer.Agree}, {Item: 3, Remarks: "photographs, please"}})
	must(err)
	token, hash := auth.NewToken()
	_, err = s.jobs.MakeLink(ctx, jo, "WREN-PRESS", issue.Reinstatement, 1, "J. Roe, Harbour Estates", 28, hash)
	must(err)
	_, content, err := s.jobs.IssueFile(ctx, "WREN-PRESS", issue.Reinstatement, 1)
	must(err)
	f, err := excelize.OpenReader(bytes.NewReader(content))
	must(err)
	defer f.Close()
	must(f.SetCellStr("Schedule", "P5", "to match the rest"))
	must(f.SetCellFloat("Schedule", "L6", 1.5, 2, 64))
	must(f.SetCellStr("Schedule", "P60", "who is this for?"))
	var back bytes.Buffer
	must(f.Write(&back))
	read, err := s.jobs.Receive(ctx, jo, "WREN-PRESS", issue.Reinstatement, 1, answer.Landlord, back.Bytes())
	must(err)
	return []string{auth.LinkPath(token), scheduleIssue + "/returned/" + read.SHA256 + "?party=landlord"}
}
