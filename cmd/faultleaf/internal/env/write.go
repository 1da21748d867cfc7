package env

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"faultleaf/internal/whole"
)

// WriteNew writes a file that is not there yet, whole or not at all. Folders are
// made where they are missing.
func WriteNew(name string, b []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	err := whole.New(name, 0o644, whole.Bytes(b))
	if errors.Is(err, fs.ErrExist) {
		return Bad(name + " is there already, and is left alone; choose another name")
	}
	return err
}

// Replace writes a file, also over one that is there, whole or not at all.
// Folders are made where they are missing.
func Replace(name string, b []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return whole.Over(name, 0o644, whole.Bytes(b))
}
