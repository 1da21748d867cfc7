package watch

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func put(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A file that is written, in a folder that is new too, renamed or removed is told; a hidden
// one is not.
func TestChanges(t *testing.T) {
	quiet = 20 * time.Millisecond
	dir := t.TempDir()
	put(t, filepath.Join(dir, "faults", "a.md"), "one")
	calls := make(chan struct{}, 100)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() {
		Changes(ctx, dir, Stamp(dir), func() { calls <- struct{}{} })
		close(ended)
	}()
	told := func(what string) {
		t.Helper()
		select {
		case <-calls:
		case <-time.After(20 * time.Second):
			t.Fatal(what + " was not told")
		}
	}
	time.Sleep(100 * time.Millisecond) // it follows by now
	put(t, filepath.Join(dir, "faults", "a.md"), "two!")
	told("a change")
	put(t, filepath.Join(dir, "pages", "deep", "b.md"), "b")
	told("a new folder")
	put(t, filepath.Join(dir, "pages", "deep", "b.md"), "longer")
	told("a change in the new folder")
	if err := os.Rename(filepath.Join(dir, "faults", "a.md"), filepath.Join(dir, "faults", "c.md")); err != nil {
		t.Fatal(err)
	}
	told("a new name")
	put(t, filepath.Join(dir, "faults", ".c.md.swp"), "hidden")
	select {
	case <-calls:
		t.Error("a hidden file was told")
	case <-time.After(300 * time.Millisecond):
	}
	stop()
	<-ended
}

// What the system does not tell is found by comparison, and what changed before the
// watching began at once.
func TestWithoutEvents(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a.md"), "one")
	before := Stamp(dir)
	put(t, filepath.Join(dir, "a.md"), "three")
	calls := make(chan struct{}, 1)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go Changes(ctx, dir, before, func() { calls <- struct{}{} })
	select {
	case <-calls:
	case <-time.After(20 * time.Second):
		t.Fatal("what had changed before was not told")
	}
}

func TestStamp(t *testing.T) {
	dir := t.TempDir()
	seen := map[uint64]string{Stamp(filepath.Join(dir, "none")): "nothing"}
	differs := func(what string) {
		t.Helper()
		s := Stamp(dir)
		if was, ok := seen[s]; ok {
			t.Errorf("%s gives the stamp of %s", what, was)
		}
		seen[s] = what
	}
	put(t, filepath.Join(dir, "a.md"), "one")
	differs("a file")
	put(t, filepath.Join(dir, "b", "c.md"), "")
	differs("an empty one")
	if err := os.Chtimes(filepath.Join(dir, "a.md"), time.Now(), time.Unix(1e9, 0)); err != nil {
		t.Fatal(err)
	}
	differs("another time")
	if err := os.Remove(filepath.Join(dir, "b", "c.md")); err != nil {
		t.Fatal(err)
	}
	differs("one less")
}
