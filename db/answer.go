package db

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
	"unpick/domain/answer"
)

// Spoken is what the log keeps of statements: all of them.
type Spoken struct {
	Kind       domain.ChangeKind  `json:"kind"`
	What       string             `json:"what"`
	Document   string             `json:"document"`
	Issue      int                `json:"issue"`
	Party      answer.Party       `json:"party"`
	From       string             `json:"from"`
	Statements []answer.Statement `json:"statements"`
}

// Statements are everything said to the issues of a document, in the order in which it was said.
func (d *DB) Statements(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string) ([]answer.Said, error) {
	const q = `
		select item, verdict, figure, remarks, party, issue, said_by, said_at, entry, source from statements
		where firm = @firm and fit_out = @fit_out and document = @document order by place`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.with("document", document)) // error: next line
	said, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (answer.Said, error) {
		var s answer.Said
		var at time.Time
		err := row.Scan(&s.Item, (*string)(&s.Verdict), &s.FigureMinor, &s.Remarks, (*string)(&s.Party), &s.Issue, &s.By, &at, &s.Entry, &s.From)
		s.At = at.UTC().Format(domain.LogTime)
		return s, err
	})
	if err != nil {
		return nil, fmt.Errorf("loading what was said to %s: %w", document, err)
	}
	return said, nil
}

// Say stores statements and logs them: all of them or none. f is asked while nobody else can write to the fit-out, and
// must read through the context it is given. Nothing to say is Refused.
func (d *DB) Say(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, who domain.Actor, f func(context.Context) (Spoken, error)) (Spoken, error) {
	const q = `
		insert into statements (firm, fit_out, document, issue, item, party, verdict, figure, remarks, said_by, said_at, source, entry)
		values (@firm, @fit_out, @document, @issue, @item, @party, @verdict, @figure, @remarks, @said_by, @said_at, @source, @entry)`
	var out Spoken
	s := scope{firm, fitOut}
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		r, head, err := d.hold(ctx, w.tx, s)
		if err != nil {
			return err
		}
		if out, err = f(ctx); err != nil {
			return err
		}
		if len(out.Statements) == 0 {
			return domain.Errorf(domain.Refused, "nothing new is said to any item: there is nothing to take")
		}
		b := &pgx.Batch{}
		for _, t := range out.Statements {
			args := s.with("document", out.Document)
			for name, value := range map[string]any{"issue": out.Issue, "item": t.Item, "party": string(out.Party), "verdict": string(t.Verdict), "figure": t.FigureMinor,
				"remarks": t.Remarks, "said_by": who.Name, "said_at": head.now, "source": out.From, "entry": head.Number + 1} {
				args[name] = value
			}
			b.Queue(q, args)
		}
		if err := w.tx.SendBatch(ctx, b).Close(); err != nil {
			return fmt.Errorf("storing what was said to %s: %w", out.Document, err)
		}
		out.Kind = domain.Append
		entry, err := appendLog(ctx, w.tx, s, head, who, out.Kind, out.What, out)
		if err != nil {
			return err
		}
		w.committed = append(w.committed, func() { d.snapshots.keep(s, entry.Hash, r) })
		return nil
	})
	return out, err
}

// Received is a workbook that came back.
type Received struct {
	Document string       `json:"document"`
	Issue    int          `json:"issue"`
	SHA256   string       `json:"sha256"`
	Party    answer.Party `json:"party"`
	By       string       `json:"received_by"`
	At       string       `json:"received_at"`
}

// Receive keeps a workbook that came back, and logs its hash: once, however often it comes.
func (d *DB) Receive(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, who domain.Actor, what string, back answer.Returned, content []byte) (string, error) {
	const q = `
		insert into returned (firm, fit_out, document, issue, sha256, party, content, received_by)
		values (@firm, @fit_out, @document, @issue, @sha256, @party, @content, @received_by)
		on conflict on constraint returned_key do nothing`
	back.SHA256, back.Size = sumOf(content), len(content)
	s := scope{firm, fitOut}
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		r, head, err := d.hold(ctx, w.tx, s)
		if err != nil {
			return err
		}
		args := s.with("document", back.Document)
		args["issue"], args["sha256"], args["party"], args["content"], args["received_by"] = back.Issue, back.SHA256, string(back.Party), content, who.Name
		kept, err := w.tx.Exec(ctx, q, args)
		if err != nil {
			return fmt.Errorf("keeping a workbook that came back: %w", err)
		}
		if kept.RowsAffected() == 0 {
			return nil // it came before
		}
		entry, err := appendLog(ctx, w.tx, s, head, who, domain.Append, what, answer.CameBack{Kind: domain.Append, What: what, Returned: back})
		if err != nil {
			return err
		}
		w.committed = append(w.committed, func() { d.snapshots.keep(s, entry.Hash, r) })
		return nil
	})
	return back.SHA256, err
}

// ReceivedFile is the file of a workbook that came back, or NotFound.
func (d *DB) ReceivedFile(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string, number int, sum string, party answer.Party) ([]byte, error) {
	const q = `
		select content from returned
		where firm = @firm and fit_out = @fit_out and document = @document and issue = @issue and sha256 = @sha256 and party = @party`
	args := scope{firm, fitOut}.with("document", document)
	args["issue"], args["sha256"], args["party"] = number, sum, string(party)
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	content, ok, err := one(rows, pgx.RowTo[[]byte])
	switch {
	case err != nil:
		return nil, fmt.Errorf("loading a workbook that came back: %w", err)
	case !ok:
		return nil, domain.Errorf(domain.NotFound, "no such workbook came back to issue %d of %s", number, document)
	}
	return content, nil
}

const receivedRead = `
	select document, issue, sha256, party, received_by, received_at from returned where firm = @firm and fit_out = @fit_out`

func readReceived(row pgx.CollectableRow) (Received, error) {
	var r Received
	var at time.Time
	err := row.Scan(&r.Document, &r.Issue, &r.SHA256, (*string)(&r.Party), &r.By, &at)
	r.At = at.UTC().Format(domain.LogTime)
	return r, err
}

// Received lists the workbooks that came back to an issue, the newest first.
func (d *DB) Received(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string, number int) ([]Received, error) {
	const q = receivedRead + ` and document = @document and issue = @issue order by received_at desc, sha256`
	args := scope{firm, fitOut}.with("document", document)
	args["issue"] = number
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	all, err := pgx.CollectRows(rows, readReceived)
	if err != nil {
		return nil, fmt.Errorf("listing workbooks that came back: %w", err)
	}
	return all, nil
}

// AllReceived lists every workbook that came back to a fit-out, by document, issue and party.
func (d *DB) AllReceived(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) ([]Received, error) {
	const q = receivedRead + ` order by document, issue, party, sha256`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	all, err := pgx.CollectRows(rows, readReceived)
	if err != nil {
		return nil, fmt.Errorf("listing every workbook that came back: %w", err)
	}
	return all, nil
}
