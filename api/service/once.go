package service

import (
	"context"
	"time"

	"unpick/db"
)

// keptAnswers is how long the answer to a request with a key is kept.
const keptAnswers = 30 * 24 * time.Hour

// Once does a request that carries a key once: the same again gets the first answer, see db.Once.
func (s *Service) Once(ctx context.Context, key string, bodyHash []byte, do func(context.Context) (db.Answer, error)) (db.Answer, error) {
	return s.db.Once(ctx, s.firm, key, bodyHash, do)
}

// ForgetOldAnswers drops answers that are older than thirty days.
func (s *Service) ForgetOldAnswers(ctx context.Context) error {
	_, err := s.db.ForgetAnswers(ctx, s.now().Add(-keptAnswers))
	return err
}

// Ping fails when the database does not answer.
func (s *Service) Ping(ctx context.Context) error { return s.db.Ping(ctx) }
