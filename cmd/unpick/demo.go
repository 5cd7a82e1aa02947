package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"unpick/api/service"
	"unpick/domain"
	"unpick/testdata"
)

type demoCommand struct {
	databaseFlags
	Out  string `short:"o" default:"unpick-demo" placeholder:"DIR" help:"Folder for the documents."`
	Exit bool   `help:"Stop after writing the documents."`
	Addr string `default:"127.0.0.1:8080" help:"Where to serve, on this machine only."`
}

// Run loads the demo fit-out through the database, plans it, writes the documents, and serves it.
func (c *demoCommand) Run(ctx context.Context, s streams) error {
	say := func(format string, args ...any) { fmt.Fprintf(s.progress, format+"\n", args...) }
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
	say("loading the workshop's register")
	code, err := loadDemo(ctx, jobs, say)
	if err != nil {
		return err
	}
	next, err := loadNext(ctx, jobs)
	if err != nil {
		return err
	}
	say("planning, and checking the plan")
	in, err := jobs.Planned(ctx, code, "unpick demo", "demo")
	if err != nil {
		return err
	}
	if in.Timetable, err = service.TimetableNow(in); err != nil {
		return err
	}
	evidence := service.Document{Name: "evidence.zip", Write: func(w io.Writer) error { return jobs.Evidence(ctx, domain.Actor{Name: "unpick demo"}, code, w) }}
	moved, err := moveDemo(ctx, jobs, code, next)
	if err != nil {
		return err
	}
	if err := writeAll(c.Out, append(append(service.Documents(in), evidence), moved...), func(name string) { say("writing %s", filepath.Join(c.Out, name)) }); err != nil {
		return err
	}
	printSummary(s.out, in.Register, in.Plan)
	fmt.Fprintf(s.out, "\nThe documents are in %s\n", c.Out)
	if c.Exit {
		return nil
	}
	return serve(ctx, s, jobs, c.Addr)
}

// loadDemo stores the demo once, through the door that every file comes in by, and answers its code. A demo stored
// by another version of the program is left as it is, and this one put beside it under the next code.
func loadDemo(ctx context.Context, jobs *service.Service, say func(string, ...any)) (string, error) {
	demo, err := service.ReadFile(bytes.NewReader(testdata.Demo))
	if err != nil {
		return "", fmt.Errorf("reading the demo: %w", err)
	}
	base := demo.FitOut.Code
	for n := 2; ; n++ {
		code := demo.FitOut.Code
		same, err := jobs.BeganAs(ctx, code, demo)
		switch {
		case domain.CodeOf(err) == domain.NotFound:
			if _, err := jobs.Import(ctx, domain.Actor{Name: "unpick demo"}, demo); err != nil {
				return code, err
			}
			return code, mailDemo(ctx, jobs, code, say)
		case err != nil:
			return "", err
		case same:
			say("loaded before: shown as it stands, with what was logged since")
			return code, nil
		}
		demo.FitOut.Code = fmt.Sprintf("%s-%d", base, n)
		say("the workshop %s in this data folder was loaded by another version of unpick and differs from this version's: it is left alone, and this version's is %s", code, demo.FitOut.Code)
	}
}
