package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	hostColumns = `
		code, name, kind, zone, origin_x, origin_y, origin_z, u_x, u_y, u_z, v_x, v_y, v_z, u_mm, v_mm,
		thickness_mm, grid_lines, finish, finish_m2, rule, agreed_holes, max_diameter_mm, max_depth_mm, clause,
		fixings_allowed, conditions, known, note, struck, reason`
	hostValues = `
		r.code, r.name, r.kind, r.zone, r.origin_x, r.origin_y, r.origin_z, r.u_x, r.u_y, r.u_z, r.v_x, r.v_y, r.v_z, r.u_mm,
		r.v_mm, r.thickness_mm, r.grid_lines, r.finish, r.finish_m2, r.rule, r.agreed_holes, r.max_diameter_mm, r.max_depth_mm,
		r.clause, r.fixings_allowed, r.conditions, r.known, r.note, r.struck, r.reason`
	hostRead = `select` + hostColumns + `, version from hosts` + inFitOut
)

var hosts = noun[domain.HostSurface]{
	called:  "host surface",
	table:   "hosts",
	columns: listed(hostColumns),
	all:     hostRead + inOrder,
	page:    hostRead + onePage,
	one:     hostRead + oneCode,
	put: `update hosts t set (version, entry,` + hostColumns + `) = (t.version + 1, @entry,` + hostValues + `)` +
		fromText + `hosts` + whenAt,
	values: func(h *domain.HostSurface) []any {
		return []any{
			h.Code, h.Name, h.Kind, reference(h.Zone), h.Origin.X, h.Origin.Y, h.Origin.Z, h.U.X, h.U.Y, h.U.Z,
			h.V.X, h.V.Y, h.V.Z, h.UMm, h.VMm, h.ThicknessMm, h.GridLines, h.Finish, h.FinishM2, string(h.Rule),
			h.AgreedHoles, h.MaxDiameterMm, h.MaxDepthMm, h.Clause, h.Fixings, h.Conditions, string(h.Known), h.Note, h.Struck, h.Reason,
		}
	},
	targets: func(h *domain.HostSurface) []any {
		return []any{
			&h.Code, &h.Name, &h.Kind, (*zeronull.Text)(&h.Zone), &h.Origin.X, &h.Origin.Y, &h.Origin.Z,
			&h.U.X, &h.U.Y, &h.U.Z, &h.V.X, &h.V.Y, &h.V.Z, &h.UMm, &h.VMm, &h.ThicknessMm, &h.GridLines,
			&h.Finish, &h.FinishM2, (*string)(&h.Rule), &h.AgreedHoles, &h.MaxDiameterMm, &h.MaxDepthMm, &h.Clause,
			&h.Fixings, &h.Conditions, (*string)(&h.Known), &h.Note, &h.Struck, &h.Reason,
		}
	},
	code:    func(h *domain.HostSurface) string { return h.Code },
	version: func(h *domain.HostSurface) *int { return &h.Version },
}

// Hosts are at most limit host surfaces after a code, in order of code; "" starts at the first.
func (d *DB) Hosts(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after string, limit int) ([]domain.HostSurface, error) {
	return hosts.after(ctx, d, scope{firm, fitOut}, after, limit)
}

// Host is the host surface with a code, or NotFound.
func (d *DB) Host(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.HostSurface, error) {
	return hosts.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
