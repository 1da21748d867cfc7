package inbox

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// owned opens an inbox as a host does.
func owned(t *testing.T, dir string) *Box {
	t.Helper()
	b, err := Own(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// inside are the files of an inbox's folders.
func inside(t *testing.T, b *Box, folders ...string) []string {
	t.Helper()
	var out []string
	for _, folder := range folders {
		entries, err := os.ReadDir(filepath.Join(b.dir, folder))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			out = append(out, folder+"/"+e.Name())
		}
	}
	return out
}

const oldSheet = "---\ncode: \"%s\"\ndevice: kettle\ndate: 2025-03-04\ncause: unknown\n---\n\nAn invented job.\n"

// What is old goes where a note holds it, and nothing else; a backup that was made for that
// takes the rest, and brings it back.
func TestTidy(t *testing.T) {
	b := owned(t, filepath.Join(t.TempDir(), "inbox"))
	now := time.Now()
	ago := func(name string, age time.Duration) {
		if err := os.Chtimes(filepath.Join(b.dir, filepath.FromSlash(name)), now.Add(-age), now.Add(-age)); err != nil {
			t.Fatal(err)
		}
	}
	job := func(code, end string, more Facts) {
		f := Facts{"born": fact(`"b`+code+`"`, 1), "device": fact(`"kettle"`, 2), "end": fact(end, 9)}
		f.Merge(more)
		if _, err := b.Merge(code, f, ""); err != nil {
			t.Fatal(err)
		}
	}
	taken := func(name, text string) {
		if err := os.WriteFile(filepath.Join(b.dir, "taken", name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sheet := func(code string) string { return fmt.Sprintf(oldSheet, code) }
	notes := fstest.MapFS{
		"content/jobs/2025-03-04-kb1-kettle.md":  {Data: []byte(sheet("2025-03-04-kb1") + "\nA later word.\n")},
		"content/jobs/2025-03-04-kb3-toaster.md": {Data: []byte(strings.Replace(sheet("2025-03-04-kb3"), "kettle", "toaster", 1))},
		"content/jobs/2025-03-04-kb7-kettle.md":  {Data: []byte(sheet("2025-03-04-kb7"))},
		"content/jobs/2025-03-04-kettle-2.md":    {Data: []byte("---\ndevice: kettle\ndate: 2025-03-04\n---\nBy hand.\n")},
		"content/faults/cord-broken.md":          {Data: []byte("a fault\n")},
		"content/faults/lid-loose.md":            {Data: []byte("as it is now\n")},
	}
	keeps := []string{
		"ended/2025-03-04-kb2.json", // no note
		"ended/2025-03-04-kb3.json", // the note of another job
		"ended/2025-03-04-kb6.json", // opened again: below
		"ended/2025-03-04-kb7.json", // a note holds it, and it is young
		"ended/2025-03-04-kb8.json", // not readable
		"taken/notes-lid-loose-1.md", "taken/sheets-2025-03-04-kb9-kettle-1.md", "taken/changes-faults-lid-loose-1.md", "taken/other-1.md", "taken/sheets-2025-03-04-kettle-9-1.md",
	}
	goes := []string{"ended/2025-03-04-kb1.json", "ended/2025-03-04-kb4.json", "taken/notes-cord-broken-1.md", "taken/sheets-2025-03-04-kb1-kettle-1.md", "taken/sheets-2025-03-04-kettle-2-1.md", "taken/changes-faults-cord-broken-1.md"}
	for _, code := range []string{"kb1", "kb2", "kb3", "kb6", "kb7"} {
		job("2025-03-04-"+code, `"saved"`, Facts{"says": fact(`"private"`, 3)})
	}
	job("2025-03-04-kb4", `"deleted"`, nil)
	for name, text := range map[string]string{"kb6": `{"device":["kettle","0000000000002-ab"]}`} {
		if err := os.WriteFile(b.jobPath("jobs", "2025-03-04-"+name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(b.jobPath("ended", "2025-03-04-kb8"), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	taken("notes-cord-broken-1.md", "\ufeffa fault\r\n")
	taken("notes-lid-loose-1.md", "as it was\n")
	taken("sheets-2025-03-04-kb1-kettle-1.md", sheet("2025-03-04-kb1"))
	taken("sheets-2025-03-04-kb9-kettle-1.md", sheet("2025-03-04-kb9"))
	taken("sheets-2025-03-04-kettle-2-1.md", "---\ndevice: kettle\ndate: 2025-03-04\n---\nBy hand.\n")
	taken("sheets-2025-03-04-kettle-9-1.md", "---\ndevice: kettle\ndate: 2025-03-04\n---\nBy another hand.\n")
	taken("changes-faults-cord-broken-1.md", "change to content/faults/cord-broken.md from 0123\na fault\n")
	taken("changes-faults-lid-loose-1.md", "change to content/faults/lid-loose.md from 0123\nas it was\n")
	taken("other-1.md", "a fault\n")

	all := inside(t, b, "ended", "taken")
	if len(all) != len(keeps)+len(goes) {
		t.Fatal(all)
	}
	if gone, err := b.Tidy(notes, now); err != nil || gone != 0 {
		t.Errorf("of what is young %d go, %v", gone, err)
	}
	for _, name := range all {
		if name != "ended/2025-03-04-kb7.json" {
			ago(name, keptFor+time.Hour)
		}
	}
	if gone, err := b.Tidy(notes, now.Add(-48*time.Hour)); err != nil || gone != 0 {
		t.Errorf("by a clock that was set back %d go, %v", gone, err)
	}
	if gone, err := b.Tidy(notes, now); err != nil || gone != len(goes) {
		t.Errorf("%d go, %v", gone, err)
	}
	slices.Sort(keeps)
	if left := inside(t, b, "ended", "taken"); !slices.Equal(left, keeps) {
		t.Errorf("there are\n%s\nnot\n%s", strings.Join(left, "\n"), strings.Join(keeps, "\n"))
	}
	if gone, err := b.Tidy(fstest.MapFS{}, now); err != nil || gone != 0 {
		t.Errorf("without notes %d go, %v", gone, err)
	}
	if _, err := opened(t, b.dir).Tidy(notes, now); err == nil {
		t.Error("somebody who does not own the inbox tidies it")
	}

	// a backup that is made to clear it
	if _, _, _, err := opened(t, b.dir).BackupAndClear(filepath.Join(t.TempDir(), "b"), now); err == nil {
		t.Error("somebody who does not own the inbox clears it")
	}
	file := filepath.Join(t.TempDir(), "backup")
	if _, gone, _, err := b.BackupAndClear(filepath.Join(t.TempDir(), "none", "b"), now); err == nil || gone != 0 {
		t.Error("without a backup", gone, "go")
	}
	files, gone, left, err := b.BackupAndClear(file, now)
	if err != nil || gone != len(keeps)-2 || !slices.Equal(left, []string{"ended/2025-03-04-kb8.json"}) { // the young one and the one that no backup holds
		t.Error(files, gone, left, err)
	}
	if still := inside(t, b, "ended", "taken"); !slices.Equal(still, []string{"ended/2025-03-04-kb7.json", "ended/2025-03-04-kb8.json"}) {
		t.Error(still)
	}
	other := owned(t, filepath.Join(t.TempDir(), "other"))
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if n, err := other.Restore(f); err != nil || n != files {
		t.Error(n, files, err)
	}
	if s, err := other.Merge("2025-03-04-kb2", Facts{}, ""); err != nil || s.Facts.text("says") != "private" {
		t.Error("a job that was cleared does not come back:", s, err)
	}
}

// Whatever lies in an inbox that no inbox wrote, a backup of it can be put back, says what it left
// out, and neither waits for it nor fills the memory with it.
func TestForeignFilesInTheInbox(t *testing.T) {
	b := opened(t, filepath.Join(t.TempDir(), "inbox"))
	if _, err := b.Keep(Sheets, "a-1.md", []byte("one")); err != nil {
		t.Fatal(err)
	}
	put := func(name, text string) string {
		at := filepath.Join(b.dir, filepath.FromSlash(name))
		if err := os.WriteFile(at, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	want := []string{put("sheets/a-1.md~", "an editor's"), put("notes/My note.md", "by hand"), put("jobs/2026-03-04-kb1.json", "{"), put("jobs/x.json", "{}"), put("ended/a.md", "x"), put("taken/huge.md", "")}
	if err := os.Truncate(filepath.Join(b.dir, "taken", "huge.md"), 1<<40); err != nil {
		t.Fatal(err)
	}
	if err := mkfifo(filepath.Join(b.dir, "sheets", "b-1.md")); err == nil {
		want = append(want, "sheets/b-1.md")
	}
	if err := os.Symlink("/dev/zero", filepath.Join(b.dir, "sheets", "c-1.md")); err == nil {
		want = append(want, "sheets/c-1.md")
	}
	done := make(chan bool)
	go func() {
		defer close(done)
		for _, name := range []string{"b-1.md", "c-1.md"} {
			if got, err := b.Keep(Sheets, name, []byte("two")); err != nil || got != strings.Replace(name, "-1", "-1-2", 1) {
				t.Error(got, err)
			}
		}
		var file bytes.Buffer
		n, left, err := b.Backup(&file)
		slices.Sort(want)
		slices.Sort(left)
		if err != nil || n != 3 || !slices.Equal(left, want) {
			t.Errorf("%d files, %v; left out are\n%v, not\n%v", n, err, left, want)
		}
		if n, err := opened(t, filepath.Join(t.TempDir(), "other")).Restore(&file); err != nil || n != 3 {
			t.Error(n, err)
		}
		if _, err := b.Merge("2026-03-04-kb1", Facts{"says": fact(`"x"`, 1)}, ""); err == nil {
			t.Error("a job that cannot be read is written over")
		}
	}()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatal("the inbox waits")
	}
}
