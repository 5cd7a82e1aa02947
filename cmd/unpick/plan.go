package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/plan"
	"unpick/reports"
)

type planCommand struct {
	File string `arg:"" help:"The fit-out file (JSON; see: unpick schema)."`
	Out  string `short:"o" required:"" placeholder:"DIR" help:"Folder for the documents; made where there is none."`
}

// Run plans a file and writes the documents.
func (c *planCommand) Run(s streams) error {
	r, err := readFile(c.File)
	if err != nil {
		return err
	}
	p, err := plan.Make(r)
	if err != nil {
		return err
	}
	in := reports.Input{Register: r, Plan: p, Now: time.Now(), By: "unpick", Revision: "draft"}
	if in.Timetable, err = service.TimetableNow(in); err != nil {
		return err
	}
	if err := writeAll(c.Out, service.Documents(in), func(name string) { fmt.Fprintf(s.progress, "writing %s\n", name) }); err != nil {
		return err
	}
	printSummary(s.out, r, p)
	fmt.Fprintf(s.out, "\nThe documents are in %s\n", c.Out)
	return nil
}

// openFile opens a file to read, or says plainly why it cannot.
func openFile(path string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, domain.Errorf(domain.NotFound, "there is no file %s: check the name and the folder", path)
	case err == nil && info.IsDir():
		return nil, domain.Errorf(domain.Invalid, "%s is a folder: name the fit-out file in it", path)
	}
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrPermission) {
		return nil, domain.Errorf(domain.Invalid, "%s may not be read: ask whoever owns it", path)
	}
	return file, err
}

// readFile reads and checks a fit-out file.
func readFile(path string) (*domain.Register, error) {
	file, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return service.ReadFile(file)
}
