package inbox

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// keptFor is how long a closed job and a text that was taken stay here in any case, counted from
// the moment at which they were last written.
const keptFor = 366 * 24 * time.Hour

// errNotOwned: somebody else may write what would be removed.
var errNotOwned = errors.New("the inbox is not owned")

// Tidy removes what is older than keptFor and is surely elsewhere: a closed job whose sheet stands
// among the notes, a text that stands there as it was taken, and the memory of a job that was
// deleted. notes holds content/. What no note holds stays, however old, until a backup has it
// (BackupAndClear). It gives how many files went.
func (b *Box) Tidy(notes fs.FS, now time.Time) (gone int, err error) {
	if b.lock == nil {
		return 0, errNotOwned
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, folder := range []string{"ended", "taken"} {
		entries, err := os.ReadDir(filepath.Join(b.dir, folder))
		if err != nil {
			return gone, err
		}
		for _, e := range entries {
			info, err := e.Info()
			if err != nil || !old(info, now) {
				continue
			}
			text, err := read(filepath.Join(b.dir, folder, e.Name()))
			if err != nil {
				continue
			}
			held := false
			if code, ok := strings.CutSuffix(e.Name(), ".json"); ok && folder == "ended" {
				held = b.jobHeld(notes, code, text)
			} else if folder == "taken" {
				held = textHeld(notes, e.Name(), text)
			}
			if !held {
				continue
			}
			if err := os.Remove(filepath.Join(b.dir, folder, e.Name())); err != nil {
				return gone, err
			}
			gone++
		}
	}
	return gone, nil
}

// old tells a plain file that was not written to for long. One from the future, as after a clock that
// was wrong, is not old.
func old(info fs.FileInfo, now time.Time) bool {
	return info.Mode().IsRegular() && !strings.HasPrefix(info.Name(), ".") && now.Sub(info.ModTime()) > keptFor
}

// jobHeld tells whether a closed job holds nothing, or its sheet stands among the notes: one of
// its code and its device, for another shop's browser may have given the same code.
func (b *Box) jobHeld(notes fs.FS, code string, text []byte) bool {
	f := Facts{}
	if !plainCode.MatchString(code) || f.read(text) != nil || !f.ended() {
		return false
	}
	if _, err := os.Lstat(b.jobPath("jobs", code)); err == nil { // it was opened again
		return false
	}
	if f.text("end") == "deleted" {
		f.forget()
		return len(f) <= 2
	}
	device := f.text("device")
	return device != "" && sheetStands(notes, code, device)
}

// textHeld tells whether a text under taken/ stands among the notes.
func textHeld(notes fs.FS, name string, text []byte) bool {
	kind, rest, _ := strings.Cut(name, "-")
	parts := numbered.FindStringSubmatch(rest)
	if parts == nil {
		return false
	}
	switch Kind(kind) {
	case Sheets:
		code, device := says(text, "code"), says(text, "device")
		if code != "" && device != "" {
			return sheetStands(notes, code, device)
		}
		return device != "" && stands(notes, "content/jobs/"+says(text, "date")+"-"+device+"-*.md", text)
	case Notes:
		return stands(notes, "content/faults/"+parts[1]+"*.md", text)
	case Changes:
		c, ok := ReadChange(text)
		return ok && stands(notes, c.File, []byte(c.Text))
	}
	return false
}

// said is a line of a sheet's front matter that names something.
var said = regexp.MustCompile(`(?m)^(code|device|date): *["']?([a-z0-9-]+)["']? *\r?$`)

func says(text []byte, key string) string {
	for _, m := range said.FindAllSubmatch(text, -1) {
		if string(m[1]) == key {
			return string(m[2])
		}
	}
	return ""
}

// sheetStands tells whether the sheet of a job is among the notes.
func sheetStands(notes fs.FS, code, device string) bool {
	text, err := fs.ReadFile(notes, "content/jobs/"+code+"-"+device+".md")
	return err == nil && says(text, "code") == code && says(text, "device") == device
}

// stands tells whether one of some notes says the same, however its lines end.
func stands(notes fs.FS, pattern string, text []byte) bool {
	files, err := fs.Glob(notes, pattern)
	if err != nil {
		return false
	}
	for _, file := range files {
		if there, err := fs.ReadFile(notes, file); err == nil && bytes.Equal(asTaken(there), asTaken(text)) {
			return true
		}
	}
	return false
}

// asTaken is a text as taking it writes it.
func asTaken(text []byte) []byte {
	return bytes.ReplaceAll(bytes.TrimPrefix(text, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
}

// BackupAndClear writes a backup as BackupTo does, and once that is on the disk removes from the
// inbox what it holds of closed jobs and taken texts older than keptFor.
func (b *Box) BackupAndClear(name string, now time.Time) (files, gone int, left []string, err error) {
	if b.lock == nil {
		return 0, 0, nil, errNotOwned
	}
	held, left, err := b.backupTo(name)
	if err != nil {
		return 0, 0, nil, err
	}
	files = len(held)
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, f := range held {
		if dir := filepath.Dir(f.name); dir != "ended" && dir != "taken" || !old(f.info, now) {
			continue
		}
		at := filepath.Join(b.dir, f.name)
		if info, err := os.Lstat(at); err != nil || !os.SameFile(info, f.info) || !info.ModTime().Equal(f.info.ModTime()) || info.Size() != f.info.Size() {
			continue // not the one that was written
		}
		if err := os.Remove(at); err != nil {
			return files, gone, left, err
		}
		gone++
	}
	return files, gone, left, nil
}
