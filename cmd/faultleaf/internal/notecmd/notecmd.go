// Package notecmd is the command note.
package notecmd

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

// Options of the command.
type Options struct {
	env.Folders
	Name, Device, Block string
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "note NAME --device DEVICE",
		Short: "Begin a new fault note for a device",
		Long: `Note writes content/faults/NAME.md with every key that the device's fault
notes may have: its symptoms, the tests that cover the block and what they may
read. Fill in what you know, delete the rest, inspect, commit.`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.Name = strings.TrimSuffix(args[0], ".md")
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().StringVar(&o.Device, "device", "", "the device that has the fault")
	c.Flags().StringVar(&o.Block, "block", "", "the part that fails")
	return c
}

// Run writes the note; a file that is there already is left alone.
func Run(e *env.Env, o Options) error {
	if strings.Trim(o.Name, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" || o.Name == "" {
		return env.Bad("the name “" + o.Name + "” is not plain; use small letters, digits and hyphens, like cord-broken")
	}
	if err := o.Check(); err != nil {
		return err
	}
	set, mistakes, _ := note.Load(os.DirFS(o.From), all.Find)
	if err := e.Tell(mistakes); err != nil {
		return err
	}
	d := set.TraceDevice(o.Device)
	if d == nil {
		var names []string
		for _, d := range set.Devices {
			names = append(names, d.Name)
		}
		return env.Bad("name the device with --device; there are " + strings.Join(names, ", "))
	}
	text := trace.Draft(d, strings.ToUpper(o.Name[:1])+strings.ReplaceAll(o.Name[1:], "-", " "), trace.BlockID(o.Block), trace.Evidence{})
	path := filepath.Join(o.From, "content", "faults", o.Name+".md")
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return env.Bad(path + " is there already; choose another name")
	}
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		os.Remove(path)
		return err
	}
	fmt.Fprintln(e.Out, "Begun:", path)
	return nil
}
