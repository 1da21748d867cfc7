package site

import (
	"errors"
	"maps"
	"slices"

	"faultleaf/calc/all"
	"faultleaf/internal/core"
	"faultleaf/internal/history"
	"faultleaf/internal/note"
	"faultleaf/internal/published"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
	"faultleaf/search"
)

// Most changes are to a text alone. Lists, counts and traces hold nothing of a
// text, so they stay as they are, and the notes of all other devices need not even
// be read from the record. What that rests on is kept of the last site.

// lastSite is what is kept of a site for the next one that differs from it in texts
// alone.
type lastSite struct {
	Base    string // key of what is no device's, and of when notes changed
	Devices map[string]madeOf
	Votes   map[string]note.Votes
	Files   []outcome         // pages that rest on more than one device
	Found   []search.Document // and what the search finds of them
	Old     map[string]bool   // sheets that the search leaves out
	Bench   []byte
}

// madeOf tells of which notes a device's pages were made.
type madeOf struct {
	Read, Made string // keys
	Notes      string // hash of the notes as they were read, without their texts
}

func (s *stream) wholeKey() string { return record.Key("whole", s.program) }

func (s *stream) baseOf(past history.History) string {
	return record.Key(s.files.key(s.files.base...), s.files.key(s.files.others...), string(record.Encode(past.Changes)))
}

// keepLists keeps what rests on more than one device.
func (l *lastSite) keepLists(s *stream, files []outcome, found []search.Document, old map[string]bool, bench []byte) {
	l.Votes, l.Files, l.Found, l.Old, l.Bench = s.set.Votes(), slices.Clone(files), slices.Clone(found), old, bench
}

// mostFew is how many devices may have changed.
const mostFew = 50

// errMore ends a publishing of few texts that turns out to be one of more.
var errMore = errors.New("more than texts has changed")

// few publishes a site that differs from the last one in the texts of few devices;
// ok is false where more has changed, or something of the last site is lost.
func (s *stream) few(key string, past history.History, binary core.Core) (published.Report, error, bool) {
	was := &lastSite{}
	b := s.kept.Kept(s.wholeKey())
	if b == nil || record.Decode(b, was) != nil || was.Base != s.baseOf(past) || s.files.strange || len(was.Devices) != len(s.files.of) {
		return published.Report{}, nil, false
	}
	var changed []string
	for device := range s.files.of {
		switch d, ok := was.Devices[device]; {
		case !ok:
			return published.Report{}, nil, false
		case d.Read != s.readKey(device):
			changed = append(changed, device)
		}
	}
	if len(changed) > mostFew {
		return published.Report{}, nil, false
	}
	s.makeRoom(len(changed))
	slices.Sort(changed)
	s.tell("reading the notes of devices", len(changed))
	s.openShared()
	notes, err := s.readPart(changed)
	if err != nil {
		return published.Report{}, nil, false // all of it tells why
	}
	for device := range notes {
		if s.sums[device] != was.Devices[device].Notes {
			return published.Report{}, nil, false
		}
	}
	set := assemble(s.shared.notes.Alone(), notes)
	set.Index()
	set.Count(was.Votes)
	set.Past = past
	w, err := published.Begin(s.to)
	if err != nil {
		return published.Report{}, err, true
	}
	again := stream{dir: s.dir, to: s.to, tell: s.tell, files: s.files, program: s.program, kept: s.kept, sums: s.sums, set: set, w: w, shared: s.shared}
	again.now = &lastSite{Base: was.Base, Devices: maps.Clone(was.Devices)}
	if err := again.makeFew(was, changed, binary); err != nil {
		return published.Report{}, w.Abort(), false
	}
	r, err := again.commit(key)
	return r, err, true
}

// makeFew makes the pages of the changed devices, and takes over all others.
func (s *stream) makeFew(was *lastSite, changed []string, binary core.Core) error {
	if err := s.templates(); err != nil {
		return err
	}
	s.shop = page.NewShop(s.set, all.At(s.set.Shop.Values()))
	for i, device := range changed {
		s.tell("making the pages of devices", len(changed)-i)
		d, ok := s.set.Device(device)
		if !ok {
			return errMore
		}
		if err := s.device(d); err != nil {
			return err
		}
	}
	s.tell("making lists and the search", 0)
	for device, d := range was.Devices {
		if slices.Contains(changed, device) {
			continue
		}
		var m madePages
		if b := s.kept.Kept(d.Made); b == nil || record.Decode(b, &m) != nil || !s.takeOver(m.Files) {
			return errMore
		}
		s.kept.Use(d.Read)
		s.kept.Use(m.Trace)
		s.kept.Use(s.textKey(device))
		s.add(m.Files, m.Found)
	}
	s.docs = slices.DeleteFunc(s.docs, func(d search.Document) bool { return was.Old[d.ID] })
	if !s.takeOver(was.Files) {
		return errMore
	}
	s.now.Votes, s.now.Files, s.now.Found, s.now.Old, s.now.Bench = was.Votes, was.Files, was.Found, was.Old, was.Bench
	s.add(was.Files, was.Found)
	return s.rest(binary, was.Bench)
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
