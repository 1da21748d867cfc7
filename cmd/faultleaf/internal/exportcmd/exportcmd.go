// Package exportcmd is the command export.
package exportcmd

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
	"faultleaf/internal/parcel"
)

// Options of the command.
type Options struct {
	env.Folders
	parcel.Options
	Device, File string
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "export DEVICE",
		Short: "Pack a device into a file, to give away",
		Long: `Export packs a device into one file for another shop: with its faults, the
common blocks in its chain, and the checklists, pages and pictures that they
link to. Job sheets stay here unless --sheets asks for them; the owners' words
always do.`,
		Example: "  faultleaf export kettle\n  faultleaf import kettle.zip --from ~/our-shop",
		Args:    env.Words(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.Device = args[0]
			return Run(e, o)
		},
	}
	c.ValidArgsFunction = o.Devices
	o.AddFrom(c)
	c.Flags().StringVar(&o.File, "file", "", "the file to write (DEVICE.zip)")
	c.Flags().BoolVar(&o.Sheets, "sheets", false, "job sheets too, without the owners' words")
	return c
}

// Run writes the parcel; a file that is there already is left alone.
func Run(e *env.Env, o Options) error {
	if err := o.Check(); err != nil {
		return err
	}
	fsys := os.DirFS(o.From)
	set, left, mistakes, _ := note.LoadHealthy(fsys, all.Find, nil)
	if left.All || left.Has(o.Device) {
		return e.Tell(mistakes)
	}
	e.Warn(mistakes)
	if _, ok := set.Device(o.Device); !ok {
		return env.None("device", o.Device, env.DeviceNames(set))
	}
	files, err := parcel.Pack(fsys, set, o.Device, o.Options)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := parcel.Write(&b, files); err != nil {
		return err
	}
	name := o.File
	if name == "" {
		name = o.Device + ".zip"
	}
	if err := env.WriteNew(name, b.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%d notes and pictures of “%s” in %s\n", len(files)-1, o.Device, filepath.ToSlash(name))
	return nil
}
