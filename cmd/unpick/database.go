package main

import (
	"context"
	"fmt"
	"io"

	"unpick/db"
	"unpick/db/cluster"
	"unpick/domain/catalogue"
)

// databaseFlags say where the registers are kept.
type databaseFlags struct {
	DB      string `name:"db" env:"DATABASE_URL" placeholder:"URL" help:"A Postgres of your own, 14 or later (postgres://...). Left out, the program runs a private one in your data folder."`
	DataDir string `name:"data-dir" env:"UNPICK_DATA_DIR" placeholder:"DIR" help:"Folder of the private database; the default is in your user's data folder."`
}

// databaseName is the database inside the private cluster.
const databaseName = "unpick"

// open connects to the database given, or starts (or joins) the private cluster, and migrates. close must be
// called once; it stops the cluster if this program is the last to use it.
func (f databaseFlags) open(ctx context.Context, progress io.Writer) (d *db.DB, closeAll func(), err error) {
	url, stop := f.DB, func() {}
	if url == "" {
		c, err := cluster.Start(ctx, cluster.Config{DataDir: f.DataDir, Progress: func(line string) { fmt.Fprintln(progress, line) }})
		if err != nil {
			return nil, nil, err
		}
		// The server is stopped in its own time even when the command was interrupted.
		stop = func() {
			if err := c.Stop(context.WithoutCancel(ctx)); err != nil {
				fmt.Fprintln(progress, "unpick: stopping the private database:", err)
			}
		}
		if err := c.CreateDatabase(ctx, databaseName); err != nil {
			stop()
			return nil, nil, err
		}
		url = c.URL(databaseName)
	}
	d, err = db.Open(ctx, url, db.Config{Catalogue: catalogue.Default()})
	if err != nil {
		stop()
		return nil, nil, err
	}
	if err := d.Migrate(ctx); err != nil {
		d.Close()
		stop()
		return nil, nil, err
	}
	return d, func() { d.Close(); stop() }, nil
}
