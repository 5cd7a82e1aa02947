package main

import (
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

type schemaCommand struct {
	Of string `arg:"" optional:"" default:"fit-out" enum:"fit-out,plan" help:"fit-out (the file to write by hand or by program) or plan (what plan.json holds)."`
}

// Run prints a schema.
func (c *schemaCommand) Run(s streams) error {
	write := func() ([]byte, error) { return fitoutfile.Schema(recipe.Params()) }
	if c.Of == "plan" {
		write = plan.Schema
	}
	text, err := write()
	if err != nil {
		return err
	}
	_, err = s.out.Write(text)
	return err
}
