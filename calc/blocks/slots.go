package blocks

import (
	"slices"
	"strings"
)

// slots are the names of the slots that texts have, {part} and its like.
type slots map[string]bool

func (s slots) text(text string) {
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			return
		}
		text = text[i+1:]
		if n := strings.IndexByte(text, '}'); n > 0 && isWord(text[:n]) {
			s[text[:n]] = true
			text = text[n+1:]
		}
	}
}

func (s slots) tree(t Tree) {
	s.text(t.Text)
	for _, v := range t.List {
		s.tree(v)
	}
	for _, f := range t.Fields {
		s.tree(f.Value)
	}
}

func (s slots) kind(k *Kind) {
	s.tree(k.Note)
	for _, t := range k.Texts {
		s.text(t.Text)
	}
}

// meant offers the slot that a word may have been for.
func meant(word string, s slots) string {
	var names []string
	for name := range s {
		if !slices.Contains(ownSlots, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "take it out"
	}
	slices.Sort(names)
	return near(word, names) + ", or take it out"
}

// ownSlots are filled by themselves.
var ownSlots = []string{"device", "Device", "block", "Block", "next"}

// fitted are the slots that name the part of a mend: what stands there is bought.
func (k *Kind) fitted() slots {
	s := slots{}
	for _, f := range k.Faults() {
		mend, _ := f.Value.Get("mend")
		parts, _ := mend.Get("parts")
		for _, p := range parts.Items() {
			s.text(p.Str("part"))
		}
	}
	return s
}

// checkWords says which words fill no slot, and which would have several blocks
// mended with one part.
func (d *device) checkWords(own []Note) {
	here := slots{} // texts of the device's own
	here.tree(d.note)
	for _, n := range own {
		here.tree(n.Note)
		here.text(n.Text.Text)
	}
	all := slots{}
	for name := range here {
		all[name] = true
	}
	for _, e := range d.order {
		mine := slots{}
		if e.Kind != nil {
			mine.kind(e.Kind)
		}
		for name := range mine {
			all[name] = true
		}
		words, _ := e.own.Get("words")
		for _, f := range words.Fields {
			if !mine[f.Name] && !here[f.Name] {
				d.hint(f.At, "nothing of the block “"+e.ID+"” says {"+f.Name+"}, so that this word stands nowhere", meant(f.Name, mine))
			}
		}
	}
	words, _ := d.note.Get("words")
	for _, f := range words.Fields {
		if !all[f.Name] {
			d.hint(f.At, "nothing of this device says {"+f.Name+"}, so that this word stands nowhere", meant(f.Name, all))
			continue
		}
		var kinds, entries []string
		for _, e := range d.order {
			given, _ := e.own.Get("words")
			if e.Kind == nil || given.Has(f.Name) || !e.Kind.fitted()[f.Name] {
				continue
			}
			entries = append(entries, e.ID)
			if !slices.Contains(kinds, e.Kind.Name) {
				kinds = append(kinds, e.Kind.Name)
			}
		}
		if len(kinds) > 1 {
			d.wrong(f.At, "“"+f.Name+"” of the whole device would be the part for the mends of "+strings.Join(entries, " and "), "say it at the block that it is for, like "+entries[0]+": {is: "+kinds[0]+", words: {"+f.Name+": ...}}")
		}
	}
}
