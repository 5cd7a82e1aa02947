package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

const (
	elementColumns = `
		code, kind, name, material, length_mm, width_mm, thickness_mm, origin_x, origin_y, origin_z, along_x,
		along_y, along_z, across_x, across_y, across_z, outline, start_cut_deg, end_cut_deg, assembly,
		subassembly, face, zone, mass_kg, owner, builder, built_order, known, state, treated, fire_rated,
		finish, reason, note`
	elementValues = `
		r.code, r.kind, r.name, r.material, r.length_mm, r.width_mm, r.thickness_mm, r.origin_x, r.origin_y, r.origin_z,
		r.along_x, r.along_y, r.along_z, r.across_x, r.across_y, r.across_z, r.outline, r.start_cut_deg, r.end_cut_deg,
		r.assembly, r.subassembly, r.face, r.zone, r.mass_kg, r.owner, r.builder, r.built_order, r.known, r.state,
		r.treated, r.fire_rated, r.finish, r.reason, r.note`
	elementFilter = `
		and (@assembly::text = '' or assembly = @assembly) and (@zone::text = '' or zone = @zone)
		and (@state::text = '' or coalesce(nullif(state, ''), 'in-place') = @state)`
	elementRead = `select` + elementColumns + `, version from elements` + inFitOut
)

var elements = noun[domain.Element]{
	called:  "element",
	table:   "elements",
	columns: listed(elementColumns),
	all:     elementRead + inOrder,
	page:    elementRead + elementFilter + onePage,
	one:     elementRead + oneCode,
	put: `update elements t set (version, entry,` + elementColumns + `) = (t.version + 1, @entry,` + elementValues + `)` +
		fromText + `elements` + whenAt,
	values: func(e *domain.Element) []any {
		return []any{
			e.Code, string(e.Kind), e.Name, e.Material, e.LengthMm, e.WidthMm, e.ThicknessMm,
			e.Placement.Origin.X, e.Placement.Origin.Y, e.Placement.Origin.Z, e.Placement.Along.X,
			e.Placement.Along.Y, e.Placement.Along.Z, e.Placement.Across.X, e.Placement.Across.Y,
			e.Placement.Across.Z, facePoints(&e.Outline), e.StartCutDeg, e.EndCutDeg, reference(e.Assembly),
			e.Subassembly, e.Face, reference(e.Zone), e.MassKg, string(e.Owner), e.Builder, e.BuiltOrder,
			string(e.Known), string(e.State), e.Treated, e.FireRated, e.Finish, e.Reason, e.Note,
		}
	},
	targets: func(e *domain.Element) []any {
		return []any{
			&e.Code, (*string)(&e.Kind), &e.Name, &e.Material, &e.LengthMm, &e.WidthMm, &e.ThicknessMm,
			&e.Placement.Origin.X, &e.Placement.Origin.Y, &e.Placement.Origin.Z, &e.Placement.Along.X,
			&e.Placement.Along.Y, &e.Placement.Along.Z, &e.Placement.Across.X, &e.Placement.Across.Y,
			&e.Placement.Across.Z, facePoints(&e.Outline), &e.StartCutDeg, &e.EndCutDeg,
			(*zeronull.Text)(&e.Assembly), &e.Subassembly, &e.Face, (*zeronull.Text)(&e.Zone), &e.MassKg,
			(*string)(&e.Owner), &e.Builder, &e.BuiltOrder, (*string)(&e.Known), (*string)(&e.State),
			&e.Treated, &e.FireRated, &e.Finish, &e.Reason, &e.Note,
		}
	},
	code:    func(e *domain.Element) string { return e.Code },
	version: func(e *domain.Element) *int { return &e.Version },
}

// ElementFilter lets through what it names in every field; empty fields let everything through. A state that is not
// given reads as in place.
type ElementFilter struct {
	Assembly, Zone string
	State          domain.ElementState
}

// Elements are at most limit elements after a code that the filter lets through, in order of code; "" starts at the first.
func (d *DB) Elements(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, of ElementFilter, after string, limit int) ([]domain.Element, error) {
	return elements.after(ctx, d, scope{firm, fitOut}, after, limit, "assembly", of.Assembly, "zone", of.Zone, "state", string(of.State))
}

// Element is the element with a code, or NotFound.
func (d *DB) Element(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.Element, error) {
	return elements.at(ctx, d.reader(ctx), scope{firm, fitOut}, code)
}
