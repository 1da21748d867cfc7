// Command faultleaf is a repair shop's reference: it publishes notes as a site,
// serves and searches them, computes, and says which test to do next.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/calccmd"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/cmd/faultleaf/internal/exportcmd"
	"faultleaf/cmd/faultleaf/internal/hostcmd"
	"faultleaf/cmd/faultleaf/internal/importcmd"
	"faultleaf/cmd/faultleaf/internal/inspectcmd"
	"faultleaf/cmd/faultleaf/internal/lookupcmd"
	"faultleaf/cmd/faultleaf/internal/notecmd"
	"faultleaf/cmd/faultleaf/internal/outfitcmd"
	"faultleaf/cmd/faultleaf/internal/publishcmd"
	"faultleaf/cmd/faultleaf/internal/takecmd"
	"faultleaf/cmd/faultleaf/internal/tracecmd"
	"faultleaf/internal/note"
)

// interrupted is the exit status after Ctrl-C, as shells have it: 128 and the
// number of the signal.
const interrupted = 130

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	e := &env.Env{Context: ctx, In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
	if info, err := os.Stderr.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		e.Terminal = os.Stderr
	}
	go func() {
		<-ctx.Done()
		stop() // a second Ctrl-C ends also what wants to end by itself
		if !e.EndsItself.Load() {
			os.Exit(interrupted) // nothing is half written: publishing is decided by its journal
		}
	}()
	os.Exit(run(e, os.Args[1:]))
}

// run is the whole program: its world and arguments in, exit status out.
func run(e *env.Env, args []string) int {
	e.Out, e.Err = env.Shown(e.Out), env.Shown(e.Err)
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
				var names []string
				for _, c := range c.Commands() {
					names = append(names, c.Name())
				}
				if near := note.Nearest(args[0], names); near != "" {
					return env.None("command", args[0], names)
				}
				return env.Bad("there is no command “" + args[0] + "”; faultleaf --help lists them")
			}
			return c.Help()
		},
	}
	root.Version = version()
	root.SetVersionTemplate("faultleaf {{.Version}}\n")
	root.SetFlagErrorFunc(env.Flag)
	root.AddCommand(
		hostcmd.New(e),
		publishcmd.New(e),
		inspectcmd.New(e),
		lookupcmd.New(e),
		tracecmd.New(e),
		calccmd.New(e),
		notecmd.New(e),
		takecmd.New(e),
		outfitcmd.New(e),
		exportcmd.New(e),
		importcmd.New(e),
	)
	root.SetArgs(args)
	root.SetIn(e.In)
	root.SetOut(e.Out)
	root.SetErr(e.Err)
	err := root.ExecuteContext(e.Context)
	if err == nil {
		return 0
	}
	if !errors.Is(err, env.ErrMistakes) {
		fmt.Fprintln(e.Err, "faultleaf:", env.Plain(err))
	}
	var f *env.Failure
	if errors.As(err, &f) {
		return f.Status
	}
	return env.Mistakes
}
