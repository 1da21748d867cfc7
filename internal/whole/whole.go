// Package whole writes files so that nobody ever meets half of one: beside its
// place, made safe on the disk, then moved there in one step.
package whole

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// New writes a file that is not there yet. One that is there is left alone; the
// error then is fs.ErrExist.
func New(name string, mode fs.FileMode, fill func(io.Writer) error) error {
	return write(name, mode, fill, func(half string) error {
		err := os.Link(half, name)
		if err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
		if _, serr := os.Lstat(name); errors.Is(serr, fs.ErrNotExist) { // a disk without links
			return os.Rename(half, name)
		}
		return err
	})
}

// Over writes a file, also over one that is there.
func Over(name string, mode fs.FileMode, fill func(io.Writer) error) error {
	return write(name, mode, fill, func(half string) error { return os.Rename(half, name) })
}

// Bytes fills a file with b.
func Bytes(b []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(b)
		return err
	}
}

func write(name string, mode fs.FileMode, fill func(io.Writer) error, place func(half string) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".half-")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // finds nothing where it was moved
	err = fill(f)
	if err == nil {
		err = errors.Join(f.Sync(), f.Chmod(mode))
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = place(f.Name())
	}
	if err != nil {
		return err
	}
	return SyncFolder(filepath.Dir(name))
}

// SyncFolder makes the move itself safe, where a folder can be synced.
func SyncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, fs.ErrPermission) {
		return err
	}
	return nil
}
