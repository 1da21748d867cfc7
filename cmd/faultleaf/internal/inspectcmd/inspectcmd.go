// Package inspectcmd is the command inspect.
package inspectcmd

import (
	"fmt"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/site"
)

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var f env.Folders
	var quiet bool
	c := &cobra.Command{
		Use:   "inspect",
		Short: "Check all notes and write nothing",
		Long: `Inspect reads and checks every note as publishing would, and prints each
mistake with its file, line and column. It exits with 0 if all is well and
with 1 if there are mistakes. Remarks stop nothing.`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return Run(e, f, quiet) },
	}
	f.AddFrom(c)
	c.Flags().BoolVar(&quiet, "quiet", false, "leave the remarks out")
	return c
}

// Run checks the notes.
func Run(e *env.Env, f env.Folders, quiet bool) error {
	if err := f.Check(); err != nil {
		return err
	}
	set, mistakes, remarks, err := site.Check(f.From)
	if err != nil {
		return err
	}
	if !quiet {
		for _, r := range remarks {
			fmt.Fprintln(e.Out, "remark:", r)
		}
	}
	if err := e.Tell(mistakes); err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%d devices, %d faults, %d checklists, %d job sheets, %d pages: no mistakes\n",
		len(set.Devices), len(set.Faults), len(set.Checklists), len(set.Jobs), len(set.Pages))
	return nil
}
