package main

import "fmt"

type checkCommand struct {
	File string `arg:"" type:"existingfile" help:"The fit-out file (JSON; see: unpick schema)."`
}

// Run reads a file and says what it holds, or all that is wrong with it.
func (c *checkCommand) Run(s streams) error {
	r, err := readFile(c.File)
	if err != nil {
		return err
	}
	fixings := 0
	for _, f := range r.Fixings {
		fixings += f.Count
	}
	fmt.Fprintf(s.out, "%s is sound: %d pieces, %d fixings in %d sets, %d host surfaces, %d assemblies\n", c.File, len(r.Elements), fixings, len(r.Fixings), len(r.Hosts), len(r.Assemblies))
	return nil
}
