package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	fixingColumns = `
		code, type, length_mm, bead_mm, count, holds, through, into_element, into_host, start_x, start_y,
		start_z, along_x, along_y, along_z, positions_mm, undo, assembly, state, known, builder, built_order,
		drilled, reason, note`
	fixingValues = `
		r.code, r.type, r.length_mm, r.bead_mm, r.count, r.holds, r.through, r.into_element, r.into_host, r.start_x,
		r.start_y, r.start_z, r.along_x, r.along_y, r.along_z, r.positions_mm, r.undo, r.assembly, r.state, r.known,
		r.builder, r.built_order, r.drilled, r.reason, r.note`
	fixingFilter = `
		and (@assembly::text = '' or assembly = @assembly) and (@host::text = '' or into_host = @host)
		and (@element::text = '' or holds = @element or into_element = @element or @element = any (through))`
	fixingRead = `select` + fixingColumns + `, version from fixings` + inFitOut
)

var fixings = noun[domain.Fixing]{
	called:  "fixing",
	table:   "fixings",
	columns: listed(fixingColumns),
	all:     fixingRead + inOrder,
	page:    fixingRead + fixingFilter + onePage,
	one:     fixingRead + oneCode,
	put: `update fixings t set (version, entry,` + fixingColumns + `) = (t.version + 1, @entry,` + fixingValues + `)` +
		fromText + `fixings` + whenAt,
	values: func(f *domain.Fixing) []any {
		return []any{
			f.Code, f.Type, f.LengthMm, f.BeadMm, f.Count, f.Holds, f.Through, reference(f.IntoElement),
			reference(f.IntoHost), f.Run.Start.X, f.Run.Start.Y, f.Run.Start.Z, f.Run.Along.X, f.Run.Along.Y,
			f.Run.Along.Z, f.Run.PositionsMm, directions(&f.Undo), reference(f.Assembly), string(f.State),
			string(f.Known), f.Builder, f.BuiltOrder, f.Drilled, f.Reason, f.Note,
		}
	},
	targets: func(f *domain.Fixing) []any {
		return []any{
			&f.Code, &f.Type, &f.LengthMm, &f.BeadMm, &f.Count, &f.Holds, &f.Through,
			(*zeronull.Text)(&f.IntoElement), (*zeronull.Text)(&f.IntoHost), &f.Run.Start.X, &f.Run.Start.Y,
			&f.Run.Start.Z, &f.Run.Along.X, &f.Run.Along.Y, &f.Run.Along.Z, &f.Run.PositionsMm,
			directions(&f.Undo), (*zeronull.Text)(&f.Assembly), (*string)(&f.State), (*string)(&f.Known),
			&f.Builder, &f.BuiltOrder, &f.Drilled, &f.Reason, &f.Note,
		}
	},
	code:    func(f *domain.Fixing) string { return f.Code },
	version: func(f *domain.Fixing) *int { return &f.Version },
}

// FixingFilter lets through what it names in every field; empty fields let everything through. Element is one that the
// fixing holds, passes through or goes into.
type FixingFilter struct{ Element, Host, Assembly string }

// Fixings are at most limit fixings after a code that the filter lets through, in order of code; "" starts at the first.
func (d *DB) Fixings(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, of FixingFilter, after string, limit int) ([]domain.Fixing, error) {
	return fixings.after(ctx, d, scope{firm, fitOut}, after, limit, "element", of.Element, "host", of.Host, "assembly", of.Assembly)
}

// Fixing is the fixing with a code, or NotFound.
func (d *DB) Fixing(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Fixing, error) {
	return fixings.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
