package site

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
)

// Reading the notes of a shop in parts: what is no device's, and each device with its
// faults and sheets. What only the whole tells is told by heads: names that two want,
// links to nothing. Where they do not go together, or something is wrong, those notes
// are read once more by a reader that knows the names of all others, and so tells what
// note.Load would tell of them.

// asWhole is the error of a shop that is not to be read in parts: of a note its file
// does not tell plainly whose it is, or it has more slips than are told.
var asWhole = errors.New("the notes are to be read as a whole")

// shared is what all parts are read against, and a shop without devices, which
// finishes their texts.
type shared struct {
	notes *note.Shared
	shop  *page.Shop
}

// openShared reads what is no device's, if that has not been done; of block notes that were found
// sound before little more than the names, unless they are wanted whole.
func (s *stream) openShared(whole bool) *shared {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.shared != nil && !(whole && s.light) {
		return s.shared
	}
	shop := os.DirFS(s.dir)
	key, sound := record.Key("sound", s.program, s.files.baseKey, s.files.key(s.files.others...)), []note.Leading(nil)
	if b := s.kept.Kept(key); !whole && b != nil && record.Decode(b, &sound) == nil && sound != nil {
		s.shared, s.light = sharedOf(note.OpenSound(shop, all.Find, sound)), true
		return s.shared
	}
	s.shared, s.light = sharedOf(note.Open(shop, all.Find, false)), false
	if sound = s.shared.notes.Sound(); sound != nil {
		s.kept.Put(key, record.Encode(sound))
	}
	return s.shared
}

func sharedOf(notes *note.Shared) *shared {
	alone := notes.Alone()
	return &shared{notes, page.NewShop(alone.Set, all.At(alone.Shop.Values()))}
}

// knowing is the reader that knows the names of all notes, once these have been read.
func (s *stream) knowing() *note.Shared {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.knows == nil {
		s.knows = s.shared.notes.Knowing(s.all)
	}
	return s.knows
}

// part is some of a shop's notes: those of devices, or files of no device.
type part struct {
	devices []string
	strange []string
}

// partRead is what the reading of a part gave.
type partRead struct {
	heads map[string]*head // none where something is wrong
	rough *note.Set        // then its notes roughly
	told  note.Told
}

// readAll reads the notes, and gives all mistakes. Where the others are to be published
// all the same, these are what it has read; else where there is a mistake nothing is.
func (s *stream) readAll() (problem.List, error) {
	mistakes, err := s.read()
	if err == nil && len(mistakes) > 0 && s.some {
		s.left, err = s.leave(mistakes)
	}
	if !errors.Is(err, asWhole) {
		return mistakes, err
	}
	shop := os.DirFS(s.dir)
	var set *note.Set
	if s.some {
		set, s.left, mistakes, _ = note.LoadHealthy(shop, all.Find, s.whosePage)
	} else {
		set, mistakes, _ = note.Load(shop, all.Find)
	}
	if len(mistakes) == 0 || s.some && !s.left.All {
		s.readWhole(set)
	}
	return mistakes, nil
}

// whosePage is the device of the page that a note had, "" where none is known.
func (s *stream) whosePage(file string) string { return whose(s.to, file) }

// whose is the device that a note names in a line of its own, else that of its page.
func (s *stream) whose(file string) string {
	if len(s.files.sums[file]) == sumDigits {
		if b, err := os.ReadFile(filepath.Join(s.dir, filepath.FromSlash(file))); err == nil {
			if device := note.DeviceLine(b); device != "" {
				return device
			}
		}
	}
	return s.whosePage(file)
}

// read looks up the heads of the devices' notes, reads those that have changed, by
// parts, and sees whether all go together. It gives all mistakes of the shop.
func (s *stream) read() (problem.List, error) {
	for device, files := range s.files.of {
		if _, ok := s.files.sums["content/devices/"+device+".md"]; !ok {
			s.strange = append(s.strange, files...)
			continue
		}
		s.names = append(s.names, device)
		h := &head{}
		if b := s.kept.Kept(s.headKey(device)); b != nil && record.Decode(b, h) == nil && len(h.Notes) == 1+len(h.Common)+len(h.Sheets) {
			s.heads[device] = h
		}
	}
	byFile(s.names)
	sort.Strings(s.strange)
	return s.settle()
}

// leave goes on without notes that hold mistakes, and what rests on them, until the rest
// is sound.
func (s *stream) leave(mistakes problem.List) (left note.Left, err error) {
	first, names := s.all, s.names
	strange := s.strange
	for range note.MostRounds {
		if !first.Leave(mistakes, &left, s.whose) {
			break
		}
		gone := func(file string) bool { return left.Files[file] }
		s.names = slices.DeleteFunc(slices.Clone(names), left.Has)
		s.strange = slices.DeleteFunc(slices.Clone(strange), gone)
		s.shared, s.light, s.knows = sharedOf(note.OpenBut(os.DirFS(s.dir), all.Find, left.Files)), false, nil
		s.left = left
		if mistakes, err = s.settle(); err != nil || len(mistakes) == 0 {
			return left, err
		}
	}
	left.All = true
	return left, nil
}

// settle reads those notes of which there is no head.
func (s *stream) settle() (problem.List, error) {
	var parts []part
	first := s.openShared(s.looks).notes
	if first.Ends() {
		return nil, asWhole
	}
	todo := slices.DeleteFunc(slices.Clone(s.names), func(device string) bool { return s.heads[device] != nil })
	for _, device := range todo {
		parts = append(parts, part{devices: []string{device}})
	}
	if len(s.strange) > 0 {
		parts = append(parts, part{strange: s.strange})
	}
	wrong, rough, _, err := s.readParts(first, parts)
	if err != nil {
		return nil, err
	}
	s.all = s.sketch(first.Alone(), rough...)
	unused, amiss, clashing := first.Unused(s.all), s.all.Amiss(), s.all.Clashes()
	again, joint := []string{}, part{strange: s.strange}
	for _, device := range s.names {
		switch {
		case clashing[device]:
			joint.devices = append(joint.devices, device)
		case slices.Contains(wrong, device) || s.anyOf(device, amiss):
			again = append(again, device)
		}
	}
	parts = nil
	for _, device := range again {
		parts = append(parts, part{devices: []string{device}})
	}
	if len(joint.devices)+len(joint.strange) > 0 {
		parts = append(parts, joint)
	}
	if len(parts)+len(amiss)+len(unused.Mistakes)+len(first.Told().Mistakes) > 0 || s.looks {
		first = s.openShared(true).notes
		knows := s.knowing()
		wrong, _, told, err := s.readParts(knows, parts)
		if err != nil {
			return nil, err
		}
		told = append(told, knows.Told(), unused)
		if s.looks {
			others := slices.DeleteFunc(slices.Clone(s.names), func(device string) bool {
				return clashing[device] || slices.Contains(again, device)
			})
			told = append(told, s.toldOf(first, others)...)
		}
		slips := 0
		for _, t := range told {
			slips += t.Slips
		}
		if slips > note.MostSlips {
			return nil, asWhole
		}
		var mistakes problem.List
		if mistakes, s.remarks = note.Together(told...); len(mistakes) > 0 {
			return mistakes, nil
		}
		if len(wrong) > 0 {
			return nil, asWhole
		}
		s.shared = sharedOf(knows)
		s.all = s.sketch(knows.Alone())
	}
	s.all.Index()
	s.votes = s.all.Votes()
	s.onto(s.shared.shop)
	return nil, nil
}

// toldOf gives what is told of devices that hold no mistake.
func (s *stream) toldOf(from *note.Shared, devices []string) []note.Told {
	out := make([]note.Told, len(devices))
	_ = s.together(len(devices), func(i int) error {
		if t, ok := s.told.Load(devices[i]); ok {
			out[i] = t.(note.Told)
		} else if b := s.kept.Kept(s.toldKey(devices[i])); b == nil || record.Decode(b, &out[i]) != nil {
			out[i] = from.Part(s.files.of[devices[i]]).Told
		}
		return nil
	})
	return out
}

func (s *stream) toldKey(device string) string { return record.Key("told", s.readKey(device)) }

// anyOf tells whether any of some documents is a device's.
func (s *stream) anyOf(device string, docs []*note.Document) bool {
	return slices.ContainsFunc(docs, func(d *note.Document) bool {
		of, ok := s.files.device[d.File]
		if ok {
			return of == device
		}
		h := s.heads[device] // a common fault has no file
		return h != nil && slices.ContainsFunc(h.Notes, func(n headNote) bool { return n.File == d.File })
	})
}

// readParts reads parts on all cores, and keeps the heads of those in which nothing is
// wrong; of the others it gives the devices, and their notes roughly.
func (s *stream) readParts(from *note.Shared, parts []part) (wrong []string, rough []*note.Set, told []note.Told, err error) {
	left := 0
	for _, p := range parts {
		left += len(p.devices)
	}
	if s.room != nil {
		s.room(left)
	}
	var mu sync.Mutex
	read := make([]*partRead, len(parts))
	err = s.together(len(parts), func(i int) (err error) {
		mu.Lock()
		s.tell("reading the notes of devices", left)
		left -= len(parts[i].devices)
		mu.Unlock()
		read[i], err = s.readPart(from, parts[i].devices, parts[i].strange, nil)
		return err
	})
	if err != nil {
		return nil, nil, nil, err
	}
	for i, r := range read {
		for _, device := range parts[i].devices {
			if h := r.heads[device]; h != nil {
				s.heads[device] = h
			} else {
				delete(s.heads, device)
				wrong = append(wrong, device)
			}
		}
		if r.rough != nil {
			rough = append(rough, r.rough)
		}
		told = append(told, r.told)
	}
	return wrong, rough, told, nil
}

// readWhole takes the notes of a shop that were read as a whole.
func (s *stream) readWhole(set *note.Set) {
	set.Index()
	s.whole, s.names, s.votes = set, nil, set.Votes()
	for _, d := range set.Devices {
		s.names = append(s.names, d.Name)
		s.heads[d.Name] = headOf(notesAmong(set, d.Name))
	}
	base := *set
	base.Devices, base.Faults, base.Jobs = nil, nil, nil
	base.Moved = slices.DeleteFunc(slices.Clone(set.Moved), func(m note.Moved) bool {
		return strings.HasPrefix(m.To, "devices/") || strings.HasPrefix(m.To, "faults/") || strings.HasPrefix(m.To, "jobs/")
	})
	s.onto(page.NewShop(&base, all.At(set.Shop.Values())))
}

// onto lays the ground for all pages: a shop without devices.
func (s *stream) onto(shop *page.Shop) {
	set := *shop.Set
	set.Past = s.past
	set.Index()
	s.shop = shop.With(&set)
	parts := []string{s.program, s.files.key(s.files.base...), s.files.key(s.files.others...), strconv.FormatBool(len(s.past.Changes) > 0)}
	for file := range s.left.Files {
		if s.files.device[file] == "" && s.files.sums[file] != "" {
			parts = append(parts, file)
		}
	}
	slices.Sort(parts[4:])
	for _, d := range set.Documents() {
		if parts = append(parts, changed(&set, d.File)); len(d.Led) > 0 {
			parts = append(parts, string(record.Encode(d.Led)))
		}
	}
	s.ground = record.Key(parts...)
}

// readPart reads the notes of some devices and keeps those in which nothing is wrong;
// each is given to take before its texts go. Files of no device are read with them.
func (s *stream) readPart(from *note.Shared, devices, strange []string, take func(*readNotes, []note.Settled)) (*partRead, error) {
	names := slices.Clone(strange)
	for _, d := range devices {
		names = append(names, s.files.of[d]...)
	}
	part := from.Part(names)
	r := &partRead{told: part.Told}
	if part.Told.Strays {
		return nil, asWhole
	}
	if len(part.Told.Mistakes) > 0 || len(strange) > 0 {
		r.rough = roughly(part)
		return r, nil
	}
	r.heads = map[string]*head{}
	for _, d := range part.Devices {
		d.Expanded = nil // no page shows the notes as they stand without blocks, and each text stands in them
		n := &readNotes{Device: d, Faults: part.FaultsOf(d.Name), Jobs: part.JobsOf(d.Name)}
		of := map[string]bool{}
		var texts []note.Settled
		files := 0
		for _, doc := range n.documents() {
			of[doc.ID] = true
			if device, ok := s.files.device[doc.File]; ok && device == d.Name {
				files++
			}
			html, err := s.shared.shop.Body(doc, doc.Address())
			if err != nil {
				return nil, err
			}
			texts = append(texts, note.Settled{HTML: string(html), Words: doc.Plain()})
		}
		if files != len(s.files.of[d.Name]) { // every note belongs to the device that its file names
			return nil, asWhole
		}
		for _, doc := range n.documents() {
			doc.Settle(nil)
		}
		for _, m := range part.Moved {
			if of[m.To] {
				n.Moved = append(n.Moved, m)
			}
		}
		b := record.Encode(headOf(n))
		s.kept.Put(s.headKey(d.Name), b)
		s.kept.Put(s.readKey(d.Name), record.Encode(n))
		s.kept.Put(s.textKey(d.Name), record.Encode(texts))
		if s.looks {
			s.told.Store(d.Name, part.Told)
		} else if len(devices) == 1 && part.Told.Sought { // else what is wrong elsewhere hides what it leaves open
			s.kept.Put(s.toldKey(d.Name), record.Encode(part.Told))
		}
		h := &head{} // what goes on holds nothing of the files and their trees
		if err := record.Decode(b, h); err != nil {
			return nil, err
		}
		r.heads[d.Name] = h
		if take != nil {
			take(n, texts)
		}
	}
	if len(r.heads) != len(devices) {
		return nil, asWhole
	}
	return r, nil
}
