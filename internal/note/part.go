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
	told Part
}

// Part is some of a shop, read by itself.
type Part struct {
	*Set     // all but the devices, faults and sheets that were not taken
	Mistakes problem.List
	Remarks  problem.List
}

// Open reads what of a shop is no device's. Only where tell is set are lines
// looked for that have slipped, of which many mistakes follow; it takes its time.
func Open(fsys fs.FS, find Find, tell bool) *Shared {
	l := newLoader(fsys, find)
	l.some, l.lists = true, map[string][]string{}
	if !tell {
		l.effort = mostStraightened + 1
	}
	s := &Shared{l: l}
	if l.readShared() {
		for _, folder := range []string{"devices", "faults", "jobs"} {
			l.lists[folder] = l.files(folder)
		}
		l.check()
		last := *l
		last.mistakes, last.remarks = slices.Clone(l.mistakes), slices.Clone(l.remarks)
		last.finish()
		s.told = Part{l.set, last.mistakes, last.remarks}
		return s
	}
	s.told = Part{l.set, l.mistakes, l.remarks}
	return s
}

// Alone is a shop without any device.
func (s *Shared) Alone() Part {
	set := *s.told.Set
	set.Moved = slices.Clone(set.Moved)
	return Part{&set, s.told.Mistakes, s.told.Remarks}
}

// Part reads the notes of some devices, files in content/devices, content/faults
// and content/jobs. A device has to be taken with all of its faults and sheets. What
// it finds is what Load finds of these notes, but for what only the whole shop
// tells: see Clash and Unsound.
func (s *Shared) Part(files []string) Part {
	of := s.l
	if of.set.index == nil { // nothing can be said of the shop
		return s.Alone()
	}
	l := newLoader(of.fsys, of.find)
	l.shared, l.some, l.runs, l.effort = of, true, of.runs, of.effort
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
	l.readDevices(taken["devices"], taken["faults"], taken["jobs"])
	l.check()
	l.mistakes = append(l.mistakes, of.mistakes[of.reviewed:]...)
	l.finish()
	return Part{l.set, l.mistakes, l.remarks}
}

// left tells whether a note of a device is there that this loader has not read.
func (l *loader) left(file string) bool {
	_, ok := slices.BinarySearch(l.lists[strings.TrimPrefix(path.Dir(file), "content/")], file)
	return ok
}

// Unsound tells whether there is a mistake in a block note by itself, and no
// device of the set that uses it tells it better.
func (s *Shared) Unsound(set *Set) bool {
	return slices.ContainsFunc(s.l.set.Blocks, func(b *Block) bool { return len(s.l.examples[b]) > 0 && !set.uses(b) })
}

// uses tells whether a device has a fault of a block note.
func (s *Set) uses(b *Block) bool {
	return slices.ContainsFunc(s.Faults, func(f *Fault) bool { return f.Common != nil && f.Common.Block == b.Name })
}

// Leads tells whether every link of the documents leads to a note among them, and
// to a place that its page has. A document that is known by its file alone is taken
// to have every place.
func (p Part) Leads(docs []*Document) bool {
	there := map[string]*Document{}
	for _, d := range docs {
		there[d.File] = d
	}
	for _, d := range docs {
		for _, to := range d.Leads {
			file, place, ok := strings.Cut(to, "#")
			x := there[file]
			if x == nil || ok && x.Places != nil && !slices.Contains(x.Places, place) {
				return false
			}
		}
	}
	return true
}

// doc finds a note that is there, be it read or known by its name alone; nil if
// there is none.
func (l *loader) doc(file string) *Document {
	d := l.docs[file]
	switch {
	case d != nil:
	case l.shared != nil:
		d = l.shared.doc(file)
	case l.left(file):
		d = unread(file, kindOf[path.Base(path.Dir(file))])
	}
	return d
}

// unread is a note of which only its name is known, so that links may lead to it.
func unread(file string, kind Kind) *Document {
	name := strings.TrimSuffix(path.Base(file), ".md")
	return &Document{Kind: kind, Name: name, Title: name, File: file, ID: strings.TrimPrefix(path.Dir(file), "content/") + "/" + name}
}

// Clash tells whether notes that were read in parts do not go together, or may
// not: two want one name, or a name leads on from one part to another. Load then
// says what is wrong, if anything is.
func (s *Set) Clash() bool {
	files, whose := map[string]bool{}, map[string]bool{}
	for _, d := range s.Documents() {
		if files[d.File] {
			return true
		}
		files[d.File] = true
	}
	for _, m := range s.Moved {
		if from := "content/" + m.From + ".md"; files[from] || whose[from] {
			return true
		}
		whose["content/"+m.From+".md"] = true
	}
	for _, d := range s.Devices {
		whose[plainName(d.Title)] = true
	}
	for _, d := range s.Devices {
		for _, w := range d.Also {
			key := plainName(w.Name)
			if w.Weight == 1 && key != plainName(d.Title) && whose[key] {
				return true
			}
			whose[key] = whose[key] || w.Weight == 1
		}
	}
	for _, p := range s.Pages {
		for _, name := range p.Shut {
			if whose[plainName(name)] {
				return true
			}
			whose[plainName(name)] = true
		}
	}
	return false
}
