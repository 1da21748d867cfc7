package blocks

import (
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/trace"
)

// wordsOf are the words that fill the slots of an entry's texts: the block's, then
// the device's, then the entry's. A map chooses by flag.
func (d *device) wordsOf(e *Entry) map[string]string {
	if w, ok := d.words[e]; ok {
		return w
	}
	w := map[string]string{}
	title := d.note.Str("short")
	if title == "" {
		title = d.note.Str("title")
	}
	w["device"], w["Device"] = trace.InSentence(title), title
	var from []Tree
	flags := d.flagsOf(e)
	if e != nil {
		w["block"], w["Block"], w["next"] = e.says, upper(e.says), "work"
		for _, x := range d.order[slices.Index(d.order, e)+1:] {
			if x.current() {
				w["next"] = x.says
				break
			}
		}
		if e.Kind != nil {
			v, _ := e.Kind.Note.Get("words")
			from = append(from, v)
		}
	}
	v, _ := d.note.Get("words")
	from = append(from, v)
	if e != nil {
		v, _ := e.own.Get("words")
		from = append(from, v)
	}
	for _, t := range from {
		for _, f := range t.Fields {
			if f.Value.IsText() {
				w[f.Name] = f.Value.Text
			}
			for _, c := range f.Value.Fields {
				if flags[c.Name] {
					w[f.Name] = c.Value.Text
				}
			}
		}
	}
	d.words[e] = w
	return w
}

// flagsOf are the flags that hold for an entry.
func (d *device) flagsOf(e *Entry) map[string]bool {
	f := map[string]bool{"class-" + d.note.Str("class"): true}
	for _, w := range works(d.order) {
		f[w] = true
	}
	if e != nil {
		has, _ := e.own.Get("has")
		for _, o := range has.Strings() {
			f[o] = true
		}
	}
	return f
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// deepest is how many words may stand in each other.
const deepest = 4

// fill puts words into the slots of a text, and the entry's own plate into its
// addresses.
func (d *device) fill(e *Entry, text string, at Place) string {
	w := d.wordsOf(e)
	for depth := 0; ; depth++ {
		out, slots := "", false
		rest := text
		for {
			i := strings.IndexByte(rest, '{')
			if i < 0 {
				break
			}
			n := strings.IndexByte(rest[i:], '}')
			if n < 2 || !isWord(rest[i+1:i+n]) {
				out += rest[:i+1]
				rest = rest[i+1:]
				continue
			}
			name := rest[i+1 : i+n]
			word, known := w[name]
			if !known {
				d.wrong(at, "no word is given for {"+name+"}", "write words: {"+name+": ...} in the device's note")
				word = name
			}
			out += rest[:i] + word
			rest = rest[i+n+1:]
			slots = true
		}
		text = out + rest
		if !slots {
			break
		}
		if depth == deepest {
			d.wrong(at, "a word of this text holds itself", "write one of the words without the other")
			break
		}
	}
	if e == nil {
		return text
	}
	if own, ok := e.own.Get("plate"); ok && strings.Contains(text, "plate.") {
		for _, f := range own.Fields {
			text = strings.ReplaceAll(text, "plate."+f.Name, strings.ReplaceAll(f.Value.Text, " ", "_"))
		}
	}
	return text
}

// isWord: letters and hyphens, as slots are written.
func isWord(s string) bool {
	for i := range len(s) {
		if c := s[i]; !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '-' && i > 0) {
			return false
		}
	}
	return s != ""
}

// unplated tells a line that the device's plate lacks: one that every plate has once and at the device, however
// many texts ask for it; any other where it is asked for, as the block's note may have its name wrong.
func (d *device) unplated(name string, at Place) {
	if plate, _ := d.note.Get("plate"); plated[name].high > 0 && plate.At.File != "" {
		at = plate.At
	}
	if says := "the plate has no “" + name + "”"; !slices.ContainsFunc(d.remarks, func(r Remark) bool { return r.At == at && r.Says == says }) {
		d.wrong(at, says, calc.AddToPlate)
	}
}

// OfPlate tells whether a mistake is that a plate lacks a line that every plate has.
func OfPlate(says string) bool {
	for name := range plated {
		if strings.HasPrefix(says, "the plate has no “"+name+"”") {
			return true
		}
	}
	return false
}

// fillTree fills every text of a tree. A text that is nothing but plate.NAME is
// what the plate says.
func (d *device) fillTree(e *Entry, t Tree) Tree {
	return t.each(func(t Tree) string {
		if name, ok := strings.CutPrefix(t.Text, "plate."); ok && trace.IsID(name) {
			plate := d.plate
			if e != nil {
				plate = e.Plate
			}
			v, known := plate[name]
			if !known {
				d.unplated(name, t.At)
			}
			return v
		}
		return d.fill(e, t.Text, t.At)
	})
}
