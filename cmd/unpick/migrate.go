package main

import (
	"context"
	"fmt"
)

type migrateCommand struct {
	databaseFlags
}

// Run brings the database up to date and says where it stands.
func (c *migrateCommand) Run(ctx context.Context, s streams) error {
	d, done, err := c.open(ctx, s.progress)
	if err != nil {
		return err
	}
	defer done()
	now, wanted, err := d.SchemaVersion(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "the database is at version %d of %d\n", now, wanted)
	return nil
}
