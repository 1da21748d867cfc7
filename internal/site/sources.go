package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"sync"

	"faultleaf/internal/note"
	"faultleaf/internal/site/record"
)

// folder is the shop's files by content, each with what it belongs to: a device
// with its faults and sheets, or the whole shop.
type folder struct {
	sums    map[string]string   // of every file under content/, by its path
	of      map[string][]string // files by device, sorted
	device  map[string]string   // of each of these files
	base    []string            // files that every note may rest on, sorted
	others  []string            // checklists and plain pages
	strange bool                // a note names no device that has a note
}

// largest is up to what size a file is read to tell its content; what is larger,
// and is refused by the reader of notes, goes by its size.
const largest = 32 << 20

// take reads the shop's files in dir. What a folder holds that is no plain file is
// told by its name alone; the reader of notes refuses it.
func take(dir string) (*folder, error) {
	s := &folder{sums: map[string]string{}, of: map[string][]string{}, device: map[string]string{}}
	var files []string
	top := filepath.Join(dir, "content")
	if real, err := filepath.EvalSymlinks(top); err == nil {
		top = real // where a shop keeps its notes is its own affair
	}
	err := filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := d.Name(); strings.HasPrefix(name, ".") && p != top {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if rel, err := filepath.Rel(top, p); err == nil && !d.IsDir() {
			file := path.Join("content", filepath.ToSlash(rel))
			if !d.Type().IsRegular() {
				s.sums[file] = d.Type().String()
				s.belongs(file, ownerOf(file, nil))
				return nil
			}
			files = append(files, file)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	sums, devices := make([]string, len(files)), make([]string, len(files))
	var wait sync.WaitGroup
	cores := runtime.GOMAXPROCS(0)
	for c := range cores {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var buffer bytes.Buffer
			for i := c; i < len(files); i += cores {
				sums[i], devices[i] = look(top, files[i], &buffer)
			}
		}()
	}
	wait.Wait()
	for i, file := range files {
		s.sums[file] = sums[i]
		s.belongs(file, devices[i])
	}
	for device, list := range s.of {
		sort.Strings(list)
		if _, ok := s.sums["content/devices/"+device+".md"]; !ok {
			s.strange = true
		}
	}
	for file := range s.sums {
		switch {
		case s.device[file] != "":
		case file == note.GlossaryFile: // every text links its terms
			s.base = append(s.base, file)
		case strings.HasPrefix(file, "content/checklists/"), strings.HasPrefix(file, "content/pages/"):
			s.others = append(s.others, file)
		default:
			s.base = append(s.base, file)
		}
	}
	sort.Strings(s.base)
	sort.Strings(s.others)
	return s, nil
}

// look is the hash of a file and the device that it belongs to, "" for none.
func look(top, file string, buffer *bytes.Buffer) (sum, device string) {
	f, err := os.Open(filepath.Join(top, filepath.FromSlash(strings.TrimPrefix(file, "content/"))))
	if err != nil {
		return err.Error(), ownerOf(file, nil)
	}
	defer f.Close()
	buffer.Reset()
	n, err := buffer.ReadFrom(io.LimitReader(f, largest+1))
	if err != nil || n > largest {
		if info, serr := f.Stat(); serr == nil {
			return "large " + info.ModTime().String(), ownerOf(file, nil)
		}
		return "unread", ownerOf(file, nil)
	}
	b := buffer.Bytes()
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:16]), ownerOf(file, b)
}

// ownerOf is the device that a file with this content belongs to, "" for none. One that could
// not be read is of an unknown device, so that it is asked for, and does not vanish.
func ownerOf(file string, b []byte) string {
	switch path.Dir(file) {
	case "content/devices":
		return strings.TrimSuffix(path.Base(file), ".md")
	case "content/faults", "content/jobs":
		return deviceLine(b)
	}
	return ""
}

// belongs notes whose file it is.
func (s *folder) belongs(file, device string) {
	if device != "" {
		s.of[device] = append(s.of[device], file)
		s.device[file] = device
	}
}

// deviceLine is what a note's front matter says in its line "device: NAME"; "?"
// where it has none that can be read so simply.
func deviceLine(b []byte) string {
	for line := range bytes.SplitSeq(b[:min(len(b), 64<<10)], []byte("\n")) {
		if rest, ok := bytes.CutPrefix(line, []byte("device:")); ok {
			rest, _, _ = bytes.Cut(rest, []byte(" #"))
			if name := string(bytes.Trim(rest, " \t\r\"'")); name != "" {
				return name
			}
			break
		}
	}
	return "?"
}

// key tells the content of files.
func (s *folder) key(files ...string) string {
	parts := make([]string, 0, 2*len(files))
	for _, f := range files {
		parts = append(parts, f, s.sums[f])
	}
	return record.Key(parts...)
}

// all are all files.
func (s *folder) all() []string {
	out := make([]string, 0, len(s.sums))
	for f := range s.sums {
		out = append(out, f)
	}
	sort.Strings(out)
	return out
}
