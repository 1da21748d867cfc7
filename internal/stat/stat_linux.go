package stat

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// In is what the system tells of the file of this name in an open folder. A link is not followed.
func In(dir *os.File, name string) (Info, error) {
	var s unix.Stat_t
	for {
		err := unix.Fstatat(int(dir.Fd()), name, &s, unix.AT_SYMLINK_NOFOLLOW)
		if errors.Is(err, unix.EINTR) {
			continue
		}
		if err != nil {
			return Info{}, &fs.PathError{Op: "lstat", Path: dir.Name() + "/" + name, Err: err}
		}
		return Info{Type: typeOf(s.Mode), Size: s.Size, Time: s.Mtim.Nano(), Inode: s.Ino, Change: s.Ctim.Nano()}, nil
	}
}

func typeOf(mode uint32) fs.FileMode {
	switch mode & unix.S_IFMT {
	case unix.S_IFREG:
		return 0
	case unix.S_IFDIR:
		return fs.ModeDir
	case unix.S_IFLNK:
		return fs.ModeSymlink
	case unix.S_IFIFO:
		return fs.ModeNamedPipe
	case unix.S_IFSOCK:
		return fs.ModeSocket
	case unix.S_IFBLK:
		return fs.ModeDevice
	case unix.S_IFCHR:
		return fs.ModeDevice | fs.ModeCharDevice
	}
	return fs.ModeIrregular
}
