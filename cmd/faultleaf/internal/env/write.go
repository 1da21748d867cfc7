package env

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteNew writes a file that is not there yet, whole or not at all.
func WriteNew(name string, b []byte) error {
	if _, err := os.Lstat(name); err == nil {
		return Bad(name + " is there already, and is left alone; choose another name")
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return Replace(name, b)
}

// Replace writes a file beside its place, makes it safe on the disk and moves it
// there, so that nobody meets half of one. Folders are made where they are
// missing.
func Replace(name string, b []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".half-")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails where all went well
	_, err = f.Write(b)
	err = errors.Join(err, f.Sync(), f.Chmod(0o644), f.Close())
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
