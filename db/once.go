package db

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Answer is what was answered to a request.
type Answer struct {
	Status int
	Header map[string][]string
	Body   []byte
}

// Once does a request that carries a key once. The first with a key runs do, in one transaction with keeping its answer;
// a second one waits for it and gets that answer. The same key with another body is Unmatched. When do fails nothing is
// kept, neither its changes nor the key: the request may be sent again. do must use the context it is given.
func (d *DB) Once(ctx context.Context, firm domain.FirmID, key string, bodyHash []byte, do func(context.Context) (Answer, error)) (Answer, error) {
	const begin = `
		insert into answers (firm, key, body_hash) values (@firm, @key, @body_hash)
		on conflict on constraint answers_key do nothing`
	const end = `update answers set (status, header, body) = (@status, @header, @body) where firm = @firm and key = @key`
	var answer Answer
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		args := pgx.StrictNamedArgs{"firm": firm, "key": key, "body_hash": bodyHash}
		begun, err := w.tx.Exec(ctx, begin, args)
		if err != nil {
			return fmt.Errorf("keeping the key of a request: %w", err)
		}
		if begun.RowsAffected() == 0 {
			answer, err = answered(ctx, w.tx, firm, key, bodyHash)
			return err
		}
		if answer, err = do(ctx); err != nil {
			return err
		}
		_, err = w.tx.Exec(ctx, end, pgx.StrictNamedArgs{"firm": firm, "key": key, "status": answer.Status, "header": answer.Header, "body": answer.Body})
		if err != nil {
			return fmt.Errorf("keeping the answer to a request: %w", err)
		}
		return nil
	})
	return answer, err
}

// answered is the answer kept for a key, if it was to the same body.
func answered(ctx context.Context, tx pgx.Tx, firm domain.FirmID, key string, bodyHash []byte) (Answer, error) {
	const q = `select body_hash, status, header, body from answers where firm = @firm and key = @key`
	var kept struct {
		Answer
		hash []byte
	}
	err := tx.QueryRow(ctx, q, pgx.StrictNamedArgs{"firm": firm, "key": key}).Scan(&kept.hash, &kept.Status, &kept.Header, &kept.Body)
	switch {
	case err != nil:
		return Answer{}, fmt.Errorf("finding the answer to a request: %w", err)
	case !bytes.Equal(kept.hash, bodyHash):
		return Answer{}, domain.Errorf(domain.Unmatched, "this key came before with another request: give each request a key of its own")
	}
	return kept.Answer, nil
}

// ForgetAnswers drops the answers to requests begun before a time, and says how many. Their keys may then be used again.
func (d *DB) ForgetAnswers(ctx context.Context, before time.Time) (int64, error) {
	const q = `delete from answers where begun < @before`
	gone, err := d.pool.Exec(ctx, q, pgx.StrictNamedArgs{"before": before})
	if err != nil {
		return 0, fmt.Errorf("dropping old answers: %w", err)
	}
	return gone.RowsAffected(), nil
}
