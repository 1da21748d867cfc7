package site

import (
	"io/fs"
	"syscall"
)

// identity tells a file from another one of the same name, size and time: its inode,
// and when anything of it changed, which no program can set.
func identity(info fs.FileInfo) (inode uint64, change int64, told bool) {
	s, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, 0, false
	}
	return s.Ino, s.Ctim.Nano(), true
}
