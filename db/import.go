package db

import (
	"context"
	"fmt"

	"unpick/domain"
)

// Import makes a fit-out from a whole register, all of it or nothing. Every record starts at version 1 and the log with
// one entry, which holds not the records but their count and hash: see domain.Imported. Every record has passed
// domain.Check, as one read from a file has: here only the constraints of the database are asked.
func (d *DB) Import(ctx context.Context, firm domain.FirmID, who domain.Actor, r *domain.Register) (domain.FitOut, error) {
	records := numbered(r)
	var f domain.FitOut
	err := d.inTx(ctx, func(ctx context.Context, w *work) (err error) {
		sum := startSum(records) // while the server works: nothing below writes to the records
		if _, err := w.tx.Exec(ctx, roomForMany); err != nil {
			return fmt.Errorf("asking the database for room: %w", err)
		}
		if f, err = insertFitOut(ctx, w.tx, firm, r.FitOut); err == nil {
			err = addAll(ctx, w.tx, scope{firm, f.ID}, 1, records)
		}
		summed := <-sum
		if err != nil {
			return err
		}
		if summed.err != nil {
			return fmt.Errorf("hashing the records of %s: %w", f.Code, summed.err)
		}
		what := fmt.Sprintf("register %s imported: %d elements, %d sets of fixings", f.Code, len(records.Elements), len(records.Fixings))
		change := domain.Imported{Kind: domain.Append, What: what, FitOut: f, Counts: domain.CountsOf(records), RecordsSHA256: summed.sum}
		_, err = openLog(ctx, w.tx, scope{firm, f.ID}, who, what, change)
		return err
	})
	return f, err
}

// roomForMany lets the guards, until the transaction ends, hold the rows that they look at in memory rather than in a file:
// 100,000 sets of fixings take about 50 MB.
const roomForMany = `set local work_mem = '64MB'`

// ImportSum is the sum of records that importing r writes into the log: what tells whether a stored fit-out began as r.
func ImportSum(r *domain.Register) (string, error) { return domain.SumRecords(numbered(r)) }

// numbered is the records of r as they are stored, every hole with its number.
func numbered(r *domain.Register) domain.Records {
	records := fresh(r.Records())
	records.Holes = domain.Numbered(nil, records.Holes)
	return records
}

type summed struct {
	sum string
	err error
}

// startSum hashes records as domain.Imported describes; the answer comes on the channel, which need not be read.
func startSum(records domain.Records) <-chan summed {
	out := make(chan summed, 1)
	go func() {
		sum, err := domain.SumRecords(records)
		out <- summed{sum, err}
	}()
	return out
}
