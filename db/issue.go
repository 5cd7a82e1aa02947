package db

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
	"unpick/domain/issue"
)

// issueColumns are those of a list: the bytes and the lines are read one issue at a time.
const issueColumns = `document, number, title, media_type, sha256, octet_length(content), head, head_entry, entry, issued_at, issued_by, sent_to, note, currency, scope,
	print_document, print_media_type, print_sha256, octet_length(print)`

const issueRead = `
	select ` + issueColumns + `, null::jsonb from issues where firm = @firm and fit_out = @fit_out`

const issueReadWhole = `
	select ` + issueColumns + `, lines from issues where firm = @firm and fit_out = @fit_out and document = @document`

func readIssue(row pgx.CollectableRow) (issue.Issue, error) {
	var i issue.Issue
	var at time.Time
	var lines []byte
	var printed struct {
		document, mediaType, sum *string
		size                     *int
	}
	err := row.Scan(&i.Document, &i.Number, &i.Title, &i.MediaType, &i.SHA256, &i.Size, &i.Head, &i.HeadEntry, &i.Entry, &at, &i.By, &i.To, &i.Note, &i.Currency, &i.Scope,
		&printed.document, &printed.mediaType, &printed.sum, &printed.size, &lines)
	if err != nil {
		return i, err
	}
	if printed.document != nil { // then the others are there too
		i.Print = &issue.Print{Document: *printed.document, MediaType: *printed.mediaType, SHA256: *printed.sum, Size: *printed.size}
	}
	i.At = at.UTC().Format(domain.LogTime)
	if lines != nil {
		err = json.Unmarshal(lines, &i.Lines)
	}
	return i, err
}

// Issues are all issues of a fit-out without their lines, by document and number.
func (d *DB) Issues(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) ([]issue.Issue, error) {
	const q = issueRead + ` order by document, number`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	all, err := pgx.CollectRows(rows, readIssue)
	if err != nil {
		return nil, fmt.Errorf("listing issues: %w", err)
	}
	return all, nil
}

// IssuesOf are the issues of one document with their lines, the oldest first.
func (d *DB) IssuesOf(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string) ([]issue.Issue, error) {
	const q = issueReadWhole + ` order by number`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.with("document", document)) // error: next line
	all, err := pgx.CollectRows(rows, readIssue)
	if err != nil {
		return nil, fmt.Errorf("loading the issues of %s: %w", document, err)
	}
	return all, nil
}

// IssueFile is an issue's bytes as they were sent, or NotFound.
func (d *DB) IssueFile(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string, number int) ([]byte, error) {
	const q = `select content from issues where firm = @firm and fit_out = @fit_out and document = @document and number = @number`
	args := scope{firm, fitOut}.with("document", document)
	args["number"] = number
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	content, ok, err := one(rows, pgx.RowTo[[]byte])
	switch {
	case err != nil:
		return nil, fmt.Errorf("loading issue %d of %s: %w", number, document, err)
	case !ok:
		return nil, domain.Errorf(domain.NotFound, "there is no issue %d of %s", number, document)
	}
	return content, nil
}

// IssuePrint is an issue's print as it was sent, or NotFound.
func (d *DB) IssuePrint(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string, number int) ([]byte, error) {
	const q = `select print from issues where firm = @firm and fit_out = @fit_out and document = @document and number = @number and print is not null`
	args := scope{firm, fitOut}.with("document", document)
	args["number"] = number
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	content, ok, err := one(rows, pgx.RowTo[[]byte])
	switch {
	case err != nil:
		return nil, fmt.Errorf("loading the print of issue %d of %s: %w", number, document, err)
	case !ok:
		return nil, domain.Errorf(domain.NotFound, "there is no issue %d of %s in print", number, document)
	}
	return content, nil
}

// ItemNumbers are the numbers that items of each document have been given.
func (d *DB) ItemNumbers(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (map[string]issue.Series, error) {
	const q = `select document, key, number from item_numbers where firm = @firm and fit_out = @fit_out`
	type given struct {
		Document, Key string
		Number        int
	}
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	all, err := pgx.CollectRows(rows, pgx.RowToStructByPos[given])
	if err != nil {
		return nil, fmt.Errorf("loading the numbers of items: %w", err)
	}
	out := map[string]issue.Series{}
	for _, g := range all {
		if out[g.Document] == nil {
			out[g.Document] = issue.Series{}
		}
		out[g.Document][g.Key] = g.Number
	}
	return out, nil
}

// Written is a document as it goes out: the issue with its lines and whatever else it says, its bytes, and those of its
// print where Issue.Print names one.
type Written struct {
	Issue          issue.Issue
	Content, Print []byte
}

// Issue stores a document as it is sent, with its print, and logs it: all of it or nothing. head is the log entry that the
// document was made at; when somebody has logged since, it is stale. make writes the document, given the issue with its
// number, date and head.
func (d *DB) Issue(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, who domain.Actor, document, madeAt string,
	make func(issue.Issue) (Written, error)) (issue.Issue, error) {
	var out issue.Issue
	s := scope{firm, fitOut}
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		r, head, err := d.hold(ctx, w.tx, s)
		if err != nil {
			return err
		}
		if head.Hash != madeAt {
			return domain.Errorf(domain.Stale, "somebody has logged something since this document was made: look at it again, then issue it")
		}
		number, err := nextIssue(ctx, w.tx, s, document)
		if err != nil {
			return err
		}
		made, err := make(issue.Issue{Document: document, Number: number, Head: head.Hash, HeadEntry: head.Number, Entry: head.Number + 1,
			At: head.now.UTC().Format(domain.LogTime), By: who.Name, Currency: r.FitOut.Currency})
		if err != nil {
			return err
		}
		out = made.Issue
		out.SHA256, out.Size = sumOf(made.Content), len(made.Content)
		if out.Print != nil {
			out.Print.SHA256, out.Print.Size = sumOf(made.Print), len(made.Print)
		}
		made.Issue = out
		if err := addIssue(ctx, w.tx, s, made, head.now); err != nil {
			return err
		}
		short := out
		short.Lines = nil
		what := fmt.Sprintf("issue %d of %s", out.Number, out.Title)
		entry, err := appendLog(ctx, w.tx, s, head, who, domain.Append, what, issue.Logged{Kind: domain.Append, What: what, Issue: short})
		if err != nil {
			return err
		}
		w.committed = append(w.committed, func() { d.snapshots.keep(s, entry.Hash, r) })
		return nil
	})
	return out, err
}

func sumOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

func nextIssue(ctx context.Context, tx pgx.Tx, s scope, document string) (int, error) {
	const q = `select 1 + coalesce(max(number), 0) from issues where firm = @firm and fit_out = @fit_out and document = @document`
	var number int
	if err := tx.QueryRow(ctx, q, s.with("document", document)).Scan(&number); err != nil {
		return 0, fmt.Errorf("numbering the next issue of %s: %w", document, err)
	}
	return number, nil
}

func addIssue(ctx context.Context, tx pgx.Tx, s scope, made Written, at time.Time) error {
	const q = `
		insert into issues (firm, fit_out, document, number, title, media_type, sha256, content, head, head_entry, entry, issued_at, issued_by, sent_to, note, currency, scope, lines,
			print_document, print_media_type, print_sha256, print)
		values (@firm, @fit_out, @document, @number, @title, @media_type, @sha256, @content, @head, @head_entry, @entry, @issued_at, @issued_by, @sent_to, @note, @currency, @scope, @lines,
			@print_document, @print_media_type, @print_sha256, @print)`
	const numbers = `
		insert into item_numbers (firm, fit_out, document, key, number, issue)
		select @firm, @fit_out, @document, key, number, @issue from unnest(@keys::text[], @numbers::int[]) as n (key, number)
		where not exists (select from item_numbers o where o.firm = @firm and o.fit_out = @fit_out and o.document = @document and o.key = n.key and o.number = n.number)`
	i := made.Issue
	lines, err := json.Marshal(i.Lines)
	if err != nil {
		return fmt.Errorf("writing the lines of an issue: %w", err)
	}
	args := s.with("document", i.Document)
	for name, value := range map[string]any{"number": i.Number, "title": i.Title, "media_type": i.MediaType, "sha256": i.SHA256, "content": made.Content, "head": i.Head,
		"head_entry": i.HeadEntry, "entry": i.Entry, "issued_at": at, "issued_by": i.By, "sent_to": i.To, "note": i.Note, "currency": i.Currency, "scope": i.Scope, "lines": lines,
		"print_document": nil, "print_media_type": nil, "print_sha256": nil, "print": nil} {
		args[name] = value
	}
	if p := i.Print; p != nil {
		args["print_document"], args["print_media_type"], args["print_sha256"], args["print"] = p.Document, p.MediaType, p.SHA256, made.Print
	}
	if _, err := tx.Exec(ctx, q, args); err != nil {
		return fmt.Errorf("storing issue %d of %s: %w", i.Number, i.Document, err)
	}
	var keys []string
	var given []int
	for _, l := range i.Lines {
		if l.Number > 0 {
			keys, given = append(keys, l.Key), append(given, l.Number)
		}
	}
	args = s.with("document", i.Document)
	args["issue"], args["keys"], args["numbers"] = i.Number, keys, given
	if _, err := tx.Exec(ctx, numbers, args); err != nil {
		return fmt.Errorf("keeping the numbers of the items of %s: %w", i.Document, err)
	}
	return nil
}
