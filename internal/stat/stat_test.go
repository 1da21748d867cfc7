package stat

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// It tells what os.Lstat tells.
func TestIn(t *testing.T) {
	at := t.TempDir()
	if err := os.WriteFile(filepath.Join(at, "file"), []byte("four"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(at, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	names := []string{"file", "folder"}
	if os.Symlink("file", filepath.Join(at, "link")) == nil {
		names = append(names, "link")
	}
	dir, err := os.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	defer dir.Close()
	for _, name := range names {
		got, err := In(dir, name)
		want, werr := os.Lstat(filepath.Join(at, name))
		if err != nil || werr != nil {
			t.Fatal(err, werr)
		}
		if got.Type != want.Mode().Type() || got.Size != want.Size() || got.Time != want.ModTime().UnixNano() {
			t.Errorf("%s: %+v, and it is %v %d %v", name, got, want.Mode(), want.Size(), want.ModTime())
		}
		if runtime.GOOS == "linux" && (got.Inode == 0 || got.Change == 0) {
			t.Errorf("%s: it has no inode", name)
		}
	}
	if _, err := In(dir, "none"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there gives %v", err)
	}
	if got, err := os.Open(os.DevNull); err == nil {
		defer got.Close()
		if d, err := os.Open(filepath.Dir(os.DevNull)); err == nil {
			defer d.Close()
			if x, err := In(d, filepath.Base(os.DevNull)); err != nil || x.Type&fs.ModeDevice == 0 {
				t.Errorf("%s: %+v, %v", os.DevNull, x, err)
			}
		}
	}
}
