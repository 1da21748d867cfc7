//go:build !linux

package published

import (
	"os"
	"syscall"
)

var errNotDir = syscall.ENOTDIR

// settle makes files, and the renames done before, safe against a power cut.
func settle(root *os.Root, names []string) error { return settleEach(root, names) }
