// Command faultleaf is a repair shop's reference: it publishes notes as a site,
// serves and searches them, computes, and says which test to do next.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/calccmd"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/cmd/faultleaf/internal/hostcmd"
	"faultleaf/cmd/faultleaf/internal/inspectcmd"
	"faultleaf/cmd/faultleaf/internal/lookupcmd"
	"faultleaf/cmd/faultleaf/internal/notecmd"
	"faultleaf/cmd/faultleaf/internal/outfitcmd"
	"faultleaf/cmd/faultleaf/internal/publishcmd"
	"faultleaf/cmd/faultleaf/internal/tracecmd"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program: arguments and streams in, exit status out.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	e := &env.Env{Context: ctx, In: in, Out: out, Err: errs}
	root := &cobra.Command{
		Use:   "faultleaf",
		Short: "A repair shop's own reference: notes, numbers, and the next test",
		Long: `faultleaf turns a shop's fault notes (Markdown in git) into an offline,
searchable site whose every number is computed, and says for the symptom in
hand which test to do next.`,
		SilenceUsage: true, SilenceErrors: true,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return env.Bad("there is no command “" + args[0] + "”; faultleaf --help lists them")
			}
			return c.Help()
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return env.Bad(err.Error()) })
	root.AddCommand(
		hostcmd.New(e),
		publishcmd.New(e),
		inspectcmd.New(e),
		lookupcmd.New(e),
		tracecmd.New(e),
		calccmd.New(e),
		notecmd.New(e),
		outfitcmd.New(e),
	)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	if !errors.Is(err, env.ErrMistakes) {
		fmt.Fprintln(errs, "faultleaf:", err)
	}
	var f *env.Failure
	if errors.As(err, &f) {
		return f.Status
	}
	return env.Mistakes
}
