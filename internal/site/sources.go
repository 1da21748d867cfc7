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
	"slices"
	"sort"
	"strings"
	"sync"
	"time"

	"faultleaf/internal/note"
	"faultleaf/internal/site/record"
	"faultleaf/internal/stat"
)

// folder is the shop's files by content, each with what it belongs to: a device
// with its faults and sheets, or the whole shop.
type folder struct {
	sums    map[string]string   // of every file under content/, by its path
	of      map[string][]string // files by device, sorted
	device  map[string]string   // of each of these files
	base    []string            // files that every note may rest on, sorted
	baseKey string              // of these
	others  []string            // checklists and plain pages
	strange bool                // a note names no device that has a note
}

// largest is up to what size a file is read to tell its content; what is larger,
// and is refused by the reader of notes, goes by its size.
const largest = 32 << 20

// source is a file below content/, without its content.
type source struct {
	file string // its path below the shop
	in   string // the folder where it lies, links to content/ followed
	stat.Info
}

// at is where it lies.
func (x *source) at() string { return filepath.Join(x.in, path.Base(x.file)) }

// walk lists the shop's files in dir, in one order. What is hidden is none of them.
func walk(dir string) (list []source, err error) {
	top := filepath.Join(dir, "content")
	if real, err := filepath.EvalSymlinks(top); err == nil {
		top = real // where a shop keeps its notes is its own affair
	}
	return walkIn(nil, top, "content")
}

// walkIn adds the files of a folder and of those in it.
func walkIn(list []source, in, as string) ([]source, error) {
	dir, err := os.Open(in)
	if err != nil {
		return list, err
	}
	defer dir.Close()
	entries, err := dir.ReadDir(-1)
	if err != nil {
		return list, err
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	list = slices.Grow(list, len(entries))
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") {
			continue
		}
		if e.IsDir() {
			if list, err = walkIn(list, filepath.Join(in, name), as+"/"+name); err != nil {
				return list, err
			}
			continue
		}
		info, err := stat.In(dir, name)
		if err != nil {
			return list, err
		}
		list = append(list, source{as + "/" + name, in, info})
	}
	return list, nil
}

// readAs is a file as it was read: as long as the system tells the same of it, it
// holds the same.
type readAs struct {
	File, Sum, Device string
	Size, Time        int64
	Inode             uint64
	Change            int64
}

func readOf(file string, info stat.Info) readAs {
	return readAs{File: file, Size: info.Size, Time: info.Time, Inode: info.Inode, Change: info.Change}
}

// as tells whether a file holds what it held.
func (x *readAs) as(was *readAs) bool {
	return x.Inode != 0 && x.Size == was.Size && x.Time == was.Time && x.Inode == was.Inode && x.Change == was.Change
}

// settled is how old a file must be when it is read for that to be believed: one that
// is written again in the same breath may keep its time. No system of files counts
// time in larger steps.
const settled = 2 * time.Second

// believed tells whether that may be believed of a file that was read from a moment on.
func (x *readAs) believed(read time.Time) bool {
	return x.Inode != 0 && max(x.Time, x.Change) < read.Add(-settled).UnixNano()
}

// take tells the content of the shop's files, and reads those of which kept, from an
// earlier run, does not tell; kept may be nil. What a folder holds that is no plain
// file is told by its name alone; the reader of notes refuses it.
func take(list []source, kept *record.Record, key string) *folder {
	s := &folder{sums: make(map[string]string, len(list)), of: map[string][]string{}, device: make(map[string]string, len(list))}
	var before []readAs
	if b := kept.Kept(key); b == nil || record.Decode(b, &before) != nil {
		before = nil
	}
	known := make(map[string]*readAs, len(before))
	for i := range before {
		known[before[i].File] = &before[i]
	}
	begun := time.Now()
	files := make([]readAs, 0, len(list))
	var todo []int
	places := make([]int, 0, len(list)) // of each of files in list
	fresh := 0
	for i := range list {
		x := &list[i]
		if x.Type != 0 {
			s.sums[x.file] = x.Type.String()
			s.belongs(x.file, ownerOf(x.file, nil))
			continue
		}
		now := readOf(x.file, x.Info)
		if was := known[x.file]; was != nil && now.as(was) {
			now.Sum, now.Device = was.Sum, was.Device
			fresh++
		} else {
			todo = append(todo, len(files))
		}
		files, places = append(files, now), append(places, i)
	}
	var wait sync.WaitGroup
	cores := runtime.GOMAXPROCS(0)
	for c := range cores {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var buffer bytes.Buffer
			for i := c; i < len(todo); i += cores {
				x := &files[todo[i]]
				x.Sum, x.Device = look(list[places[todo[i]]].at(), x.File, &buffer)
			}
		}()
	}
	wait.Wait()
	if len(todo) > 0 || fresh != len(before) {
		old := make([]readAs, 0, len(files))
		for _, x := range files {
			if len(x.Sum) == sumDigits && x.believed(begun) {
				old = append(old, x)
			}
		}
		kept.Put(key, record.Encode(old))
	}
	for _, x := range files {
		s.sums[x.File] = x.Sum
		s.belongs(x.File, x.Device)
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
	s.baseKey = s.key(s.base...)
	return s
}

// sumDigits is the length of a hash; what stands in the place of one that could not be
// taken has another.
const sumDigits = 32

// look is the hash of a file that lies at a place, and the device that it belongs to,
// "" for none.
func look(at, file string, buffer *bytes.Buffer) (sum, device string) {
	f, err := os.Open(at)
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
	return hex.EncodeToString(h[:sumDigits/2]), ownerOf(file, b)
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
		of := s.of[device]
		if of == nil {
			of = make([]string, 0, 64)
		}
		s.of[device] = append(of, file)
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
