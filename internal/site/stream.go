package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"faultleaf/internal/core"
	"faultleaf/internal/history"
	"faultleaf/internal/note"
	"faultleaf/internal/press"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/jobpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
	"faultleaf/internal/stat"
	"faultleaf/search"
	"faultleaf/search/build"
)

// Publishing as a stream with a record. What is made is kept by a key that is the hash
// of all that goes into it, so that what was made of the same things and stands in its
// place is not made again:
//
//	head   what the shop as a whole needs to know of a device's notes: names, where
//	       they lead, what their sheets count. Of: its files, block notes, pictures,
//	       the shop's own files, the program.
//	read   these notes, checked, and each text finished. Of: the same.
//	trace  what the trace says of a device. Of: the device as the trace sees it, so
//	       that an edited text asks for no trace.
//	made   the device's pages (as names and hashes), what the search finds of them,
//	       and the rows by which lists show it. Of: read, the votes of its faults,
//	       when its notes last changed.
//	list   the pages of a kind that rest on more than one device. Of: the rows of all,
//	       and what is no device's.
//	site   the names and hashes of all files. Of: everything.
//
// So what a change costs is what shows it: an edited text makes the pages of its device
// again, a new sheet those, the lists that name it, and the pages of devices on which
// it counts. Of all other devices only heads and rows are looked at; notes are read, and
// pages made, some devices at a time, so that never the whole shop is in memory.

// Progress is told what is going on and how much of it is left. It may be called
// from several goroutines.
type Progress func(doing string, left int)

// outcome is a file of the site without its content.
type outcome struct {
	Name, Sum string
	Size      int64
}

// readNotes are the notes of one device as they are kept.
type readNotes struct {
	Device *note.Device
	Faults []*note.Fault
	Jobs   []*note.Job
	Moved  []note.Moved
}

// documents lists them in one order: the device, its faults, its sheets.
func (n *readNotes) documents() []*note.Document {
	list := []*note.Document{&n.Device.Document}
	for _, f := range n.Faults {
		list = append(list, &f.Document)
	}
	for _, j := range n.Jobs {
		list = append(list, &j.Document)
	}
	return list
}

// madeOf is what was made of the notes of one device, as it is kept.
type madeOf struct {
	Trace string // key of what the trace says of the device
	Files []outcome
	Found []build.Note      // by the search; the documents are kept apart, for few are asked for
	Rows  map[string][]byte // by the kind of list
}

type stream struct {
	dir, to string
	tell    Progress
	files   *folder
	program string // hash of this program
	past    history.History
	kept    *record.Record
	w       *published.Writer
	pages   *press.Press
	room    func(devices int) // makes it in memory for reading or making so many; nil where it is not bounded

	shared  *shared   // nil until it is opened
	light   bool      // it holds no block notes as examples
	all     *note.Set // all notes by their names
	knows   *note.Shared
	some    bool         // where notes hold mistakes the others are published
	left    note.Left    // then what is not
	looks   bool         // remarks are asked for, and nothing is written
	remarks problem.List // they
	told    sync.Map     // what is told of devices that were read and hold no mistake
	strange []string     // files of faults and sheets whose device has no note
	whole   *note.Set    // the notes of all devices where they are to be read as a whole, nil else: then nothing is kept of devices
	heads   map[string]*head
	names   []string // of the devices, in the order of their files
	votes   map[string]note.Votes
	shop    *page.Shop // without any device
	ground  string     // key of what is no device's

	readKeys sync.Map // of devices

	mu   sync.Mutex
	made map[string]*madeOf
	out  []outcome
	docs []search.Document // that are no device's
}

// Publish makes the site of the notes under dir and puts it into the folder to.
func Publish(dir, to string) (published.Report, problem.List, error) {
	return PublishTelling(dir, to, func(string, int) {})
}

// PublishTelling is Publish with somebody told how far it is.
func PublishTelling(dir, to string, tell Progress) (published.Report, problem.List, error) {
	return (&stream{dir: dir, to: to, tell: tell}).run()
}

// run publishes with little collecting.
func (s *stream) run() (published.Report, problem.List, error) {
	if err := apart(s.dir, s.to); err != nil {
		return published.Report{}, nil, err
	}
	list, err := walk(s.dir)
	if err != nil {
		return published.Report{}, nil, err
	}
	of, end := makeRoom(len(list))
	defer end()
	s.room = of
	s.heads, s.made = map[string]*head{}, map[string]*madeOf{}
	r, mistakes, err := s.publish(list)
	if err == nil && len(mistakes) == 0 {
		err = os.WriteFile(filepath.Join(s.to, filepath.FromSlash(readFrom)), stamp(list), 0o644)
	}
	return r, mistakes, err
}

// A shop of thousands of notes is to fit beside other work. Nothing is collected as long as
// there is room, which comes to what the process holds already and grows with the shop, for
// a room that is too small makes publishing slow: much where much is made.
type room struct{ base, file int64 } // bytes, and so many more for each of the shop's files

var (
	roomForFew  = room{180 << 20, 4 << 10}
	roomForMany = room{240 << 20, 13 << 10}
)

// few is the number of devices up to which they are read and made in the smaller room.
const few = 20

// makeRoom says how much a publishing of so many files may hold, until end is called, and
// with how many devices it has to do.
func makeRoom(files int) (of func(devices int), end func()) {
	var holds runtime.MemStats
	runtime.ReadMemStats(&holds)
	take := func(r room) int64 {
		return debug.SetMemoryLimit(int64(holds.Sys-holds.HeapReleased) + r.base + r.file*int64(files))
	}
	percent, limit := debug.SetGCPercent(-1), take(roomForFew)
	of = func(devices int) {
		if devices > few {
			take(roomForMany)
		}
	}
	return of, func() {
		debug.SetMemoryLimit(limit)
		debug.SetGCPercent(percent)
	}
}

func (s *stream) publish(list []source) (published.Report, problem.List, error) {
	var err error
	s.kept = record.Open(s.to)
	defer s.kept.Close()
	if s.program, err = program(s.kept); err != nil {
		return published.Report{}, nil, err
	}
	s.files = take(list, s.kept, record.Key("files", s.program))
	s.readPast()
	binary, err := core.Get()
	if err != nil {
		return published.Report{}, nil, err
	}
	key := record.Key(s.program, binary.Wasm.Key, binary.Trace.Key, binary.Find.Key, s.files.key(s.files.all()...), string(record.Encode(s.past.Changes)))
	if r, mistakes, err, ok := s.same(key); ok {
		return r, mistakes, err
	}
	mistakes, err := s.readAll()
	if err != nil || len(mistakes) > 0 && (!s.some || s.left.All) {
		return published.Report{}, mistakes, err
	}
	if s.w, err = published.Begin(s.to); err != nil {
		return published.Report{}, nil, err
	}
	if err := s.make(binary); err != nil {
		return published.Report{}, nil, errors.Join(err, s.w.Abort())
	}
	if len(mistakes) > 0 {
		if err := s.stale(mistakes); err != nil {
			return published.Report{}, nil, errors.Join(err, s.w.Abort())
		}
	}
	r, err := s.commit(key, mistakes)
	return r, mistakes, err
}

// readPast reads the history of the notes on from where it was read before.
func (s *stream) readPast() {
	var kept struct {
		Changes []history.Change
		Head    string
	}
	key, was := record.Key("past", s.program, s.dir), history.History{}
	if b := s.kept.Kept(key); b != nil && record.Decode(b, &kept) == nil {
		was = history.Known(kept.Changes, kept.Head)
	}
	s.past = history.ReadOn(context.Background(), s.dir, was)
	if s.past.Head != was.Head {
		kept.Changes, kept.Head = s.past.Changes, s.past.Head
		s.kept.Put(key, record.Encode(kept))
	}
}

// siteMade is a site as it is kept.
type siteMade struct {
	Files    []outcome
	Left     note.Left // with its mistakes, where the notes hold some
	Mistakes problem.List
}

// commit puts the site in place, and keeps what it is made of.
func (s *stream) commit(key string, mistakes problem.List) (published.Report, error) {
	s.tell("putting the site in place", 0)
	r, err := s.w.Commit()
	if err == nil {
		sort.Slice(s.out, func(i, j int) bool { return s.out[i].Name < s.out[j].Name })
		s.kept.Put(record.Key("site", key), record.Encode(siteMade{s.out, s.left, mistakes}))
		s.kept.Sweep()
	}
	return r, err
}

// same ends a publishing for which nothing has changed.
func (s *stream) same(key string) (published.Report, problem.List, error, bool) {
	var x siteMade
	if b := s.kept.Kept(record.Key("site", key)); b == nil || record.Decode(b, &x) != nil {
		return published.Report{}, nil, nil, false
	}
	if len(x.Mistakes) > 0 && !s.some {
		return published.Report{}, x.Mistakes, nil, true
	}
	w, err := published.Begin(s.to)
	if err != nil {
		return published.Report{}, nil, err, true
	}
	s.w = w
	if !s.stand(x.Files) {
		return published.Report{}, nil, w.Abort(), false
	}
	for _, o := range x.Files {
		if w.Keep(o.Name, published.File{Sum: o.Sum, Size: o.Size}) != nil {
			break // Commit says why
		}
	}
	s.left = x.Left
	r, err := w.Commit()
	return r, x.Mistakes, err, true
}

// takeOver takes over files of the last site, if they stand.
func (s *stream) takeOver(files []outcome) bool {
	if !s.stand(files) {
		return false
	}
	for _, o := range files {
		if s.w.Keep(o.Name, published.File{Sum: o.Sum, Size: o.Size}) != nil {
			return false
		}
	}
	return true
}

func (s *stream) stand(out []outcome) bool {
	for _, o := range out {
		if !s.w.Stands(o.Name, published.File{Sum: o.Sum, Size: o.Size}) {
			return false
		}
	}
	return true
}

// program tells this program from every other one, by its hash. kept may know that of a
// run before.
func program(kept *record.Record) (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	dir, err := os.Open(filepath.Dir(name))
	if err != nil {
		return "", err
	}
	defer dir.Close()
	begun := time.Now()
	info, err := stat.In(dir, filepath.Base(name))
	if err != nil {
		return "", err
	}
	now, was := readOf(name, info), readAs{}
	key := record.Key("program", name)
	if b := kept.Kept(key); b != nil && record.Decode(b, &was) == nil && now.as(&was) {
		return was.Sum, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err = io.Copy(h, f); err != nil {
		return "", err
	}
	if now.Sum = hex.EncodeToString(h.Sum(nil)); now.believed(begun) {
		kept.Put(key, record.Encode(now))
	}
	return now.Sum, nil
}

// together does n things on all cores, and gives the first mistake.
func (s *stream) together(n int, do func(i int) error) error {
	var wait sync.WaitGroup
	errs := make([]error, n)
	var next atomic.Int64
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = do(i)
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// make makes all files of the site that do not stand already.
func (s *stream) make(binary core.Core) (err error) {
	if s.pages, err = page.Templates(); err != nil {
		return err
	}
	if err := s.devices(); err != nil {
		return err
	}
	s.tell("making lists and the search", 0)
	if err := s.lists(); err != nil {
		return err
	}
	return s.rest(binary)
}

// add takes files into the site's list.
func (s *stream) add(out ...outcome) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.out = append(s.out, out...)
}

func (s *stream) put(name string, b []byte) (outcome, error) {
	f, err := s.w.Put(name, b)
	return outcome{name, f.Sum, f.Size}, err
}

// rest makes what is no page.
func (s *stream) rest(binary core.Core) error {
	content := os.DirFS(s.dir)
	for _, name := range slices.Sorted(maps.Keys(s.shop.Images)) {
		if err := s.picture(content, name); err != nil {
			return err
		}
	}
	rows, err := page.Rows[counterpage.Row](s.rows(benchRow))
	if err != nil {
		return err
	}
	bench, err := counterpage.Bench(s.shop, rows)
	if err != nil {
		return err
	}
	notes, document := s.found()
	index, err := build.From(notes, document, s.shop.Speech(), ofProgram{s.kept, s.program})
	if err != nil {
		return fmt.Errorf("the search index cannot be written: %w", err)
	}
	files := Files{}
	if err := style(files); err != nil {
		return err
	}
	if err := run(files, index, binary, bench, s.shop.Set.Shop.Values(), s.payload); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		o, err := s.put(name, files[name])
		if err != nil {
			return err
		}
		delete(files, name)
		s.add(o)
	}
	return nil
}

// found names the documents of the whole site for the search, but for sheets that are
// too old, and fetches them one by one.
func (s *stream) found() (notes []build.Note, document func(id string) (*search.Document, error)) {
	n := len(s.docs)
	for _, name := range s.names {
		n += len(s.made[name].Found)
	}
	type place struct {
		device string
		at     int
	}
	docs, of := make(map[string]*search.Document, len(s.docs)), make(map[string]place, n) // by id, and where each other lies
	notes = make([]build.Note, 0, n)
	for i := range s.docs {
		d := &s.docs[i]
		docs[d.ID] = d
		notes = append(notes, build.NoteOf(d))
	}
	var sheets []string
	for _, name := range s.names {
		for i, n := range s.made[name].Found {
			of[n.ID] = place{name, i}
			notes = append(notes, n)
		}
		sheets = append(sheets, s.heads[name].sheets()...)
	}
	old := jobpage.Old(sheets)
	notes = slices.DeleteFunc(notes, func(n build.Note) bool { return old[n.ID] })
	last, list := "", [][]byte(nil)
	return notes, func(id string) (*search.Document, error) {
		if d := docs[id]; d != nil {
			return d, nil
		}
		lies, d := of[id], &search.Document{}
		if lies.device != last {
			var err error
			if list, err = s.documents(lies.device); err != nil {
				return nil, err
			}
			last = lies.device
		}
		if lies.at >= len(list) || record.Decode(list[lies.at], d) != nil {
			return nil, fmt.Errorf("the notes of %s changed while they were published; publish again", lies.device)
		}
		return d, nil
	}
}

// ofProgram is a record whose keys also tell the program.
type ofProgram struct {
	kept    *record.Record
	program string
}

func (o ofProgram) Kept(key string) []byte   { return o.kept.Kept(record.Key("index", o.program, key)) }
func (o ofProgram) Put(key string, b []byte) { o.kept.Put(record.Key("index", o.program, key), b) }

// payload puts what a page's script loads into the site, packed, unless it stands.
func (s *stream) payload(p payload) (at string, err error) {
	var kept struct {
		At    string
		Files []outcome
	}
	key := record.Key("payload", s.program, p.name, p.told)
	if z := s.kept.Kept(key); z != nil && record.Decode(z, &kept) == nil && s.takeOver(kept.Files) {
		s.add(kept.Files...)
		return kept.At, nil
	}
	b, err := p.read()
	if err != nil {
		return "", err
	}
	files := Files{}
	if kept.At, err = pack(files, p.name, b); err != nil {
		return "", err
	}
	kept.Files = nil
	for _, name := range slices.Sorted(maps.Keys(files)) {
		o, err := s.put(name, files[name])
		if err != nil {
			return "", err
		}
		kept.Files = append(kept.Files, o)
	}
	s.kept.Put(key, record.Encode(kept))
	s.add(kept.Files...)
	return kept.At, nil
}

// picture makes the sizes of a picture, unless they stand.
func (s *stream) picture(content fs.FS, name string) error {
	key := record.Key("picture", s.program, s.files.key(name))
	var out []outcome
	if b := s.kept.Kept(key); b != nil && record.Decode(b, &out) == nil && s.takeOver(out) {
		s.add(out...)
		return nil
	}
	b, err := fs.ReadFile(content, name)
	if err != nil {
		return err
	}
	made, err := s.shop.Images[name].Files(strings.TrimPrefix(name, "content/"), b)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	out = nil
	for at, b := range made {
		o, err := s.put(at, b)
		if err != nil {
			return fmt.Errorf("%s: its size %s has the name of another picture; give one of them another name", name, at)
		}
		out = append(out, o)
	}
	s.kept.Put(key, record.Encode(out))
	s.add(out...)
	return nil
}
