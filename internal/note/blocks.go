package note

import (
	"bytes"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"sort"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc"
	"faultleaf/calc/blocks"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/format"
	"faultleaf/internal/problem"
)

// Block is a content/blocks/ note: one kind of block, which devices are made of.
// Its body is what stands before the texts of its faults; like them it is filled
// with the words and the plate of an example.
type Block struct {
	Document
	Kind    *blocks.Kind
	Example *trace.Device // the block alone, with the plate that the note gives as an example
	Plate   []Plate       // of the example
	Faults  []BlockFault  // in the order of the note
}

// BlockFault is a common fault as the block's own page tells it.
type BlockFault struct {
	Document
	Cause trace.CauseID // in the example
}

// Common says which common fault a fault note is about.
type Common struct {
	Block, Fault string // names of the block note and of the fault in it
	// Refined tells that the device's own files say something of it.
	Refined bool
	// Shared is the block's text where the device's own note has replaced it.
	Shared bool
}

// Expansion is a note as it stands without common blocks.
type Expansion struct{ File, Text string }

// planned is a device that is made of common blocks, until all notes are read.
type planned struct {
	d   *deviceFile
	m   mapping
	own []ownNote
}

type ownNote struct {
	f *faultFile
	m mapping
}

// expanded begins the names of notes that stand in no file: what is wrong in
// them is told at the place that it came from.
const expanded = "expanded:"

// source knows where each piece of an expanded note came from.
type source struct {
	device string
	front  []blocks.Origin
	body   blocks.Place // of the body's first line; nowhere if the note's own
	line   int          // of the body in the expanded note
}

// readBlock reads a block note.
func (l *loader) readBlock(file string) {
	b := &Block{}
	r := &reader{file: file, problems: &l.mistakes, unfilled: &l.unfilled, effort: &l.effort}
	b.Document.Kind, b.File = KindBlock, file
	b.Name = strings.TrimSuffix(path.Base(file), ".md")
	b.ID = "blocks/" + b.Name
	b.Title = b.Name
	k := &blocks.Kind{Name: b.Name, Texts: map[string]blocks.Section{}}
	b.Kind = k
	l.set.Blocks = append(l.set.Blocks, b)
	l.docs[file] = &b.Document
	l.library.Kinds[b.Name] = k
	raw, ok := l.readFile(r)
	if !ok {
		return
	}
	front, text, ok := r.split(raw)
	if !ok {
		return
	}
	k.Texts = sections(file, string(text), 3+bytes.Count(front, []byte("\n")))
	m, ok := r.parse(string(front), format.Block)
	if !ok {
		return
	}
	b.status(&m)
	l.readFormer(&b.Document, &m)
	if t := m.text("title"); t != "" {
		b.Title = t
	}
	k.Note = r.treeOf(m)
}

// sections parts a block note's body: a heading that is a fault's name begins
// its text; the headings below it move up.
func sections(file, text string, line int) map[string]blocks.Section {
	out := map[string]blocks.Section{}
	id, from := "", line
	var b strings.Builder
	end := func() {
		if _, twice := out[id]; !twice {
			out[id] = blocks.Section{Text: b.String(), At: blocks.Place{File: file, Line: from, Column: 1}}
		}
		b.Reset()
	}
	fenced := false
	for i, s := range strings.SplitAfter(text, "\n") {
		if strings.HasPrefix(s, "```") {
			fenced = !fenced
		}
		name, heading := strings.CutPrefix(strings.TrimSpace(s), "## ")
		if heading && IsName(name) && !fenced {
			end()
			id, from = name, line+i+1
			continue
		}
		if !fenced && id != "" && strings.HasPrefix(s, "###") {
			s = s[1:]
		}
		b.WriteString(s)
	}
	end()
	return out
}

// treeOf turns a note's front matter into a plain tree that keeps its places. It
// leaves out, and reports, what the tables do not know.
func (r *reader) treeOf(m mapping) blocks.Tree {
	return r.groupTree(m, format.Value{Shape: format.Group, Keys: m.keys})
}

func (r *reader) groupTree(m mapping, v format.Value) blocks.Tree {
	t := blocks.Tree{Fields: []blocks.Field{}}
	if m.node != nil {
		t.At = r.whereIs(m.node)
	}
	keys, of, ok := v.Inside()
	m.uncut(keys)
	for i, e := range m.entries {
		if r.over = nil; i > 0 {
			r.over = m.entries[i-1]
		}
		inside := format.Value{}
		switch k := keys.Find(e.name); {
		case k == nil && of != nil:
			inside = *of
		case ok && !r.knows(keys, e, true):
			continue
		case k != nil:
			inside = k.Value
		}
		t.Fields = append(t.Fields, blocks.Field{Name: e.name, Value: r.tree(e.value, inside), At: r.whereIs(e.key)})
	}
	r.over = nil
	return t
}

func (r *reader) whereIs(n ast.Node) blocks.Place {
	line, column := r.place(n)
	return blocks.Place{File: r.file, Line: line, Column: column}
}

func (r *reader) tree(n ast.Node, v format.Value) blocks.Tree {
	n = r.plain(n)
	if isEmpty(n) {
		return blocks.Tree{}
	}
	if _, ok := mapValues(n); ok {
		m, _ := r.group(n, "this")
		return r.groupTree(m, v)
	}
	t := blocks.Tree{At: r.whereIs(n)}
	if s, ok := n.(*ast.SequenceNode); ok {
		t.List = []blocks.Tree{}
		for _, item := range r.list(s) {
			t.List = append(t.List, r.tree(item, v.Item()))
		}
		return t
	}
	t.Text = r.scalar(n, "this")
	return t
}

// hold keeps a device that is made of common blocks until all notes are read.
func (l *loader) hold(d *deviceFile, m mapping, r *reader) bool {
	quiet := *r // what is wrong is told when the note is read
	quiet.problems = &problem.List{}
	chain := m
	chain.entries = slices.DeleteFunc(slices.Clone(m.entries), func(e *entry) bool { return e.name != "blocks" })
	tree := quiet.treeOf(chain)
	if !blocks.Common(tree) {
		return false
	}
	ways, _ := tree.Get("blocks")
	d.Uses = slices.DeleteFunc(named(ways), func(name string) bool { return l.doc("content/blocks/"+name+".md") == nil })
	l.planned[d.Name] = &planned{d: d, m: m}
	l.plans = append(l.plans, d.Name)
	d.unsure = map[string]bool{"*": true} // until it is expanded
	return true
}

// holdFault keeps a fault note of such a device.
func (l *loader) holdFault(f *faultFile, m mapping) bool {
	device := ""
	for _, e := range m.entries {
		if n, ok := e.value.(*ast.StringNode); ok && e.name == "device" {
			device = l.now(n.Value)
		}
	}
	p, ok := l.planned[device]
	if !ok {
		return false
	}
	f.Device = device
	l.deviceOf[&f.Document] = device
	p.own = append(p.own, ownNote{f, m})
	return true
}

// readLibrary looks through the block notes once all are read, each by itself.
func (l *loader) readLibrary() {
	for _, c := range l.set.Complaints {
		l.library.Complaints = append(l.library.Complaints, blocks.Complaint{ID: c.ID, Says: c.Says, Run: c.Needs == "run"})
	}
	for _, b := range l.set.Blocks {
		for _, x := range b.Kind.Check(&l.library) {
			l.tell(x, "")
		}
	}
	for _, b := range l.set.Blocks {
		plate, _ := b.Kind.Note.Get("example")
		for _, p := range plate.Fields {
			b.Plate = append(b.Plate, Plate{p.Name, quantity.Spaced(p.Value.Text)})
		}
	}
	if len(l.sound) != len(l.set.Blocks) {
		l.sound = nil
	}
	if l.sound == nil {
		l.readExamples()
	}
}

func (l *loader) readExamples() {
	for _, b := range l.set.Blocks {
		l.example(b)
	}
}

// expand puts the devices that are made of common blocks together, and reads
// them as if they had been written without.
func (l *loader) expand() {
	for _, name := range l.plans {
		p := l.planned[name]
		plan := blocks.Plan{Name: name, Note: p.d.r.treeOf(p.m)}
		for _, o := range p.own {
			if o.f.Draft && o.m.has("like") {
				continue // the common fault stands as its block says until this is filled in
			}
			n := blocks.Note{Name: o.f.Name, Note: o.f.r.treeOf(o.m)}
			if b, ok := l.byDoc[&o.f.Document]; ok {
				n.Text = blocks.Section{Text: string(o.f.Source), At: blocks.Place{File: o.f.File, Line: b.line, Column: 1}}
			}
			plan.Own = append(plan.Own, n)
		}
		x := blocks.Expand(plan, &l.library, l.compute)
		for _, r := range x.Remarks {
			l.tell(r, name)
		}
		l.readExpanded(p, x)
	}
	sort.SliceStable(l.set.Faults, func(i, j int) bool { return l.set.Faults[i].Name < l.set.Faults[j].Name })
	sort.SliceStable(l.faults, func(i, j int) bool { return l.faults[i].Name < l.faults[j].Name })
}

// tell passes on what the expansion has to say.
func (l *loader) tell(x blocks.Remark, device string) {
	list := &l.remarks
	if x.Mistake {
		list = &l.mistakes
	}
	at := x.At
	for _, p := range *list { // of the block by itself, it need not be said for each device
		if p == (problem.Problem{File: at.File, Line: at.Line, Column: at.Column, Says: x.Says, Do: x.Do, Root: x.Root}) {
			return
		}
	}
	if d, ok := l.devices[device]; ok {
		if at.File == "" {
			at = blocks.Place{File: d.File, Line: 1, Column: 1}
		}
		p := problem.Problem{File: at.File, Line: at.Line, Column: at.Column, Says: x.Says}
		if l.unplated(&p, device) {
			x.Says, x.Do = strings.TrimSuffix(x.Says, "; "+calc.AddToPlate), calc.AddToPlate
			at = blocks.Place{File: p.File, Line: p.Line, Column: p.Column}
		}
		x.Says += l.named(at.File, device)
	}
	if x.Root {
		list.AddRoot(at.File, at.Line, at.Column, x.Says, x.Do)
		return
	}
	list.Add(at.File, at.Line, at.Column, x.Says, x.Do)
}

// named names the device, where the place is in no note of its own.
func (l *loader) named(file, device string) string {
	if device != "" && strings.HasPrefix(file, "content/blocks/") {
		return ", on the device “" + device + "”"
	}
	return ""
}

// readExpanded reads an expanded device and its faults.
func (l *loader) readExpanded(p *planned, x blocks.Expanded) {
	d := p.d
	d.unsure = maps.Clone(p.m.damaged)
	if x.Lost {
		for _, key := range []string{"blocks", "symptoms", "access", "tests"} {
			d.unsure[key] = true
		}
	}
	m, r, text := l.front(d.File, d.Name, x.Note, format.Device)
	d.r = r
	d.Expanded = append(d.Expanded, Expansion{d.File, text})
	l.fillDevice(d, m, r)
	d.Kinds, d.Brought = map[trace.BlockID]string{}, map[trace.TestID]BlockTest{}
	for _, e := range x.Entries {
		if e.Kind != nil {
			d.Kinds[trace.BlockID(e.ID)] = e.Kind.Name
		}
	}
	for _, t := range x.Tests {
		d.Brought[trace.TestID(t.ID)] = BlockTest{t.Kind, t.Name}
	}
	own := map[string]ownNote{}
	for _, o := range p.own {
		own[o.f.Name] = o
	}
	d.Names.causes = map[string]string{}
	for _, xf := range x.Faults {
		f := own[xf.ID].f
		if f == nil {
			f = &faultFile{Fault: &Fault{}}
			f.Kind, f.File = KindFault, "content/faults/"+xf.ID+".md"
			f.Name, f.ID, f.Title = xf.ID, "faults/"+xf.ID, xf.ID
			f.Device, f.Made = d.Name, "content/blocks/"+xf.Kind+".md"
			l.deviceOf[&f.Document] = d.Name
			l.set.Faults = append(l.set.Faults, f.Fault)
			l.faults = append(l.faults, f)
			if other := l.doc(f.File); other != nil {
				l.mistakes.Add(other.File, 1, 1, "a common fault of the device “"+d.Name+"” has this note's name", "say like: "+xf.Short+" where the note refines it, or give it another name")
			}
			l.docs[f.File] = &f.Document
		}
		if _, refines := own[xf.ID]; refines && f.Draft && !xf.Own {
			f.Draft, f.Made = false, "content/blocks/"+xf.Kind+".md"
			l.remarks.Add(f.File, 1, 1, "the note is a draft, so the common fault stands as its block says it", "fill it in, and take draft: out")
		}
		delete(own, xf.ID)
		d.Names.causes[xf.Short] = xf.ID
		if xf.Kind != "" {
			f.Common = &Common{Block: xf.Kind, Fault: xf.Like, Refined: xf.Own, Shared: xf.Shared.Text != ""}
		}
		m, r, text := l.front(f.File, d.Name, xf.Note, format.Fault)
		d.Expanded = append(d.Expanded, Expansion{f.File, text + "---\n" + xf.Text.Text})
		f.r = r
		if t := m.text("title"); t != "" {
			f.Title = t
		}
		l.fillFault(f, m, r)
		if xf.Kind != "" && xf.Text.At.File != f.File {
			l.fillBody(&f.Document, r.file, xf.Text, text)
		}
	}
	for _, o := range own { // its note could not be placed; what is wrong has been said
		o.f.Cause.ID, o.f.Cause.Title = trace.CauseID(o.f.Name), o.f.Title
	}
}

// front reads the front matter of an expanded note.
func (l *loader) front(file, device string, t blocks.Tree, keys format.Keys) (mapping, *reader, string) {
	w := blocks.Write(t)
	r := &reader{file: expanded + file, problems: &l.mistakes, raw: []byte(w.Text), told: l.toldKeys}
	l.sources[r.file] = &source{device: device, front: w.Places}
	m, _ := r.parse(w.Text, keys)
	return m, r, w.Text
}

// fillBody gives a document the text of a block note.
func (l *loader) fillBody(d *Document, file string, s blocks.Section, front string) {
	src := l.sources[file]
	src.body, src.line = s.At, 2+strings.Count(front, "\n")
	b := l.parseBody(d, []byte(s.Text), src.line)
	b.file, b.common = file, true
	if old, ok := l.byDoc[d]; ok {
		*old = *b
		return
	}
	l.bodies, l.byDoc[d] = append(l.bodies, b), b
}

// trueplaces tells what is wrong in expanded notes at the places that it came
// from.
func (l *loader) truePlaces(list problem.List) {
	for i := range list {
		l.truePlace(&list[i])
		list[i].Of = l.whose(list[i].File)
	}
}

// whose is the device whose note, fault or sheet a file is; "" where it is no device's.
func (l *loader) whose(file string) string {
	switch path.Dir(file) {
	case "content/devices":
		return strings.TrimSuffix(path.Base(file), ".md")
	case "content/faults":
		return l.deviceOf[l.docs[file]]
	case "content/jobs":
		return l.sheetOf[file]
	}
	return ""
}

func (l *loader) truePlace(p *problem.Problem) {
	src, ok := l.sources[p.File]
	if !ok && l.shared != nil {
		src, ok = l.shared.sources[p.File]
	}
	if !ok {
		return
	}
	at := blocks.Place{File: strings.TrimPrefix(p.File, expanded)}
	if src.line > 0 && p.Line >= src.line {
		at = src.body
		at.Line, at.Column = at.Line+p.Line-src.line, p.Column
	} else {
		for _, o := range src.front {
			if o.Line < p.Line || o.Line == p.Line && o.Column <= p.Column {
				at = o.From
			}
		}
	}
	p.File, p.Line, p.Column = at.File, at.Line, at.Column
	if says, ok := strings.CutSuffix(p.Says, "; "+calc.AddToPlate); ok && l.unplated(p, src.device) {
		p.Says, p.Do = says, calc.AddToPlate
		return
	}
	if l.doc(at.File) == nil { // of a note that stands nowhere: its device is nearest
		if d, ok := l.devices[src.device]; ok {
			p.File = d.File
		}
	}
	p.Says += l.named(at.File, src.device)
}

// unplated moves what was told of a line that a device's plate lacks to that plate, so that it is told once and
// not at each text of a block that asks for it.
func (l *loader) unplated(p *problem.Problem, device string) bool {
	planned, ok := l.planned[device]
	if !ok || !strings.HasPrefix(p.File, "content/blocks/") || !blocks.OfPlate(p.Says) {
		return false
	}
	for _, e := range planned.m.entries {
		if e.name == "plate" && !isEmpty(e.value) {
			p.File = planned.d.File
			p.Line, p.Column = planned.m.r.place(e.value)
			return true
		}
	}
	return false
}

// onDevice is how a mistake in a block's note names the device on which it was found.
var onDevice = regexp.MustCompile(`, on the device “([^”]+)”$`)

// gathered tells what is wrong in a block's note once, and not again for each
// device that is made of it.
func gathered(list problem.List) problem.List {
	type told struct {
		file, says, do string
		line, column   int
	}
	first := map[told]int{}
	devices := map[int][]string{}
	kept := list[:0]
	for _, p := range list {
		device := ""
		if m := onDevice.FindStringSubmatch(p.Says); m != nil && strings.HasPrefix(p.File, "content/blocks/") {
			device = m[1]
		}
		says := onDevice.ReplaceAllString(p.Says, "")
		key := told{p.File, says, p.Do, p.Line, p.Column}
		at, again := first[key]
		if !again || !strings.HasPrefix(p.File, "content/blocks/") {
			first[key] = len(kept)
			at = len(kept)
			if device != "" {
				p.Says = says
			}
			kept = append(kept, p)
			if device == "" {
				devices[at] = nil
				continue
			}
		}
		if of, ok := devices[at]; device != "" && (!ok || of != nil) {
			devices[at] = append(of, device)
		} else if device == "" {
			devices[at] = nil // it is said of the block by itself
		}
	}
	for at, of := range devices {
		slices.Sort(of)
		of = slices.Compact(of)
		kept[at].On = strings.Join(of, " ")
		switch n := len(of); {
		case n == 0:
		case n == 1:
			kept[at].Says += ", on the device “" + of[0] + "”"
		case n <= 3:
			kept[at].Says += ", on the devices “" + strings.Join(of, "”, “") + "”"
		default:
			kept[at].Says += fmt.Sprintf(", on the devices “%s” and %d others", strings.Join(of[:2], "”, “"), n-2)
		}
	}
	return kept
}

// again marks what was told of another note of the same device in the same words, of a name that the device no
// longer has: whoever gave a symptom another name has made one slip.
func again(list problem.List) problem.List {
	type told struct{ of, says, do string }
	first := map[told]bool{}
	for i, p := range list {
		if p.Of != "" && path.Dir(p.File) != "content/devices" && noMore.MatchString(p.Says) {
			key := told{p.Of, p.Says, p.Do}
			list[i].Again = first[key]
			first[key] = true
		}
	}
	return list
}

// noMore is what is said of a name that a device does not have.
var noMore = regexp.MustCompile(`^(?:there is no (?:symptom|test|block|access) “[^”]+” on this device|the test “[^”]+” has no reading “[^”]+”)$`)

// example fills a block's own page: the block alone, between a source and some
// work. Mistakes in it are kept apart, for a device that uses the block tells them too.
func (l *loader) example(b *Block) {
	k := b.Kind
	entry := blocks.Tree{Fields: []blocks.Field{{Name: "is", Value: blocks.Text(k.Name)}}}
	if options, ok := k.Note.Get("options"); ok {
		entry.Set("has", options)
	}
	name := "example-of-" + k.Name
	id := strings.ReplaceAll(k.Name, " ", "-")
	one := func(id string, t blocks.Tree) blocks.Tree {
		return blocks.Tree{Fields: []blocks.Field{{Name: id, Value: t}}}
	}
	own := func(work string) blocks.Tree {
		t := blocks.Tree{Fields: []blocks.Field{{Name: "carries", Value: blocks.Text("current")}, {Name: "ohms", Value: blocks.Text("through")}}}
		if work == "" {
			t.Set("source", blocks.Text("true"))
		} else {
			t.Set("work", blocks.Text(work))
		}
		return t
	}
	chain := blocks.Tree{List: []blocks.Tree{}}
	if !k.Source() {
		chain.List = append(chain.List, one("supply", own("")))
	}
	chain.List = append(chain.List, one(id, entry))
	if k.Note.Str("work") == "" {
		chain.List = append(chain.List, one("work", own("heat")))
	}
	note := blocks.Tree{Fields: []blocks.Field{{Name: "title", Value: blocks.Text("Device")}, {Name: "class", Value: blocks.Text("I")}}}
	plate, _ := k.Note.Get("example")
	if len(plate.Fields) > 0 {
		note.Set("plate", plate)
	}
	note.Set("blocks", chain)
	note.Set("symptoms", blocks.Tree{Fields: []blocks.Field{{Name: "dead", Value: blocks.Text("Nothing happens")}}})
	x := blocks.Expand(blocks.Plan{Name: name, Note: note}, &l.library, l.compute)
	mistakes, remarks := l.mistakes, l.remarks
	l.mistakes, l.remarks = nil, nil
	for _, r := range x.Remarks {
		if r.Mistake {
			l.tell(r, "")
		}
	}
	before := len(l.symptoms)
	d := newDeviceFile()
	d.Name, d.Kind, d.File = name, KindDevice, b.File
	m, r, _ := l.front(b.File, "", x.Note, format.Device)
	l.fillDevice(d, m, r)
	l.symptoms = l.symptoms[:before]
	b.Example = &trace.Device{ID: name, Title: b.Title, Blocks: d.Blocks, Symptoms: d.Symptoms, Access: d.Access, Points: d.Points, Tests: d.Tests}
	l.plates[&b.Document] = d.plate
	if s, ok := k.Texts[""]; ok {
		l.sources[expanded+b.File+"#"] = &source{}
		l.fillBody(&b.Document, expanded+b.File+"#", s, "")
	}
	for i, xf := range x.Faults {
		f := &faultFile{Fault: &Fault{}}
		f.Name, f.File, f.Kind = xf.ID, b.File, KindFault
		m, r, text := l.front(b.File+"#"+xf.Like, "", xf.Note, format.Fault)
		f.Title = m.text("title")
		f.r = r
		l.fillFault(f, m, r)
		l.crossWith(f, d)
		b.Example.Causes = append(b.Example.Causes, f.Cause)
		bf := BlockFault{Document: Document{Kind: KindBlock, Name: xf.Like, ID: b.ID, File: b.File, Title: f.Title}, Cause: f.Cause.ID}
		b.Faults = append(b.Faults, bf)
		l.exampleTexts = append(l.exampleTexts, exampleText{b, i, r.file, xf.Text, text})
		delete(l.deviceOf, &f.Document)
	}
	l.examples[b] = l.mistakes
	l.mistakes, l.remarks = mistakes, remarks
}

// exampleText is a common fault's text until its block's list of faults has
// stopped moving.
type exampleText struct {
	b     *Block
	fault int
	file  string
	text  blocks.Section
	front string
}

// exampleBodies reads the texts of the blocks' own pages.
func (l *loader) exampleBodies() {
	for _, x := range l.exampleTexts {
		d := &x.b.Faults[x.fault].Document
		l.plates[d] = l.plates[&x.b.Document]
		l.fillBody(d, x.file, x.text, x.front)
	}
}

// Block finds a block note by name.
func (s *Set) Block(name string) (*Block, bool) {
	for _, b := range s.Blocks {
		if b.Name == name {
			return b, true
		}
	}
	return nil, false
}

// commonLink leads a link to a block's fault to that fault of the same device.
func (l *loader) commonLink(b *body, to string) string {
	file, anchor, _ := strings.Cut(to, "#")
	target := path.Join(path.Dir(b.doc.File), file)
	device := l.deviceOf[b.doc]
	name := strings.TrimSuffix(path.Base(file), ".md")
	if block := l.doc("content/blocks/" + name + ".md"); block != nil && (path.Dir(file) == "." || path.Dir(target) == "content/blocks") && l.docs[target] != b.doc {
		for _, f := range l.set.Faults {
			if anchor != "" && device != "" && f.Device == device && f.Common != nil && f.Common.Block == name && f.Common.Fault == anchor {
				return relative(b.doc.File, f.File)
			}
		}
		if l.doc(target) == nil {
			b.doc.Led = append(b.doc.Led, Led{From: target})
			to := relative(b.doc.File, block.File)
			if anchor != "" {
				to += "#" + anchor
			}
			return to
		}
		return to
	}
	if l.doc(target) != nil || !strings.HasSuffix(file, ".md") {
		return to
	}
	if new, ok := l.movedTo(target); ok { // it was called otherwise once
		b.doc.Led = append(b.doc.Led, Led{target, new})
		return relative(b.doc.File, new)
	}
	if d, ok := l.devices[device]; ok && path.Dir(target) == "content/faults" { // short, where the device is known
		if id, ok := d.Names.causes[name]; ok {
			b.doc.Led = append(b.doc.Led, Led{From: target})
			return relative(b.doc.File, "content/faults/"+id+".md")
		}
	}
	return to
}

// relative is the way from one note to another.
func relative(from, to string) string {
	if path.Dir(from) == path.Dir(to) {
		return path.Base(to)
	}
	return "../" + strings.TrimPrefix(to, "content/")
}
