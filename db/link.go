package db

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Link is a link to one issue for somebody without an account. Its secret is not in it: nobody can make it out again.
type Link struct {
	ID        int64     `json:"link"`
	FitOut    string    `json:"fit_out"` // code
	Document  string    `json:"document"`
	Issue     int       `json:"issue"`
	For       string    `json:"made_for"`
	By        string    `json:"made_by"`
	MadeAt    time.Time `json:"made_at"`
	ExpiresAt time.Time `json:"expires_at"`
	RevokedBy string    `json:"revoked_by,omitempty"`
	Revoked   bool      `json:"revoked"`
	Visits    []Visit   `json:"visits"`
}

// Opens reports whether the link opens anything at a time.
func (l Link) Opens(now time.Time) bool { return !l.Revoked && now.Before(l.ExpiresAt) }

// Visit is one use of a link: read, file, answered, or refused where it had ended.
type Visit struct {
	At     time.Time `json:"at"`
	Did    string    `json:"did"`
	Client string    `json:"client"`
}

const linkRead = `
	select l.link, f.code, l.document, l.issue, l.made_for, l.made_by, l.made_at, l.expires_at, coalesce(e.revoked_by, ''), e.link is not null
	from links l join fit_outs f on f.firm = l.firm and f.fit_out = l.fit_out left join link_ends e on e.link = l.link
	where l.firm = @firm`

func readLink(row pgx.CollectableRow) (Link, error) {
	l := Link{Visits: []Visit{}}
	err := row.Scan(&l.ID, &l.FitOut, &l.Document, &l.Issue, &l.For, &l.By, &l.MadeAt, &l.ExpiresAt, &l.RevokedBy, &l.Revoked)
	return l, err
}

// AddLink keeps a link under the hash of its secret, and answers its number.
func (d *DB) AddLink(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, l Link, secret []byte) (int64, error) {
	const q = `
		insert into links (firm, fit_out, document, issue, secret, made_for, made_by, expires_at)
		values (@firm, @fit_out, @document, @issue, @secret, @made_for, @made_by, @expires_at) returning link`
	var id int64
	err := d.inTx(ctx, func(ctx context.Context, w *work) error {
		args := scope{firm, fitOut}.with("document", l.Document)
		args["issue"], args["secret"], args["made_for"], args["made_by"], args["expires_at"] = l.Issue, secret, l.For, l.By, l.ExpiresAt
		if err := w.tx.QueryRow(ctx, q, args).Scan(&id); err != nil {
			return fmt.Errorf("keeping a link: %w", err)
		}
		return nil
	})
	return id, err
}

// LinkBySecret is the link with the hash of a secret, whether it still opens or not; ok is false where there is none.
func (d *DB) LinkBySecret(ctx context.Context, firm domain.FirmID, secret []byte) (Link, bool, error) {
	const q = linkRead + ` and l.secret = @secret`
	rows, _ := d.reader(ctx).Query(ctx, q, pgx.StrictNamedArgs{"firm": firm, "secret": secret}) // error: next line
	l, ok, err := one(rows, readLink)
	if err != nil {
		return l, false, fmt.Errorf("looking for a link: %w", err)
	}
	return l, ok, nil
}

// Links are the links to an issue with their visits, the newest first.
func (d *DB) Links(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, document string, number int) ([]Link, error) {
	const q = linkRead + ` and l.fit_out = @fit_out and l.document = @document and l.issue = @issue order by l.link desc`
	const visits = `
		select v.link, v.at, v.did, v.client from link_visits v join links l on l.link = v.link
		where l.firm = @firm and l.fit_out = @fit_out and l.document = @document and l.issue = @issue order by v.visit`
	args := scope{firm, fitOut}.with("document", document)
	args["issue"] = number
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	all, err := pgx.CollectRows(rows, readLink)
	if err != nil {
		return nil, fmt.Errorf("listing links: %w", err)
	}
	at := map[int64]int{}
	for i, l := range all {
		at[l.ID] = i
	}
	rows, _ = d.reader(ctx).Query(ctx, visits, args) // error: next line
	_, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (Visit, error) {
		var link int64
		var v Visit
		if err := row.Scan(&link, &v.At, &v.Did, &v.Client); err != nil {
			return v, err
		}
		if i, ok := at[link]; ok { // one made since the list was read is not in it
			all[i].Visits = append(all[i].Visits, v)
		}
		return v, nil
	})
	if err != nil {
		return nil, fmt.Errorf("listing visits: %w", err)
	}
	return all, nil
}

// RevokeLink ends a link of an issue for good, or answers NotFound. A link that has ended stays so.
func (d *DB) RevokeLink(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, who domain.Actor, document string, number int, link int64) error {
	const q = `
		insert into link_ends (link, revoked_by)
		select link, @by from links where firm = @firm and fit_out = @fit_out and document = @document and issue = @issue and link = @link
		on conflict on constraint link_ends_once do nothing`
	const known = `select exists (select from links where firm = @firm and fit_out = @fit_out and document = @document and issue = @issue and link = @link)`
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		args := scope{firm, fitOut}.with("document", document)
		args["issue"], args["link"] = number, link
		var found bool
		if err := w.tx.QueryRow(ctx, known, args).Scan(&found); err != nil {
			return fmt.Errorf("looking for link %d: %w", link, err)
		}
		if !found {
			return domain.Errorf(domain.NotFound, "there is no link %d to this issue", link)
		}
		args["by"] = who.Name
		if _, err := w.tx.Exec(ctx, q, args); err != nil {
			return fmt.Errorf("revoking link %d: %w", link, err)
		}
		return nil
	})
}

// Visited keeps a use of a link. It is kept on its own, so that a visit that fails is kept too.
func (d *DB) Visited(ctx context.Context, link int64, did, client string) error {
	const q = `insert into link_visits (link, did, client) values (@link, @did, @client)`
	if _, err := d.pool.Exec(ctx, q, pgx.StrictNamedArgs{"link": link, "did": did, "client": client}); err != nil {
		return fmt.Errorf("keeping a visit: %w", err)
	}
	return nil
}
