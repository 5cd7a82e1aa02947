package db

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// appendLog writes the entry behind the head of a log whose fit-out is held. The change is logged as it was stored.
func appendLog(ctx context.Context, tx pgx.Tx, s scope, h head, who domain.Actor, kind domain.ChangeKind, what string, change any) (domain.LogEntry, error) {
	const q = `
		insert into log (firm, fit_out, entry, who, device_time, server_time, kind, what, change, previous, hash)
		values (@firm, @fit_out, @entry, @who, @device_time, @server_time, @kind, @what, @change, @previous, @hash)`
	if err := checkActor(who); err != nil {
		return domain.LogEntry{}, err
	}
	text, err := json.Marshal(change)
	if err != nil {
		return domain.LogEntry{}, fmt.Errorf("writing the change for the log: %w", err)
	}
	e := h.Next(who, h.now.UTC().Format(domain.LogTime), kind, what, text)
	previous, hash, err := hashBytes(e)
	if err != nil {
		return e, err
	}
	_, err = tx.Exec(ctx, q, pgx.StrictNamedArgs{
		"firm": s.firm, "fit_out": s.fitOut, "entry": e.Number, "who": e.Who, "device_time": e.DeviceTime,
		"server_time": h.now, "kind": string(e.Kind), "what": e.What, "change": e.Change, "previous": previous, "hash": hash,
	})
	if err != nil {
		return e, fmt.Errorf("appending entry %d to the log of fit-out %d: %w", e.Number, s.fitOut, err)
	}
	return e, nil
}

// openLog writes the first entry of a fit-out that this transaction made.
func openLog(ctx context.Context, tx pgx.Tx, s scope, who domain.Actor, what string, change any) (domain.LogEntry, error) {
	const q = `select clock_timestamp()`
	rows, _ := tx.Query(ctx, q) // error: next line
	now, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[time.Time])
	if err != nil {
		return domain.LogEntry{}, fmt.Errorf("asking the database for the time: %w", err)
	}
	return appendLog(ctx, tx, s, head{now: now}, who, domain.Append, what, change)
}

func checkActor(who domain.Actor) error {
	if who.DeviceTime == "" {
		return nil
	}
	if _, err := time.Parse(time.RFC3339, who.DeviceTime); err != nil {
		return domain.Errorf(domain.Invalid, "the device's time %q is not a time: write it like 2026-03-14T09:26:53Z", who.DeviceTime)
	}
	return nil
}

func hashBytes(e domain.LogEntry) (previous, hash []byte, err error) {
	if previous, err = hex.DecodeString(e.Previous); err == nil {
		hash, err = hex.DecodeString(e.Hash)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("reading the hash of entry %d: %w", e.Number, err)
	}
	return previous, hash, nil
}

const logRead = `
	select entry, who, device_time, server_time, kind, what, change, encode(previous, 'hex'), encode(hash, 'hex')
	from log where firm = @firm and fit_out = @fit_out`

func readEntry(row pgx.CollectableRow) (domain.LogEntry, error) {
	var (
		e  domain.LogEntry
		at time.Time
	)
	err := row.Scan(&e.Number, &e.Who, &e.DeviceTime, &at, &e.Kind, &e.What, (*json.RawMessage)(&e.Change), &e.Previous, &e.Hash)
	e.ServerTime = at.UTC().Format(domain.LogTime)
	return e, err
}

// Log are at most limit entries after a number, oldest first; 0 starts at the first.
func (d *DB) Log(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after int64, limit int) ([]domain.LogEntry, error) {
	const q = logRead + ` and entry > @after order by entry limit @limit`
	args := scope{firm, fitOut}.with("after", after)
	args["limit"] = limit
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	entries, err := pgx.CollectRows(rows, readEntry)
	if err != nil {
		return nil, fmt.Errorf("reading the log: %w", err)
	}
	return entries, nil
}

// LogHead is the newest entry of a fit-out's log, or NotFound: its hash is the anchor printed on documents.
func (d *DB) LogHead(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (domain.LogEntry, error) {
	const q = logRead + ` order by entry desc limit 1`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	e, ok, err := one(rows, readEntry)
	switch {
	case err != nil:
		return e, fmt.Errorf("reading the head of the log: %w", err)
	case !ok:
		return e, domain.Errorf(domain.NotFound, "there is no such fit-out")
	}
	return e, nil
}

// Broken is the first entry of a log that does not hold, and why.
type Broken struct {
	Number int64
	Reason string
}

// VerifyLog checks the whole chain of a fit-out's log, entry by entry, and answers the first that does not hold, nil
// when all do, and the head it reached: whoever holds an older hash can compare.
func (d *DB) VerifyLog(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (*Broken, domain.LogEntry, error) {
	const page = 100
	var last domain.LogEntry
	for {
		entries, err := d.Log(ctx, firm, fitOut, last.Number, page)
		if err != nil {
			return nil, last, err
		}
		for _, e := range entries {
			if reason := last.Follows(e); reason != "" {
				return &Broken{e.Number, reason}, last, nil
			}
			last = e
		}
		if len(entries) < page {
			return nil, last, nil
		}
	}
}
