package published

import (
	"fmt"
	"strings"
	"syscall"
	"testing"
)

// A disk that is full leaves the old site, and a sentence. It needs the right
// to mount one.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=400k"); err != nil {
		t.Skip("a small disk cannot be mounted here:", err)
	}
	defer syscall.Unmount(dir, 0)
	old := map[string]string{"index.html": "1", "faults/a.html": "a"}
	put(t, dir, old)
	big := map[string]string{}
	for i := range 100 {
		big[fmt.Sprintf("faults/%d.html", i)] = strings.Repeat("x", 10_000)
	}
	_, err := publish(dir, big)
	if err == nil || !strings.Contains(err.Error(), "cannot be written") {
		t.Errorf("it says %v", err)
	}
	if got := seen(t, dir); !same(got, old) {
		t.Errorf("the old site is not whole: %d files", len(got))
	}
	clean(t, dir)
}

func TestReadOnly(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_RDONLY, ""); err != nil {
		t.Skip("a read-only disk cannot be mounted here:", err)
	}
	defer syscall.Unmount(dir, 0)
	if _, err := publish(dir, map[string]string{"index.html": "1"}); err == nil || !strings.Contains(err.Error(), "nothing can be written") {
		t.Errorf("it says %v", err)
	}
}
