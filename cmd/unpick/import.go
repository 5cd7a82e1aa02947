package main

import (
	"context"
	"fmt"
	"time"

	"unpick/api/service"
	"unpick/domain"
)

type importCommand struct {
	databaseFlags
	File string `arg:"" help:"The fit-out file (JSON; see: unpick schema)."`
	By   string `default:"unpick import" help:"Name for the log."`
}

// Run stores a file, whole or not at all.
func (c *importCommand) Run(ctx context.Context, s streams) error {
	file, err := openFile(c.File)
	if err != nil {
		return err
	}
	defer file.Close()
	d, done, err := c.open(ctx, s.progress)
	if err != nil {
		return err
	}
	defer done()
	jobs, err := service.New(ctx, d, time.Now)
	if err != nil {
		return err
	}
	defer jobs.Close()
	stored, err := jobs.ImportFile(ctx, domain.Actor{Name: c.By}, file)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "stored %s: %s\n", stored.Code, stored.Name)
	return nil
}
