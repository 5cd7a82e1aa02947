package db

import (
	"context"

	"unpick/domain"
)

const (
	zoneColumns = `
		code, name, outline, level_mm, capacity`
	zoneValues = `
		r.code, r.name, r.outline, r.level_mm, r.capacity`
	zoneRead = `select` + zoneColumns + `, version from zones` + inFitOut
)

var zones = noun[domain.Zone]{
	called:  "zone",
	table:   "zones",
	columns: listed(zoneColumns),
	all:     zoneRead + inOrder,
	page:    zoneRead + onePage,
	one:     zoneRead + oneCode,
	put: `update zones t set (version, entry,` + zoneColumns + `) = (t.version + 1, @entry,` + zoneValues + `)` +
		fromText + `zones` + whenAt,
	values: func(z *domain.Zone) []any {
		return []any{
			z.Code, z.Name, points(&z.Outline), z.LevelMm, z.Capacity,
		}
	},
	targets: func(z *domain.Zone) []any {
		return []any{
			&z.Code, &z.Name, points(&z.Outline), &z.LevelMm, &z.Capacity,
		}
	},
	code:    func(z *domain.Zone) string { return z.Code },
	version: func(z *domain.Zone) *int { return &z.Version },
}

// Zones are at most limit zones after a code, in order of code; "" starts at the first.
func (d *DB) Zones(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after string, limit int) ([]domain.Zone, error) {
	return zones.after(ctx, d, scope{firm, fitOut}, after, limit)
}

// Zone is the zone with a code, or NotFound.
func (d *DB) Zone(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Zone, error) {
	return zones.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
