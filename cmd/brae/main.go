// Brae is a web app for a small rehab or fitness practice: screening before
// exercise, prescription of aerobic intensity, and what clients did of it.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"
)

func main() {
	// The first signal stops Brae in order; a second one kills it.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// commands is the command line. Each flag can be given as an environment
// variable, too; the names are in its help.
type commands struct {
	Serve   serveCommand   `cmd:"" default:"1" help:"Serve the app. The first start prints a one-time link to set up the practice."`
	Demo    demoCommand    `cmd:"" help:"Serve an invented practice with clients, logs and sign-ins, to look around."`
	Calc    calcCommand    `cmd:"" help:"Answer rules from the command line: one JSON object a line in, one out."`
	Migrate migrateCommand `cmd:"" help:"Bring the database to this version's schema, and stop."`
	Health  healthCommand  `cmd:"" help:"Ask a running Brae whether it is well. Exit status 0 means yes."`
}

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// errAnswered ends a command that has already said what was wrong.
var errAnswered = errors.New("answered with errors")

// run is main without the process: it returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	var c commands
	status := -1
	parser, err := kong.New(&c,
		kong.Name("brae"),
		kong.Description("Screening, prescription and weekly minutes for a small rehab or fitness practice."),
		kong.Writers(out, errOut),
		kong.Exit(func(code int) { status = code }),
		kong.UsageOnError(),
		kong.Vars{"data": dataFolder()},
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(streams{in, out, errOut}),
		kong.Bind(slog.New(slog.NewJSONHandler(errOut, nil))),
	)
	if err != nil {
		panic(err) // the struct above is wrong
	}
	parsed, err := parser.Parse(args)
	if status >= 0 { // --help
		return status
	}
	if err != nil {
		fmt.Fprintln(errOut, "brae:", err)
		return 2
	}
	switch err := parsed.Run(); {
	case errors.Is(err, errAnswered):
		return 1
	case err != nil:
		fmt.Fprintln(errOut, "brae:", err)
		return 1
	}
	return 0
}
