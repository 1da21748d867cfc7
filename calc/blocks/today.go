package blocks

import "slices"

// today writes the device as a note without blocks: what is not about blocks
// stays as the device says it.
func (d *device) today(symptoms []Field) Tree {
	out := d.note.copied()
	out.Drop("short", "words", "faults", "was")
	if short := d.note.Str("short"); short != "" {
		out.Set("short", Text(short))
	}
	chain, _ := d.note.Get("blocks")
	blocks := today(d.tree)
	blocks.At = chain.At
	out.Set("blocks", blocks)
	if symptoms != nil {
		out.Set("symptoms", Tree{Fields: symptoms})
	}
	if len(d.access.Fields) > 0 {
		out.Set("access", d.access)
	}
	tests := Tree{Fields: []Field{}}
	for _, t := range d.tests {
		tests.Fields = append(tests.Fields, Field{Name: t.id, Value: testToday(t), At: t.at})
	}
	good, hasGood := out.Get("good")
	out.Drop("tests", "good")
	if len(tests.Fields) > 0 {
		out.Fields = append(out.Fields, Field{Name: "tests", Value: tests})
	}
	if hasGood {
		out.Set("good", good)
	}
	return out
}

// today writes a chain; what the device says of a block and the expanded note
// still needs stands behind it.
func today(row []node) Tree {
	out := Tree{List: []Tree{}}
	for _, n := range row {
		if n.entry == nil {
			ways := Tree{List: []Tree{}}
			for _, w := range n.ways {
				ways.List = append(ways.List, today(w))
			}
			out.List = append(out.List, ways)
			continue
		}
		e := n.entry
		item := Tree{Text: e.ID, At: e.At}
		share, shared := e.own.Get("share")
		switch {
		case shared:
			about := Tree{Fields: []Field{}}
			if e.is("protective") {
				about.Set("protective", Text("true"))
			}
			about.Set("share", share)
			item = Tree{At: e.At, Fields: []Field{{Name: e.ID, Value: about, At: e.At}}}
		case e.is("protective"):
			item = Tree{At: e.At, Fields: []Field{{Name: e.ID, Value: Text("protective"), At: e.At}}}
		}
		out.List = append(out.List, item)
	}
	return out
}

var testOrder = []string{"ask", "covers", "needs", "with", "power", "minutes", "waits", "harms", "while", "trust", "meter", "proves", "after"}

// testToday is a test without what only blocks need.
func testToday(t *test) Tree {
	note := t.note.copied()
	note.Drop("spans", "sees", "measures", "finds", "only")
	if !note.Has("power") {
		note.Set("power", Text("off"))
	}
	if !note.Has("minutes") {
		note.Set("minutes", Text("1"))
	}
	if reads, ok := note.Get("reads"); ok {
		out := Tree{List: []Tree{}, At: reads.At}
		for _, b := range reads.Items() {
			if len(b.Fields) == 1 && b.Fields[0].Value.Text == "healthy" { // {word: healthy}
				f := b.Fields[0]
				b = Tree{At: b.At, Fields: []Field{{Name: f.Name, At: f.At}, {Name: "healthy", Value: Text("true")}}}
			}
			out.List = append(out.List, b)
		}
		note.Set("reads", out)
	}
	return ordered(note, testOrder)
}

var faultOrder = []string{"title", "device", "block", "cause", "takes", "seen", "protective", "symptoms", "reads", "shown", "because", "mend"}

// faultToday is a fault without what only blocks need.
func (d *device) faultToday(f *fault) Tree {
	note := f.Note.copied()
	note.Drop("does", "complaints", "like", "only")
	if f.Kind != "" {
		note.Set("device", Tree{Text: d.name, At: f.Note.At})
		note.Set("block", Tree{Text: f.entry.ID, At: f.entry.At})
		if !note.Has("shown") {
			note.Set("shown", Text("always"))
		}
	}
	return ordered(note, faultOrder)
}

// ordered puts the fields into the order that notes have; others follow.
func ordered(t Tree, order []string) Tree {
	fields := make([]Field, 0, len(t.Fields))
	for _, name := range order {
		for _, f := range t.Fields {
			if f.Name == name {
				fields = append(fields, f)
			}
		}
	}
	for _, f := range t.Fields {
		if !slices.Contains(order, f.Name) {
			fields = append(fields, f)
		}
	}
	t.Fields = fields
	return t
}
