package note

import (
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"faultleaf/internal/problem"
)

// Shared is what of a shop is no device's: its own file, complaints, words, block
// notes, checklists, pages and pictures. It does not change any more, and several
// parts may be read against it at once.
type Shared struct {
	l    *loader // as it was before its mistakes were put into order
	find Find
	told Part
}

// Part is some of a shop, read by itself.
type Part struct {
	*Set     // all but the devices, faults and sheets that were not taken
	Mistakes problem.List
	Remarks  problem.List
	Told     Told // of these what the part's own notes tell
}

// Open reads what of a shop is no device's. Only where tell is set are lines
// looked for that have slipped, of which many mistakes follow; it takes its time.
func Open(fsys fs.FS, find Find, tell bool) *Shared { return open(fsys, find, tell, nil, nil, nil) }

// OpenBut opens a shop without some of its notes, which are known by their names.
func OpenBut(fsys fs.FS, find Find, but map[string]bool) *Shared {
	return open(fsys, find, false, but, nil, nil)
}

func open(fsys fs.FS, find Find, tell bool, but map[string]bool, k *known, sound []Leading) *Shared {
	l := newLoader(fsys, find)
	l.some, l.lists, l.but, l.known, l.sound = true, map[string][]string{}, but, k, sound
	if !tell {
		l.effort = mostStraightened + 1
	}
	s := &Shared{l: l, find: find}
	if l.readShared() {
		for _, folder := range []string{"devices", "faults", "jobs"} {
			l.lists[folder] = l.files(folder)
		}
		l.check()
		l.takeSound()
		t := l.told()
		if !tell {
			t.Slips = 0
		}
		last := *l
		last.mistakes, last.remarks = slices.Clone(l.mistakes), slices.Clone(l.remarks)
		last.finish()
		s.told = Part{l.set, last.mistakes, last.remarks, t}
		return s
	}
	s.told = Part{l.set, l.mistakes, l.remarks, Told{Mistakes: l.mistakes, Remarks: l.remarks}}
	return s
}

// Alone is a shop without any device.
func (s *Shared) Alone() Part {
	p := s.told
	set := *p.Set
	set.Moved = slices.Clone(set.Moved)
	p.Set = &set
	return p
}

// Ends tells whether nothing can be said of the notes but what is wrong here.
func (s *Shared) Ends() bool { return s.l.set.index == nil }

// Part reads the notes of some devices, files in content/devices, content/faults
// and content/jobs. A device has to be taken with all of its faults and sheets. What
// it finds is what Load finds of these notes, but for what only the whole shop
// tells: see Clashes, Unused and Knowing.
func (s *Shared) Part(files []string) Part {
	of := s.l
	if s.Ends() {
		return s.Alone()
	}
	l := newLoader(of.fsys, of.find)
	l.shared, l.some, l.runs, l.effort, l.known = of, true, of.runs, of.effort, of.known
	set := *of.set
	set.Moved, set.index = slices.Clone(of.set.Moved), nil
	l.set, l.pictures, l.library, l.unsureComplaints, l.moved = &set, of.pictures, of.library, of.unsureComplaints, maps.Clone(of.moved)
	l.mistakes, l.remarks = slices.Clone(of.mistakes[:of.reviewed]), slices.Clone(of.remarks)
	taken := map[string][]string{}
	for _, f := range slices.Sorted(slices.Values(files)) {
		if of.left(f) {
			folder := path.Base(path.Dir(f))
			taken[folder] = append(taken[folder], f)
		}
	}
	l.taken = map[string]bool{}
	for _, f := range taken["devices"] {
		l.taken[strings.TrimSuffix(path.Base(f), ".md")] = true
	}
	l.readDevices(taken["devices"], taken["faults"], taken["jobs"])
	l.check()
	t := l.told()
	t.Mistakes, t.Remarks = t.Mistakes[of.reviewed:], t.Remarks[len(of.remarks):]
	t.Slips -= of.effort
	l.mistakes = append(l.mistakes, of.mistakes[of.reviewed:]...)
	l.finish()
	return Part{l.set, l.mistakes, l.remarks, t}
}

// told is what was found, each thing at its true place.
func (l *loader) told() Told {
	t := Told{slices.Clone(l.mistakes), slices.Clone(l.remarks), slices.Clone(l.gaps), l.sought, l.strays, l.effort}
	for _, list := range []problem.List{t.Mistakes, t.Remarks, t.Gaps} {
		l.truePlaces(list)
	}
	return t
}

// left tells whether a note of a device is there that this loader has not read.
func (l *loader) left(file string) bool {
	_, ok := slices.BinarySearch(l.lists[strings.TrimPrefix(path.Dir(file), "content/")], file)
	return ok
}

// uses tells whether a device has a fault of a block note.
func (s *Set) uses(b *Block) bool {
	return slices.ContainsFunc(s.Faults, func(f *Fault) bool { return f.Common != nil && f.Common.Block == b.Name })
}

// doc finds a note that is there, be it read or known by its name alone; nil if
// there is none.
func (l *loader) doc(file string) *Document {
	if d := l.docs[file]; d != nil {
		return d
	}
	if t, ok := l.their(file); ok {
		return t.doc
	}
	of := l
	if l.shared != nil {
		if of = l.shared; of.docs[file] != nil {
			return of.docs[file]
		}
	}
	if of.left(file) {
		return unread(file, kindOf[path.Base(path.Dir(file))])
	}
	return nil
}

// unread is a note of which only its name is known, so that links may lead to it.
func unread(file string, kind Kind) *Document {
	name := strings.TrimSuffix(path.Base(file), ".md")
	return &Document{Kind: kind, Name: name, Title: name, File: file, ID: strings.TrimPrefix(path.Dir(file), "content/") + "/" + name}
}

// Clashes are the devices whose notes, read in parts, do not go together, or may
// not: two want one name, or a name leads on from one to another. Read in one part
// they tell what is wrong, if anything is.
func (s *Set) Clashes() map[string]bool {
	out := map[string]bool{}
	n := len(s.Devices) + len(s.Faults) + len(s.Jobs)
	whose := make(map[string]string, 2*len(s.Devices)+n+len(s.Moved)) // the device that has a name first, "" for none
	take := func(name, device string) {
		first, twice := whose[name]
		if !twice {
			whose[name] = device
			return
		}
		out[first], out[device] = true, true
	}
	of := make(map[string]string, n) // of a document, by its id
	note := func(d *Document, device string) {
		of[d.ID] = device
		take(d.File, device)
	}
	for _, d := range s.Devices {
		note(&d.Document, d.Name)
	}
	for _, f := range s.Faults {
		note(&f.Document, f.Device)
	}
	for _, j := range s.Jobs {
		note(&j.Document, j.Sheet.Device)
	}
	for _, m := range s.Moved {
		take("content/"+m.From+".md", of[m.To])
	}
	for _, d := range s.Devices { // two may well have one title
		if key := plainName(d.Title); whose[key] == "" {
			whose[key] = d.Name
		}
	}
	for _, d := range s.Devices {
		for _, w := range d.Also {
			if key := plainName(w.Name); w.Weight == 1 && key != plainName(d.Title) {
				take(key, d.Name)
			}
		}
	}
	for _, p := range s.Pages {
		for _, name := range p.Shut {
			if device := whose[plainName(name)]; device != "" {
				out[device] = true // which tells it
			}
		}
	}
	delete(out, "")
	return out
}

// Led is a link that leads elsewhere than it says.
type Led struct {
	From  string // the file of no note that it names
	Moved string // what that note is called now; "" where it leads on for another reason
}

// Amiss are the documents of which a link leads to no note among all, or to no place
// that its page has; or on from a name by another way than it did. A document that is
// known by its file alone is taken to have every place.
func (s *Set) Amiss(also ...*Document) (out []*Document) {
	docs := append(s.Documents(), also...)
	there := make(map[string]*Document, len(docs))
	for _, d := range docs {
		if there[d.File] == nil {
			there[d.File] = d
		}
	}
	moved := map[string]string{}
	for _, m := range s.Moved {
		moved["content/"+m.From+".md"] = "content/" + m.To + ".md"
	}
	sound := func(d *Document) bool {
		for _, to := range d.Leads {
			file, place, ok := strings.Cut(to, "#")
			x := there[file]
			if x == nil || ok && x.Places != nil && !slices.Contains(x.Places, place) {
				return false
			}
		}
		for _, l := range d.Led {
			if there[l.From] != nil || moved[l.From] != l.Moved {
				return false
			}
		}
		return true
	}
	for _, b := range s.Blocks {
		for i := range b.Faults { // whose texts stand on the block's page
			docs = append(docs, &b.Faults[i].Document)
		}
	}
	for _, d := range docs {
		if !sound(d) {
			out = append(out, d)
		}
	}
	return out
}
