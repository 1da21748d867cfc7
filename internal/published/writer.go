package published

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"
	"sync"

	"github.com/gofrs/flock"

	"faultleaf/internal/stat"
)

// Report counts what a publishing did.
type Report struct {
	Pages, Written, Unchanged, Removed int
	// Left are files that were published once and are gone from the site, but
	// were changed by somebody since: they are left where they are.
	Left []string
}

// Writer brings a folder to the state of a new site. Put may be called from
// several goroutines.
type Writer struct {
	dir    string
	root   *os.Root
	lock   *flock.Flock
	before Manifest
	list   string    // that before is read from
	stamp  stat.Info // of the list before, which was written after all files and moved after all of them

	folders sync.Map // place by path, those that were looked into

	mu      sync.Mutex
	next    Manifest
	stage   *os.Root // where files are staged, once there are any
	staged  []string // the path of each staged file; its place is its name in the workshop
	report  Report
	fails   error
	foreign []string
}

// Busy is the mistake of a second publisher.
var Busy = errors.New("somebody else is publishing into this folder at this moment; try again when that is done")

// Begin opens the folder dir for a new site, and makes it where it is missing.
// It fails with Busy while another publisher works there.
func Begin(dir string) (*Writer, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("the folder for the site cannot be made: %w", err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder for the site cannot be opened: %w", err)
	}
	w := &Writer{dir: dir, root: root, next: Manifest{}}
	if w.lock, err = lock(root, dir); err != nil {
		root.Close()
		return nil, err
	}
	err = errors.Join(finish(root), sweep(root))
	if err == nil {
		if w.list, err = readList(root.FS()); err == nil {
			w.before = parse(w.list)
			w.next = make(Manifest, len(w.before))
		}
	}
	if at, serr := root.Open("."); serr == nil {
		if info, serr := stat.In(at, List); serr == nil {
			w.stamp = info
		}
		at.Close()
	}
	if err != nil {
		w.close()
		return nil, fmt.Errorf("what an earlier publishing left cannot be put right: %w", err)
	}
	return w, nil
}

// lock takes the lock of the workshop, which it makes where it is missing.
func lock(root *os.Root, dir string) (*flock.Flock, error) {
	if err := root.Mkdir(workshop, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("nothing can be written into %s: %w", dir, err)
	}
	for _, p := range []string{workshop, lockFile} { // a link would lead the lock out of the folder
		if info, err := root.Lstat(p); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return nil, fmt.Errorf("%s is a link; remove it, then publish again", filepath.Join(dir, p))
		}
	}
	l := flock.New(filepath.Join(dir, filepath.FromSlash(lockFile)))
	ok, err := l.TryLock()
	if err != nil {
		return nil, fmt.Errorf("the folder %s cannot be locked: %w", dir, err)
	}
	if !ok {
		l.Close()
		return nil, Busy
	}
	return l, nil
}

// Put gives a file its content, and says how it stands in the manifest. A file that
// already stands there with it is not touched.
func (w *Writer) Put(name string, b []byte) (File, error) {
	f := File{Sum: Sum(b), Size: int64(len(b))}
	return f, w.put(name, b, f)
}

func (w *Writer) put(name string, b []byte, f File) error {
	if !proper(name) {
		return w.failed(fmt.Errorf("%q is no name for a file of the site", name))
	}
	w.mu.Lock()
	if _, twice := w.next[name]; twice {
		w.mu.Unlock()
		return w.failed(fmt.Errorf("two files of the site want the name %s", name))
	}
	w.next[name] = f
	w.mu.Unlock()
	same, foreign, err := w.stands(name, f)
	if err != nil {
		return w.failed(err)
	}
	w.mu.Lock()
	if strings.HasSuffix(name, ".html") {
		w.report.Pages++
	}
	if foreign {
		w.foreign = append(w.foreign, name)
	}
	if same || foreign {
		w.report.Unchanged++
		w.mu.Unlock()
		return nil
	}
	w.report.Written++
	at := len(w.staged)
	w.staged = append(w.staged, name)
	if w.stage == nil {
		err = w.openStage()
	}
	w.mu.Unlock()
	if err == nil {
		err = w.stage.WriteFile(stagedName(at), b, 0o644)
	}
	if err != nil {
		return w.failed(fmt.Errorf("%s cannot be written: %w", name, err))
	}
	return nil
}

// Stands tells whether a file of the last site is in its place as it was written,
// so that it need not be made again.
func (w *Writer) Stands(name string, f File) bool {
	if old, ours := w.before[name]; !ours || old.Sum != f.Sum {
		return false
	}
	same, _, err := w.stands(name, f)
	return same && err == nil
}

// Keep takes a file over from the last site; it has been seen to stand there.
func (w *Writer) Keep(name string, f File) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if _, twice := w.next[name]; twice {
		return w.fail(fmt.Errorf("two files of the site want the name %s", name))
	}
	w.next[name] = File{Sum: f.Sum, Size: f.Size}
	if strings.HasSuffix(name, ".html") {
		w.report.Pages++
	}
	w.report.Unchanged++
	return nil
}

func stagedName(i int) string { return fmt.Sprintf("%06d", i) }

func stagedAt(i int) string { return staging + "/" + stagedName(i) }

// openStage makes the folder of staged files, and opens it once for all of them:
// the way to a file is found anew for each.
func (w *Writer) openStage() (err error) {
	if err = w.root.Mkdir(staging, 0o755); err == nil {
		w.stage, err = w.root.OpenRoot(staging)
	}
	return err
}

// failed keeps the first mistake, which Commit then gives: no site is finished
// with a file missing.
func (w *Writer) failed(err error) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.fail(err)
}

func (w *Writer) fail(err error) error {
	if w.fails == nil {
		w.fails = err
	}
	return err
}

// stands compares a file with what is in its place: the same, somebody else's,
// or (neither) nothing or what we wrote before.
func (w *Writer) stands(name string, f File) (same, foreign bool, err error) {
	dir, file := path.Split(name)
	in, err := w.place(dir)
	if err != nil {
		return false, false, err
	}
	if in.dir == nil {
		return false, in.blocked, nil
	}
	info, err := stat.In(in.dir, file)
	if errors.Is(err, fs.ErrNotExist) {
		return false, false, nil
	}
	if err != nil {
		return false, false, err
	}
	if info.Type != 0 {
		return false, true, nil
	}
	old, ours := w.before[name]
	if ours && w.untouched(old, info) {
		return old.Is(f.Sum), false, nil
	}
	sum, err := sumOf(w.root, name)
	if err != nil {
		return false, false, err
	}
	if sum == f.Sum {
		return true, false, nil
	}
	return false, !ours || !old.Is(sum), nil
}

// untouched tells whether a file of the last site has not been touched since the list was
// written, so that it is what the list says; this spares reading the whole site. Its time
// alone can be set, as by what copies an older file back.
func (w *Writer) untouched(f File, info stat.Info) bool {
	return info.Type == 0 && f.Size == info.Size && info.Time <= w.stamp.Time && info.Change <= w.stamp.Change
}

// place is a folder of the site as it is when it is first asked about: the way to it is not
// found anew for each of its files.
type place struct {
	dir     *os.File // nil where there is none
	blocked bool     // something that is no folder of ours stands where one is needed
}

// place opens a folder, named with a slash behind it, "" for the site's own.
func (w *Writer) place(dir string) (place, error) {
	if x, ok := w.folders.Load(dir); ok {
		return x.(place), nil
	}
	name := path.Clean(dir)
	var p place
	info, err := w.root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, errNotDir), err == nil && !info.IsDir():
		p.blocked = w.blocked(name)
	case err != nil:
		return p, err
	default:
		if p.dir, err = w.root.Open(name); err != nil {
			return p, err
		}
	}
	x, before := w.folders.LoadOrStore(dir, p)
	if before && p.dir != nil {
		p.dir.Close()
	}
	return x.(place), nil
}

// blocked says whether something that is no folder stands where one is needed.
func (w *Writer) blocked(dir string) bool {
	for d := dir; d != "."; d = path.Dir(d) {
		if info, err := w.root.Lstat(d); err == nil && !info.IsDir() {
			return true
		}
	}
	return false
}

func sumOf(root *os.Root, name string) (string, error) {
	f, err := root.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	return Sum(b), err
}

// Abort leaves the site as it was.
func (w *Writer) Abort() error {
	err := sweep(w.root)
	return errors.Join(err, w.close())
}

// leave lets go of the folders that were looked into: an empty one is to be removed.
func (w *Writer) leave() {
	w.folders.Range(func(_, x any) bool {
		if dir := x.(place).dir; dir != nil {
			dir.Close()
		}
		return true
	})
	w.folders.Clear()
	if w.stage != nil {
		w.stage.Close()
	}
}

func (w *Writer) close() error {
	w.leave()
	return errors.Join(w.lock.Close(), w.root.Close())
}

// Commit puts the new site in place of the old one. On a mistake the old one
// stays whole.
func (w *Writer) Commit() (Report, error) {
	err := w.fails
	if err == nil && len(w.foreign) > 0 {
		err = stranger(w.dir, w.foreign)
	}
	var drops []string
	if err == nil {
		drops, err = w.gone()
	}
	if err == nil {
		err = w.decide(drops)
	}
	if err != nil {
		return Report{}, errors.Join(err, w.Abort())
	}
	w.leave()
	// from here on the new site is decided: what fails now, the next run repeats
	err = errors.Join(finish(w.root), sweep(w.root))
	if err != nil {
		err = fmt.Errorf("the new site is written and not all of it is in place; publish again (%w)", err)
	}
	w.report.Removed = len(drops)
	return w.report, errors.Join(err, w.close())
}

// stranger says which files are in the way.
func stranger(dir string, names []string) error {
	sort.Strings(names)
	more := ""
	if n := len(names) - 3; n > 0 {
		names, more = names[:3], fmt.Sprintf(" and %d more", n)
	}
	return fmt.Errorf("%s%s in %s did not come from publishing, or was changed since; move it away, or publish into another folder with --to",
		strings.Join(names, ", "), more, dir)
}

// gone lists what was published before and is to go. Of run/, the files of the
// last site stay for one more, if this site brings others.
func (w *Writer) gone() ([]string, error) {
	turn := false
	for _, name := range w.staged {
		turn = turn || strings.HasPrefix(name, Hashed)
	}
	var drops []string
	for name, f := range w.before {
		if _, still := w.next[name]; still {
			continue
		}
		dir, file := path.Split(name)
		in, err := w.place(dir)
		if err != nil || in.dir == nil {
			continue
		}
		info, err := stat.In(in.dir, file)
		if err != nil {
			continue // gone already
		}
		if strings.HasPrefix(name, Hashed) && f.Size >= 0 && (!f.Kept || !turn) {
			f.Kept = true
			w.next[name] = f
			continue
		}
		if !w.untouched(f, info) {
			sum := ""
			if info.Type == 0 {
				if sum, err = sumOf(w.root, name); err != nil {
					return nil, err
				}
			}
			if !f.Is(sum) {
				w.report.Left = append(w.report.Left, name)
				continue
			}
		}
		drops = append(drops, name)
	}
	sort.Strings(drops)
	sort.Strings(w.report.Left)
	return drops, nil
}

// decide writes the list and the journal of the new site. Nothing is written
// where nothing changed.
func (w *Writer) decide(drops []string) error {
	list := w.next.Bytes()
	if len(w.staged) == 0 && len(drops) == 0 && string(list) == w.list {
		return nil
	}
	if len(w.staged) == 0 {
		if err := w.root.Mkdir(staging, 0o755); err != nil {
			return err
		}
	}
	if err := w.root.WriteFile(stagedList, list, 0o644); err != nil {
		return fmt.Errorf("the list of the site cannot be written: %w", err)
	}
	order := make([]int, len(w.staged))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		i, j := w.staged[order[a]], w.staged[order[b]]
		if w.turn(i) != w.turn(j) {
			return w.turn(i) < w.turn(j)
		}
		return i < j
	})
	var text strings.Builder
	for _, i := range order {
		fmt.Fprintf(&text, "move %06d %s\n", i, w.staged[i])
	}
	for _, name := range drops {
		fmt.Fprintf(&text, "drop %s %s\n", w.before[name].Sum, name)
	}
	names := make([]string, 0, len(w.staged)+1)
	for i := range w.staged {
		names = append(names, stagedAt(i))
	}
	if err := settle(w.root, append(names, stagedList)); err != nil {
		return fmt.Errorf("the new files cannot be made safe on the disk: %w", err)
	}
	if err := w.root.WriteFile(journal+".new", []byte(text.String()), 0o644); err != nil {
		return fmt.Errorf("the journal cannot be written: %w", err)
	}
	if err := settle(w.root, []string{journal + ".new"}); err != nil {
		return err
	}
	if err := w.root.Rename(journal+".new", journal); err != nil {
		return err
	}
	return settleFolders(w.root, []string{workshop, staging})
}

const stagedList = staging + "/list"

// turn is when a file is moved into its place.
func (w *Writer) turn(name string) int {
	_, changed := w.before[name]
	switch {
	case strings.HasPrefix(name, Hashed):
		return 0
	case path.Dir(name) == "." && !strings.HasSuffix(name, ".html"):
		return 3 // faultleaf.js names the files in run/
	case changed:
		return 2
	}
	return 1
}
