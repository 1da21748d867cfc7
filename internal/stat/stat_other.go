//go:build !linux

package stat

import (
	"os"
	"path/filepath"
)

// In is what the system tells of the file of this name in an open folder. A link is not followed.
func In(dir *os.File, name string) (Info, error) {
	info, err := os.Lstat(filepath.Join(dir.Name(), name))
	if err != nil {
		return Info{}, err
	}
	return Info{Type: info.Mode().Type(), Size: info.Size(), Time: info.ModTime().UnixNano()}, nil
}
