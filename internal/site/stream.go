package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"

	"faultleaf/calc/all"
	"faultleaf/internal/core"
	"faultleaf/internal/history"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/jobpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
	"faultleaf/search"
	"faultleaf/search/build"
	"faultleaf/templates"
)

// Publishing as a stream with a record. Four things are kept, each by a key that
// is the hash of all that goes into it:
//
//	read   the notes of one device, checked, each text finished. Of: its files,
//	       block notes, pictures, the shop's own files, the program.
//	trace  what the trace says of a device. Of: the device as the trace sees it, so
//	       that an edited text asks for no trace.
//	made   the pages of these notes (as names and hashes), and what the search finds
//	       of them. Of: read, the votes of its faults, when its notes last changed.
//	site   the names and hashes of all files. Of: everything.
//
// A page that was made of the same things and stands in its place is not made
// again. What rests on more than one device is made whenever anything changed.
// Notes are read and pages made by parts of some devices, so that the whole shop
// is never in memory but for what its lists show.

// Progress is told what is going on and how much of it is left. It may be called
// from several goroutines.
type Progress func(doing string, left int)

// partDevices is how many devices are read at a time: of some, what they have in
// common is looked up once, and of few, their trees do not fill the memory.
const partDevices = 4

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

// documents lists them in one order.
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

// madePages are the pages of one device as they are kept.
type madePages struct {
	Trace string // key of what the trace says of the device
	Files []outcome
	Found []search.Document
}

type stream struct {
	dir, to string
	tell    Progress
	files   *folder
	program string // hash of this program
	kept    *record.Record
	w       *published.Writer
	pages   *template.Template
	set     *note.Set
	asOne   bool // the notes were read as a whole: which files a device's pages are made of is not known
	shop    *page.Shop
	shared  *shared

	mu   sync.Mutex
	out  []outcome
	docs []search.Document
	sums map[string]string // hashes of devices' notes as they are kept, without their texts
	now  *lastSite         // what is kept of this site; nil where its notes were read as a whole
}

// asWhole is the error of a shop that is not to be read in parts: the whole of it
// tells what is wrong, or that nothing is.
var asWhole = errors.New("the notes are to be read as a whole")

// Publish makes the site of the notes under dir and puts it into the folder to.
func Publish(dir, to string) (published.Report, problem.List, error) {
	return PublishTelling(dir, to, func(string, int) {})
}

// PublishTelling is Publish with somebody told how far it is.
func PublishTelling(dir, to string, tell Progress) (published.Report, problem.List, error) {
	if err := apart(dir, to); err != nil {
		return published.Report{}, nil, err
	}
	stamp, err := sources(dir)
	if err != nil {
		return published.Report{}, nil, err
	}
	defer debug.SetGCPercent(debug.SetGCPercent(collecting))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(-1))
	s := &stream{dir: dir, to: to, tell: tell, sums: map[string]string{}}
	r, mistakes, err := s.publish()
	if err == nil && len(mistakes) == 0 {
		err = os.WriteFile(filepath.Join(to, filepath.FromSlash(readFrom)), stamp, 0o644)
	}
	return r, mistakes, err
}

// A shop of thousands of notes is to fit beside other work. While a whole one is
// made little is collected as long as there is room, which grows with the shop: a
// room that is too small makes publishing slow. For few devices, most of the memory
// is what stays.
const (
	collecting    = 200
	collectingFew = 60
	room          = 400 << 20 // bytes
	roomNote      = 20 << 10  // or so much for each of its files, if that is more
)

// makeRoom is told how many devices are to be read.
func (s *stream) makeRoom(devices int) {
	percent := collecting
	if devices <= len(s.files.of)/10 {
		percent = collectingFew
	}
	debug.SetGCPercent(percent)
	debug.SetMemoryLimit(max(room, roomNote*int64(len(s.files.sums))))
}

func (s *stream) publish() (published.Report, problem.List, error) {
	var err error
	if s.files, err = take(s.dir); err != nil {
		return published.Report{}, nil, err
	}
	if s.program, err = program(); err != nil {
		return published.Report{}, nil, err
	}
	past := history.Read(context.Background(), s.dir)
	binary, err := core.Get()
	if err != nil {
		return published.Report{}, nil, err
	}
	s.kept = record.Open(s.to)
	defer s.kept.Close()
	key := record.Key("site", s.program, published.Sum(binary.Wasm), published.Sum(binary.Trace), published.Sum(binary.Find), s.files.key(s.files.all()...), string(record.Encode(past.Changes)))
	if r, err, ok := s.same(key); ok {
		return r, nil, err
	}
	if r, err, ok := s.few(key, past, binary); ok {
		return r, nil, err
	}
	err = s.read()
	if errors.Is(err, asWhole) {
		set, mistakes, _ := note.Load(os.DirFS(s.dir), all.Find)
		if len(mistakes) > 0 {
			return published.Report{}, mistakes, nil
		}
		s.set, s.asOne, err = set, true, nil
	}
	if err != nil {
		return published.Report{}, nil, err
	}
	s.set.Past = past
	if !s.asOne {
		s.now = &lastSite{Base: s.baseOf(past), Devices: map[string]madeOf{}}
	}
	if s.w, err = published.Begin(s.to); err != nil {
		return published.Report{}, nil, err
	}
	if err := s.make(binary); err != nil {
		return published.Report{}, nil, errors.Join(err, s.w.Abort())
	}
	r, err := s.commit(key)
	return r, nil, err
}

// commit puts the site in place, and keeps what it is made of.
func (s *stream) commit(key string) (published.Report, error) {
	s.tell("putting the site in place", 0)
	r, err := s.w.Commit()
	if err == nil {
		sort.Slice(s.out, func(i, j int) bool { return s.out[i].Name < s.out[j].Name })
		s.kept.Put(key, record.Encode(s.out))
		if s.now != nil {
			s.kept.Put(s.wholeKey(), record.Encode(s.now))
		}
		s.kept.Sweep()
	}
	return r, err
}

// same ends a publishing for which nothing has changed.
func (s *stream) same(key string) (published.Report, error, bool) {
	var out []outcome
	if b := s.kept.Kept(key); b == nil || record.Decode(b, &out) != nil {
		return published.Report{}, nil, false
	}
	w, err := published.Begin(s.to)
	if err != nil {
		return published.Report{}, err, true
	}
	s.w = w
	if !s.stand(out) {
		return published.Report{}, w.Abort(), false
	}
	for _, o := range out {
		if w.Keep(o.Name, published.File{Sum: o.Sum, Size: o.Size}) != nil {
			break // Commit says why
		}
	}
	r, err := w.Commit()
	return r, err, true
}

func (s *stream) stand(out []outcome) bool {
	for _, o := range out {
		if !s.w.Stands(o.Name, published.File{Sum: o.Sum, Size: o.Size}) {
			return false
		}
	}
	return true
}

// program tells this program from every other one.
func program() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), err
}

// read reads the notes: what is kept of them as it is kept, the others by parts.
func (s *stream) read() error {
	if s.files.strange {
		return asWhole
	}
	notes := map[string]*readNotes{}
	var todo []string
	for device := range s.files.of {
		var n readNotes
		if b := s.kept.Kept(s.readKey(device)); b != nil && record.Decode(b, &n) == nil && n.Device != nil {
			notes[device], s.sums[device] = &n, published.Sum(b)
		} else {
			todo = append(todo, device)
		}
	}
	sort.Strings(todo)
	s.makeRoom(len(todo))
	s.openShared()
	alone := s.shared.notes.Alone()
	if len(alone.Mistakes) > 0 {
		return asWhole
	}
	left := len(todo)
	var parts [][]string
	for part := range slices.Chunk(todo, partDevices) {
		parts = append(parts, part)
	}
	var mu sync.Mutex
	err := s.together(len(parts), func(i int) error {
		part := parts[i]
		mu.Lock()
		s.tell("reading the notes of devices", left)
		mu.Unlock()
		got, err := s.readPart(part)
		mu.Lock()
		defer mu.Unlock()
		left -= len(part)
		for device, n := range got {
			notes[device] = n
		}
		return err
	})
	if err != nil {
		return err
	}
	set := assemble(alone, notes)
	if set.Clash() || s.shared.notes.Unsound(set) || !alone.Leads(set.Documents()) {
		return asWhole
	}
	set.Index()
	s.set = set
	return nil
}

// assemble puts the notes of devices into a set that has none, in the order in
// which a whole shop is read.
func assemble(base note.Part, notes map[string]*readNotes) *note.Set {
	set := base.Set
	set.Devices, set.Faults, set.Jobs = nil, nil, nil
	set.Moved = slices.DeleteFunc(set.Moved, func(m note.Moved) bool {
		return strings.HasPrefix(m.To, "devices/") || strings.HasPrefix(m.To, "faults/") || strings.HasPrefix(m.To, "jobs/")
	})
	for _, n := range notes {
		set.Devices = append(set.Devices, n.Device)
		set.Faults = append(set.Faults, n.Faults...)
		set.Jobs = append(set.Jobs, n.Jobs...)
		set.Moved = append(set.Moved, n.Moved...)
	}
	sort.Slice(set.Devices, func(i, j int) bool { return set.Devices[i].File < set.Devices[j].File })
	sort.Slice(set.Faults, func(i, j int) bool { return set.Faults[i].Name < set.Faults[j].Name })
	sort.Slice(set.Jobs, func(i, j int) bool { return set.Jobs[i].File < set.Jobs[j].File })
	sort.Slice(set.Moved, func(i, j int) bool { return set.Moved[i].From < set.Moved[j].From })
	return set
}

// together does n things on all cores, and gives the first mistake.
func (s *stream) together(n int, do func(i int) error) error {
	var wait sync.WaitGroup
	errs := make([]error, n)
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				errs[i] = do(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *stream) readKey(device string) string {
	return record.Key("read", s.program, s.files.key(s.files.base...), s.files.key(s.files.of[device]...))
}

// textKey is where the finished texts of a device's notes are kept, apart from
// the notes, for lists need no texts.
func (s *stream) textKey(device string) string { return record.Key("texts", s.readKey(device)) }

// shared is what all parts are read against, and a shop without devices, which
// finishes their texts.
type shared struct {
	notes *note.Shared
	shop  *page.Shop
}

// openShared reads what is no device's, if that has not been done.
func (s *stream) openShared() {
	if s.shared == nil {
		notes := note.Open(os.DirFS(s.dir), all.Find, false)
		alone := notes.Alone()
		s.shared = &shared{notes, page.NewShop(alone.Set, all.At(alone.Shop.Values()))}
	}
}

// readPart reads the notes of some devices and keeps them, each text finished.
func (s *stream) readPart(devices []string) (map[string]*readNotes, error) {
	taken := map[string]bool{}
	var names []string
	for _, d := range devices {
		taken[d] = true
		names = append(names, s.files.of[d]...)
	}
	part := s.shared.notes.Part(names)
	if len(part.Mistakes) > 0 {
		return nil, asWhole
	}
	out := map[string]*readNotes{}
	files := 0
	for _, d := range part.Devices {
		if !taken[d.Name] {
			return nil, asWhole
		}
		d.Expanded = nil // no page shows the notes as they stand without blocks, and each text stands in them
		n := &readNotes{Device: d, Faults: part.FaultsOf(d.Name), Jobs: part.JobsOf(d.Name)}
		of := map[string]bool{}
		var texts []note.Settled
		for _, doc := range n.documents() {
			if of[doc.ID] = true; doc.Made == "" {
				files++
			}
			html, err := s.shared.shop.Body(doc, doc.Address())
			if err != nil {
				return nil, err
			}
			texts = append(texts, note.Settled{HTML: string(html), Words: doc.Plain()})
		}
		for _, doc := range n.documents() {
			doc.Settle(nil)
		}
		for _, m := range part.Moved {
			if of[m.To] {
				n.Moved = append(n.Moved, m)
			}
		}
		b := record.Encode(n)
		s.kept.Put(s.readKey(d.Name), b)
		s.kept.Put(s.textKey(d.Name), record.Encode(texts))
		again := &readNotes{} // what goes on holds nothing of the files and their trees
		if err := record.Decode(b, again); err != nil {
			return nil, err
		}
		out[d.Name] = again
		s.mu.Lock()
		s.sums[d.Name] = published.Sum(b)
		s.mu.Unlock()
	}
	for _, d := range devices { // every note belongs to the device that its file names
		files -= len(s.files.of[d])
	}
	if files != 0 || len(out) != len(devices) {
		return nil, asWhole
	}
	return out, nil
}

func (s *stream) templates() (err error) {
	s.pages, err = template.ParseFS(templates.Files, "*.html")
	return err
}

// make makes all files of the site that do not stand already.
func (s *stream) make(binary core.Core) error {
	if err := s.templates(); err != nil {
		return err
	}
	s.shop = page.NewShop(s.set, all.At(s.set.Shop.Values()))
	left := len(s.set.Devices)
	err := s.together(len(s.set.Devices), func(i int) error {
		s.mu.Lock()
		s.tell("making the pages of devices", left)
		left--
		s.mu.Unlock()
		return s.device(s.set.Devices[i])
	})
	if err != nil {
		return err
	}
	s.tell("making lists and the search", 0)
	old := jobpage.Old(s.shop)
	s.docs = slices.DeleteFunc(s.docs, func(d search.Document) bool { return old[d.ID] })
	files, docs := len(s.out), len(s.docs)
	for _, k := range kinds {
		if k.Pages == nil {
			continue
		}
		pages, err := k.Pages(s.shop)
		if err != nil {
			return fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
		}
		out, found, err := s.render(k, pages)
		if err != nil {
			return err
		}
		s.add(out, found)
	}
	bench, err := counterpage.Bench(s.shop)
	if err != nil {
		return err
	}
	if s.now != nil {
		s.now.keepLists(s, s.out[files:], s.docs[docs:], old, bench)
	}
	return s.rest(binary, bench)
}

func (s *stream) add(out []outcome, found []search.Document) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.out = append(s.out, out...)
	s.docs = append(s.docs, found...)
}

// render puts pages into their frames and into the site.
func (s *stream) render(k page.Kind, pages []page.Page) (out []outcome, found []search.Document, err error) {
	from := s.from()
	for _, p := range pages {
		p.Kind = k.Name
		if p.Found != nil {
			found = append(found, *p.Found)
		}
		if p.Template == "" { // it is only found, at a place on another page
			continue
		}
		b, err := frame(s.pages, s.set, p, from[p.Address])
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", p.Address, err)
		}
		o, err := s.put(p.Address, b)
		if err != nil {
			return nil, nil, err
		}
		out = append(out, o)
	}
	return out, found, nil
}

func (s *stream) put(name string, b []byte) (outcome, error) {
	o := outcome{name, published.Sum(b), int64(len(b))}
	return o, s.w.Put(name, b)
}

// from tells the notes that pages which are no device's are made from.
func (s *stream) from() map[string]string {
	out := map[string]string{}
	for _, b := range s.set.Blocks {
		out[b.Address()] = b.File
	}
	for _, c := range s.set.Checklists {
		out[c.Address()] = c.File
	}
	for _, p := range s.set.Pages {
		out[p.Address()] = p.File
	}
	return out
}

// device makes the pages of a device's notes, unless they stand.
func (s *stream) device(d *note.Device) error {
	n := readNotes{Device: d, Faults: s.set.FaultsOf(d.Name), Jobs: s.set.JobsOf(d.Name)}
	key := s.madeKey(&n)
	if s.now != nil {
		s.mu.Lock()
		s.now.Devices[d.Name] = madeOf{s.readKey(d.Name), key, s.sums[d.Name]}
		s.mu.Unlock()
	}
	var m madePages
	if b := s.kept.Kept(key); b != nil && !s.asOne && record.Decode(b, &m) == nil && s.takeOver(m.Files) {
		s.kept.Use(s.textKey(d.Name))
		s.kept.Use(m.Trace)
	} else {
		m = madePages{}
		if s.asOne {
			if err := s.remake(d, &n, &m); err != nil {
				return err
			}
		} else {
			if err := s.texts(&n); err != nil {
				return err
			}
			if err := s.remake(d, &n, &m); err != nil {
				return err
			}
			for _, doc := range n.documents() {
				doc.Settle(nil)
			}
			s.kept.Put(key, record.Encode(m))
		}
	}
	s.shop.Forget(d.Name)
	s.add(m.Files, m.Found)
	return nil
}

// remake makes the pages of a device. What the trace says of it is kept by the
// device as the trace sees it, which the texts of its notes do not change.
func (s *stream) remake(d *note.Device, n *readNotes, m *madePages) (err error) {
	m.Trace = record.Key("trace", s.program, string(record.Encode(s.shop.Traced(d.Name))))
	steps := &page.Steps{}
	if b := s.kept.Kept(m.Trace); b != nil && record.Decode(b, steps) == nil && steps.First != nil {
		s.shop.Knows(d.Name, steps)
	}
	steps = s.shop.Steps(d.Name)
	known := len(steps.First)
	defer func() {
		if err == nil && len(steps.First) > known {
			s.kept.Put(m.Trace, record.Encode(steps))
		}
	}()
	from := map[string]string{}
	for _, doc := range n.documents() {
		if from[doc.Address()] = doc.File; doc.Made != "" {
			from[doc.Address()] = doc.Made
		}
	}
	for _, k := range kinds {
		if k.Of == nil {
			continue
		}
		pages, err := k.Of(s.shop, d)
		if err != nil {
			return fmt.Errorf("the %s pages of %s cannot be made: %w", k.Name, d.Name, err)
		}
		for _, p := range pages {
			p.Kind = k.Name
			b, err := frame(s.pages, s.set, p, from[p.Address])
			if err != nil {
				return fmt.Errorf("%s: %w", p.Address, err)
			}
			o, err := s.put(p.Address, b)
			if err != nil {
				return err
			}
			m.Files = append(m.Files, o)
			if p.Found != nil {
				m.Found = append(m.Found, *p.Found)
			}
		}
	}
	return nil
}

// madeKey is the key of a device's pages.
func (s *stream) madeKey(n *readNotes) string {
	parts := []string{"made", s.readKey(n.Device.Name), strconv.FormatBool(len(s.set.Past.Changes) > 0)}
	votes := s.set.Votes()
	for _, f := range n.Faults {
		v := votes[f.Name]
		parts = append(parts, f.Name, strconv.FormatFloat(v.Here, 'g', -1, 64), strconv.FormatFloat(v.Elsewhere, 'g', -1, 64))
	}
	for _, doc := range n.documents() {
		file := doc.File
		if doc.Made != "" {
			file = doc.Made
		}
		parts = append(parts, changed(s.set, file))
	}
	return record.Key(parts...)
}

// texts gives a device's notes their finished texts. Where they are lost the
// notes are read again.
func (s *stream) texts(n *readNotes) error {
	var texts []note.Settled
	if b := s.kept.Kept(s.textKey(n.Device.Name)); b == nil || record.Decode(b, &texts) != nil || len(texts) != len(n.documents()) {
		s.mu.Lock()
		s.openShared()
		s.mu.Unlock()
		part := s.shared.notes.Part(s.files.of[n.Device.Name])
		again := readNotes{Device: n.Device, Faults: part.FaultsOf(n.Device.Name), Jobs: part.JobsOf(n.Device.Name)}
		if len(part.Mistakes) > 0 || len(part.Devices) != 1 || len(again.Faults) != len(n.Faults) || len(again.Jobs) != len(n.Jobs) {
			return fmt.Errorf("the notes of %s changed while they were published; publish again", n.Device.Name)
		}
		again.Device = part.Devices[0]
		texts = nil
		for _, doc := range again.documents() {
			html, err := s.shared.shop.Body(doc, doc.Address())
			if err != nil {
				return err
			}
			texts = append(texts, note.Settled{HTML: string(html), Words: doc.Plain()})
		}
		s.kept.Put(s.textKey(n.Device.Name), record.Encode(texts))
	}
	for i, doc := range n.documents() {
		texts[i].Words = strings.Clone(texts[i].Words) // the search keeps it, and would keep all that it is cut from
		doc.Settle(&texts[i])
	}
	return nil
}

// rest makes what is no page.
func (s *stream) rest(binary core.Core, bench []byte) error {
	content := os.DirFS(s.dir)
	for _, name := range slices.Sorted(maps.Keys(s.set.Images)) {
		if err := s.picture(content, name); err != nil {
			return err
		}
	}
	index, err := build.Write(s.docs, s.shop.Speech(), ofProgram{s.kept, s.program})
	if err != nil {
		return fmt.Errorf("the search index cannot be written: %w", err)
	}
	s.docs = nil
	files := Files{}
	if err := style(files); err != nil {
		return err
	}
	if err := run(files, index, binary, bench, s.set.Shop.Values(), s.packed); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		o, err := s.put(name, files[name])
		if err != nil {
			return err
		}
		delete(files, name)
		s.out = append(s.out, o)
	}
	return nil
}

// ofProgram is a record whose keys also tell the program.
type ofProgram struct {
	kept    *record.Record
	program string
}

func (o ofProgram) Kept(key string) []byte   { return o.kept.Kept(record.Key("index", o.program, key)) }
func (o ofProgram) Put(key string, b []byte) { o.kept.Put(record.Key("index", o.program, key), b) }

// packed is core.Pack, with what was packed before.
func (s *stream) packed(b []byte) ([]byte, error) {
	key := record.Key("packed", s.program, published.Sum(b))
	if z := s.kept.Kept(key); z != nil {
		return z, nil
	}
	z, err := core.Pack(b)
	if err == nil {
		s.kept.Put(key, z)
	}
	return z, err
}

// picture makes the sizes of a picture, unless they stand.
func (s *stream) picture(content fs.FS, name string) error {
	key := record.Key("picture", s.program, s.files.key(name))
	var out []outcome
	if b := s.kept.Kept(key); b != nil && record.Decode(b, &out) == nil && s.takeOver(out) {
		s.out = append(s.out, out...)
		return nil
	}
	b, err := fs.ReadFile(content, name)
	if err != nil {
		return err
	}
	made, err := s.set.Images[name].Files(strings.TrimPrefix(name, "content/"), b)
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
	s.out = append(s.out, out...)
	return nil
}
