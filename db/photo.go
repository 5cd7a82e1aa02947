package db

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// photoColumns are those of a photo p with the place l that was kept later.
const photoColumns = `sha256, media_type, width_px, height_px, taken, p.located or l.sha256 is not null,
	coalesce(l.latitude, p.latitude), coalesce(l.longitude, p.longitude), p.sent_by, p.sent_at`

func readPhoto(row pgx.CollectableRow) (domain.Photo, error) {
	var p domain.Photo
	var at time.Time
	err := row.Scan(&p.SHA256, &p.MediaType, &p.WidthPx, &p.HeightPx, &p.Taken, &p.Located, &p.Latitude, &p.Longitude, &p.By, &at)
	p.At = at.UTC().Format(domain.LogTime)
	return p, err
}

// KeepPhoto stores a photo under the hash of what it holds. One that is there already stays as it is, with what was said
// of it first; where only now somebody chose to keep its place, that is kept beside it, the first that was chosen.
func (d *DB) KeepPhoto(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, p domain.Photo, content, small []byte) error {
	const q = `
		insert into photos (firm, fit_out, sha256, media_type, width_px, height_px, taken, located, latitude, longitude, sent_by, content, small)
		values (@firm, @fit_out, @sha256, @media_type, @width_px, @height_px, @taken, @located, @latitude, @longitude, @sent_by, @content, @small)
		on conflict on constraint photos_key do nothing`
	const place = `
		insert into photo_places (firm, fit_out, sha256, latitude, longitude, sent_by)
		select firm, fit_out, sha256, @latitude, @longitude, @sent_by from photos
		where firm = @firm and fit_out = @fit_out and sha256 = @sha256 and not located
		on conflict on constraint photo_places_key do nothing`
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		_, err := w.tx.Exec(ctx, q, pgx.StrictNamedArgs{
			"firm": firm, "fit_out": fitOut, "sha256": p.SHA256, "media_type": p.MediaType, "width_px": p.WidthPx, "height_px": p.HeightPx,
			"taken": p.Taken, "located": p.Located, "latitude": p.Latitude, "longitude": p.Longitude, "sent_by": p.By, "content": content, "small": small,
		})
		if err != nil {
			return fmt.Errorf("keeping photo %s: %w", p.SHA256, err)
		}
		if !p.Located {
			return nil
		}
		args := scope{firm, fitOut}.with("sha256", p.SHA256)
		args["latitude"], args["longitude"], args["sent_by"] = p.Latitude, p.Longitude, p.By
		if _, err := w.tx.Exec(ctx, place, args); err != nil {
			return fmt.Errorf("keeping the place of photo %s: %w", p.SHA256, err)
		}
		return nil
	})
}

// PhotoFile is the file of a photo, in small or as it is kept, or NotFound.
func (d *DB) PhotoFile(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, sum string, small bool) (mediaType string, content []byte, err error) {
	const q = `
		select media_type, case when @small then small else content end from photos
		where firm = @firm and fit_out = @fit_out and sha256 = @sha256`
	type file struct {
		MediaType string
		Content   []byte
	}
	args := scope{firm, fitOut}.with("sha256", sum)
	args["small"] = small
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	f, ok, err := one(rows, pgx.RowToStructByPos[file])
	switch {
	case err != nil:
		return "", nil, fmt.Errorf("loading photo %s: %w", sum, err)
	case !ok:
		return "", nil, domain.Errorf(domain.NotFound, "there is no such photo in this fit-out")
	}
	return f.MediaType, f.Content, nil
}

// Photos are what is known of the photos with these names, in order of name; names that nothing was kept under are
// left out.
func (d *DB) Photos(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, sums []string) ([]domain.Photo, error) {
	const q = `
		select ` + photoColumns + ` from photos p left join photo_places l using (firm, fit_out, sha256)
		where firm = @firm and fit_out = @fit_out and sha256 = any(@sums) order by sha256`
	if len(sums) == 0 {
		return nil, nil
	}
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.with("sums", sums)) // error: next line
	found, err := pgx.CollectRows(rows, readPhoto)
	if err != nil {
		return nil, fmt.Errorf("loading photos: %w", err)
	}
	return found, nil
}

// photosKept refuses a change that names a photo which is not kept here: evidence that nobody can look at is none. Names that a
// register had from a file stay. Places are pointers into the register as it would be.
func (d *DB) photosKept(ctx context.Context, s scope, r *domain.Register, c domain.Change) error {
	named := map[string]string{} // sum by place
	note := func(place string, photos []string) {
		for k, sum := range photos {
			named[fmt.Sprintf("%s/photos/%d", place, k)] = sum
		}
	}
	index := r.Index().Hosts
	for i, h := range slices.Concat(c.Put.Hosts, c.Add.Hosts) {
		at, ok := index[h.Code]
		known := 0
		if ok {
			known = len(r.Hosts[at].Conditions)
		} else {
			at = len(r.Hosts) + i - len(c.Put.Hosts)
		}
		for n := known; n < len(h.Conditions); n++ {
			note(fmt.Sprintf("/host_surfaces/%d/conditions/%d", at, n), h.Conditions[n].Photos)
		}
	}
	for i, o := range c.Add.SignOffs {
		note(fmt.Sprintf("/sign_offs/%d", len(r.SignOffs)+i), o.Photos)
	}
	if len(named) == 0 {
		return nil
	}
	kept, err := d.Photos(ctx, s.firm, s.fitOut, slices.Collect(maps.Values(named)))
	if err != nil {
		return err
	}
	var faults domain.Errors
	for _, place := range slices.Sorted(maps.Keys(named)) {
		if !slices.ContainsFunc(kept, func(p domain.Photo) bool { return p.SHA256 == named[place] }) {
			faults.Addf(domain.Invalid, place, "no photo is kept here under %s: add the photo first, on a page with a form for it, and give the sum that it is kept under", named[place])
		}
	}
	return faults.OrNil()
}
