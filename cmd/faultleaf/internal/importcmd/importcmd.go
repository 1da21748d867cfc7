// Package importcmd is the command import.
package importcmd

import (
	"bufio"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
	"faultleaf/internal/parcel"
	"faultleaf/internal/problem"
)

// Options of the command.
type Options struct {
	env.Folders
	parcel.Options
	File, Keep string
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "Bring in a file that another shop packed",
		Long: `Import brings in what another shop packed with export. Each note then says
which shop it came from. Where a note is here already with other words, import
asks whose to keep, or does as --keep says. Nothing is written if the shop's
notes would not be sound with it.`,
		Args: env.Words(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.File = args[0]
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().StringVar(&o.Keep, "keep", "", "of notes that are here already, keep yours or take theirs")
	c.Flags().BoolVar(&o.Sheets, "sheets", false, "the other shop's job sheets too; they then teach this shop's traces")
	return c
}

// Run brings a parcel in, whole or not at all.
func Run(e *env.Env, o Options) error {
	if err := o.Check(); err != nil {
		return err
	}
	if o.Keep != "" && o.Keep != "yours" && o.Keep != "theirs" {
		return env.Bad("--keep is yours or theirs")
	}
	f, err := os.Open(o.File)
	if err != nil {
		return env.Bad("the file " + o.File + " cannot be read")
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	files, err := parcel.Read(f, info.Size())
	if err != nil {
		return err
	}
	shop := os.DirFS(o.From)
	a, err := files.Arrive(shop, o.Options, time.Now().Format("2 January 2006"))
	if err != nil {
		return err
	}
	if err := choose(e, o, &a); err != nil {
		return err
	}
	if len(a.New) == 0 {
		fmt.Fprintln(e.Out, "Nothing new: this shop has it all.")
		return nil
	}
	if err := sound(e, o.From, a); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(a.New)) {
		if err := env.Replace(filepath.Join(o.From, filepath.FromSlash(name)), a.New[name]); err != nil {
			return fmt.Errorf("%s cannot be written; import again when that is mended (%w)", name, err)
		}
	}
	from, _ := files.Shop()
	fmt.Fprintf(e.Out, "%d notes and pictures from %s; %d were here already\n", len(a.New), from, len(a.Same))
	return nil
}

// choose asks about what is here already with other words.
func choose(e *env.Env, o Options, a *parcel.Arrival) error {
	in := bufio.NewScanner(e.In)
	for _, name := range a.Collides {
		keep := o.Keep
		for keep != "yours" && keep != "theirs" {
			fmt.Fprintf(e.Out, "%s is here already with other words. Keep yours, or take theirs? ", name)
			if !in.Scan() {
				fmt.Fprintln(e.Out)
				return errors.New("nothing was brought in: " + name + " is here already; say --keep yours or --keep theirs")
			}
			keep = strings.ToLower(strings.TrimSpace(in.Text()))
		}
		if keep == "yours" {
			delete(a.New, name)
		}
	}
	return nil
}

// sound tries the shop with the parcel in it, in a folder of its own.
func sound(e *env.Env, from string, a parcel.Arrival) error {
	dir, err := os.MkdirTemp("", "faultleaf-import-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.CopyFS(filepath.Join(dir, "content"), os.DirFS(filepath.Join(from, "content"))); err != nil {
		return fmt.Errorf("the shop's notes cannot be copied to try it out: %w", err)
	}
	_, before, _ := note.Load(os.DirFS(dir), all.Find)
	for name, b := range a.New {
		if err := env.Replace(filepath.Join(dir, filepath.FromSlash(name)), b); err != nil {
			return err
		}
	}
	_, after, _ := note.Load(os.DirFS(dir), all.Find)
	var fresh problem.List
	for _, p := range after {
		if !slices.Contains(before, p) {
			fresh = append(fresh, p)
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	defer fmt.Fprintln(e.Err, "Nothing was brought in: this shop's notes would not be sound with it.")
	return e.Tell(fresh)
}
