package blocks

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/quantity"
)

// Plan is a device made of blocks, as it is written.
type Plan struct {
	Name string
	Note Tree   // its front matter
	Own  []Note // the fault notes that name it
}

// Note is a fault note of the device's own, or one that says what differs from a
// common fault (like).
type Note struct {
	Name string
	Note Tree
	Text Section
}

// Expanded is a device as it would be written without blocks.
type Expanded struct {
	Note    Tree
	Faults  []Fault // common ones in the order of the chain, then the device's own
	Tests   []Test  // those that block notes bring
	Entries []Entry
	Remarks []Remark
	// Lost tells that the chain could not be put together: of its tests, faults and
	// symptoms only those are known that the device's own note writes out.
	Lost bool
}

// Test says where a test of an expanded device comes from.
type Test struct{ ID, Kind, Name string }

// Fault is one fault note of an expanded device.
type Fault struct {
	ID    string // in the whole set: the file's name
	Short string // within the device: ENTRY-FAULT, or the file's name
	Kind  string // name of the block note that it comes from, "" for the device's own
	Like  string // the fault's name there, "" for the device's own
	Own   bool   // there is a note for it in the device's own files
	Note  Tree
	Text  Section
	// Shared is the block's text where the device's note has one of its own.
	Shared Section
}

// device is a plan while it is expanded.
type device struct {
	name    string
	note    Tree
	lib     *Library
	compute Compute
	remarks
	plate  map[string]string
	tree   []node
	order  []*Entry
	access Tree
	words  map[*Entry]map[string]string
	spans  map[*Entry]span
	tests  []*test
	faults []*fault
	lost   bool // a block note is missing, so that more would only be said in vain
}

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

type fault struct {
	Fault
	entry  *Entry
	base   Tree // reads of the block note
	stated Tree // reads of the device's own
	some   bool // it stops some works and others go on
}

func (d *device) entry(id string) *Entry {
	for _, e := range d.order {
		if e.ID == id {
			return e
		}
	}
	return nil
}

// Common tells whether a device's note is made of common blocks, or says of its
// blocks what only these need to know.
func Common(note Tree) bool {
	v, _ := note.Get("blocks")
	var common func(t Tree) bool
	common = func(t Tree) bool {
		for _, item := range t.List {
			if common(item) {
				return true
			}
			for _, f := range item.Fields {
				if f.Value.IsText() && f.Value.Text != "protective" {
					return true
				}
				for _, key := range []string{"is", "carries", "work", "ohms"} {
					if f.Value.Has(key) {
						return true
					}
				}
			}
		}
		return false
	}
	return common(v)
}

// Expand puts a plan and the block notes together.
func Expand(p Plan, lib *Library, compute Compute) Expanded {
	d := &device{name: p.Name, note: p.Note, lib: lib, compute: compute, plate: map[string]string{}, words: map[*Entry]map[string]string{}, spans: map[*Entry]span{}}
	plate, _ := p.Note.Get("plate")
	for _, f := range plate.Fields {
		d.plate[f.Name] = f.Value.Text
	}
	d.access, _ = p.Note.Get("access")
	d.access = d.access.copied()
	chain, _ := p.Note.Get("blocks")
	d.tree = d.chainOf(chain)
	if class := p.Note.Str("class"); class != "" && Class(class) != nil {
		d.lost = true // which its own key tells; a dozen tests would only say that they know no limit for it
	}
	d.checkPlate(plate)
	d.checkReach()
	d.checkChain(chain.At)
	if d.lost {
		return Expanded{Note: d.today(nil), Remarks: d.remarks, Lost: true}
	}
	d.checkWords(p.Own)
	d.makeTests()
	d.cover()
	d.makeFaults(p.Own)
	symptoms := d.symptoms()
	d.readAll()
	d.alike()
	d.count()
	out := Expanded{Note: d.today(symptoms)}
	for _, e := range d.order {
		out.Entries = append(out.Entries, *e)
	}
	for _, t := range d.tests {
		if t.entry != nil {
			out.Tests = append(out.Tests, Test{t.id, t.entry.Kind.Name, t.name})
		}
	}
	for _, f := range d.faults {
		f.Note = d.faultToday(f)
		out.Faults = append(out.Faults, f.Fault)
	}
	slices.SortStableFunc(d.remarks, func(a, b Remark) int { return strings.Compare(b2s(b.Mistake), b2s(a.Mistake)) })
	out.Remarks = d.remarks
	return out
}

// plated are the lines of a rating plate that blocks compute with: what each is, and between
// what amounts it lies on things that are mended at a bench.
var plated = map[string]struct {
	kind      quantity.Kind
	low, high float64
}{
	"power": {quantity.Power, .1, 100e3},
	"mains": {quantity.Voltage, 1, 1000},
}

// PlateWrong says what is wrong with a line of a rating plate, before every test and every figure that
// is computed from it does, and what to do; both "" where nothing is, be it an amount or a claim of one.
func PlateWrong(name, text string) (says, do string) {
	do = "write what the plate says, with its unit"
	of, ok := plated[name]
	if !ok {
		return "", ""
	}
	v, err := quantity.Parse(of.kind, text)
	if err != nil {
		if _, claim := quantity.ParseClaim(of.kind, text); claim != nil {
			return "the plate's " + name + ": " + err.Error(), do
		}
		return "", ""
	}
	if v.Low < of.low || v.High > of.high {
		return "the plate's " + name + ": " + text + " is outside " + quantity.Of(of.kind, of.low).Text() + " to " + quantity.Of(of.kind, of.high).Text(), do
	}
	return "", ""
}

// checkPlate tells the lines of the plate that are wrong.
func (d *device) checkPlate(plate Tree) {
	for _, f := range plate.Fields {
		if says, do := PlateWrong(f.Name, f.Value.Text); says != "" {
			d.wrong(f.Value.At, says, do)
			d.lost = true
		}
	}
}

// checkReach tells an access that a block is said to be reached by and that the device does not have.
func (d *device) checkReach() {
	for _, e := range d.order {
		reach, _ := e.own.Get("reach")
		ways := reach.Items()
		var places Tree
		if e.Kind != nil {
			places, _ = e.Kind.Note.Get("reach")
		}
		for _, f := range reach.Fields {
			if places.Has(f.Name) { // a place that the block does not name is told already
				ways = append(ways, f.Value.Items()...)
			}
		}
		for _, way := range ways {
			if way.Text != "" && !d.access.Has(way.Text) {
				d.wrong(way.At, "there is no access “"+way.Text+"” on this device", near(way.Text, names(d.access.Fields)))
			}
		}
	}
}

func b2s(b bool) string { return strconv.FormatBool(b) }

const (
	noSource     = "the chain begins with no source"
	bringsEnergy = "begin it with a block that brings the energy, like plug: mains-plug"
)

const onTheMains = "write class: I where it has an earth, II where it is double insulated"

// checkChain says what is wrong with the chain as a whole.
func (d *device) checkChain(at Place) {
	if len(d.order) == 0 || d.lost {
		return
	}
	first := true
	for _, e := range d.order {
		if !e.current() {
			continue
		}
		switch {
		case first && !e.source():
			d.wrong(e.At, noSource, bringsEnergy)
			d.lost = true
		case !first && e.source():
			d.wrong(e.At, "the source “"+e.ID+"” does not stand first", "let the chain begin with it")
		}
		if e.source() && e.Kind != nil && e.Kind.Mains() && d.note.Str("class") == "" {
			d.wrong(e.At, "a device on the mains needs its class of protection", onTheMains)
			d.lost = true // no test knows its limit
		}
		if e.source() && e.Kind != nil && e.Kind.Mains() && d.note.Str("class") == "III" {
			d.wrong(e.At, "a device on the mains is not of class III", onTheMains)
		}
		first = false
	}
	if first && slices.ContainsFunc(d.order, func(e *Entry) bool { return e.Kind != nil }) {
		d.wrong(d.order[0].At, noSource, bringsEnergy)
		d.lost = true
	}
	if len(works(d.order)) == 0 {
		d.wrong(at, "no block of the chain does any work", "say work: heat, motion, light, sound, charge or output where energy becomes work")
		d.lost = true
	}
	var ways func(row []node)
	ways = func(row []node) {
		for _, n := range row {
			for _, w := range n.ways {
				all := within(w)
				if len(all) > 0 && len(works(all)) == 0 {
					d.wrong(all[0].At, "the way that begins with “"+all[0].ID+"” holds no work", "say work: where its energy becomes work, or take the brackets away")
				}
				ways(w)
			}
		}
	}
	ways(d.tree)
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
			note := Merge(f.Value, o)
			needs, _ := note.Get("needs")
			d.tests = append(d.tests, &test{id: id, name: f.Name, entry: e, at: f.At, note: note, ohms: note.Str("measures") == "ohms"})
			t := d.tests[len(d.tests)-1]
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
	for _, t := range d.tests { // nothing is powered from the mains before what protects has been read
		switch power := t.note.Str("power"); {
		case t.entry == nil || power != "series-lamp" && power != "isolated" && power != "mains":
		default:
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
	for _, t := range d.tests {
		if after, ok := t.note.Get("after"); ok && t.entry != nil { // what this device has not cannot come first
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
	known, _ := Tree{}, false
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
			d.hint(e.At, "the device does not say how “"+e.ID+"” is reached ("+where.Text+"); opening is reckoned at 10 minutes", "write reach: with an access of the device")
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

// makeFaults collects the blocks' faults and the device's own notes.
func (d *device) makeFaults(own []Note) {
	over, _ := d.note.Get("faults")
	taken := map[string]bool{}
	for _, e := range d.order {
		if e.Kind == nil {
			continue
		}
		without, _ := e.own.Get("without")
		var mine []*fault
		for _, f := range e.Kind.Faults() {
			short := e.ID + "-" + f.Name
			o, refined := over.Get(short)
			taken[short] = true
			if only := f.Value.Str("only"); only != "" && !d.flagsOf(e)[only] || slices.Contains(without.Strings(), f.Name) || refined && left(o) {
				continue
			}
			x := &fault{entry: e, Fault: Fault{ID: d.name + "-" + short, Short: short, Kind: e.Kind.Name, Like: f.Name, Note: f.Value.copied(), Text: e.Kind.Texts[f.Name]}}
			if x.Note.At == (Place{}) {
				x.Note.At = f.At
			}
			x.base, _ = x.Note.Get("reads")
			x.base = d.ownTests(e, x.base)
			x.Note.Drop("only", "reads")
			if e.is("protective") && !x.Note.Has("protective") {
				x.Note.Set("protective", Text("true"))
			}
			if takes, ok := x.Note.Get("takes"); ok {
				x.Note.Set("takes", d.present(takes))
			}
			mine = append(mine, x)
			d.refine(x, o)
		}
		d.shareSeen(e, mine)
		d.faults = append(d.faults, mine...)
	}
	for _, f := range over.Fields {
		if !taken[f.Name] {
			d.root(f.At, "there is no common fault “"+f.Name+"” to be refined", near(f.Name, d.faultIDs()))
		}
	}
	for _, n := range own {
		d.addOwn(n)
	}
	for _, f := range d.faults {
		d.finishFault(f)
	}
}

// present keeps what stands in this device's chain.
func (d *device) present(list Tree) Tree {
	out := Tree{List: []Tree{}, At: list.At}
	for _, v := range list.Items() {
		if d.entry(v.Text) != nil {
			out.List = append(out.List, v)
		}
	}
	return out
}

// ownTests gives a block's readings the names that its tests have on the device;
// tests that the device has not are left out.
func (d *device) ownTests(e *Entry, reads Tree) Tree {
	out := Tree{Fields: []Field{}, At: reads.At}
	for _, f := range reads.Fields {
		if t := d.test(e.ID + "-" + f.Name); t != nil {
			f.Name = t.id
		} else if d.test(f.Name) == nil {
			continue
		}
		out.Fields = append(out.Fields, f)
	}
	return out
}

// refine lays what the device says over a common fault.
func (d *device) refine(f *fault, o Tree) {
	reads, _ := o.Get("reads")
	f.stated = Merge(f.stated, reads)
	if f.stated.Fields == nil {
		f.stated.Fields = []Field{}
	}
	o = o.copied()
	o.Drop("reads", "like", "device")
	if len(o.Fields) > 0 {
		at := f.Note.At
		f.Note = Merge(f.Note, o)
		f.Note.At = at
	}
}

// metOften is how often something was met: a number of cases, or {share: 0.59} of
// the cases of a publication; ok is false where it is neither.
func metOften(v Tree) (cases, share float64, ok bool) {
	text, most := v.Text, 1000.0
	if v.Fields != nil {
		text, most = v.Str("share"), 1
		ok = len(v.Fields) == 1
	} else {
		ok = v.IsText()
	}
	x, err := strconv.ParseFloat(text, 64)
	if !ok || err != nil || !(x >= 0 && x <= most) {
		return 0, 0, false
	}
	if v.Fields != nil {
		return 0, x, true
	}
	return x, 0, true
}

// shareSeen shares what the entry says it has seen among its faults by their
// weights, cases at least one each.
func (d *device) shareSeen(e *Entry, mine []*fault) {
	v, ok := e.own.Get("seen")
	if !ok {
		return
	}
	cases, share, _ := metOften(v)
	total := 0.0
	weight := func(f *fault) float64 {
		x, err := strconv.ParseFloat(f.Note.Str("seen"), 64)
		if err != nil {
			return 1
		}
		return x
	}
	for _, f := range mine {
		total += weight(f)
	}
	if total <= 0 {
		return
	}
	over, _ := d.note.Get("faults")
	for _, f := range mine {
		if o, ok := over.Get(f.Short); ok && o.Has("seen") {
			continue // the device knows better
		}
		if share > 0 {
			part := Tree{Text: quantity.Number(quantity.Round(weight(f)*share/total, 3)), At: v.At}
			f.Note.Set("seen", Tree{Fields: []Field{{Name: "share", Value: part, At: v.At}}, At: v.At})
			continue
		}
		f.Note.Set("seen", Tree{Text: quantity.Number(math.Max(1, math.Round(weight(f)*cases/total))), At: v.At})
	}
}

func (d *device) faultIDs() []string {
	var out []string
	for _, f := range d.faults {
		out = append(out, f.Short)
	}
	return out
}

func (d *device) fault(id string) *fault {
	for _, f := range d.faults {
		if f.Short == id || f.ID == id {
			return f
		}
	}
	return nil
}

// addOwn takes in a fault note of the device's own.
func (d *device) addOwn(n Note) {
	at := n.Note.At
	if like, ok := n.Note.Get("like"); ok {
		f := d.fault(like.Text)
		if f == nil || f.Kind == "" {
			d.root(like.At, "there is no common fault “"+like.Text+"” on this device that this note could be like", near(like.Text, d.faultIDs()))
			return
		}
		if f.Own {
			d.wrong(like.At, "a second note is like “"+like.Text+"”", "put both into one")
			return
		}
		d.refine(f, n.Note)
		f.ID, f.Own, f.Note.At = n.Name, true, at
		if strings.TrimSpace(n.Text.Text) != "" {
			f.Shared, f.Text = f.Text, n.Text
		}
		return
	}
	if f := d.fault(n.Name); f != nil {
		d.wrong(at, "a common fault has the name “"+n.Name+"” too", "say like: "+f.Short+" where the note refines it, or give it another name")
		return
	}
	f := &fault{Fault: Fault{ID: n.Name, Short: n.Name, Own: true, Note: n.Note.copied(), Text: n.Text}}
	f.stated, _ = n.Note.Get("reads")
	if f.stated.Fields == nil {
		f.stated.Fields = []Field{}
	}
	f.entry = d.entry(n.Note.Str("block"))
	if does, ok := n.Note.Get("does"); ok && !slices.Contains(Effects(), does.Text) {
		d.wrong(does.At, "there is no effect “"+does.Text+"”", near(does.Text, Effects()))
	}
	d.faults = append(d.faults, f)
}

// finishFault fills in a fault's texts and the ways to its mend.
func (d *device) finishFault(f *fault) {
	if f.Kind != "" {
		if mend, ok := f.Note.Get("mend"); ok {
			if needs, ok := mend.Get("needs"); ok {
				mend.Set("needs", d.needs(f.entry, needs))
				f.Note.Set("mend", mend)
			}
		}
		f.Text.Text = d.fill(f.entry, f.Text.Text, f.Text.At)
		f.Shared.Text = d.fill(f.entry, f.Shared.Text, f.Shared.At)
		f.Note = d.fillTree(f.entry, f.Note)
	} else {
		f.Note = d.fillTree(nil, f.Note)
	}
	_, all, _ := Tree{}, true, false
	if f.entry != nil {
		_, all, _ = d.lostWork(f.entry)
	}
	f.some = !all
}

// count says in one line what is common and what is the device's own.
func (d *device) count() {
	common, own, tests, ownTests := 0, 0, 0, 0
	for _, f := range d.faults {
		if f.Kind != "" {
			common++
		} else {
			own++
		}
	}
	for _, t := range d.tests {
		if t.entry != nil {
			tests++
		} else {
			ownTests++
		}
	}
	n := func(x int) string { return strconv.Itoa(x) }
	d.hint(d.note.At, "of its faults "+n(common)+" are common ones and "+n(own)+" its own, of its tests "+n(tests)+" and "+n(ownTests), "")
}
