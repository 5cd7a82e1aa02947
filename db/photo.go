package db

import (
	"context"
	"fmt"
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
