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

// rename moves a file of one open folder of the root into another one.
func rename(_ *os.Root, from *os.File, name string, to *os.File, as string) error {
	for {
		err := unix.Renameat(int(from.Fd()), name, int(to.Fd()), as)
		if err != unix.EINTR {
			return err
		}
	}
}
