// Command unpick keeps the register of a tenant's fit-out and plans how it all comes out again.
//
// Looking for
//
//   - wiring and exit statuses: main.go; one file per command beside it
//   - where the registers are kept: database.go
//   - the files that demo and plan write: output.go; the summary that they print: summary.go
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"unpick/domain"
)

// commands is the whole command line. Help texts say what a command is for and what it needs.
type commands struct {
	Demo    demoCommand    `cmd:"" help:"Load a made-up workshop's fit-out, plan its strip-out, write the documents, and serve it to look at."`
	Serve   serveCommand   `cmd:"" help:"Serve the registers to a browser and to programs, on this machine only."`
	Plan    planCommand    `cmd:"" help:"Plan the strip-out of a fit-out file and write the documents. Needs no database."`
	Check   checkCommand   `cmd:"" help:"Read a fit-out file and say everything that is wrong with it. Stores nothing."`
	Import  importCommand  `cmd:"" help:"Store a fit-out file in the database, whole or not at all."`
	Export  exportCommand  `cmd:"" help:"Write a stored fit-out as a fit-out file."`
	Bundle  bundleCommand  `cmd:"" help:"Write the evidence of a stored fit-out as one zip file: register, log, photos, and how to check them."`
	Verify  verifyCommand  `cmd:"" help:"Check every hash of an evidence bundle and say what, if anything, was altered. Needs no database."`
	Schema  schemaCommand  `cmd:"" help:"Print the JSON Schema of the fit-out file, or of plan.json."`
	Migrate migrateCommand `cmd:"" help:"Bring the database to the form that this program needs. Serve, demo and import do it by themselves."`
	Version versionCommand `cmd:"" help:"Print the version of the program and of the forms that it reads and writes."`
}

// streams are what a command talks through; tests put their own in.
type streams struct {
	out, progress io.Writer
}

// Exit statuses: a fault in what was given is told apart from a wrong command line.
const (
	exitFault = 1
	exitUsage = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], streams{os.Stdout, os.Stderr}))
}

// run does one command line and answers the exit status.
func run(ctx context.Context, args []string, s streams) int {
	status := -1
	parser, err := kong.New(&commands{}, kong.Name("unpick"),
		kong.Description("The register of everything that holds a tenant's fit-out together, and the plan for taking it all out again.\n\nStart with: unpick demo"),
		kong.UsageOnError(), kong.Writers(s.out, s.progress), kong.Exit(func(code int) { status = code }), kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		fmt.Fprintln(s.progress, "unpick:", err)
		return exitUsage
	}
	command, err := parser.Parse(twoDashes(args))
	if status >= 0 { // help was asked for and given
		return status
	}
	if err != nil {
		fmt.Fprintln(s.progress, "unpick:", err)
		return exitUsage
	}
	command.BindTo(ctx, (*context.Context)(nil))
	if err := command.Run(s); err != nil && !errors.Is(err, context.Canceled) {
		tell(s.progress, err)
		return exitFault
	}
	return 0
}

// twoDashes lets a flag be written with one dash, as -exit, the way Go's own tools take it.
func twoDashes(args []string) []string {
	out := make([]string, len(args))
	for i, a := range args {
		if len(a) > 2 && a[0] == '-' && a[1] >= 'a' && a[1] <= 'z' && a[2] != '=' {
			a = "-" + a
		}
		out[i] = a
	}
	return out
}

// tell says what went wrong, each fault on its own line.
func tell(w io.Writer, err error) {
	if faults, ok := errors.AsType[domain.Errors](err); ok {
		fmt.Fprintf(w, "unpick: %s:\n", many(len(faults), "fault", "faults"))
		for _, f := range faults {
			fmt.Fprintf(w, "  %v\n", f)
		}
		return
	}
	fmt.Fprintln(w, "unpick:", err)
}
