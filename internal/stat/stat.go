// Package stat asks the system about files, thousands at a time: of those in an open
// folder one by one, without finding the way to each anew.
package stat

import "io/fs"

// Info is what the system tells of a file.
type Info struct {
	Type fs.FileMode // its kind alone; 0 for a plain file
	Size int64       // bytes
	Time int64       // when its content was changed last, in nanoseconds since 1970

	// Which file it is, and when anything of it changed, which no program can set: what tells it
	// from another one of the same name, size and time. Both are 0 where the system does not say.
	Inode  uint64
	Change int64
}
