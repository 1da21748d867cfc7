// Package outfitcmd is the command outfit.
package outfitcmd

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/env"
)

//go:embed starter
var starter embed.FS

// New makes the command.
func New(e *env.Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "outfit DIR",
		Short: "Begin a shop of your own",
		Long: `Outfit makes the folder and puts a first device with its faults and a
checklist into its content/, to be changed. A folder that holds content/
already is left alone.`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return Run(e, args[0]) },
	}
	return c
}

// Run copies the first notes, all or nothing: it is put together beside its
// place and moved there at the end.
func Run(e *env.Env, dir string) error {
	to := filepath.Join(dir, "content")
	if _, err := os.Lstat(to); err == nil {
		return env.Bad(to + " is there already, and is left alone; choose another folder")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	half, err := os.MkdirTemp(dir, ".content-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(half)
	notes, err := fs.Sub(starter, "starter")
	if err == nil {
		err = os.CopyFS(half, notes)
	}
	if err != nil {
		return err
	}
	if err := os.Chmod(half, 0o755); err != nil {
		return err
	}
	if err := os.Rename(half, to); err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "Your shop begins in %s. Write its name into %s, then: faultleaf host --from %s\n", dir, filepath.Join(to, "shop.yaml"), dir)
	return nil
}
