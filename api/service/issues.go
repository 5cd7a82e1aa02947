package service

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/plan"
	"unpick/domain/schedule"
	"unpick/domain/timetable"
	"unpick/reports"
)

// Issued is one issue with what changed since the one before.
type Issued struct {
	issue.Issue
	Before  int            `json:"before"` // number of the issue before, 0 for none
	Latest  int            `json:"latest"` // number of the newest issue
	Changes []issue.Change `json:"changes"`
	// Still are the items that went out as they were agreed.
	Still []issue.Agreed `json:"still_agreed"`
}

// Issues are all issues of a fit-out without their lines, by document and number.
func (s *Service) Issues(ctx context.Context, fitOut string) ([]issue.Issue, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return s.db.Issues(ctx, s.firm, f.ID)
}

// itemsOf writes the items of a document that can be issued, by its name; nil for one that is not issued.
func itemsOf(in reports.Input, document string) func() []issue.Line {
	switch document {
	case issue.Reinstatement:
		return func() []issue.Line { return issue.ScheduleLines(in.Plan) }
	case issue.MakingGood:
		return func() []issue.Line { return issue.MakingGoodLines(in.Plan) }
	case stripOutBook:
		return func() []issue.Line { return issue.StripOutLines(in.Plan) }
	case "salvage.xlsx":
		return func() []issue.Line { return issue.SalvageLines(in.Plan) }
	}
	for assembly, name := range settingOutNames(in.Register) {
		if name == document {
			return func() []issue.Line { return issue.SettingOutLines(in.Register, assembly) }
		}
	}
	return nil
}

// settingOutNames are the names of the setting-out sheets, by assembly, as Documents gives them.
func settingOutNames(r *domain.Register) map[string]string {
	taken, out := map[string]bool{}, map[string]string{}
	for _, a := range r.Assemblies {
		if !stands(r, a.Code, domain.Stud, domain.Post) {
			continue
		}
		if name := freeName(taken, FileName(a.Code)); stands(r, a.Code, domain.Stud) {
			out[a.Code] = "setting-out-" + name + ".svg"
		}
	}
	return out
}

// Issueable are the documents of a stored fit-out that can be issued, in the order of DocumentList.
func (s *Service) Issueable(ctx context.Context, fitOut string) ([]Document, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	in := reports.Input{Register: r}
	return slices.DeleteFunc(Documents(in), func(d Document) bool { return itemsOf(in, d.Name) == nil }), nil
}

// IssueOf is one issue with its lines and what changed, or NotFound.
func (s *Service) IssueOf(ctx context.Context, fitOut, document string, number int) (Issued, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Issued{}, err
	}
	all, err := s.db.IssuesOf(ctx, s.firm, f.ID, document)
	if err != nil {
		return Issued{}, err
	}
	at := slices.IndexFunc(all, func(i issue.Issue) bool { return i.Number == number })
	if at < 0 {
		return Issued{}, domain.Errorf(domain.NotFound, "there is no issue %d of %s", number, document)
	}
	out := Issued{Issue: all[at], Latest: all[len(all)-1].Number, Changes: []issue.Change{}, Still: []issue.Agreed{}}
	if at == 0 {
		return out, nil
	}
	r, err := s.Recorded(ctx, fitOut)
	if err != nil {
		return Issued{}, err
	}
	out.Before = all[at-1].Number
	out.Changes, out.Still, err = s.changed(ctx, f, r, all[:at+1])
	return out, err
}

// changed is what changed in the last of these issues since the one before, why as far as condition records or
// work that was signed for are it, what of it was agreed, and what went out as it was agreed. r says when its records were entered.
func (s *Service) changed(ctx context.Context, f domain.FitOut, r *domain.Register, all []issue.Issue) ([]issue.Change, []issue.Agreed, error) {
	before, now := all[len(all)-2], all[len(all)-1]
	changes := issue.Compare(before.Lines, now.Lines, now.Currency)
	issue.Because(changes, r, before.Entry, now.Entry)
	signed, err := s.db.SignedBetween(ctx, s.firm, f.ID, before.Entry, now.Entry)
	if err != nil {
		return nil, nil, err
	}
	issue.Signed(changes, r, signed)
	if now.Document != issue.Reinstatement {
		return changes, []issue.Agreed{}, nil
	}
	said, err := s.db.Statements(ctx, s.firm, f.ID, now.Document)
	if err != nil {
		return nil, nil, err
	}
	still := answer.Carry(changes, all, said)
	was, err := s.db.FitOutAt(ctx, s.firm, f.ID, before.HeadEntry)
	if err != nil {
		return nil, nil, err
	}
	is, err := s.db.FitOutAt(ctx, s.firm, f.ID, now.HeadEntry)
	if err != nil {
		return nil, nil, err
	}
	if terms, ok := issue.Terms(was, is); ok {
		changes = append(changes, terms)
	}
	return changes, still, nil
}

// IssueFile is an issue's file as it was sent.
func (s *Service) IssueFile(ctx context.Context, fitOut, document string, number int) (Document, []byte, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Document{}, nil, err
	}
	content, err := s.db.IssueFile(ctx, s.firm, f.ID, document, number)
	if err != nil {
		return Document{}, nil, err
	}
	all, err := s.db.IssuesOf(ctx, s.firm, f.ID, document)
	if err != nil {
		return Document{}, nil, err
	}
	at := slices.IndexFunc(all, func(i issue.Issue) bool { return i.Number == number })
	return Document{Name: fmt.Sprintf("issue-%d-%s", number, document), Title: all[at].Title, MediaType: all[at].MediaType}, content, nil
}

// IssuePrint is the print of an issue as it was sent, or NotFound where it has none.
func (s *Service) IssuePrint(ctx context.Context, fitOut, document string, number int) (Document, []byte, error) {
	is, err := s.IssueOf(ctx, fitOut, document, number)
	if err != nil {
		return Document{}, nil, err
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Document{}, nil, err
	}
	content, err := s.db.IssuePrint(ctx, s.firm, f.ID, document, number)
	if err != nil {
		return Document{}, nil, err
	}
	return Document{Name: fmt.Sprintf("issue-%d-%s", number, is.Print.Document), Title: is.Title, MediaType: is.Print.MediaType}, content, nil
}

// IssueDocument sends a document: numbers it, prints the head of the log on it, keeps its bytes and those of its print for
// good, and logs it. A document whose totals do not agree is Unclean, and one made before somebody logged is Stale: nothing is kept then.
func (s *Service) IssueDocument(ctx context.Context, who domain.Actor, fitOut, document string, scope schedule.Scope, sent issue.Sent) (Issued, error) {
	if err := sent.Check(); err != nil {
		return Issued{}, err
	}
	in, head, err := s.toIssue(ctx, fitOut, document, scope)
	if err != nil {
		return Issued{}, err
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Issued{}, err
	}
	var out Issued
	out.Issue, err = s.db.Issue(ctx, s.firm, f.ID, who, document, head, func(is issue.Issue) (db.Written, error) {
		is.To, is.Note = sent.To, sent.Note
		out.Before, out.Latest = is.Number-1, is.Number
		return s.written(ctx, f, is, in, &out)
	})
	return out, err
}

// toIssue is what a document is made of, and the head of the log that this covers.
func (s *Service) toIssue(ctx context.Context, fitOut, document string, scope schedule.Scope) (reports.Input, string, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return reports.Input{}, "", err
	}
	head := p.head
	if p, err = s.narrowed(ctx, p, document, scope); err != nil {
		return reports.Input{}, "", err
	}
	in := reports.Input{Register: p.register, Plan: p.plan, Now: s.now(), Scope: scope}
	if document == stripOutBook {
		if in.Timetable, err = s.laid(p, timetable.WhatIf{}, ""); err != nil {
			return in, "", err
		}
	}
	docs := Documents(in)
	at := slices.IndexFunc(docs, func(d Document) bool { return d.Name == document })
	switch {
	case at < 0:
		return in, "", domain.Errorf(domain.NotFound, "there is no document %q of %s: the list of documents has their names", document, fitOut)
	case itemsOf(in, document) == nil:
		for from, printed := range issue.Prints {
			if printed == document {
				return in, "", domain.Errorf(domain.Refused, "%s goes out with what it is printed from: issue %s, and both have its number", document, from)
			}
		}
		return in, "", domain.Errorf(domain.Refused, "%s is not issued: issues are made of the schedule, strip-out, making good, salvage and setting out", document)
	}
	return in, head, nil
}

// narrowed is a plan under a scope, numbered as the whole is. Only the schedule is issued of a part.
func (s *Service) narrowed(ctx context.Context, p planned, document string, scope schedule.Scope) (planned, error) {
	if document != issue.Reinstatement && (scope.Everything || len(scope.Only) > 0 || scope.Clause != "") {
		if part, _, err := scope.Register(p.register); err != nil || part == p.register && scope.Clause == "" {
			return p, err
		}
		return p, domain.Errorf(domain.Refused, "%s is issued of all the works: only the schedule is issued of a part", document)
	}
	part, err := s.asked(ctx, p.register.FitOut.Code, p.register, scope)
	if err != nil || part.plan != nil {
		return part, err
	}
	return p.under(scope.Clause)
}

// planOf plans a stored fit-out with other things left by consent than those logged, with the numbers that its items have and
// where they stand.
func (s *Service) planOf(ctx context.Context, fitOut string, r *domain.Register) (planned, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return planned{}, err
	}
	made, err := plan.Make(r)
	if err != nil {
		return planned{}, err
	}
	if err := s.number(ctx, f.ID, made); err != nil {
		return planned{}, err
	}
	stand, err := s.standIn(ctx, f.ID, made)
	return planned{register: r, plan: made, stand: stand, ground: &ground{}, staying: &staying{}}, err
}

// number puts the numbers that items and rows have been given into a plan, and which issue of the making-good list has a row.
func (s *Service) number(ctx context.Context, id domain.FitOutID, p *plan.Plan) error {
	given, err := s.db.ItemNumbers(ctx, s.firm, id)
	if err != nil {
		return err
	}
	lists, err := s.db.IssuesOf(ctx, s.firm, id, issue.MakingGood)
	if err != nil {
		return err
	}
	var sent *issue.Issue
	if len(lists) > 0 {
		sent = &lists[len(lists)-1]
	}
	issue.Number(p, given, sent)
	return nil
}

// written makes the document of an issue and its print, with what changed since the one before and what was said to it.
func (s *Service) written(ctx context.Context, f domain.FitOut, is issue.Issue, in reports.Input, out *Issued) (db.Written, error) {
	in.By, in.Revision, in.Before = is.By, fmt.Sprintf("Issue %d", is.Number), is.Number-1
	in.Issue = &is
	d := documentOf(in, is.Document)
	if scope := in.Scope; scope.Everything || len(scope.Only) > 0 || scope.Clause != "" {
		is.Scope = scope.Words(in.Register)
	}
	is.Title, is.MediaType, is.Lines = d.Title, d.MediaType, itemsOf(in, d.Name)()
	if err := issue.Stop(in.Plan, is.Lines, in.Scope.Clause != ""); err != nil {
		return db.Written{}, err
	}
	before, err := s.db.IssuesOf(ctx, s.firm, f.ID, is.Document)
	if err != nil {
		return db.Written{}, err
	}
	out.Changes, out.Still = []issue.Change{}, []issue.Agreed{}
	if len(before) > 0 {
		if out.Changes, out.Still, err = s.changed(ctx, f, in.Register, append(before, is)); err != nil {
			return db.Written{}, err
		}
		said, err := s.db.Statements(ctx, s.firm, f.ID, is.Document)
		if err != nil {
			return db.Written{}, err
		}
		in.Positions = map[int]answer.Position{}
		now := answer.Standing(append(before, is), said)
		for _, p := range now {
			in.Positions[p.Line.Number] = p
		}
		stands := *in.Plan // the plan that is kept stays as it is
		stands.Schedule.AsAgreed = answer.AsAgreed(now, in.Register.FitOut)
		in.Plan = &stands
	}
	in.Changes, in.Still = out.Changes, out.Still
	made := db.Written{Issue: is}
	if made.Content, err = bytesOf(documentOf(in, is.Document)); err != nil {
		return made, err
	}
	if name := issue.Prints[is.Document]; name != "" {
		printed := documentOf(in, name)
		made.Issue.Print = &issue.Print{Document: printed.Name, MediaType: printed.MediaType}
		made.Print, err = bytesOf(printed)
	}
	return made, err
}

// documentOf is a document by a name that is known to be there.
func documentOf(in reports.Input, name string) Document {
	docs := Documents(in)
	return docs[slices.IndexFunc(docs, func(d Document) bool { return d.Name == name })]
}

func bytesOf(d Document) ([]byte, error) {
	var out bytes.Buffer
	err := d.Write(&out)
	return out.Bytes(), err
}
