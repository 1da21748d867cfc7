package blocks

import "slices"

// test is one test of a device while it is expanded.
type test struct {
	id     string
	name   string // in the block note
	entry  *Entry // whose test it is; nil for the device's own
	at     Place
	note   Tree
	covers []string
	open   map[*Entry]string // of ohms from end to end: what an open block reads; "" where it does not show
	ohms   bool
}

// makeTests collects the blocks' tests and the device's own.
func (d *device) makeTests() {
	over, _ := d.note.Get("tests")
	taken := map[string]bool{}
	for _, e := range d.order {
		if e.Kind == nil {
			continue
		}
		without, _ := e.own.Get("without")
		for _, f := range e.Kind.Tests() {
			id := e.ID + "-" + f.Name
			if slices.Contains(Standard(), f.Name) && d.test(f.Name) == nil {
				id = f.Name // the second of two outputs has tests of its own
			}
			o, refined := over.Get(id)
			taken[id] = true
			if only := f.Value.Str("only"); only != "" && !d.flagsOf(e)[only] || slices.Contains(without.Strings(), f.Name) {
				if refined && !left(o) {
					d.wrong(o.At, "the test “"+id+"” is refined here, but left out above", "take one of the two away")
				}
				continue
			}
			if refined && left(o) {
				continue
			}
			if d.test(id) != nil {
				d.wrong(e.At, "the block brings a second test “"+id+"”", "leave it out with without: ["+f.Name+"]")
				continue
			}
			d.tests = append(d.tests, d.common(e, f, id, o))
		}
	}
	for _, f := range over.Fields {
		switch {
		case taken[f.Name]:
		case left(f.Value) || f.Value.Fields != nil && !f.Value.Has("ask"):
			d.root(f.At, "there is no common test “"+f.Name+"” to be refined", near(f.Name, d.testIDs()))
		default:
			d.tests = append(d.tests, &test{id: f.Name, at: f.At, note: d.fillTree(nil, f.Value.copied()), ohms: f.Value.Str("measures") == "ohms"})
		}
	}
	d.proofsFirst()
	for _, t := range d.tests {
		d.keepAfter(t)
	}
}

// common is a block's test as this device has it: refined by what the device says over
// it (o), its accesses, points and slots filled in.
func (d *device) common(e *Entry, f Field, id string, o Tree) *test {
	note := Merge(f.Value, o)
	t := &test{id: id, name: f.Name, entry: e, at: f.At, note: note, ohms: note.Str("measures") == "ohms"}
	needs, _ := note.Get("needs")
	t.note.Drop("only")
	if needs.Items() != nil {
		t.note.Set("needs", d.needs(e, needs))
	}
	if probes, ok := t.note.Get("probes"); ok {
		t.note.Set("probes", ownPoints(e, probes))
	}
	if t.note.Str("apart") == "this" {
		t.note.Set("apart", Text(e.ID))
	}
	t.note = d.fillTree(e, t.note)
	return t
}

// proofsFirst lets nothing of the blocks be powered from the mains before what protects
// has been read.
func (d *device) proofsFirst() {
	for _, t := range d.tests {
		power := t.note.Str("power")
		if t.entry == nil || power != "series-lamp" && power != "isolated" && power != "mains" {
			continue
		}
		after, _ := t.note.Get("after")
		all := Tree{List: append([]Tree{}, after.Items()...), At: after.At}
		for _, p := range d.tests {
			if p.note.Str("proves") != "" && !slices.Contains(after.Strings(), p.id) {
				all.List = append(all.List, Text(p.id))
			}
		}
		t.note.Set("after", all)
	}
}

// keepAfter takes out of what comes before a block's test what this device has not.
func (d *device) keepAfter(t *test) {
	after, ok := t.note.Get("after")
	if !ok || t.entry == nil {
		return
	}
	kept := Tree{List: []Tree{}, At: after.At}
	for _, a := range after.Items() {
		if own := d.testOf(t.entry, a.Text); own != nil { // a block note calls its own tests by their short names
			a.Text = own.id
		}
		if d.test(a.Text) != nil {
			kept.List = append(kept.List, a)
		}
	}
	t.note.Set("after", kept)
	if len(kept.List) == 0 {
		t.note.Drop("after")
	}
}

// testOf is the test that a block brings by the name that its note gives it.
func (d *device) testOf(e *Entry, name string) *test {
	for _, t := range d.tests {
		if t.entry == e && t.name == name {
			return t
		}
	}
	return nil
}

func (d *device) test(id string) *test {
	for _, t := range d.tests {
		if t.id == id {
			return t
		}
	}
	return nil
}

func (d *device) testIDs() []string {
	var out []string
	for _, t := range d.tests {
		out = append(out, t.id)
	}
	return out
}

// caseOpen is the access to what no access of the device reaches, OpensCase what it does.
const (
	caseOpen  = "case-open"
	OpensCase = "Open the case as far as its inside can be reached"
)

// needs turns the roles of a block into the device's accesses.
func (d *device) needs(e *Entry, roles Tree) Tree {
	out := Tree{List: []Tree{}, At: roles.At}
	var known Tree
	if e.Kind != nil {
		known, _ = e.Kind.Note.Get("reach")
	}
	reach, _ := e.own.Get("reach")
	for _, role := range roles.Items() {
		to := reach // one access, or several in turn, for all roles
		if reach.Fields != nil {
			to, _ = reach.Get(role.Text)
		}
		if d.access.Has(role.Text) {
			to = role // a refined test may name an access itself
		}
		if to.Empty() && known.Has(role.Text) {
			to = Tree{Text: caseOpen, At: role.At}
			if !d.access.Has(caseOpen) {
				d.access.Set(caseOpen, Tree{Fields: []Field{{Name: "does", Value: Text(OpensCase)}, {Name: "minutes", Value: Text("10")}, {Name: "undo", Value: Text("10")}}})
			}
			where, _ := known.Get(role.Text)
			d.hint(e.At, "the device does not say how “"+e.ID+"” is reached ("+where.Text+"); opening is reckoned at 10 minutes", "name an access of the device in the chain, like {"+e.ID+": {is: "+e.Kind.Name+", reach: "+caseOpen+"}}")
		}
		if to.Empty() {
			d.wrong(role.At, "there is no access and no place “"+role.Text+"” here", near(role.Text, slices.Concat(names(d.access.Fields), names(known.Fields))))
			continue
		}
		for _, a := range to.Items() {
			if !slices.ContainsFunc(out.List, func(t Tree) bool { return t.Text == a.Text }) {
				out.List = append(out.List, a)
			}
		}
	}
	return out
}

// cover works out what each test covers, and the readings of those that measure
// ohms.
func (d *device) cover() {
	kept := d.tests[:0]
	for _, t := range d.tests {
		if c, ok := t.note.Get("covers"); ok {
			t.covers = c.Strings()
		} else {
			t.covers = d.spanned(t)
			covers := Texts(t.covers)
			covers.At = t.at
			t.note.Set("covers", covers)
		}
		if !t.ohms || d.measureOhms(t) {
			kept = append(kept, t)
		}
	}
	d.tests = kept
}

func (d *device) spanned(t *test) []string {
	s, ok := t.note.Get("spans")
	word := s.Text
	if !ok && t.entry != nil {
		word = "this"
	}
	if s.List != nil {
		var out []string
		for _, v := range s.List {
			if d.entry(v.Text) == nil {
				d.wrong(v.At, "there is no block “"+v.Text+"” on this device", near(v.Text, ids(d.order)))
				continue
			}
			out = append(out, v.Text)
		}
		if len(out) == 0 && len(s.List) > 0 {
			return ids(d.order) // so that nobody is told as well that the test covers nothing
		}
		return out
	}
	if word == "loop" {
		var out []string
		for _, e := range d.order {
			if e.current() {
				out = append(out, e.ID)
			}
		}
		return out
	}
	e := t.entry
	if e == nil {
		if ok {
			d.wrong(s.At, "a test of the device's own spans loop, or a list of its blocks", "write spans: [cord, switch]")
		}
		return nil
	}
	switch word {
	case "before":
		return ids(d.before(e))
	case "behind":
		if t.ohms {
			return ids(d.reached())
		}
		out := ids(d.order[slices.Index(d.order, e):])
		if t.note.Str("proves") == "insulation" { // behind a block that separates lies another circuit
			for i, x := range d.order {
				if x.is("separates") {
					return ids(d.order[slices.Index(d.order, e) : i+1])
				}
			}
		}
		return out
	}
	return []string{e.ID}
}
