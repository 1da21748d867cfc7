package whole

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

func TestWhole(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "a.md")
	read := func() string { b, _ := os.ReadFile(at); return string(b) }
	if err := New(at, 0o600, Bytes([]byte("one"))); err != nil || read() != "one" {
		t.Fatal(err, read())
	}
	if info, err := os.Stat(at); err != nil || info.Mode().Perm() != 0o600 {
		t.Error(info.Mode(), err)
	}
	if err := New(at, 0o644, Bytes([]byte("two"))); !errors.Is(err, fs.ErrExist) || read() != "one" {
		t.Errorf("a new file was written over another: %v, %q", err, read())
	}
	if err := Over(at, 0o644, Bytes([]byte("three"))); err != nil || read() != "three" {
		t.Error(err, read())
	}
	broken := errors.New("the disk is full")
	if err := Over(at, 0o644, func(w io.Writer) error { _, _ = w.Write([]byte("ha")); return broken }); !errors.Is(err, broken) || read() != "three" {
		t.Errorf("half of a file was put in place: %v, %q", err, read())
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("%d files are left", len(left))
	}
}
