package main

import (
	"context"
	"io"
	"path/filepath"
	"time"

	"unpick/api/service"
	"unpick/domain/fitoutfile"
)

type exportCommand struct {
	databaseFlags
	FitOut string `arg:"" name:"fitout" help:"Code of the stored fit-out."`
	Out    string `short:"o" placeholder:"FILE" help:"File to write; left out, the standard output."`
}

// Run writes a stored fit-out as a file that import and plan read.
func (c *exportCommand) Run(ctx context.Context, s streams) error {
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
	r, err := jobs.Register(ctx, c.FitOut)
	if err != nil {
		return err
	}
	if c.Out == "" {
		return fitoutfile.Write(s.out, r)
	}
	return writeFile(filepath.Clean(c.Out), func(w io.Writer) error { return fitoutfile.Write(w, r) })
}
