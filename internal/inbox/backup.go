package inbox

import (
	"archive/tar"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"

	"faultleaf/internal/whole"
)

// backed are the folders of a backup. The passphrase and the key stay on their
// machine; a restored inbox makes its own.
var backed = []string{"sheets", "notes", "changes", "jobs", "ended", "taken"}

// mostBacked is a limit of a backup, like mostBytes, so that one made by somebody else fills no memory when it is unpacked.
const mostBacked = 100_000 // files

var errLargeBackup = fmt.Errorf("the inbox holds more than %d MB or %d files, more than a backup can; move older files out of taken/ to a place of your own", mostBytes>>20, mostBacked)

// backedFile is a file that a backup holds, as it was when it was read.
type backedFile struct {
	name string // "ended/2026-03-04-kb7.json"
	info fs.FileInfo
}

// restorable tells whether a file of an inbox can be put back: what a backup holds is what a
// restored one takes.
func restorable(dir, name string, size int64) bool {
	code, isJob := strings.CutSuffix(name, ".json")
	return size <= mostJob && (jobsIn(dir) && isJob && plainCode.MatchString(code) || !jobsIn(dir) && plainName.MatchString(name))
}

// Backup writes everything that came in as one file. What no inbox writes, and no backup could
// put back, is left out and named.
func (b *Box) Backup(w io.Writer) (files int, left []string, err error) {
	held, left, err := b.backup(w)
	return len(held), left, err
}

func (b *Box) backup(w io.Writer) (held []backedFile, left []string, err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	bytes := int64(0)
	z := gzip.NewWriter(w)
	t := tar.NewWriter(z)
	for _, dir := range backed {
		entries, err := os.ReadDir(filepath.Join(b.dir, dir))
		if err != nil {
			return held, left, err
		}
		for _, e := range entries {
			if strings.HasPrefix(e.Name(), ".") {
				continue
			}
			info, err := e.Info() // before it is read
			var text []byte
			if err == nil && info.Mode().IsRegular() && restorable(dir, e.Name(), info.Size()) {
				text, err = read(filepath.Join(b.dir, dir, e.Name()))
				if f := (Facts{}); err == nil && jobsIn(dir) && f.read(text) != nil {
					text = nil
				}
			}
			if errors.Is(err, fs.ErrNotExist) { // taken or closed meanwhile: it is in a later folder
				continue
			}
			if err != nil {
				return held, left, err
			}
			if text == nil {
				left = append(left, dir+"/"+e.Name())
				continue
			}
			if err := t.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: dir + "/" + e.Name(), Mode: 0o600, Size: int64(len(text))}); err != nil {
				return held, left, err
			}
			if _, err := t.Write(text); err != nil {
				return held, left, err
			}
			held = append(held, backedFile{filepath.Join(dir, e.Name()), info})
			if bytes += int64(len(text)); bytes > mostBytes || len(held) > mostBacked {
				return held, left, errLargeBackup
			}
		}
	}
	if err := t.Close(); err != nil {
		return held, left, err
	}
	return held, left, z.Close()
}

// BackupTo writes a backup to a file as a whole, and never over another file.
func (b *Box) BackupTo(name string) (files int, left []string, err error) {
	held, left, err := b.backupTo(name)
	return len(held), left, err
}

func (b *Box) backupTo(name string) (held []backedFile, left []string, err error) {
	if _, err := os.Lstat(name); err == nil {
		return nil, nil, fmt.Errorf("%s is there already; name another file", name)
	}
	err = whole.New(name, 0o600, func(w io.Writer) (err error) {
		held, left, err = b.backup(w)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	return held, left, nil
}

// Restore puts a backup into an inbox: texts beside those that are there, jobs
// merged with theirs. A file that is damaged, or that no Backup wrote, changes
// nothing.
func (b *Box) Restore(r io.Reader) (files int, err error) {
	z, err := gzip.NewReader(r)
	if err != nil {
		return 0, errors.New("this is no backup of an inbox")
	}
	whole, bytes := map[string][]byte{}, int64(0)
	for t := tar.NewReader(z); ; {
		h, err := t.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return 0, errors.New("the backup is damaged or cut short; nothing was restored")
		}
		dir, name := path.Split(h.Name)
		dir, slash := strings.CutSuffix(dir, "/")
		if !slash || !slices.Contains(backed, dir) || h.Typeflag != tar.TypeReg || !restorable(dir, name, 0) {
			return 0, fmt.Errorf("the backup holds %q, which no inbox has; nothing was restored", h.Name)
		}
		if bytes += h.Size; !restorable(dir, name, h.Size) || bytes > mostBytes || len(whole) == mostBacked {
			return 0, errors.New("the backup is larger than any inbox; nothing was restored")
		}
		text, err := io.ReadAll(t)
		if err != nil {
			return 0, errors.New("the backup is damaged or cut short; nothing was restored")
		}
		whole[h.Name] = text
	}
	// the checksum stands behind the last file, and nothing large before it
	if n, err := io.Copy(io.Discard, io.LimitReader(z, mostJob)); err != nil || n == mostJob {
		return 0, errors.New("the backup is damaged or cut short; nothing was restored")
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	jobs := map[string]Facts{}
	names := make([]string, 0, len(whole))
	for name, text := range whole {
		names = append(names, name)
		if code, ok := strings.CutSuffix(path.Base(name), ".json"); ok {
			f := Facts{}
			if err := f.read(text); err != nil {
				return 0, errors.New("the job " + code + " in the backup cannot be read; nothing was restored")
			}
			if j, err := b.job(code); err == nil && clash(j.facts, f) {
				return 0, fmt.Errorf("the job %s of the backup is another than the one of this code here; nothing was restored; restore into an empty inbox", code)
			}
			if had := jobs[code]; had != nil { // in both folders, as a power cut left it
				had.Merge(f)
				continue
			}
			jobs[code] = f
		}
	}
	sort.Strings(names)
	for _, name := range names {
		dir, file := path.Split(name)
		switch dir {
		case "jobs/", "ended/":
			code := strings.TrimSuffix(file, ".json")
			_, err = b.merge(code, jobs[code], "")
		case "taken/":
			err = b.keepTaken(file, whole[name])
		default:
			_, err = b.keep(Kind(strings.TrimSuffix(dir, "/")), file, whole[name])
		}
		if err != nil {
			return files, err
		}
		files++
	}
	return files, nil
}

// jobsIn tells the folders of a backup that hold jobs.
func jobsIn(dir string) bool { return dir == "jobs" || dir == "ended" }

// numbered is a name under taken/.
var numbered = regexp.MustCompile(`^(.*?)(?:-[0-9]+)?\.md$`)

// keepTaken puts a text under taken/, beside another one that has its name.
func (b *Box) keepTaken(file string, text []byte) error {
	base := numbered.FindStringSubmatch(file)[1]
	for n := 1; ; n++ {
		at := filepath.Join(b.dir, "taken", file)
		old, err := read(at)
		switch {
		case err == nil && string(old) == string(text):
			return nil
		case errors.Is(err, fs.ErrNotExist):
			return write(at, text, false)
		case err != nil:
			return err
		}
		file = fmt.Sprintf("%s-%d.md", base, n)
	}
}
