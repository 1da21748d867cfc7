package blocks

import (
	"slices"
	"strconv"
)

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
		out.Set("access", d.hiding())
	}
	if points := d.points(); len(points.Fields) > 0 {
		out.Set("points", points)
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
		if about := e.about(); len(about.Fields) > 0 {
			item = Tree{At: e.At, Fields: []Field{{Name: e.ID, Value: about, At: e.At}}}
		}
		out.List = append(out.List, item)
	}
	return out
}

// about is what the expanded note still says of a block.
func (e *Entry) about() Tree {
	about := Tree{Fields: []Field{}}
	if e.is("protective") {
		about.Set("protective", Text("true"))
	}
	if share, ok := e.own.Get("share"); ok {
		about.Set("share", share)
	}
	for _, key := range []string{"short", "symbol"} {
		if word := e.word(key); word != "" {
			about.Set(key, Text(word))
		}
	}
	switch {
	case e.Kind != nil && e.Kind.Source():
		about.Set("source", Text(map[bool]string{true: "mains", false: "battery"}[e.Kind.Mains()]))
	case e.source():
		about.Set("source", Text(e.word("source")))
	}
	if e.is("separates") {
		about.Set("separates", Text("true"))
	}
	about.Set("outside", Text(strconv.FormatBool(!e.current())))
	return about
}

// hiding are the accesses, each with the blocks that it brings to light: those
// that the chain says are reached by it, where the device does not say so itself.
func (d *device) hiding() Tree {
	out := Tree{Fields: []Field{}, At: d.access.At}
	for _, f := range d.access.Fields {
		var blocks []string
		for _, e := range d.order {
			reach, _ := e.own.Get("reach")
			by := reach.Strings()
			for _, role := range reach.Fields {
				by = append(by, role.Value.Strings()...)
			}
			if slices.Contains(by, f.Name) {
				blocks = append(blocks, e.ID)
			}
		}
		if f.Value.Fields != nil && !f.Value.Has("hides") && len(blocks) > 0 {
			f.Value = f.Value.copied()
			f.Value.Set("hides", Texts(blocks))
		}
		out.Fields = append(out.Fields, f)
	}
	return out
}

// points are the device's own, and those that a block's note has words for and a
// test uses.
func (d *device) points() Tree {
	own, _ := d.note.Get("points")
	out := own.copied()
	for _, t := range d.tests {
		probes, _ := t.note.Get("probes")
		for _, id := range probes.Strings() {
			for _, e := range d.order {
				if e.Kind == nil || out.Has(id) {
					continue
				}
				points, _ := e.Kind.Note.Get("points")
				for _, p := range points.Fields {
					if id == e.ID+"-"+p.Name || id == p.Name && e.source() {
						out.Set(id, Tree{Text: d.fill(e, p.Value.Text, p.Value.At), At: p.Value.At})
					}
				}
			}
		}
	}
	return out
}

// ownPoints gives a block's points the names that they have on the device.
func ownPoints(e *Entry, probes Tree) Tree {
	out := Tree{List: []Tree{}, At: probes.At}
	for _, p := range probes.Items() {
		if slices.Contains(blockPoints, p.Text) {
			p.Text = e.ID + "-" + p.Text
		}
		out.List = append(out.List, p)
	}
	return out
}

var testOrder = []string{"ask", "covers", "needs", "with", "power", "minutes", "waits", "harms", "while", "trust", "meter", "proves", "after", "probes", "apart", "by_eye"}

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

var faultOrder = []string{"title", "device", "block", "cause", "takes", "seen", "protective", "symptoms", "reads", "shown", "look", "because", "mend"}

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
