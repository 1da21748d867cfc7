package notecmd

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

func rename(e *env.Env) *cobra.Command {
	var f env.Folders
	c := &cobra.Command{
		Use:   "rename OLD NEW",
		Short: "Give a note another name, and mend all that names it",
		Long: `Rename moves a note and mends every link, reading and job sheet that names it.
The note remembers its old name (was:), so that old addresses, stickers and
sheets go on to lead to it. OLD is the note's name, or faults/NAME where several
notes have it. Nothing is changed if the notes would not be sound with it.`,
		Example: "  faultleaf note rename cord-broken cord-broken-at-entry",
		Args:    env.Words(2, 2),
		RunE:    func(_ *cobra.Command, args []string) error { return Rename(e, f, args[0], args[1]) },
	}
	f.AddFrom(c)
	return c
}

// Rename gives a note another name. New files are written before old ones are
// changed or removed, so that nothing is lost if it is stopped in between.
func Rename(e *env.Env, f env.Folders, old, now string) error {
	if err := f.Check(); err != nil {
		return err
	}
	name, err := plain(now)
	if err != nil {
		return err
	}
	edits, mistakes, err := note.Rename(os.DirFS(f.From), all.Find, old, name)
	if len(mistakes) > 0 {
		if err == nil {
			fmt.Fprintln(e.Err, "The notes hold mistakes; mend them first, so that nothing that names the note is missed:")
		} else {
			fmt.Fprintf(e.Err, "%s:\n", err)
		}
		return e.Tell(mistakes)
	}
	if err != nil {
		return env.Bad(err.Error())
	}
	at := func(file string) string { return filepath.Join(f.From, filepath.FromSlash(file)) }
	to, mended := "", 0
	for _, x := range edits {
		if _, err := os.Lstat(at(x.File)); err != nil && !x.Gone {
			if err := env.WriteNew(at(x.File), x.Text); err != nil {
				return err
			}
			to = x.File
		}
	}
	for _, x := range edits {
		if x.Gone || x.File == to {
			continue
		}
		if err := env.Replace(at(x.File), x.Text); err != nil {
			return fmt.Errorf("stopped half way at %s, and the note has both names now: %w", x.File, err)
		}
		mended++
	}
	for _, x := range edits {
		if x.Gone {
			if err := os.Remove(at(x.File)); err != nil {
				return err
			}
		}
	}
	fmt.Fprintf(e.Out, "Moved: %s; %d other notes and sheets name it so now\n", to, mended)
	return nil
}
