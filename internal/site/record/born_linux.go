package record

import (
	"os"
	"strconv"

	"golang.org/x/sys/unix"
)

// born is the moment at which a folder was made, which nobody can choose, or "" where the disk
// does not keep it.
func born(dir *os.File) string {
	var s unix.Statx_t
	if unix.Statx(int(dir.Fd()), "", unix.AT_EMPTY_PATH, unix.STATX_BTIME, &s) != nil || s.Mask&unix.STATX_BTIME == 0 {
		return ""
	}
	return strconv.FormatInt(s.Btime.Sec, 10) + "." + strconv.FormatUint(uint64(s.Btime.Nsec), 10)
}
