package rest

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// ListIssues answers everything that was sent.
func (h *Handlers) ListIssues(ctx context.Context, req spec.ListIssuesRequestObject) (spec.ListIssuesResponseObject, error) {
	all, err := h.jobs.Issues(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	items, err := turned[[]spec.Issue](append([]issue.Issue{}, all...))
	return spec.ListIssues200JSONResponse{Items: items}, err
}

// IssueDocument sends a document.
func (h *Handlers) IssueDocument(ctx context.Context, req spec.IssueDocumentRequestObject) (spec.IssueDocumentResponseObject, error) {
	scope := scopeOf(req.Body.Everything, req.Body.Only, req.Body.Clause)
	is, err := h.jobs.IssueDocument(ctx, auth.Who(ctx), req.FitOut, req.Body.Document, scope, issue.Sent{To: req.Body.To, Note: value(req.Body.Note)})
	out, err := one[spec.IssueDetail](is, err)
	return spec.IssueDocument201JSONResponse{Body: out, Headers: spec.IssueDocument201ResponseHeaders{Location: location(req.FitOut, "issues", is.Document, strconv.Itoa(is.Number))}}, err
}

// GetIssue answers one issue with what changed.
func (h *Handlers) GetIssue(ctx context.Context, req spec.GetIssueRequestObject) (spec.GetIssueResponseObject, error) {
	out, err := one[spec.IssueDetail](h.jobs.IssueOf(ctx, req.FitOut, req.Name, req.Number))
	return spec.GetIssue200JSONResponse(out), err
}

// GetIssueFile answers the document as it was sent.
func (h *Handlers) GetIssueFile(ctx context.Context, req spec.GetIssueFileRequestObject) (spec.GetIssueFileResponseObject, error) {
	d, content, err := h.jobs.IssueFile(ctx, req.FitOut, req.Name, req.Number)
	return download{d.Name, d.MediaType, content}, err
}

// VisitGetIssueFileResponse writes the file.
func (d download) VisitGetIssueFileResponse(w http.ResponseWriter) error { return d.write(w) }

// GetIssuePrint answers the print that went out with it.
func (h *Handlers) GetIssuePrint(ctx context.Context, req spec.GetIssuePrintRequestObject) (spec.GetIssuePrintResponseObject, error) {
	d, content, err := h.jobs.IssuePrint(ctx, req.FitOut, req.Name, req.Number)
	return download{d.Name, d.MediaType, content}, err
}

// VisitGetIssuePrintResponse writes the print.
func (d download) VisitGetIssuePrintResponse(w http.ResponseWriter) error { return d.write(w) }

// GetAnswers answers where the items stand.
func (h *Handlers) GetAnswers(ctx context.Context, req spec.GetAnswersRequestObject) (spec.GetAnswersResponseObject, error) {
	out, err := standing(h.jobs.Standing(ctx, req.FitOut, req.Name, req.Number))
	return spec.GetAnswers200JSONResponse(out), err
}

// AnswerIssue takes what one party says.
func (h *Handlers) AnswerIssue(ctx context.Context, req spec.AnswerIssueRequestObject) (spec.AnswerIssueResponseObject, error) {
	statements, err := turned[[]answer.Statement](req.Body.Statements)
	if err != nil {
		return nil, err
	}
	out, err := standing(h.jobs.Answer(ctx, auth.Who(ctx), req.FitOut, req.Name, req.Number, answer.Party(req.Body.Party), value(req.Body.By), statements))
	return spec.AnswerIssue201JSONResponse(out), err
}

func standing(s service.Standing, err error) (spec.Standing, error) {
	return one[spec.Standing](s, err)
}

// ReceiveReturned reads a workbook that came back, and takes nothing.
func (h *Handlers) ReceiveReturned(ctx context.Context, req spec.ReceiveReturnedRequestObject) (spec.ReceiveReturnedResponseObject, error) {
	content, err := io.ReadAll(req.Body) // within the limit that the contract's check holds
	if err != nil {
		return nil, fmt.Errorf("reading a workbook: %w", err)
	}
	party := answer.Landlord
	if req.Params.Party != nil {
		party = answer.Party(*req.Params.Party)
	}
	read, err := h.jobs.Receive(ctx, auth.Who(ctx), req.FitOut, req.Name, req.Number, party, content)
	out, err := one[spec.Reading](read, err)
	at := location(req.FitOut, "issues", req.Name, strconv.Itoa(req.Number), "returned", read.SHA256)
	return spec.ReceiveReturned201JSONResponse{Body: out, Headers: spec.ReceiveReturned201ResponseHeaders{Location: at}}, err
}

// TakeReturned takes everything that a received workbook says.
func (h *Handlers) TakeReturned(ctx context.Context, req spec.TakeReturnedRequestObject) (spec.TakeReturnedResponseObject, error) {
	out, err := standing(h.jobs.Take(ctx, auth.Who(ctx), req.FitOut, req.Name, req.Number, answer.Party(req.Body.Party), value(req.Body.By), req.Sha256, req.Body.Seen, value(req.Body.Asked)))
	return spec.TakeReturned201JSONResponse(out), err
}

// ListLinks answers the links to an issue.
func (h *Handlers) ListLinks(ctx context.Context, req spec.ListLinksRequestObject) (spec.ListLinksResponseObject, error) {
	out, err := h.links(ctx, req.FitOut, req.Name, req.Number)
	return spec.ListLinks200JSONResponse(out), err
}

func (h *Handlers) links(ctx context.Context, fitOut, document string, number int) (spec.LinkList, error) {
	all, err := h.jobs.Links(ctx, fitOut, document, number)
	if err != nil {
		return spec.LinkList{}, err
	}
	out := spec.LinkList{Items: make([]spec.Link, len(all))}
	for i, l := range all {
		if out.Items[i], err = one[spec.Link](l, nil); err != nil {
			return out, err
		}
	}
	return out, nil
}

// MakeLink makes a link, and shows its secret this once.
func (h *Handlers) MakeLink(ctx context.Context, req spec.MakeLinkRequestObject) (spec.MakeLinkResponseObject, error) {
	token, hash := auth.NewToken()
	l, err := h.jobs.MakeLink(ctx, auth.Who(ctx), req.FitOut, req.Name, req.Number, req.Body.MadeFor, req.Body.Days, hash)
	out, err := one[spec.Link](l, err)
	return spec.MakeLink201JSONResponse{Link: out, Path: auth.LinkPath(token)}, err
}

// RevokeLink ends a link.
func (h *Handlers) RevokeLink(ctx context.Context, req spec.RevokeLinkRequestObject) (spec.RevokeLinkResponseObject, error) {
	if err := h.jobs.RevokeLink(ctx, auth.Who(ctx), req.FitOut, req.Name, req.Number, req.Link); err != nil {
		return nil, err
	}
	out, err := h.links(ctx, req.FitOut, req.Name, req.Number)
	return spec.RevokeLink200JSONResponse(out), err
}
