package published

import (
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

var errNotDir = syscall.ENOTDIR

// many files are made safe with one call for the whole file system, few one by
// one: that call also waits for what other programs wrote.
const many = 300

// settle makes files, and the renames done before, safe against a power cut.
func settle(root *os.Root, names []string) error {
	if len(names) < many {
		return settleEach(root, names)
	}
	f, err := root.Open(".")
	if err != nil {
		return err
	}
	defer f.Close()
	return unix.Syncfs(int(f.Fd()))
}
