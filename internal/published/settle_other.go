//go:build !linux

package published

import (
	"os"
	"path/filepath"
	"syscall"
)

var errNotDir = syscall.ENOTDIR

// settle makes files, and the renames done before, safe against a power cut.
func settle(root *os.Root, names []string) error { return settleEach(root, names) }

// rename moves a file of one open folder of the root into another one.
func rename(root *os.Root, from *os.File, name string, to *os.File, as string) error {
	path := func(dir *os.File, name string) (string, error) {
		in, err := filepath.Rel(root.Name(), dir.Name())
		return filepath.Join(in, name), err
	}
	a, err := path(from, name)
	if err != nil {
		return err
	}
	b, err := path(to, as)
	if err != nil {
		return err
	}
	return root.Rename(a, b)
}
