package note

import (
	"slices"
	"strings"

	"faultleaf/internal/problem"
)

// Some mistakes only the whole shop tells: a link to nothing, a name that two want, a
// sheet on another device's fault. A reader of some devices tells them where it knows
// so much of all others as a set with their names holds.

// known is what a reader of some devices knows of the others.
type known struct {
	docs    map[string]theirs // by file
	moved   map[string]string // former files, to what they are now
	devices []*Device
	were    map[string]string // devices by former names
}

// theirs is a note of a device, which is "" where it tells none.
type theirs struct {
	doc    *Document
	device string
}

// Knowing reads parts as Part does, and tells what of them only the whole shop tells:
// the set holds all notes of devices, each at least by its names, where it leads, and
// the places on its page. What is no device's is read again where it is not whole or
// leads to nothing. Lines that have slipped are looked for.
func (s *Shared) Knowing(set *Set) *Shared {
	k := &known{docs: map[string]theirs{}, moved: map[string]string{}, devices: set.Devices, were: map[string]string{}}
	for _, d := range set.Devices {
		k.docs[d.File] = theirs{&d.Document, d.Name}
	}
	for _, f := range set.Faults {
		k.docs[f.File] = theirs{&f.Document, f.Device}
	}
	for _, j := range set.Jobs {
		k.docs[j.File] = theirs{&j.Document, j.Sheet.Device}
	}
	for _, m := range set.Moved {
		to := "content/" + m.To + ".md"
		k.moved["content/"+m.From+".md"] = to
		if old, ok := strings.CutPrefix(m.From, "devices/"); ok {
			k.were[old] = strings.TrimPrefix(m.To, "devices/")
		}
	}
	if len(s.told.Mistakes) > 0 || slices.ContainsFunc(set.Amiss(), func(d *Document) bool { return k.docs[d.File].doc != d }) {
		return open(s.l.fsys, s.find, true, s.l.but, k, nil)
	}
	l := *s.l
	l.known, l.effort = k, 0
	return &Shared{l: &l, find: s.find, told: s.told}
}

// their finds a note of a device that this loader leaves to others, where it knows them.
func (l *loader) their(file string) (theirs, bool) {
	if l.known == nil {
		return theirs{}, false
	}
	t, ok := l.known.docs[file]
	return t, ok && !l.taken[t.device]
}

// elsewhere tells whether a device has a note that this loader leaves to others, where
// it knows them.
func (l *loader) elsewhere(device string) bool {
	_, ok := l.their("content/devices/" + device + ".md")
	return ok
}

// movedTo is what a note is now that had another name.
func (l *loader) movedTo(file string) (to string, ok bool) {
	if to, ok = l.moved[file]; ok || l.known == nil {
		return to, ok
	}
	to, ok = l.known.moved[file]
	return to, ok && l.docs[to] == nil // what is its own it has found
}

// noteFiles are the files of all notes that are known, in their order.
func (l *loader) noteFiles() []string {
	files := keys(l.docs)
	if l.shared != nil {
		files = append(files, keys(l.shared.docs)...)
	}
	if l.known != nil {
		for file, t := range l.known.docs {
			if !l.taken[t.device] {
				files = append(files, file)
			}
		}
	}
	slices.Sort(files)
	return slices.Compact(files)
}

// deviceNames are the names of all devices that are known, in their order.
func (l *loader) deviceNames() []string {
	names := keys(l.devices)
	if l.known != nil {
		for _, d := range l.known.devices {
			names = append(names, d.Name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// claimants are all devices that are known, in the order of their files.
func (l *loader) claimants() []*Device {
	all := l.set.Devices
	if l.known != nil {
		all = slices.Clone(all)
		for _, d := range l.known.devices {
			if l.devices[d.Name] == nil {
				all = append(all, d)
			}
		}
		slices.SortFunc(all, func(a, b *Device) int { return strings.Compare(a.File, b.File) })
	}
	return all
}

// Told is what is wrong, and what is remarked, in some of a shop's notes, to be put
// together with the rest: each thing at its true place, and what is wrong in a block's
// note still for each device.
type Told struct {
	Mistakes, Remarks problem.List
	// Gaps are remarks on what the notes leave open; where mistakes make such gaps
	// nothing is said of them, which is as if Gaps were not Sought.
	Gaps   problem.List
	Sought bool
	// Strays tells that a note is of a device that was not read with it.
	Strays bool
	// Slips counts the notes in which a slipped line was looked for; of a shop that has
	// more than MostSlips only the first are.
	Slips int
}

// MostSlips is in how many notes a slipped line is looked for.
const MostSlips = mostStraightened

// Together puts what was told of all parts of a shop together as Load tells it.
func Together(told ...Told) (mistakes, remarks problem.List) {
	sought := true
	for _, t := range told {
		mistakes, remarks = append(mistakes, t.Mistakes...), append(remarks, t.Remarks...)
		sought = sought && t.Sought
	}
	for _, t := range told {
		if sought {
			remarks = append(remarks, t.Gaps...)
		}
	}
	for _, list := range []*problem.List{&mistakes, &remarks} {
		list.Sort()
		*list = again(gathered(*list))
	}
	return mistakes, remarks
}

// Told is what is wrong in what is no device's.
func (s *Shared) Told() Told { return s.told.Told }

// Unused tells what is wrong in block notes that no device of the set uses; else the
// device tells it better.
func (s *Shared) Unused(set *Set) Told {
	t := Told{Sought: true}
	used := map[string]bool{}
	for _, f := range set.Faults {
		if f.Common != nil {
			used[f.Common.Block] = true
		}
	}
	for _, b := range s.l.set.Blocks {
		if !used[b.Name] && len(s.l.examples[b]) > 0 {
			t.Mistakes, t.Sought = append(t.Mistakes, s.l.examples[b]...), false
		}
	}
	s.l.truePlaces(t.Mistakes)
	return t
}
