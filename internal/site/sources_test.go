package site

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"faultleaf/internal/site/record"
)

// What was read before is believed of a file that was not touched, and of no other:
// not of one that was given its old time back, nor of one that is so young that it may
// change again within the same tick of the clock.
func TestTake(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("every file is read each time here")
	}
	dir := t.TempDir()
	faults := filepath.Join(dir, "content", "faults")
	if err := os.MkdirAll(faults, 0o755); err != nil {
		t.Fatal(err)
	}
	kept := record.Open(t.TempDir())
	defer kept.Close()
	sum := func() string {
		t.Helper()
		list, err := walk(dir)
		if err != nil {
			t.Fatal(err)
		}
		s, all := take(list, kept, "files"), take(list, nil, "")
		if s.sums["content/faults/a.md"] != all.sums["content/faults/a.md"] || s.device["content/faults/a.md"] != all.device["content/faults/a.md"] {
			t.Errorf("it is taken for another file: %v, %v", s, all)
		}
		return s.sums["content/faults/a.md"]
	}
	believed := func() int {
		var files []readAs
		if b := kept.Kept("files"); b == nil || record.Decode(b, &files) != nil {
			t.Fatal("nothing is kept")
		}
		return len(files)
	}
	file := filepath.Join(faults, "a.md")
	old := time.Now().Add(-time.Hour)
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(file, old, old); err != nil {
			t.Fatal(err)
		}
	}
	write("device: one\n")
	first := sum()
	if believed() != 0 { // what changed of it just now is young, whatever its time says
		t.Error("a young file is believed")
	}
	write("device: two\n")
	if sum() == first {
		t.Error("an edit of the same size and time is not seen")
	}
	time.Sleep(settled + 50*time.Millisecond)
	first = sum()
	if believed() != 1 {
		t.Fatal("an old file is not believed")
	}
	if sum() != first {
		t.Error("a file that was not touched is another")
	}
	write("device: six\n")
	if sum() == first {
		t.Error("an edit of the same size and time is not seen, of a file that was believed")
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if sum() != "" || believed() != 0 {
		t.Error("a file that is gone is still there")
	}
}
