package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/user"
	"path/filepath"
	"time"

	"unpick/api/service"
	"unpick/domain"
	"unpick/reports/bundle"
)

type bundleCommand struct {
	databaseFlags
	FitOut string `arg:"" name:"fitout" help:"Code of the stored fit-out."`
	Out    string `short:"o" default:"evidence.zip" placeholder:"FILE" help:"File to write."`
}

// Run writes the evidence of a stored fit-out.
func (c *bundleCommand) Run(ctx context.Context, s streams) error {
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
	who := domain.Actor{Name: "unpick bundle"}
	if u, err := user.Current(); err == nil {
		who.Name = u.Username
	}
	return writeFile(filepath.Clean(c.Out), func(w io.Writer) error { return jobs.Evidence(ctx, who, c.FitOut, w) })
}

type verifyCommand struct {
	File string `arg:"" help:"The evidence bundle (zip)."`
}

// mostBundle is the largest file that is read: a bundle stands in memory while it is checked.
const mostBundle = 4 << 30

// Run checks a bundle. One that was altered is a fault, told line by line.
func (c *verifyCommand) Run(s streams) error {
	about, err := os.Stat(c.File)
	if err != nil {
		return err
	}
	if about.Size() > mostBundle {
		return domain.Errorf(domain.TooLarge, "%s has %d bytes, and a bundle of over %d is not read", c.File, about.Size(), int64(mostBundle))
	}
	file, err := os.ReadFile(c.File)
	if err != nil {
		return err
	}
	r, err := bundle.Verify(file)
	if err != nil {
		return err
	}
	if m := r.Manifest; m.FitOut != "" {
		fmt.Fprintf(s.out, "%s: %s (%s), made at %s by %s\n", c.File, m.Name, m.FitOut, m.MadeAt, m.MadeBy)
	}
	for _, line := range r.Checked {
		fmt.Fprintln(s.out, "  as it should be:", line)
	}
	for _, line := range r.Limits {
		fmt.Fprintln(s.out, "  not from the bundle alone:", line)
	}
	if r.Whole() {
		fmt.Fprintln(s.out, "Nothing was altered.")
		return nil
	}
	var faults domain.Errors
	for _, line := range r.Unchecked {
		faults.Addf(domain.Refused, "", "not checked: %s", line)
	}
	for _, line := range r.Faults {
		faults.Addf(domain.Refused, "", "altered: %s", line)
	}
	return faults
}
