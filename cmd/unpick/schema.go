package main

import (
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

type schemaCommand struct {
	Of string `arg:"" optional:"" default:"fit-out" enum:"fit-out,plan,move" help:"fit-out (the file to write by hand or by program), plan (what plan.json holds) or move (what move.json holds)."`
}

// Run prints a schema.
func (c *schemaCommand) Run(s streams) error {
	write := func() ([]byte, error) { return fitoutfile.Schema(recipe.Params()) }
	switch c.Of {
	case "plan":
		write = plan.Schema
	case "move":
		write = move.Schema
	}
	text, err := write()
	if err != nil {
		return err
	}
	_, err = s.out.Write(text)
	return err
}
