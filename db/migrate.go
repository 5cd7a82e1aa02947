package db

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"unpick/domain"
)

//go:embed migrations/*.sql
var migrations embed.FS

// Migrate brings the schema up to this program's version. Forward only; a number that was left free and is used later is
// caught up; several programs that start at once wait for
// each other. A schema newer than the program is refused and left as it is.
func (d *DB) Migrate(ctx context.Context) error {
	provider, err := d.migrator()
	if err != nil {
		return err
	}
	defer provider.Close()
	now, newest, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("reading the schema's version: %w", err)
	}
	if now > newest {
		return domain.Errorf(domain.Refused, "the database was written by a newer program (schema %d, this one knows %d): start the newer program", now, newest)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("migrating the schema: %w", err)
	}
	return nil
}

// SchemaVersion is the version the database has and the one this program wants.
func (d *DB) SchemaVersion(ctx context.Context) (now, wanted int64, err error) {
	provider, err := d.migrator()
	if err != nil {
		return 0, 0, err
	}
	defer provider.Close()
	now, wanted, err = provider.GetVersions(ctx)
	if err != nil {
		return 0, 0, fmt.Errorf("reading the schema's version: %w", err)
	}
	return now, wanted, nil
}

func (d *DB) migrator() (*goose.Provider, error) {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, fmt.Errorf("reading the migrations: %w", err)
	}
	locker, err := lock.NewPostgresSessionLocker()
	if err != nil {
		return nil, fmt.Errorf("locking the migrations: %w", err)
	}
	provider, err := goose.NewProvider(goose.DialectPostgres, stdlib.OpenDBFromPool(d.pool), files, goose.WithSessionLocker(locker), goose.WithAllowOutofOrder(true))
	if err != nil {
		return nil, fmt.Errorf("reading the migrations: %w", err)
	}
	return provider, nil
}

// MigrationsHash tells one state of the migrations from another: SHA-256 over their names and texts, in hexadecimal.
func MigrationsHash() string {
	h := sha256.New()
	err := fs.WalkDir(migrations, ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := migrations.ReadFile(path)
		fmt.Fprintf(h, "%s %d\n%s", path, len(text), text)
		return err
	})
	if err != nil {
		panic(err) // the files are part of the program
	}
	return hex.EncodeToString(h.Sum(nil))
}
