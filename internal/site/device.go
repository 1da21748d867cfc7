package site

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
	"faultleaf/search/build"
)

// What publishing does for one device at a time: reading its notes, and making what
// is made of them.

// head is what the shop as a whole needs to know of a device's notes.
type head struct {
	Title  string
	Also   []note.Weighted
	Moved  []note.Moved
	Notes  []headNote     // in the order of readNotes.documents
	Common []*note.Common // of each fault
	Sheets []headSheet
	Uses   []string // block notes
}

type headNote struct {
	ID, File, Made string
	Leads, Places  []string
	Led            []note.Led
	Shows          []string
	Draft          bool
}

// headSheet is what a job sheet counts.
type headSheet struct {
	Cause, Outcome string
	Draft          bool
}

func headOf(n *readNotes) *head {
	h := &head{Title: n.Device.Title, Also: n.Device.Also, Moved: n.Moved, Uses: n.Device.Uses}
	for _, d := range n.documents() {
		h.Notes = append(h.Notes, headNote{d.ID, d.File, d.Made, d.Leads, d.Places, d.Led, d.Shows, d.Draft})
	}
	for _, f := range n.Faults {
		h.Common = append(h.Common, f.Common)
	}
	for _, j := range n.Jobs {
		h.Sheets = append(h.Sheets, headSheet{j.Sheet.Cause, j.Sheet.Outcome, j.Draft})
	}
	return h
}

// sheets are the ids of the job sheets.
func (h *head) sheets() (ids []string) {
	for _, n := range h.Notes[1+len(h.Common):] {
		ids = append(ids, n.ID)
	}
	return ids
}

// sketch puts heads into a set, with so much of each note as tells whether they go
// together and what their sheets count; rough are the notes of parts in which something
// is wrong.
func (s *stream) sketch(base note.Part, rough ...*note.Set) *note.Set {
	set := *base.Set
	set.Moved = slices.Clone(set.Moved)
	document := func(n headNote, kind note.Kind) note.Document {
		return note.Document{Kind: kind, Draft: n.Draft, Name: path.Base(n.ID), ID: n.ID, File: n.File, Made: n.Made, Leads: n.Leads, Led: n.Led, Shows: n.Shows, Places: n.Places}
	}
	for _, device := range s.names {
		h := s.heads[device]
		if h == nil { // it is among the rough ones
			continue
		}
		d := &note.Device{Document: document(h.Notes[0], note.KindDevice), Also: h.Also, Uses: h.Uses}
		d.Title = h.Title
		set.Devices = append(set.Devices, d)
		faults, jobs := make([]note.Fault, len(h.Common)), make([]note.Job, len(h.Sheets))
		for i := range faults {
			faults[i] = note.Fault{Document: document(h.Notes[1+i], note.KindFault), Device: device, Common: h.Common[i]}
			set.Faults = append(set.Faults, &faults[i])
		}
		for i, x := range h.Sheets {
			jobs[i].Document = document(h.Notes[1+len(faults)+i], note.KindJob)
			jobs[i].Draft, jobs[i].Sheet.Device, jobs[i].Sheet.Cause, jobs[i].Sheet.Outcome = x.Draft, device, x.Cause, x.Outcome
			set.Jobs = append(set.Jobs, &jobs[i])
		}
		set.Moved = append(set.Moved, h.Moved...)
	}
	for _, r := range rough {
		set.Devices = append(set.Devices, r.Devices...)
		set.Faults, set.Jobs, set.Moved = append(set.Faults, r.Faults...), append(set.Jobs, r.Jobs...), append(set.Moved, r.Moved...)
	}
	return &set
}

// roughly is so much of the notes of a part as a sketch holds.
func roughly(part note.Part) *note.Set {
	set := &note.Set{}
	of := map[string]bool{}
	document := func(d *note.Document) note.Document {
		of[d.ID] = true
		return note.Document{Kind: d.Kind, Draft: d.Draft, Name: d.Name, ID: d.ID, File: d.File, Title: d.Title, Made: d.Made, Leads: d.Leads, Led: d.Led, Shows: d.Shows, Places: d.Places}
	}
	for _, d := range part.Devices {
		set.Devices = append(set.Devices, &note.Device{Document: document(&d.Document), Also: d.Also, Uses: d.Uses})
	}
	for _, f := range part.Faults {
		set.Faults = append(set.Faults, &note.Fault{Document: document(&f.Document), Device: f.Device, Common: f.Common})
	}
	for _, j := range part.Jobs {
		light := &note.Job{Document: document(&j.Document)}
		light.Sheet.Device, light.Sheet.Cause, light.Sheet.Outcome = j.Sheet.Device, j.Sheet.Cause, j.Sheet.Outcome
		set.Jobs = append(set.Jobs, light)
	}
	for _, m := range part.Moved {
		if of[m.To] {
			set.Moved = append(set.Moved, m)
		}
	}
	return set
}

func (s *stream) headKey(device string) string { return record.Key("head", s.readKey(device)) }

// readKey is asked for many times, and is of many files.
func (s *stream) readKey(device string) string {
	key, ok := s.readKeys.Load(device)
	if !ok {
		key = record.Key("read", s.program, s.files.baseKey, s.files.key(s.files.of[device]...))
		s.readKeys.Store(device, key)
	}
	return key.(string)
}

// textKey is where the finished texts of a device's notes are kept, apart from
// the notes.
func (s *stream) textKey(device string) string { return record.Key("texts", s.readKey(device)) }

// byFile puts devices into the order of their files, in which notes are read.
func byFile(names []string) {
	slices.SortFunc(names, func(a, b string) int { return strings.Compare(a+".md", b+".md") })
}

// notesOf gives the notes of a device with their texts, as they are kept; where they
// are lost they are read again.
func (s *stream) notesOf(device string) (*readNotes, error) {
	if s.whole != nil {
		return notesAmong(s.whole, device), nil
	}
	n, texts := &readNotes{}, []note.Settled(nil)
	b, t := s.kept.Kept(s.readKey(device)), s.kept.Kept(s.textKey(device))
	if b == nil || t == nil || record.Decode(b, n) != nil || n.Device == nil || record.Decode(t, &texts) != nil || len(texts) != len(n.documents()) {
		n = nil
		if _, err := s.readPart(s.knowing(), []string{device}, nil, func(a *readNotes, b []note.Settled) { n, texts = a, b }); err != nil {
			return nil, err
		}
		if n == nil {
			return nil, fmt.Errorf("the notes of %s changed while they were published; publish again", device)
		}
	}
	for i, doc := range n.documents() {
		doc.Settle(&texts[i])
	}
	return n, nil
}

// notesAmong are the notes of a device among those of all.
func notesAmong(set *note.Set, device string) *readNotes {
	d, _ := set.Device(device)
	n := &readNotes{Device: d, Faults: set.FaultsOf(device), Jobs: set.JobsOf(device)}
	of := map[string]bool{}
	for _, doc := range n.documents() {
		of[doc.ID] = true
	}
	for _, m := range set.Moved {
		if of[m.To] {
			n.Moved = append(n.Moved, m)
		}
	}
	return n
}

// madeKey is the key of what is made of a device's notes.
func (s *stream) madeKey(device string) string {
	h := s.heads[device]
	parts := []string{"made", s.readKey(device), strconv.FormatBool(len(s.past.Changes) > 0)}
	for _, n := range h.Notes[1 : 1+len(h.Common)] {
		v := s.votes[path.Base(n.ID)]
		parts = append(parts, strconv.FormatFloat(v.Here, 'g', -1, 64), strconv.FormatFloat(v.Elsewhere, 'g', -1, 64))
	}
	for _, n := range h.Notes {
		file := n.File
		if n.Made != "" {
			file = n.Made
		}
		day, why := "", ""
		if c, ok := s.past.Of(file); ok {
			day, why = strconv.FormatInt(c.Date.Unix()/(24*60*60), 10), c.Why
		}
		if parts = append(parts, day, why); len(n.Led) > 0 {
			parts = append(parts, string(record.Encode(n.Led)))
		}
	}
	return record.Key(parts...)
}

// foundKey is where the documents for the search lie that were made of them.
func foundKey(made string) string { return record.Key("found", made) }

// devices makes the pages of all devices that do not stand.
func (s *stream) devices() error {
	made, stands := make([]*madeOf, len(s.names)), make([]bool, len(s.names))
	err := s.together(len(s.names), func(i int) error {
		if s.whole != nil {
			return nil
		}
		m := &madeOf{}
		key := s.madeKey(s.names[i])
		if b := s.kept.Kept(key); b != nil && record.Decode(b, m) == nil && s.takeOver(m.Files) {
			made[i], stands[i] = m, true
			s.kept.Use(s.readKey(s.names[i]))
			s.kept.Use(s.textKey(s.names[i]))
			s.kept.Use(s.toldKey(s.names[i]))
			s.kept.Use(foundKey(key))
			s.kept.Use(m.Trace)
		}
		return nil
	})
	if err != nil {
		return err
	}
	var todo []int
	for i := range made {
		if !stands[i] {
			todo = append(todo, i)
		}
	}
	left := len(todo)
	if s.room != nil {
		s.room(left)
	}
	err = s.together(len(todo), func(k int) (err error) {
		s.mu.Lock()
		s.tell("making the pages of devices", left)
		left--
		s.mu.Unlock()
		i := todo[k]
		made[i], err = s.device(s.names[i])
		return err
	})
	for i, m := range made {
		if err == nil {
			s.made[s.names[i]] = m
			s.add(m.Files...)
		}
	}
	return err
}

// buffers hold one page after the other.
var buffers = sync.Pool{New: func() any { return new([]byte) }}

// device makes what is made of a device's notes.
func (s *stream) device(name string) (*madeOf, error) {
	n, err := s.notesOf(name)
	if err != nil {
		return nil, err
	}
	m := &madeOf{Rows: map[string][]byte{}}
	from := map[string]string{}
	for _, doc := range n.documents() {
		if from[doc.Address()] = doc.File; doc.Made != "" {
			from[doc.Address()] = doc.Made
		}
	}
	put := func(name string, b []byte) error {
		o, err := s.put(name, b)
		m.Files = append(m.Files, o)
		return err
	}
	shop := s.shopOf(n)
	var docs [][]byte
	b := buffers.Get().(*[]byte)
	defer buffers.Put(b)
	if m.Trace, err = s.pagesOf(shop, n.Device, func(p page.Page) error {
		if p.Found != nil {
			docs = append(docs, record.Encode(p.Found))
			m.Found = append(m.Found, build.NoteOf(p.Found))
		}
		var err error
		if *b, err = frame((*b)[:0], s.pages, p, around(shop.Set, p, from[p.Address])); err != nil {
			return fmt.Errorf("%s: %w", p.Address, err)
		}
		return put(p.Address, *b)
	}); err != nil {
		return nil, err
	}
	for _, k := range kinds {
		if k.Row != nil {
			m.Rows[k.Name] = k.Row(shop, n.Device)
		}
	}
	files := Files{}
	if m.Rows[benchRow], err = onBench(files, shop, n.Device); err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err := put(name, files[name]); err != nil {
			return nil, err
		}
	}
	if s.whole == nil {
		key := s.madeKey(name)
		s.kept.Put(key, record.Encode(m))
		s.kept.Put(foundKey(key), record.Encode(docs))
	}
	return m, nil
}

// shopOf is a shop with one device.
func (s *stream) shopOf(n *readNotes) *page.Shop {
	set := *s.shop.Set
	set.Devices, set.Faults, set.Jobs, set.Moved = []*note.Device{n.Device}, n.Faults, n.Jobs, append(slices.Clip(set.Moved), n.Moved...)
	set.Index()
	set.Count(s.votes)
	return s.shop.With(&set)
}

// pagesOf makes the pages of a device. What the trace says of it is kept, under the
// key that is given back, by the device as the trace sees it, which the texts of its
// notes do not change.
func (s *stream) pagesOf(shop *page.Shop, d *note.Device, visit func(page.Page) error) (key string, err error) {
	key = record.Key("trace", s.program, string(record.Encode(shop.Traced(d.Name))))
	steps := &page.Steps{}
	if b := s.kept.Kept(key); b != nil && record.Decode(b, steps) == nil && steps.Begin != nil {
		shop.Knows(d.Name, steps)
	}
	steps = shop.Steps(d.Name)
	known := steps.Asked()
	for _, k := range kinds {
		if k.Of == nil {
			continue
		}
		pages, err := k.Of(shop, d)
		if err != nil {
			return "", fmt.Errorf("the %s pages of %s cannot be made: %w", k.Name, d.Name, err)
		}
		for _, p := range pages {
			p.Kind = k.Name
			if err := visit(p); err != nil {
				return "", err
			}
		}
	}
	if steps.Asked() > known {
		s.kept.Put(key, record.Encode(steps))
	}
	return key, nil
}

// documents are what the search finds of a device, in the order of its madeOf.Found, each
// by itself as it is kept, for few of many devices are asked for; where they are lost they
// are made again.
func (s *stream) documents(device string) (docs [][]byte, err error) {
	key := foundKey(s.madeKey(device))
	if b := s.kept.Kept(key); b != nil && s.whole == nil && record.Decode(b, &docs) == nil {
		return docs, nil
	}
	n, err := s.notesOf(device)
	if err != nil {
		return nil, err
	}
	docs = nil
	_, err = s.pagesOf(s.shopOf(n), n.Device, func(p page.Page) error {
		if p.Found != nil {
			docs = append(docs, record.Encode(p.Found))
		}
		return nil
	})
	if err == nil && s.whole == nil {
		s.kept.Put(key, record.Encode(docs))
	}
	return docs, err
}
