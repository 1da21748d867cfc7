// Package inbox is where the host keeps what screens in the shop hand over: job
// sheets and begun fault notes, each as a file of its own until somebody takes
// them into content/, and the jobs that are still open.
//
// What was answered with success is on the disk: every file is written beside its
// place, synced, and moved there; the folder is synced too. Nothing is ever
// written over but an open job, and that only by itself with more facts in it.
// Nothing here is published.
//
// The folder, closed to other users:
//
//	passphrase    the hash of the passphrase
//	key           what signs the passes of screens that gave it
//	sheets/       2025-03-04-kb7-kettle.md, … as they came
//	notes/        begun fault notes
//	changes/      notes as somebody would have them, each below the line that says which
//	jobs/         2025-03-04-kb7.json, the facts of an open job
//	ended/        the same of a job that was closed, so that a screen that still has it learns so
//	taken/        what has been taken into content/
//	lock          held by the host that gives it its facts
//
// What was closed or taken over a year ago goes once a note holds it, or a backup that was
// made to clear it (old.go).
package inbox

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"sync"
	"time"

	"github.com/gofrs/flock"

	"faultleaf/internal/whole"
)

// Limits of what is kept.
const (
	longestText = 256 << 10 // bytes of a sheet or note
	longestFact = 32 << 10  // bytes of a fact's value
	mostFacts   = 20000     // of a job
	mostFiles   = 20000     // in a folder
	mostJob     = 4 << 20   // bytes of a job as it is kept
)

// And of what is held at once; variables, so that tests need not fill them.
var (
	mostHeld        = 64 << 20  // bytes of open jobs in memory
	mostShown       = 16 << 20  // bytes of jobs that one answer lists
	mostBytes int64 = 512 << 20 // of a backup, unpacked
)

// Box is an inbox folder.
type Box struct {
	dir  string
	lock *flock.Flock // nil where somebody else may write jobs

	mu   sync.Mutex // over the files
	open map[string]*held
	size int    // bytes of the jobs in open
	boot string // parts the revisions of two runs of the host
	runs int    // and of two times that a job was read in one run
}

// held is an open job in memory.
type held struct {
	facts Facts
	run   string         // what its revisions begin with
	revs  map[string]int // when each fact came, counted since it was read
	rev   int
	size  int // bytes as it is kept
}

// Kind says which folder a text belongs to.
type Kind string

// The kinds of texts.
const (
	Sheets  Kind = "sheets"
	Notes   Kind = "notes"
	Changes Kind = "changes"
)

// Errors that are sentences for the page.
var (
	ErrName  = errors.New("the name is not plain; it has small letters, digits and hyphens, and ends in .md")
	ErrLarge = errors.New("this is larger than a note or a sheet may be; shorten it")
	ErrFull  = errors.New("the inbox is full; take its sheets with faultleaf take")
	ErrMany  = errors.New("more jobs are open than an inbox holds; close some")
	ErrClash = errors.New("another job has this code")
	ErrFacts = errors.New("this is no job as faultleaf keeps it; load the page again")
)

// Busy is the mistake of a second one who would own an inbox.
var Busy = errors.New("a host has this inbox open; stop it first, for two would write over one another's jobs")

// Own opens an inbox for the one who gives jobs their facts, a host or a restored backup, and
// makes it where it is missing. It fails with Busy while another one has it.
func Own(dir string) (*Box, error) {
	b, err := Open(dir)
	if err != nil {
		return nil, err
	}
	at := filepath.Join(dir, "lock")
	if info, err := os.Lstat(at); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no plain file; remove it", at)
	}
	l := flock.New(at, flock.SetPermissions(0o600))
	switch ok, err := l.TryLock(); {
	case err != nil:
		return nil, fmt.Errorf("the inbox %s cannot be locked: %w", dir, err)
	case !ok:
		l.Close()
		return nil, Busy
	}
	b.lock = l
	b.sweep()
	return b, nil
}

// Close lets another one own the inbox.
func (b *Box) Close() error {
	if b.lock == nil {
		return nil
	}
	return b.lock.Close()
}

// Open opens the inbox in a folder, beside a host that may own it, and makes it where it is
// missing.
func Open(dir string) (*Box, error) {
	for _, sub := range []string{"", "sheets", "notes", "changes", "jobs", "ended", "taken"} {
		if err := os.MkdirAll(filepath.Join(dir, sub), 0o700); err != nil {
			return nil, fmt.Errorf("the inbox %s cannot be made: %w", dir, err)
		}
	}
	// a shop's folder is in git, and this one is not
	if _, err := os.Lstat(filepath.Join(dir, ".gitignore")); err != nil {
		if err := write(filepath.Join(dir, ".gitignore"), []byte("*\n"), true); err != nil {
			return nil, fmt.Errorf("the inbox %s cannot be made: %w", dir, err)
		}
	}
	return &Box{dir: dir, open: map[string]*held{}, boot: fmt.Sprintf("%x", time.Now().UnixNano())}, nil
}

// sweep removes halves of files that a power cut left; none of them was ever
// answered with success.
func (b *Box) sweep() {
	for _, sub := range []string{"", "sheets", "notes", "changes", "jobs", "ended"} {
		halves, _ := filepath.Glob(filepath.Join(b.dir, sub, ".half-*"))
		for _, h := range halves {
			os.Remove(h)
		}
	}
}

var (
	plainName = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*\.md$`)
	plainCode = regexp.MustCompile(`^\d{4}-\d\d-\d\d-[a-z]{2}\d{1,6}$`)
	plainFact = regexp.MustCompile(`^[a-zA-Z]+(/[\pL\pN._-]+)*$`)
	stamp     = regexp.MustCompile(`^\d{13}-[a-z0-9]{2,12}$`)
)

// Keep keeps a text under its name, or under name-2.md where another text has it,
// and gives the name. The same text again, as after an answer that was lost, gets
// the name it has.
func (b *Box) Keep(kind Kind, name string, text []byte) (string, error) {
	if kind != Sheets && kind != Notes && kind != Changes || !plainName.MatchString(name) || len(name) > 120 {
		return "", ErrName
	}
	if len(text) > longestText {
		return "", ErrLarge
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.keep(kind, name, text)
}

func (b *Box) keep(kind Kind, name string, text []byte) (string, error) {
	dir := filepath.Join(b.dir, string(kind))
	if entries, err := os.ReadDir(dir); err == nil && len(entries) >= mostFiles {
		return "", ErrFull
	}
	base := strings.TrimSuffix(name, ".md")
	for n := 1; n < mostFiles; n++ {
		if n > 1 {
			name = fmt.Sprintf("%s-%d.md", base, n)
		}
		at := filepath.Join(dir, name)
		old, err := read(at)
		switch {
		case err == nil && bytes.Equal(old, text):
			return name, nil
		case err == nil, errors.Is(err, errForeign):
			continue
		case !errors.Is(err, fs.ErrNotExist):
			return "", err
		}
		return name, write(at, text, false)
	}
	return "", ErrFull
}

// errForeign: somebody else put it there.
var errForeign = errors.New("it is no file of an inbox; look at it, and move it away")

// read reads a file of an inbox. What is none is not opened: a pipe would hold up the inbox, and a
// file without end fill the memory.
func read(at string) ([]byte, error) {
	info, err := os.Lstat(at)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > mostJob {
		return nil, errForeign
	}
	return os.ReadFile(at)
}

// write puts a file in place as a whole. Where over is false a file that is there
// is left alone.
func write(at string, text []byte, over bool) error {
	if over {
		return whole.Over(at, 0o600, whole.Bytes(text))
	}
	return whole.New(at, 0o600, whole.Bytes(text))
}

// Item is a text in the inbox.
type Item struct {
	Kind Kind
	Name string
	Path string
	Text []byte
}

// Items lists the texts, sheets first, by name.
func (b *Box) Items() ([]Item, error) {
	var out []Item
	for _, kind := range []Kind{Sheets, Notes, Changes} {
		entries, err := os.ReadDir(filepath.Join(b.dir, string(kind)))
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if strings.HasPrefix(e.Name(), ".") || !e.Type().IsRegular() {
				continue
			}
			at := filepath.Join(b.dir, string(kind), e.Name())
			text, err := read(at)
			switch {
			case errors.Is(err, fs.ErrNotExist):
				continue // taken meanwhile
			case err != nil && !errors.Is(err, errForeign):
				return nil, err
			}
			out = append(out, Item{kind, e.Name(), at, text})
		}
	}
	return out, nil
}

// Taken moves a text away once it is in content/; it is kept under taken/.
func (b *Box) Taken(it Item) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	for n := 1; ; n++ {
		to := filepath.Join(b.dir, "taken", fmt.Sprintf("%s-%s-%d.md", it.Kind, strings.TrimSuffix(it.Name, ".md"), n))
		if _, err := os.Lstat(to); err == nil {
			continue
		}
		if err := os.Rename(it.Path, to); err != nil {
			return err
		}
		return whole.SyncFolder(filepath.Dir(to))
	}
}

// Fact is something said about a job, and when.
type Fact struct {
	Value json.RawMessage
	Stamp string
}

// MarshalJSON writes [value, stamp].
func (f Fact) MarshalJSON() ([]byte, error) {
	return json.Marshal([2]any{f.Value, f.Stamp})
}

// UnmarshalJSON reads [value, stamp].
func (f *Fact) UnmarshalJSON(b []byte) error {
	var pair []json.RawMessage
	if err := json.Unmarshal(b, &pair); err != nil {
		return err
	}
	if len(pair) != 2 {
		return ErrFacts
	}
	if err := json.Unmarshal(pair[1], &f.Stamp); err != nil {
		return err
	}
	f.Value = pair[0]
	return nil
}

// Facts are a job: what is known under each name.
type Facts map[string]Fact

// Merge takes in what is newer, and tells which names that were. In whichever
// order the facts of several screens come, and however often, the end is the same.
func (f Facts) Merge(more Facts) []string {
	var newer []string
	for name, fact := range more {
		if had, ok := f[name]; !ok || had.Stamp < fact.Stamp {
			f[name] = fact
			newer = append(newer, name)
		}
	}
	sort.Strings(newer)
	return newer
}

func (f *Facts) read(text []byte) error {
	if err := json.Unmarshal(text, f); err != nil {
		return err
	}
	return f.sound()
}

// text is the value of a fact where it is a text.
func (f Facts) text(name string) string {
	var s string
	_ = json.Unmarshal(f[name].Value, &s)
	return s
}

// sound refuses what no page of ours sends.
func (f Facts) sound() error {
	for name, fact := range f {
		if len(name) > 200 || !plainFact.MatchString(name) || !stamp.MatchString(fact.Stamp) || len(fact.Value) > longestFact || !json.Valid(fact.Value) {
			return ErrFacts
		}
	}
	return nil
}

// State is what a screen knows of a job after a merge.
type State struct {
	Facts Facts  `json:"facts"` // those that are new since the revision it named
	Rev   string `json:"rev"`
}

// Merge adds facts to an open job and gives those that came since a revision.
func (b *Box) Merge(code string, facts Facts, since string) (State, error) {
	if !plainCode.MatchString(code) {
		return State{}, ErrFacts
	}
	if err := facts.sound(); err != nil {
		return State{}, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.merge(code, facts, since)
}

// clash tells two jobs that two screens began under one code.
func clash(a, b Facts) bool {
	one, other := a.text("born"), b.text("born")
	return one != "" && other != "" && one != other
}

func (b *Box) merge(code string, facts Facts, since string) (State, error) {
	j, err := b.job(code)
	if err != nil {
		return State{}, err
	}
	if clash(j.facts, facts) {
		return State{}, ErrClash
	}
	next := Facts{}
	for name, f := range j.facts {
		next[name] = f
	}
	newer := next.Merge(facts)
	next.forget()
	if len(next) > mostFacts {
		return State{}, ErrFull
	}
	if len(newer) > 0 {
		if len(j.facts) == 0 {
			if entries, err := os.ReadDir(filepath.Join(b.dir, "jobs")); err == nil && len(entries) >= mostFiles {
				return State{}, ErrMany
			}
		}
		text, err := json.Marshal(next)
		if err != nil {
			return State{}, ErrFacts
		}
		if len(text) > mostJob {
			return State{}, ErrFull
		}
		if err := b.put(code, text, next.ended()); err != nil {
			return State{}, err
		}
		j.facts = next
		j.rev++
		for _, name := range newer {
			j.revs[name] = j.rev
		}
		b.hold(code, j, len(text))
	}
	s := State{Facts: Facts{}, Rev: fmt.Sprintf("%s:%d", j.run, j.rev)}
	from := -1
	if run, n, ok := strings.Cut(since, ":"); ok && run == j.run {
		_, _ = fmt.Sscan(n, &from)
	}
	for name, f := range j.facts {
		if sent, ok := facts[name]; (!ok || sent.Stamp != f.Stamp) && j.revs[name] > from {
			s.Facts[name] = f
		}
	}
	return s, nil
}

// forget makes what was deleted gone here too; only that it is gone stays.
func (f Facts) forget() {
	if f.text("end") != "deleted" {
		return
	}
	for name := range f {
		if name != "end" && name != "born" {
			delete(f, name)
		}
	}
}

// ended tells a job that was closed.
func (f Facts) ended() bool {
	end := f["end"].Value
	return len(end) > 0 && string(end) != "null"
}

func (b *Box) jobPath(folder, code string) string { return filepath.Join(b.dir, folder, code+".json") }

// put keeps a job among the open ones or among the closed ones. A power cut between its two
// steps leaves it in both, which job reads as one.
func (b *Box) put(code string, text []byte, ended bool) error {
	to, from := "jobs", "ended"
	if ended {
		to, from = from, to
	}
	if err := write(b.jobPath(to, code), text, true); err != nil {
		return err
	}
	_ = os.Remove(b.jobPath(from, code)) // one that stays holds nothing else
	return nil
}

// hold keeps an open job in memory, within bounds, and lets go of a closed one.
func (b *Box) hold(code string, j *held, size int) {
	b.drop(code)
	if j.facts.ended() {
		return
	}
	for other := range b.open {
		if b.size+size <= mostHeld {
			break
		}
		b.drop(other)
	}
	j.size = size
	b.size += size
	b.open[code] = j
}

func (b *Box) drop(code string) {
	if j := b.open[code]; j != nil {
		b.size -= j.size
		delete(b.open, code)
	}
}

// job gives a job from memory or from the disk; one that is not there is empty.
func (b *Box) job(code string) (*held, error) {
	if j, ok := b.open[code]; ok {
		return j, nil
	}
	b.runs++
	j := &held{facts: Facts{}, run: fmt.Sprintf("%s.%d", b.boot, b.runs), revs: map[string]int{}}
	size := 0
	for _, folder := range []string{"jobs", "ended"} {
		text, err := read(b.jobPath(folder, code))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		had := Facts{}
		if err == nil {
			err = json.Unmarshal(text, &had)
		}
		if err != nil {
			return nil, fmt.Errorf("the job %s cannot be read on the host: %w", code, err)
		}
		j.facts.Merge(had)
		size += len(text)
	}
	j.facts.forget()
	if size > 0 {
		b.hold(code, j, size)
	}
	return j, nil
}

// Jobs gives the open jobs, the newest first, at most n and no more than one answer holds.
func (b *Box) Jobs(n int) (map[string]Facts, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	entries, err := os.ReadDir(filepath.Join(b.dir, "jobs"))
	if err != nil {
		return nil, err
	}
	out, size := map[string]Facts{}, 0
	for i := len(entries) - 1; i >= 0 && len(out) < n; i-- {
		code, ok := strings.CutSuffix(entries[i].Name(), ".json")
		if !ok || !plainCode.MatchString(code) {
			continue
		}
		j, err := b.job(code)
		if err != nil {
			continue // one that cannot be read hides no other
		}
		if j.facts.ended() { // as an older program or a power cut left it
			if _, err := os.Lstat(b.jobPath("ended", code)); errors.Is(err, fs.ErrNotExist) {
				_ = os.Rename(b.jobPath("jobs", code), b.jobPath("ended", code))
			} else if err == nil {
				_ = os.Remove(b.jobPath("jobs", code))
			}
			continue
		}
		if size += j.size; size > mostShown {
			break
		}
		out[code] = j.facts
	}
	return out, nil
}
