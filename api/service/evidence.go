package service

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"mime"
	"path"
	"slices"
	"strings"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/issue"
	"unpick/reports/bundle"
)

const (
	evidenceName = "evidence.zip"
	logPage      = 1000
)

// evidence is the bundle among the documents of a stored fit-out.
func (s *Service) evidence(ctx context.Context, who domain.Actor, fitOut string) Document {
	return Document{evidenceName, "The evidence: register, log, photos, what was issued and what came back, with how anybody can check it", "application/zip", false,
		func(w io.Writer) error { return s.Evidence(ctx, who, fitOut, w) }}
}

// Evidence writes the bundle of a stored fit-out: what it was at one entry of its log, and the whole log up to it.
func (s *Service) Evidence(ctx context.Context, who domain.Actor, fitOut string, w io.Writer) error {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return err
	}
	var issues []issue.Issue
	var received []db.Received
	in := bundle.Input{MadeAt: s.now(), MadeBy: cmp.Or(who.Name, "nobody named")}
	for head := ""; ; {
		before, err := s.db.LogHead(ctx, s.firm, f.ID)
		if err != nil {
			return err
		}
		if head == before.Hash {
			break // nobody logged while it was read
		}
		head = before.Hash
		if in.Register, err = s.db.Register(ctx, s.firm, f.ID); err != nil {
			return err
		}
		if in.Log, err = s.wholeLog(ctx, f.ID); err != nil {
			return err
		}
		if issues, err = s.db.Issues(ctx, s.firm, f.ID); err != nil {
			return err
		}
		if received, err = s.db.AllReceived(ctx, s.firm, f.ID); err != nil {
			return err
		}
	}
	for _, sum := range photosOf(in.Register) {
		mediaType, content, err := s.db.PhotoFile(ctx, s.firm, f.ID, sum, false)
		if domain.CodeOf(err) == domain.NotFound {
			continue // it came with a fit-out file, which has names and no pictures: the check says so
		}
		if err != nil {
			return err
		}
		in.Photos = append(in.Photos, bundle.Content{Name: sum + ending(mediaType), Bytes: content})
	}
	for _, i := range issues {
		content, err := s.db.IssueFile(ctx, s.firm, f.ID, i.Document, i.Number)
		if err != nil {
			return err
		}
		in.Issues = append(in.Issues, bundle.Content{Name: numbered(i.Number, i.Document), Bytes: content})
		if i.Print == nil {
			continue
		}
		if content, err = s.db.IssuePrint(ctx, s.firm, f.ID, i.Document, i.Number); err != nil {
			return err
		}
		in.Issues = append(in.Issues, bundle.Content{Name: numbered(i.Number, i.Print.Document), Bytes: content})
	}
	for _, r := range received {
		content, err := s.db.ReceivedFile(ctx, s.firm, f.ID, r.Document, r.Issue, r.SHA256, r.Party)
		if err != nil {
			return err
		}
		stem, end := FileName(strings.TrimSuffix(r.Document, path.Ext(r.Document))), path.Ext(r.Document)
		in.Returned = append(in.Returned, bundle.Content{Name: fmt.Sprintf("%03d-%s-%s-%s%s", r.Issue, stem, r.Party, r.SHA256, end), Bytes: content})
	}
	return bundle.Write(w, in)
}

// numbered is the name of an issue's file in a bundle.
func numbered(number int, document string) string {
	end := path.Ext(document)
	return fmt.Sprintf("%03d-%s%s", number, FileName(strings.TrimSuffix(document, end)), end)
}

func (s *Service) wholeLog(ctx context.Context, id domain.FitOutID) ([]domain.LogEntry, error) {
	var all []domain.LogEntry
	for after := int64(0); ; {
		page, err := s.db.Log(ctx, s.firm, id, after, logPage)
		if err != nil {
			return nil, err
		}
		all = append(all, page...)
		if len(page) < logPage {
			return all, nil
		}
		after = page[len(page)-1].Number
	}
}

// photosOf are the photos that a register names, each once.
func photosOf(r *domain.Register) []string {
	var out []string
	for _, h := range slices.Concat(r.Hosts, r.StruckHosts) { // what was struck has its photos in the log
		for _, c := range h.Conditions {
			out = append(out, c.Photos...)
		}
	}
	for _, o := range r.SignOffs {
		out = append(out, o.Photos...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func ending(mediaType string) string {
	if mediaType == "image/jpeg" {
		return ".jpg" // of the many that a system may know
	}
	if all, err := mime.ExtensionsByType(mediaType); err == nil && len(all) > 0 {
		return all[0]
	}
	return ".bin"
}
