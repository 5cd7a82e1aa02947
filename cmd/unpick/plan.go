package main

import (
	"fmt"
	"os"
	"time"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/plan"
	"unpick/reports"
)

type planCommand struct {
	File string `arg:"" type:"existingfile" help:"The fit-out file (JSON; see: unpick schema)."`
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
	if err := writeAll(c.Out, service.Documents(in), func(name string) { fmt.Fprintf(s.progress, "writing %s\n", name) }); err != nil {
		return err
	}
	printSummary(s.out, r, p)
	fmt.Fprintf(s.out, "\nThe documents are in %s\n", c.Out)
	return nil
}

// readFile reads and checks a fit-out file.
func readFile(path string) (*domain.Register, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return service.ReadFile(file)
}
