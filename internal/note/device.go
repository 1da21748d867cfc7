package note

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/blocks"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"

	"faultleaf/internal/format"
)

// deviceFile is a device with what is needed to check the notes about it.
type deviceFile struct {
	*Device
	blocks   map[string]bool
	symptoms map[string]bool
	access   map[string]bool
	tests    map[string]*trace.Test
	plate    map[string]string
	guards   map[string]bool // protective blocks
	after    []after
	testAt   map[trace.TestID]ast.Node
	blockAt  map[trace.BlockID]ast.Node
	accessAt map[trace.AccessID]ast.Node
	bandAt   map[trace.TestID]map[trace.ReadingID]ast.Node

	r         *reader
	alsoAt    []ast.Node // where the names stand
	symptomAt map[trace.SymptomID]ast.Node
	told      map[trace.SymptomID]bool // symptoms that say which complaints they are, or that they are none
	// unsure holds the keys that could not be read: nothing is said about ids
	// that they may declare. "*" is all of them.
	unsure  map[string]bool
	misread bool            // while a test is read: its bands hold a mistake
	unbound map[string]bool // tests with such bands, whose good reading cannot be placed
}

// after says that one test must have read healthy before another.
type after struct {
	test, before string
	at           ast.Node
}

// lost tells whether the ids declared under a key are unknown.
func (d *deviceFile) lost(key string) bool { return d.unsure[key] || d.unsure["*"] }

func newDeviceFile() *deviceFile {
	return &deviceFile{Device: &Device{}, blockAt: map[trace.BlockID]ast.Node{}, accessAt: map[trace.AccessID]ast.Node{}, testAt: map[trace.TestID]ast.Node{}, bandAt: map[trace.TestID]map[trace.ReadingID]ast.Node{}, blocks: map[string]bool{}, symptoms: map[string]bool{}, access: map[string]bool{}, tests: map[string]*trace.Test{}, plate: map[string]string{}, unbound: map[string]bool{}, guards: map[string]bool{}, symptomAt: map[trace.SymptomID]ast.Node{}, told: map[trace.SymptomID]bool{}}
}

func (l *loader) readDevice(file string) {
	d := newDeviceFile()
	m, r, ok := l.begin(file, KindDevice, &d.Document)
	l.devices[d.Name] = d
	l.set.Devices = append(l.set.Devices, d.Device)
	d.unsure, d.r = m.damaged, r
	if !ok {
		d.unsure = map[string]bool{"*": true}
		return
	}
	if l.hold(d, m, r) {
		return
	}
	if d.lost("blocks") { // nobody knows what it is made of, so that hardly anything can be said
		d.unsure["*"] = true
		return
	}
	m.known(false)
	l.fillDevice(d, m, r)
}

// fillDevice reads a device that is written out, or was expanded.
func (l *loader) fillDevice(d *deviceFile, m mapping, r *reader) {
	d.Short = m.text("short")
	d.Family = m.text("family")
	l.readNames(r, d, &m)
	d.Class = m.word("class")
	r.readJudgedAs(d, &m)
	if n, ok := m.get("proofs"); ok {
		for _, v := range r.list(n) {
			if k := r.proofKind(v, r.text(v, "a proof")); k != "" {
				d.Proofs = append(d.Proofs, k)
			}
		}
	}
	d.Price = m.number("price", 0)
	if n, ok := m.get("plate"); ok {
		l.readPlate(r, d, n)
	}
	if n, ok := m.need("blocks"); ok {
		d.Blocks = l.chain(r, d, n)
	} else {
		d.unsure["blocks"] = true
	}
	if n, ok := m.need("symptoms"); ok {
		l.readSymptoms(r, d, n)
	} else {
		d.unsure["symptoms"] = true
	}
	if n, ok := m.get("access"); ok {
		l.readAccess(r, d, n)
	}
	if n, ok := m.get("points"); ok {
		l.readPoints(r, d, n)
	}
	if n, ok := m.get("tests"); ok {
		l.readTests(r, d, n)
	}
	if n, ok := m.get("good"); ok {
		readGood(r, d, n)
	}
}

func (l *loader) readPlate(r *reader, d *deviceFile, n ast.Node) {
	p, ok := r.mapping(n, "the plate", nil)
	if !ok {
		return
	}
	for _, e := range p.entries {
		if !IsName(e.name) {
			r.at(e.key, "the plate's “"+e.name+"” is not a plain name", "use small letters, digits and hyphens")
		}
		v := r.text(e.value, "the plate's "+e.name)
		d.Plate = append(d.Plate, Plate{e.name, quantity.Spaced(v)})
		d.plate[e.name] = v
		if says, do := blocks.PlateWrong(e.name, v); says != "" {
			d.unsure["plate"] = true
			if l.planned[d.Name] == nil { // else it was told with its blocks
				r.at(e.value, says, do)
			}
		}
	}
}

func (l *loader) readSymptoms(r *reader, d *deviceFile, n ast.Node) {
	s, ok := r.mapping(n, "the symptoms", nil)
	if !ok {
		d.unsure["symptoms"] = true
		return
	}
	for _, e := range s.entries {
		id := r.id(e.key, "the symptom")
		d.symptoms[id] = true
		sid := trace.SymptomID(id)
		d.symptomAt[sid] = e.key
		d.Symptoms = append(d.Symptoms, trace.Symptom{ID: sid, Says: l.readSymptom(r, d, e, sid)})
	}
}

// chain reads the blocks; a list inside the list is a branch: its items are the
// parts of one way, or lists, each a way of its own. Lists next to each other
// are ways of the same branch. {cut-out: protective} marks a part that
// protects, so that every fault of it is one of a protective part.
func (l *loader) chain(r *reader, d *deviceFile, n ast.Node) []trace.Block {
	var out []trace.Block
	branches := false // the item before was a list too
	for _, v := range r.list(n) {
		s, nested := v.(*ast.SequenceNode)
		if !nested {
			branches = false
			id, b := "", trace.Block{}
			at := v
			if values, ok := mapValues(v); ok && len(values) == 1 {
				id, at = r.id(values[0].Key, "the block"), values[0].Key
				b = r.aboutBlock(d, id, values[0].Value)
			} else {
				id = r.id(v, "the block")
			}
			if id == "" {
				continue
			}
			b.ID = trace.BlockID(id)
			d.blockAt[b.ID] = at
			if d.blocks[id] {
				r.at(v, "the block “"+id+"” stands in the chain twice", "give each its own name")
			}
			d.blocks[id] = true
			out = append(out, b)
			continue
		}
		if !branches {
			out = append(out, trace.Block{})
		}
		branches = true
		b := &out[len(out)-1]
		lists := false
		for _, w := range s.Values {
			if _, ok := w.(*ast.SequenceNode); ok {
				lists = true
			}
		}
		if lists {
			for _, w := range s.Values {
				b.Branch = append(b.Branch, l.chain(r, d, w))
			}
		} else {
			b.Branch = append(b.Branch, l.chain(r, d, s))
		}
	}
	return out
}

// aboutBlock reads what the chain says of a block: “protective”, or a group with
// protective, share and what a drawing asks.
func (r *reader) aboutBlock(d *deviceFile, id string, n ast.Node) (b trace.Block) {
	if _, ok := mapValues(n); !ok {
		if r.oneOf(n, "what is said of a block", "protective") != "" {
			d.guards[id] = true
		}
		return b
	}
	m, _ := r.mapping(n, "what is said of the block "+id, format.Entry)
	if m.flag("protective") {
		d.guards[id] = true
	}
	b.Share = m.number("share", 0)
	b.Short = m.text("short")
	b.Symbol = m.word("symbol")
	if b.Source = m.word("source"); b.Source == "true" || b.Source == "false" {
		b.Source = map[string]string{"true": "mains"}[b.Source]
	}
	b.Separates = m.flag("separates")
	if m.has("outside") {
		outside := m.flag("outside")
		b.Outside = &outside
	}
	return b
}

// readPoints reads the test points of a device: a name, and words for a point
// that every device has, or words and a place.
func (l *loader) readPoints(r *reader, d *deviceFile, n ast.Node) {
	m, ok := r.mapping(n, "the points", nil)
	if !ok {
		d.unsure["points"] = true
		return
	}
	beside, _ := trace.Sides()
	for _, e := range m.entries {
		p, standard := trace.StandardPoint(e.name, func(b string) bool { return d.blocks[b] })
		p.ID = e.name
		if _, group := mapValues(e.value); !group {
			p.Says = r.text(e.value, "the point "+e.name)
			if !standard && !d.lost("blocks") {
				r.at(e.key, "nothing says where the point “"+e.name+"” lies", "write it like {says: its own live contact, behind: base}")
				continue
			}
			d.Points = append(d.Points, p)
			continue
		}
		g, _ := r.mapping(e.value, "the point "+e.name, format.Point)
		p.Says = g.text("says")
		places := 0
		for _, side := range beside {
			if n, ok := g.get(string(side)); ok {
				b := r.text(n, "the block")
				if l.declared(r, n, "block", b, d.blocks, d.lost("blocks")) {
					p.Block, p.Side = trace.BlockID(b), side
				}
				places++
			}
		}
		if n, ok := g.get("at"); ok {
			p.Block, p.Side = "", trace.Side(g.wordOf("at", n))
			places++
		}
		if places != 1 && !standard {
			r.at(e.key, "the point “"+e.name+"” needs one place", "write before: or behind: and a block, or at: line, neutral, earth or metal")
			continue
		}
		d.Points = append(d.Points, p)
	}
}

// point finds a test point by its name.
func (d *deviceFile) point(id string) (trace.Point, bool) {
	for _, p := range d.Points {
		if p.ID == id {
			return p, true
		}
	}
	return trace.StandardPoint(id, func(b string) bool { return d.blocks[b] })
}

func (l *loader) readAccess(r *reader, d *deviceFile, n ast.Node) {
	m, ok := r.mapping(n, "access", nil)
	if !ok {
		d.unsure["access"] = true
		return
	}
	inside := map[string]string{}
	nodes := map[string]ast.Node{}
	for _, e := range m.entries {
		id := r.id(e.key, "the access")
		a := trace.Access{ID: trace.AccessID(id)}
		d.access[id] = true
		nodes[id] = e.key
		d.accessAt[a.ID] = e.key
		if am, ok := r.mapping(e.value, "the access "+id, format.Access); ok {
			a.Does = am.text("does")
			a.Minutes = am.number("minutes", 0)
			a.Undo = am.number("undo", 0)
			if steps := am.texts("steps"); len(steps) > 0 {
				if d.Steps == nil {
					d.Steps = map[trace.AccessID][]string{}
				}
				d.Steps[a.ID] = steps
			}
			if n, ok := am.get("inside"); ok {
				a.Inside = trace.AccessID(r.text(n, "inside"))
				inside[id] = string(a.Inside)
				nodes[id] = n
			}
			if n, ok := am.get("hides"); ok {
				for _, v := range r.list(n) {
					b := r.text(v, "the block")
					if l.declared(r, v, "block", b, d.blocks, d.lost("blocks")) {
						a.Hides = append(a.Hides, trace.BlockID(b))
					}
				}
			}
			a.Forbidden = am.text("forbidden")
		}
		d.Access = append(d.Access, a)
	}
	for i := range d.Access {
		a := &d.Access[i]
		id := string(a.ID)
		if a.Inside == "" {
			continue
		}
		if !l.declared(r, nodes[id], "access", string(a.Inside), d.access, false) {
			a.Inside = ""
			continue
		}
		for at, steps := inside[id], 0; at != ""; at, steps = inside[at], steps+1 {
			if at == id || steps > len(inside) {
				r.at(nodes[id], "the access “"+id+"” lies inside itself", "let one of them lie inside nothing")
				a.Inside = ""
				inside[id] = ""
				break
			}
		}
	}
}

// declared reports an id that its device does not declare.
func (l *loader) declared(r *reader, n ast.Node, what, id string, among map[string]bool, unsure bool) bool {
	if id == "" {
		return false
	}
	if !among[id] {
		if !unsure {
			r.at(n, "there is no "+what+" "+quote(id)+" on this device", hint(id, keys(among)))
		}
		return false
	}
	return true
}

func hint(id string, among []string) string {
	if near := nearest(id, among); near != "" {
		return "did you mean “" + near + "”"
	}
	var names []string
	for _, a := range among {
		if IsName(strings.TrimSuffix(a, ".yaml")) {
			names = append(names, a)
		}
	}
	switch {
	case len(names) == 0:
		return "declare it in the device's note first"
	case len(names) > 20: // nobody reads a hundred names
		return "it has " + strings.Join(names[:20], ", ") + " and others"
	}
	return "it has " + strings.Join(names, ", ")
}

// errPlate stands for what cannot be computed because the rating plate is wrong, which is told there.
var errPlate = errors.New("the rating plate is wrong")

// remedied is an error with what to do about it.
type remedied struct {
	error
	do string
}

// plateFor is the rating plate that a document may use: the device's own, or
// that of the device a fault belongs to.
func (l *loader) plateFor(doc *Document) (map[string]string, bool) {
	if plate, ok := l.plates[doc]; ok {
		return plate, true
	}
	name := doc.Name
	switch doc.Kind {
	case KindDevice:
	case KindFault:
		name = l.deviceOf[doc]
	default:
		return nil, false
	}
	if d, ok := l.devices[name]; ok {
		return d.plate, true
	}
	return nil, true
}
