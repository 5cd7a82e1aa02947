package main

import (
	"fmt"
	"runtime/debug"

	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
)

type versionCommand struct{}

// Run prints the versions.
func (versionCommand) Run(s streams) error {
	program := "development"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		program = info.Main.Version
	}
	fmt.Fprintf(s.out, "unpick %s\nfit-out file: %s %d\nplan: %s %d\n", program, fitoutfile.Format, fitoutfile.FormatVersion, plan.Format, plan.FormatVersion)
	return nil
}
