// Package build writes the index that package search reads: documents in, files
// out. The library that analyses and collects the words is bleve
// (search/internal/segment); the form of the files is search/internal/file.
//
// Write, and From where the documents are not all at hand, take these steps:
//
//  1. Sort the documents by ID, job sheets behind all others, and cut them into parts
//     where a hash of an ID says so, so that one changed note changes one part. A note's
//     number is its place in this order: as the sheet of today comes last, it moves no
//     other's number, and only the postings of its own words are written anew.
//  2. Make of each part its postings, its texts and what is to be known of its notes
//     for the whole (head). What was made of a part before may be kept (Keep), by a key
//     that tells all that went into it; its documents are not asked for again, unless
//     somebody asks for its texts, of which only the hashes are kept.
//  3. Put the postings of the parts together, stem by stem, cut them into shards
//     where a hash of a stem says so, and write the dictionary.
//
// The same documents, in any order and with anything kept, give the same bytes.
package build

import (
	"bytes"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"faultleaf/search"
	"faultleaf/search/internal/file"
	"faultleaf/search/internal/segment"
	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Files are the files of an index.
type Files struct {
	Dictionary []byte
	Shards     map[string][]byte // by name, which carries a hash of the content; see Shard
	Words      []Words           // which of them hold postings, in order

	again map[string]func() error // puts those texts into Shards that were made before
}

// Words is a shard of postings and the first stem, or complaint, that it holds.
type Words struct{ First, Name string }

// Shard gives a shard, as search.Open wants it. Texts of a part that was kept are not at hand, as
// who keeps parts has mostly kept what was made of their texts, too: they are made again of its
// documents, and it is for one goroutine at a time.
func (f *Files) Shard(name string) ([]byte, error) {
	b, ok := f.Shards[name]
	if again := f.again[name]; b == nil && again != nil {
		if err := again(); err != nil {
			return nil, err
		}
		b = f.Shards[name]
	}
	if !ok || b == nil {
		return nil, errors.New("there is no " + name)
	}
	return b, nil
}

// Open opens an index from the files as they were written.
func (f *Files) Open() (*search.Index, error) { return search.Open(f.Dictionary, f.Shard) }

// Keep holds what was made of parts of the documents before. It is called by one
// goroutine at a time.
type Keep interface {
	// Kept gives what Put was given under a key, nil if that is gone.
	Kept(key string) []byte
	Put(key string, b []byte)
}

// Sizes of parts and shards, on average and at most.
const (
	partNotes, mostPartNotes = 64, 256
	textNotes                = 16
	leastShard, mostShard    = 8 << 10, 64 << 10
	shardStems               = 128 // from the least size on, until one ends
)

// Note names a document: its ID, the hash of all that stands in it, and whether it is
// a job sheet.
type Note struct {
	ID    string
	Sum   Hash
	Sheet bool
}

// NoteOf names a document.
func NoteOf(d *search.Document) Note { return Note{d.ID, hashOf(d), isSheet(d.Kind)} }

func isSheet(kind string) bool { return kind == "job" }

// inOrder compares two documents by whether they are sheets, then by their IDs.
func inOrder(sheet bool, id string, otherSheet bool, other string) int {
	switch {
	case sheet == otherSheet:
		return strings.Compare(id, other)
	case sheet:
		return 1
	}
	return -1
}

// Write makes the index of the documents and of how people speak of them. IDs must
// be unique and not empty. keep may be nil.
func Write(docs []search.Document, say search.Speech, keep Keep) (*Files, error) {
	notes, at := make([]Note, len(docs)), make(map[string]int, len(docs))
	for i := range docs {
		notes[i], at[docs[i].ID] = NoteOf(&docs[i]), i
	}
	return From(notes, func(id string) (*search.Document, error) { return &docs[at[id]], nil }, say, keep)
}

// From is Write with the documents lying elsewhere: document gives the one with an ID,
// and is asked only for those of parts that are not kept, by one goroutine at a time,
// mostly in their order. A document that is another than its hash tells is an
// error.
func From(notes []Note, document func(id string) (*search.Document, error), say search.Speech, keep Keep) (*Files, error) {
	notes = slices.Clone(notes)
	slices.SortFunc(notes, func(a, b Note) int { return inOrder(a.Sheet, a.ID, b.Sheet, b.ID) })
	known := make(map[string]bool, len(notes))
	for _, n := range notes {
		switch {
		case n.ID == "":
			return nil, errors.New("a note has no id, so search cannot lead to it")
		case known[n.ID]:
			return nil, fmt.Errorf("two notes have the id %s; rename one", n.ID)
		}
		known[n.ID] = true
	}
	w := writer{files: &Files{Shards: map[string][]byte{}, again: map[string]func() error{}}, document: document, lexicon: words.WithOwn(say.Words), own: say.Words, keep: keep}
	w.dictionary.Rules = words.Rules
	var parts [][]Note
	for len(notes) > 0 {
		n := 1
		for n < min(len(notes), mostPartNotes) && !file.Ends(notes[n-1].ID, partNotes) {
			n++
		}
		parts = append(parts, notes[:n])
		notes = notes[n:]
	}
	made, err := w.make(parts)
	if err != nil {
		return nil, fmt.Errorf("writing the search index: %w", err)
	}
	n := 0
	for _, p := range made {
		n += len(p.heads)
	}
	w.heads = make([]head, 0, n)
	for f := range w.dictionary.Length {
		w.dictionary.Length[f] = make([]uint32, 0, n)
	}
	for i, p := range made {
		w.add(p, parts[i])
	}
	w.about()
	w.listen(say)
	w.shards()
	w.files.Dictionary = w.dictionary.Bytes()
	return w.files, nil
}

// writer puts an index together.
type writer struct {
	files      *Files
	dictionary file.Dictionary
	heads      []head // of all parts
	parts      []*part
	lexicon    *words.Lexicon
	own        string

	mu       sync.Mutex // held while these are called
	document func(id string) (*search.Document, error)
	keep     Keep
}

// make makes the parts, some at a time, or takes them as they were kept.
func (w *writer) make(parts [][]Note) ([]*part, error) {
	made := make([]*part, len(parts))
	var next atomic.Int64
	var work sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), 4) // each holds a part's documents
	errs := make([]error, workers)
	for k := range workers {
		work.Go(func() {
			maker := segment.NewMaker(w.lexicon)
			for errs[k] == nil {
				i := int(next.Add(1)) - 1
				if i >= len(parts) {
					return
				}
				made[i], errs[k] = w.part(parts[i], maker)
			}
			next.Store(int64(len(parts)))
		})
	}
	work.Wait()
	return made, errors.Join(errs...)
}

// part makes one part, or takes it as it was kept.
func (w *writer) part(notes []Note, maker *segment.Maker) (*part, error) {
	key := keyOf(notes, w.own)
	if p := readPart(w.kept(key), notes); p != nil {
		return p, nil
	}
	docs, err := w.documents(notes)
	if err != nil {
		return nil, err
	}
	p, err := makePart(docs, maker)
	if err == nil && w.keep != nil {
		b := p.bytes()
		w.mu.Lock()
		defer w.mu.Unlock()
		w.keep.Put(key, b)
	}
	return p, err
}

func (w *writer) kept(key string) []byte {
	if w.keep == nil {
		return nil
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.keep.Kept(key)
}

func (w *writer) documents(notes []Note) ([]*search.Document, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	docs := make([]*search.Document, len(notes))
	for i, n := range notes {
		d, err := w.document(n.ID)
		if err != nil {
			return nil, err
		}
		if d.ID != n.ID || hashOf(d) != n.Sum {
			return nil, fmt.Errorf("%s changed meanwhile; publish again", n.ID)
		}
		docs[i] = d
	}
	return docs, nil
}

// add puts a part, and the notes that it is made of, behind those before.
func (w *writer) add(p *part, notes []Note) {
	p.base = len(w.heads)
	w.heads = append(w.heads, p.heads...)
	w.parts = append(w.parts, p)
	d := &w.dictionary
	for f := range d.Length {
		d.Length[f] = append(d.Length[f], p.length[f]...)
	}
	again := func() error {
		docs, err := w.documents(notes)
		for _, shard := range texts(docs) {
			w.files.Shards[file.Of(shard).TextsName()] = shard
		}
		return err
	}
	for i, s := range p.texts {
		if name := s.TextsName(); p.shards != nil {
			w.files.Shards[name] = p.shards[i]
		} else {
			w.files.Shards[name], w.files.again[name] = nil, again
		}
		d.Texts = append(d.Texts, file.Run{Shard: s})
		d.Counts = append(d.Counts, min(textNotes, len(p.heads)-i*textNotes))
	}
}

// texts are the shards of what is shown of some documents.
func texts(docs []*search.Document) (shards [][]byte) {
	for from := range slices.Chunk(docs, textNotes) {
		var shard []byte
		for _, d := range from {
			r := record(d)
			shard = r.Append(shard)
		}
		shards = append(shards, shard)
	}
	return shards
}

// makePart makes the postings and texts of some documents.
func makePart(docs []*search.Document, maker *segment.Maker) (*part, error) {
	p := &part{}
	var notes []segment.Note
	for _, d := range docs {
		p.heads = append(p.heads, headOf(d))
		notes = append(notes, segment.Note{ID: d.ID, Fields: fields(d), Complaints: d.Complaints})
	}
	p.shards = texts(docs)
	for _, shard := range p.shards {
		p.texts = append(p.texts, file.Of(shard))
	}
	seg, err := maker.New(notes)
	if err != nil {
		return nil, err
	}
	p.length = seg.Length
	p.seen = seg.Seen
	stems, err := seg.Stems()
	if err != nil {
		return nil, err
	}
	for _, stem := range stems {
		postings, err := seg.Postings(stem)
		if err != nil {
			return nil, err
		}
		s := stemOf{stem: stem}
		for _, at := range postings {
			s.list.Add(&at)
			s.freq += int(at.Freq[0])
		}
		p.stems = append(p.stems, s)
	}
	return p, nil
}

// Segment gives the segment of all documents at once, with the documents in their
// order: what an index of them is held against in a test.
func Segment(docs []search.Document, say search.Speech) (*segment.Segment, error) {
	var notes []segment.Note
	for _, d := range slices.SortedFunc(slices.Values(docs), func(a, b search.Document) int { return inOrder(isSheet(a.Kind), a.ID, isSheet(b.Kind), b.ID) }) {
		notes = append(notes, segment.Note{ID: d.ID, Fields: fields(&d), Complaints: d.Complaints})
	}
	return segment.NewMaker(words.WithOwn(say.Words)).New(notes)
}

// fields are the texts of a document that are searched.
func fields(d *search.Document) [len(file.Fields)]string {
	var says []string
	for _, s := range d.Symptoms {
		says = append(says, s.Says)
	}
	texts := [len(file.Fields)]string{d.Title, strings.Join(says, "\n"), d.Cause,
		d.DeviceTitle + "\n" + strings.ReplaceAll(d.Device, "-", " "), d.Text}
	// One name counts once, whether it stands here as id, name or title.
	if strings.EqualFold(d.DeviceTitle, strings.ReplaceAll(d.Device, "-", " ")) {
		texts[3] = d.DeviceTitle
	}
	if strings.EqualFold(d.DeviceTitle, d.Title) {
		texts[3] = ""
	}
	return texts
}

// record is what is kept of a document to show it. Its text is shown only where
// there is no first test.
func record(d *search.Document) file.Record {
	r := file.Record{ID: d.ID, Title: d.Title, Address: d.Address, DeviceTitle: d.DeviceTitle,
		FirstTest: d.FirstTest, FirstMinutes: d.FirstMinutes, Hazard: d.Hazard, Chain: d.Chain}
	if d.FirstTest == "" {
		r.Text = beginning(strings.Join(strings.Fields(d.Text), " "))
	}
	for _, s := range d.Symptoms {
		r.Symptoms = append(r.Symptoms, file.Symptom(s))
	}
	return r
}

// longestShown is the length in bytes of the text from which a hit shows a
// stretch: a whole fault note, and the beginning of a long page.
const longestShown = 1600

// beginning cuts a long text at a word; what a hit shows comes from there.
func beginning(text string) string {
	if len(text) <= longestShown {
		return text
	}
	if i := strings.LastIndexByte(text[:longestShown], ' '); i > 0 {
		return text[:i] + " …"
	}
	return strings.ToValidUTF8(text[:longestShown], "")
}

// about fills what each note is.
func (w *writer) about() {
	d := &w.dictionary
	d.Kind, d.Device, d.Like = make([]uint8, 0, len(w.heads)), make([]uint32, 0, len(w.heads)), make([]uint32, 0, len(w.heads))
	kinds, likes, devices := map[string]int{}, map[string]int{}, map[string]int{}
	place := func(in map[string]int, list *[]string, name string) int {
		i, ok := in[name]
		if !ok {
			i = len(*list)
			in[name] = i
			*list = append(*list, name)
		}
		return i
	}
	for _, doc := range w.heads {
		d.Kind = append(d.Kind, uint8(place(kinds, &d.Kinds, doc.Kind)))
		device, like := -1, -1
		if doc.Device != "" {
			i, ok := devices[doc.Device]
			if !ok {
				i = len(devices)
				devices[doc.Device] = i
			}
			device = i
		}
		if doc.Like != "" {
			like = place(likes, &d.Likes, doc.Like)
		}
		d.Device, d.Like = append(d.Device, uint32(device+1)), append(d.Like, uint32(like+1))
	}
	for f, lengths := range d.Length {
		sum, having := 0.0, 0.0
		for _, n := range lengths {
			if n > 0 {
				sum += float64(n)
				having++
			}
		}
		if having > 0 {
			d.Mean[f] = sum / having
		}
	}
}

// listen fills what can be heard, and every word.
func (w *writer) listen(say search.Speech) {
	ear := speech.Listen(vocabulary(w.heads, say))
	d := &w.dictionary
	d.Lexicon = ear.Lexicon.Table
	d.Heard = file.Heard{Complaints: slices.Clone(ear.Vocabulary.Complaints), About: make([]float64, len(ear.Vocabulary.Complaints)), Devices: ear.Devices,
		OfComplaints: file.NewBook(ear.Of.Complaints, len(ear.Vocabulary.Complaints)), OfThings: file.NewBook(ear.Of.Things, len(ear.Names)), OfNotes: file.NewBook(ear.Of.Notes, len(ear.Names))}
	complaint := map[string]int{}
	for i := range d.Heard.Complaints {
		c := &d.Heard.Complaints[i]
		c.Wordings = nil
		complaint[file.Complaint(c.ID)] = i
	}
	docs := map[string]int{}
	for _, p := range w.parts {
		for _, t := range p.seen {
			docs[t.Text] += t.Docs
		}
		for _, s := range p.stems {
			if i, ok := complaint[s.stem]; ok {
				d.Heard.About[i] += float64(s.freq) / file.Strength
			}
		}
	}
	leads := map[int]int{}
	for i, n := range ear.Names {
		if n.Kind == speech.OfNote || n.Kind == speech.OfShut {
			at, ok := slices.BinarySearchFunc(w.heads, n.Of, func(d head, id string) int { return inOrder(isSheet(d.Kind), d.ID, false, id) })
			if ok {
				leads[i] = at
			}
		}
	}
	d.Heard.Names = file.NewNames(ear.Names, leads, len(w.heads))
	for _, text := range ear.Terms {
		docs[text] += 0
	}
	terms := make([]file.Term, 0, len(docs))
	for text, n := range docs {
		terms = append(terms, file.Term{Text: text, Stem: words.Stem(text), Docs: n})
	}
	slices.SortFunc(terms, func(a, b file.Term) int { return strings.Compare(a.Text, b.Text) })
	d.Terms = file.NewTerms(terms)
}

// shards writes the postings of all parts together.
func (w *writer) shards() {
	type at struct {
		part *part
		*stemOf
	}
	all := map[string][]at{}
	for _, p := range w.parts {
		for i := range p.stems {
			s := &p.stems[i]
			all[s.stem] = append(all[s.stem], at{p, s})
		}
	}
	stems := make([]string, 0, len(all))
	for stem := range all {
		stems = append(stems, stem)
	}
	slices.Sort(stems)
	shard := &file.Words{}
	end := func() {
		if shard.N > 0 {
			b := bytes.Clone(shard.Bytes())
			s := file.Of(b)
			w.files.Shards[s.WordsName()] = b
			w.files.Words = append(w.files.Words, Words{shard.First, s.WordsName()})
			w.dictionary.Words = append(w.dictionary.Words, file.Run{Shard: s, First: shard.First})
			shard.Begin()
		}
	}
	var list []byte
	for _, stem := range stems {
		list = list[:0]
		last := -1
		for _, s := range all[stem] {
			list = s.list.Append(list, last, s.part.base)
			last = s.part.base + s.list.Last
		}
		if len(shard.Bytes())+len(list) > mostShard {
			end() // a list that is long by itself stands alone
		}
		shard.Add(stem, list)
		if n := len(shard.Bytes()); n > mostShard || n > leastShard && file.Ends(stem, shardStems) {
			end()
		}
	}
	end()
}

// vocabulary gathers what can be heard: the complaints, and the names of the
// notes. Titles of common faults, lists, pages and calculators lead to them if they are all
// that is asked for.
func vocabulary(notes []head, say search.Speech) speech.Vocabulary {
	v := speech.Vocabulary{Complaints: say.Complaints, Words: say.Words}
	listed := map[string]bool{}
	title := shortened(notes)
	for _, d := range notes {
		if d.Device != "" && !listed[d.Device] {
			listed[d.Device] = true
			v.Devices = append(v.Devices, speech.Device{Name: d.Device, Title: title(d.DeviceTitle)})
		}
		name := func(text, of string, weight float64, kind speech.Kind) {
			v.Names = append(v.Names, speech.Name{Text: text, Of: of, Weight: weight, Kind: kind})
		}
		switch {
		case d.asked == nil:
			continue
		case d.Kind == "device":
			name(d.asked.Title, d.Device, 1, speech.OfDevice)
			for _, n := range d.asked.Names {
				name(n.Name, d.Device, n.Weight, speech.OfDevice)
			}
		case byTitle[d.Kind]:
			name(d.asked.Title, d.ID, titleWeight, speech.OfNote)
			for _, n := range d.asked.Names {
				name(n.Name, d.ID, n.Weight, speech.OfNote)
			}
		}
		for _, n := range d.asked.Unlike {
			name(n, "", 0, speech.OfNothing)
		}
		for _, n := range d.asked.Shut {
			name(n, d.ID, 1, speech.OfShut)
		}
	}
	return v
}

// shortened gives a device's title without what tells it from others of its sort, "Lamp"
// for "Lamp with a cord dimmer", where no other device is called so.
func shortened(notes []head) func(title string) string {
	short := func(title string) string {
		for _, w := range []string{" with ", " and ", " for "} {
			title, _, _ = strings.Cut(title, w)
		}
		return title
	}
	titles := map[string]map[string]bool{} // by the short one
	for _, d := range notes {
		s := short(d.DeviceTitle)
		if titles[s] == nil {
			titles[s] = map[string]bool{}
		}
		titles[s][d.DeviceTitle] = true
	}
	return func(title string) string {
		s := short(title)
		if len(titles[s]) > 1 {
			return title
		}
		return s
	}
}

// titleWeight is less than whole: a title leads to its note only where it is all
// that is asked for.
const titleWeight = 0.5
