package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	relationColumns = `
		code, kind, from_code, to_code, origin, how, assembly, struck, reason, note`
	relationValues = `
		r.code, r.kind, r.from_code, r.to_code, r.origin, r.how, r.assembly, r.struck, r.reason, r.note`
	relationFilter = `
		and (@assembly::text = '' or assembly = @assembly) and (@element::text = '' or @element in (from_code, to_code))`
	relationRead = `select` + relationColumns + `, version from relations` + inFitOut
)

var relations = noun[domain.Relation]{
	called:  "relation",
	table:   "relations",
	columns: listed(relationColumns),
	all:     relationRead + inOrder,
	page:    relationRead + relationFilter + onePage,
	one:     relationRead + oneCode,
	put: `update relations t set (version, entry,` + relationColumns + `) = (t.version + 1, @entry,` + relationValues + `)` +
		fromText + `relations` + whenAt,
	values: func(r *domain.Relation) []any {
		return []any{
			r.Code, string(r.Kind), r.From, r.To, string(r.Origin), r.How, reference(r.Assembly), r.Struck,
			r.Reason, r.Note,
		}
	},
	targets: func(r *domain.Relation) []any {
		return []any{
			&r.Code, (*string)(&r.Kind), &r.From, &r.To, (*string)(&r.Origin), &r.How,
			(*zeronull.Text)(&r.Assembly), &r.Struck, &r.Reason, &r.Note,
		}
	},
	code:    func(r *domain.Relation) string { return r.Code },
	version: func(r *domain.Relation) *int { return &r.Version },
}

// RelationFilter lets through what it names in every field; empty fields let everything through. Element is either end.
type RelationFilter struct{ Element, Assembly string }

// Relations are at most limit relations after a code that the filter lets through, in order of code; "" starts at the first.
func (d *DB) Relations(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, of RelationFilter, after string, limit int) ([]domain.Relation, error) {
	return relations.after(ctx, d, scope{firm, fitOut}, after, limit, "element", of.Element, "assembly", of.Assembly)
}

// Relation is the relation with a code, or NotFound.
func (d *DB) Relation(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Relation, error) {
	return relations.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
