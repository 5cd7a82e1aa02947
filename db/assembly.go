package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	assemblyColumns = `
		code, name, recipe, params, zone, builder, built_order, licensed, known, owner, left_by, struck, reason, note`
	assemblyValues = `
		r.code, r.name, r.recipe, r.params, r.zone, r.builder, r.built_order, r.licensed, r.known, r.owner, r.left_by, r.struck, r.reason,
		r.note`
	assemblyRead = `select` + assemblyColumns + `, version from assemblies` + inFitOut
)

var assemblies = noun[domain.Assembly]{
	called:  "assembly",
	table:   "assemblies",
	columns: listed(assemblyColumns),
	all:     assemblyRead + inOrder,
	page:    assemblyRead + onePage,
	one:     assemblyRead + oneCode,
	put: `update assemblies t set (version, entry,` + assemblyColumns + `) = (t.version + 1, @entry,` + assemblyValues + `)` +
		fromText + `assemblies` + whenAt,
	values: func(a *domain.Assembly) []any {
		return []any{
			a.Code, a.Name, a.Recipe, a.Params, reference(a.Zone), a.Builder, a.BuiltOrder, a.Licensed,
			string(a.Known), string(a.Owner), a.LeftBy, a.Struck, a.Reason, a.Note,
		}
	},
	targets: func(a *domain.Assembly) []any {
		return []any{
			&a.Code, &a.Name, &a.Recipe, &a.Params, (*zeronull.Text)(&a.Zone), &a.Builder, &a.BuiltOrder,
			&a.Licensed, (*string)(&a.Known), (*string)(&a.Owner), &a.LeftBy, &a.Struck, &a.Reason, &a.Note,
		}
	},
	code:    func(a *domain.Assembly) string { return a.Code },
	version: func(a *domain.Assembly) *int { return &a.Version },
}

// Assemblies are at most limit assemblies after a code, in order of code; "" starts at the first.
func (d *DB) Assemblies(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after string, limit int) ([]domain.Assembly, error) {
	return assemblies.after(ctx, d, scope{firm, fitOut}, after, limit)
}

// Assembly is the assembly with a code, or NotFound.
func (d *DB) Assembly(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Assembly, error) {
	return assemblies.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
