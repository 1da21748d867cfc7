package blocks

import (
	"slices"
	"strings"
)

// readAll works out what each fault reads on each test, in this order: what the
// device says of it, what the test finds, what the block says, what follows from
// the effect where the test covers the block; where it does not, the reading is
// the healthy one, as everywhere; else nothing is known.
func (d *device) readAll() {
	d.checkFinds()
	for _, f := range d.faults {
		reads := Tree{Fields: []Field{}, At: f.Note.At}
		for _, t := range d.tests {
			if v, ok := d.reading(f, t); ok {
				reads.Fields = append(reads.Fields, Field{Name: t.id, Value: v, At: v.At})
			}
		}
		for _, s := range f.stated.Fields { // of no test: today's check names it
			if d.test(s.Name) == nil {
				reads.Fields = append(reads.Fields, s)
			}
		}
		f.Note.Set("reads", reads)
	}
}

func (d *device) reading(f *fault, t *test) (Tree, bool) {
	if v, ok := f.stated.Get(t.id); ok {
		return v, true
	}
	finds, _ := t.note.Get("finds")
	for _, name := range []string{f.Short, f.ID} {
		if v, ok := finds.Get(name); ok {
			return v, true
		}
	}
	if v, ok := f.base.Get(t.id); ok {
		return v, true
	}
	if f.entry == nil || !slices.Contains(t.covers, f.entry.ID) {
		return Tree{}, false
	}
	does := f.Note.Str("does")
	if does == "" {
		return Tree{}, false
	}
	if t.ohms {
		id := asRated
		switch does {
		case Open:
			open, known := t.open[f.entry]
			if known && open == "" {
				return Tree{}, false // it does not show: the test moves nothing
			}
			if id = open; !known {
				id = openOrHigh
			}
		case Short:
			if id = lowOhms; !slices.Contains(readings(t.note), id) {
				return Tree{}, false
			}
		case Turns:
			return Tree{}, false
		}
		return Text(id), true
	}
	if !t.note.Has("sees") {
		return Tree{}, false
	}
	sees, _ := t.note.Get("sees") // of none: the test is blind to effects
	if v, ok := seen(sees, does, f.some, t.entry == f.entry); ok {
		return v, true
	}
	return Text(healthy(t.note)), true
}

// seen finds an effect among what a test sees. An open that stops some works
// while others go on is seen as such, and as an open by the block's own test.
func seen(sees Tree, does string, some, own bool) (Tree, bool) {
	try := func(words ...string) (Tree, bool) {
		for _, w := range words {
			if v, ok := sees.Get(w); ok {
				return v, true
			}
		}
		return Tree{}, false
	}
	switch {
	case does == Open && some && own:
		return try(Open, stopsSome)
	case does == Open && some:
		return try(stopsSome)
	case stopping(does) && some:
		return try(does, stopsSome)
	case stopping(does):
		return try(does, stops)
	}
	return try(does)
}

// checkFinds checks the faults and readings that tests name.
func (d *device) checkFinds() {
	var shorts []string
	for _, f := range d.faults {
		shorts = append(shorts, f.Short)
	}
	for _, t := range d.tests {
		reads := readings(t.note)
		for _, key := range []string{"sees", "finds"} {
			v, _ := t.note.Get(key)
			for _, f := range v.Fields {
				switch {
				case key == "finds" && d.fault(f.Name) == nil:
					d.wrong(f.At, "there is no fault “"+f.Name+"” on this device for the test “"+t.id+"” to find", near(f.Name, shorts))
				case key == "sees" && f.Name != stops && f.Name != stopsSome && !slices.Contains(Effects(), f.Name):
					d.wrong(f.At, "there is no effect “"+f.Name+"”", near(f.Name, Effects()))
				}
				for _, id := range stated(f.Value) {
					if len(reads) > 0 && !slices.Contains(reads, id) {
						d.wrong(f.Value.At, "the test “"+t.id+"” has no reading “"+id+"”", near(id, reads))
					}
				}
			}
		}
	}
}

// alike remarks faults that no test parts.
func (d *device) alike() {
	sign := func(f *fault) string {
		reads, _ := f.Note.Get("reads")
		var out []string
		for _, t := range d.tests {
			v, ok := reads.Get(t.id)
			id := strings.Join(stated(v), "|")
			if !ok && (f.entry == nil || !slices.Contains(t.covers, f.entry.ID)) {
				id = healthy(t.note)
			}
			out = append(out, id)
		}
		return strings.Join(out, " ")
	}
	first := map[string]*fault{}
	for _, f := range d.faults {
		s := sign(f)
		if g, ok := first[s]; ok {
			d.hint(f.Note.At, "“"+g.Short+"” and “"+f.Short+"” read alike on every test", "state what one of the tests reads for either, or write a test that parts them")
			continue
		}
		first[s] = f
	}
}
