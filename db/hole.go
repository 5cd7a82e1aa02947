package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	holeColumns = `
		code, host, face, diameter_mm, depth_mm, through, count, start_x, start_y, start_z, along_x, along_y,
		along_z, positions_mm, numbers, state, fixing, residue, assembly, known, built_order, reason, note`
	holeValues = `
		r.code, r.host, r.face, r.diameter_mm, r.depth_mm, r.through, r.count, r.start_x, r.start_y, r.start_z, r.along_x,
		r.along_y, r.along_z, r.positions_mm, r.numbers, r.state, r.fixing, r.residue, r.assembly, r.known, r.built_order, r.reason,
		r.note`
	holeFilter = `
		and (@host::text = '' or host = @host) and (@fixing::text = '' or fixing = @fixing) and (@assembly::text = '' or assembly = @assembly)
		and (@state::text = '' or state = @state)`
	holeRead = `select` + holeColumns + `, version from holes` + inFitOut
)

var holes = noun[domain.Hole]{
	called:  "hole",
	table:   "holes",
	columns: listed(holeColumns),
	all:     holeRead + inOrder,
	page:    holeRead + holeFilter + onePage,
	one:     holeRead + oneCode,
	put: `update holes t set (version, entry,` + holeColumns + `) = (t.version + 1, @entry,` + holeValues + `)` +
		fromText + `holes` + whenAt,
	values: func(h *domain.Hole) []any {
		return []any{
			h.Code, h.Host, string(h.Face), h.DiameterMm, h.DepthMm, h.Through, h.Count, h.Run.Start.X,
			h.Run.Start.Y, h.Run.Start.Z, h.Run.Along.X, h.Run.Along.Y, h.Run.Along.Z, h.Run.PositionsMm, h.Numbers,
			string(h.State), reference(h.Fixing), h.Residue, reference(h.Assembly), string(h.Known),
			h.BuiltOrder, h.Reason, h.Note,
		}
	},
	targets: func(h *domain.Hole) []any {
		return []any{
			&h.Code, &h.Host, (*string)(&h.Face), &h.DiameterMm, &h.DepthMm, &h.Through, &h.Count,
			&h.Run.Start.X, &h.Run.Start.Y, &h.Run.Start.Z, &h.Run.Along.X, &h.Run.Along.Y, &h.Run.Along.Z,
			&h.Run.PositionsMm, &h.Numbers, (*string)(&h.State), (*zeronull.Text)(&h.Fixing), &h.Residue,
			(*zeronull.Text)(&h.Assembly), (*string)(&h.Known), &h.BuiltOrder, &h.Reason, &h.Note,
		}
	},
	code:    func(h *domain.Hole) string { return h.Code },
	version: func(h *domain.Hole) *int { return &h.Version },
}

// HoleFilter lets through what it names in every field; empty fields let everything through.
type HoleFilter struct {
	Host, Fixing, Assembly string
	State                  domain.HoleState
}

// Holes are at most limit holes after a code that the filter lets through, in order of code; "" starts at the first.
func (d *DB) Holes(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, of HoleFilter, after string, limit int) ([]domain.Hole, error) {
	return holes.after(ctx, d, scope{firm, fitOut}, after, limit, "host", of.Host, "fixing", of.Fixing, "assembly", of.Assembly, "state", string(of.State))
}

// Hole is the hole with a code, or NotFound.
func (d *DB) Hole(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Hole, error) {
	return holes.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
