// Package service holds the jobs that the program does, without HTTP and without SQL: the pages, the API and the
// commands all use it.
//
// Looking for
//
//   - reading and storing whole fit-outs: service.go; opening one, amending its terms: fitout.go
//   - logging by recipe or piece by piece: log.go; advice, consent, dry runs: change.go
//   - holes of fixings sent without them: drilled.go; pieces that would wait for each other: cycle.go
//   - a host surface amended, struck, or drawn before it is stored: host.go
//   - amending: amend.go; striking out: strike.go; lists: records.go
//   - an assembly described again, or struck with everything in it: assembly.go
//   - the dates of the lease: dates.go; the programme on days: programme.go
//   - a fit-out with its plan: planned.go; the documents made of it: documents.go
//   - issues of documents: issues.go; what tenant and landlord say to them, workbooks that come back: answers.go; links by
//     which the landlord reads and answers: links.go
//   - freeing one thing: freeing.go
//   - photos: photo.go; signing before something is closed up: closing.go; built otherwise than logged: asbuilt.go
//   - a request sent twice is done once: once.go
package service

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"sync"
	"time"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/domain/release"
)

// Service does jobs for one firm.
type Service struct {
	db   *db.DB
	firm domain.FirmID
	now  func() time.Time
	life context.Context // the program's: what goes on when a request is over

	plans      plans
	programmes programmes
	decoding   sync.Mutex // one photo at a time
}

// New is the service over a migrated database. now is the clock. Close it once.
func New(ctx context.Context, d *db.DB, now func() time.Time) (*Service, error) {
	firm, err := d.Firm(ctx)
	if err != nil {
		return nil, err
	}
	return &Service{db: d, firm: firm, now: now, life: context.WithoutCancel(ctx)}, nil
}

// ReadFile reads a fit-out file, expands its recipes and checks every rule. Nothing is stored.
func ReadFile(rd io.Reader) (*domain.Register, error) {
	return fitoutfile.Read(rd, catalogue.Default(), recipe.Expand)
}

// ImportFile stores a fit-out file, whole or not at all.
func (s *Service) ImportFile(ctx context.Context, who domain.Actor, rd io.Reader) (domain.FitOut, error) {
	r, err := ReadFile(rd)
	if err != nil {
		return domain.FitOut{}, err
	}
	return s.Import(ctx, who, r)
}

// Import stores a register, whole or not at all. One in which pieces wait for each other is refused with code Cycle:
// nobody could take it out.
func (s *Service) Import(ctx context.Context, who domain.Actor, r *domain.Register) (domain.FitOut, error) {
	if err := release.Build(r).Check(); err != nil {
		return domain.FitOut{}, advice.Waiting(r, err)
	}
	return s.db.Import(ctx, s.firm, who, r)
}

// BeganAs reports whether a stored fit-out was imported from just these records, whatever was logged since.
func (s *Service) BeganAs(ctx context.Context, code string, r *domain.Register) (bool, error) {
	first, err := s.Log(ctx, code, 0, 1)
	if err != nil || len(first) == 0 {
		return false, err
	}
	var imported domain.Imported
	if err := json.Unmarshal(first[0].Change, &imported); err != nil {
		return false, fmt.Errorf("reading the first log entry of %s: %w", code, err)
	}
	sum, err := db.ImportSum(r)
	return sum == imported.RecordsSHA256, err
}

// FitOut is a stored fit-out by its code, or NotFound.
func (s *Service) FitOut(ctx context.Context, code string) (domain.FitOut, error) {
	return s.db.FitOutByCode(ctx, s.firm, code)
}

// FitOuts are at most limit fit-outs after a code.
func (s *Service) FitOuts(ctx context.Context, after string, limit int) ([]domain.FitOut, error) {
	return s.db.FitOuts(ctx, s.firm, after, limit)
}

// Register is the whole register of a stored fit-out.
func (s *Service) Register(ctx context.Context, code string) (*domain.Register, error) {
	f, err := s.db.FitOutByCode(ctx, s.firm, code)
	if err != nil {
		return nil, err
	}
	return s.db.Register(ctx, s.firm, f.ID)
}

// Log is a page of the fit-out's log after an entry.
func (s *Service) Log(ctx context.Context, code string, after int64, limit int) ([]domain.LogEntry, error) {
	f, err := s.db.FitOutByCode(ctx, s.firm, code)
	if err != nil {
		return nil, err
	}
	return s.db.Log(ctx, s.firm, f.ID, after, limit)
}

// LastLogged are the newest entries of the fit-out's log, the newest first.
func (s *Service) LastLogged(ctx context.Context, code string, most int) ([]domain.LogEntry, error) {
	f, err := s.db.FitOutByCode(ctx, s.firm, code)
	if err != nil {
		return nil, err
	}
	head, err := s.db.LogHead(ctx, s.firm, f.ID)
	if err != nil {
		return nil, err
	}
	last, err := s.db.Log(ctx, s.firm, f.ID, max(head.Number-int64(most), 0), most)
	slices.Reverse(last)
	return last, err
}
