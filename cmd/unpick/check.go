package main

import (
	"fmt"
	"time"

	"unpick/domain"
	"unpick/domain/plan"
)

type checkCommand struct {
	File string `arg:"" help:"The fit-out file (JSON; see: unpick schema)."`
}

// Run reads a file and says what it holds, or all that is wrong with it: a register that no order can take out, and a
// plan that does not replay clean, are wrong too. What is worth knowing is told and refuses nothing.
func (c *checkCommand) Run(s streams) error {
	r, err := readFile(c.File)
	if err != nil {
		return err
	}
	fixings := 0
	for _, f := range r.Fixings {
		fixings += f.Count
	}
	p, err := plan.Make(r)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "%s is sound: %s, %s in %s, %s, %s\n", c.File, many(len(r.Elements), "piece", "pieces"), many(fixings, "fixing", "fixings"), many(len(r.Fixings), "set", "sets"),
		many(len(r.Hosts), "host surface", "host surfaces"), many(len(r.Assemblies), "assembly", "assemblies"))
	for _, told := range domain.DatedAfter(r, time.Now().UTC().Format(time.DateOnly)) {
		fmt.Fprintf(s.out, "  look at it: %s\n", told)
	}
	printWarnings(func(format string, args ...any) { fmt.Fprintf(s.out, format+"\n", args...) }, p.Warnings, len(p.Warnings))
	return nil
}
