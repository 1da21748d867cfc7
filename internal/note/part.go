package note

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"faultleaf/internal/problem"
)

// Part is some of a shop, read by itself.
type Part struct {
	*Set     // all but the devices, faults and sheets that were not taken
	Mistakes problem.List
	Remarks  problem.List
}

// LoadPart reads a shop without the files of devices, faults and sheets that
// take refuses. A device has to be taken with all of its faults and sheets. What
// it finds is what Load finds of these notes, but for what only the whole shop
// tells: see Clash. Only where tell is set are lines looked for that have slipped,
// of which many mistakes follow; it takes its time. Several parts may be read at
// once.
func LoadPart(fsys fs.FS, find Find, take func(file string) bool, tell bool) Part {
	effort := 0
	if !tell {
		effort = mostStraightened + 1
	}
	l := loadSome(fsys, find, take, effort)
	return Part{l.set, l.mistakes, l.remarks}
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

// elsewhere tells whether a note is left to another part; it is known by its
// name then.
func (l *loader) elsewhere(file string, kind Kind) bool {
	if l.take == nil || l.take(file) {
		return false
	}
	l.known(file, kind)
	return true
}

// known makes a note that is not read known by its name, so that links may lead
// to it.
func (l *loader) known(file string, kind Kind) {
	name := strings.TrimSuffix(path.Base(file), ".md")
	l.docs[file] = &Document{Kind: kind, Name: name, Title: name, File: file, ID: strings.TrimPrefix(path.Dir(file), "content/") + "/" + name}
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
