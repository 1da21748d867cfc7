package note

import (
	"io/fs"
	"slices"
)

// To check a block note it is read as a device made of that block alone, which its own page
// shows. That takes as long as all else that is no device's, and of a shop whose block notes
// were found sound before only that page asks for it.

// Leading is where a block note leads, and what its page has: so much as a shop whose notes
// change around it holds against them.
type Leading struct {
	Leads, Shows, Places []string
	Led                  []Led
	Faults               []Leading // in the order of the note
}

func leading(d *Document) Leading {
	return Leading{Leads: d.Leads, Shows: d.Shows, Places: d.Places, Led: d.Led}
}

func (x *Leading) onto(d *Document) {
	d.Leads, d.Shows, d.Places, d.Led = x.Leads, x.Shows, x.Places, x.Led
}

// Sound is what OpenSound wants to know of the block notes; nil where something is wrong in
// what is no device's.
func (s *Shared) Sound() []Leading {
	if s.Ends() || len(s.told.Told.Mistakes) > 0 || slices.ContainsFunc(s.l.set.Blocks, func(b *Block) bool { return len(s.l.examples[b]) > 0 }) {
		return nil
	}
	out := []Leading{}
	for _, b := range s.l.set.Blocks {
		x := leading(&b.Document)
		for i := range b.Faults {
			x.Faults = append(x.Faults, leading(&b.Faults[i].Document))
		}
		out = append(out, x)
	}
	return out
}

// OpenSound is Open for somebody who has opened the same files before, and kept what Sound
// told then. No block note is read as an example before ReadExamples; remarks on them are not
// told.
func OpenSound(fsys fs.FS, find Find, sound []Leading) *Shared {
	return open(fsys, find, false, nil, nil, sound)
}

// takeSound fills the block notes with what is known of them.
func (l *loader) takeSound() {
	if l.sound == nil {
		return
	}
	for i, b := range l.set.Blocks {
		l.sound[i].onto(&b.Document)
		b.Faults = nil
		for _, x := range l.sound[i].Faults {
			f := BlockFault{Document: Document{Kind: KindBlock, ID: b.ID, File: b.File}}
			x.onto(&f.Document)
			b.Faults = append(b.Faults, f)
		}
	}
}

// ReadExamples reads the block notes as examples, if that was left out. It is not for several
// goroutines, nor while parts are read.
func (s *Shared) ReadExamples() {
	l := s.l
	if l.sound == nil {
		return
	}
	l.sound = nil
	for _, b := range l.set.Blocks {
		b.Leads, b.Led, b.Shows, b.Faults = nil, nil, nil, nil
	}
	read := len(l.bodies)
	l.readExamples()
	l.exampleBodies()
	for _, b := range l.bodies[read:] {
		l.checkBody(b)
	}
}
