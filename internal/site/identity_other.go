//go:build !linux

package site

import "io/fs"

// identity tells a file from another one of the same name, size and time; here
// nothing does, so that every file is read each time.
func identity(fs.FileInfo) (inode uint64, change int64, told bool) { return 0, 0, false }
