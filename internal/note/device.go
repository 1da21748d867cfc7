package note

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc"
	"faultleaf/calc/blocks"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
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
		if !isName(e.name) {
			r.at(e.key, "the plate's “"+e.name+"” is not a plain name", "use small letters, digits and hyphens")
		}
		v := r.text(e.value, "the plate's "+e.name)
		d.Plate = append(d.Plate, Plate{e.name, v})
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

func (l *loader) readTests(r *reader, d *deviceFile, n ast.Node) {
	tests, ok := r.mapping(n, "the tests", nil)
	if !ok {
		d.unsure["tests"] = true
		return
	}
	for _, e := range tests.entries {
		if _, ok := mapValues(e.value); !ok && format.Test.Find(e.name) != nil {
			says, do := blocks.Nameless(e.name, "tests")
			r.root(e.key, says, do)
			d.unsure["tests"] = true
			break
		}
		l.readTest(r, d, e)
	}
	for i := range d.Tests { // once the list grows no more
		d.tests[string(d.Tests[i].ID)] = &d.Tests[i]
	}
	l.orderTests(r, d)
}

// readGood reads what a sound device shows on each test, which must fall into that
// test's healthy band.
func readGood(r *reader, d *deviceFile, n ast.Node) {
	good, ok := r.mapping(n, "good", nil)
	if !ok {
		return
	}
	for _, e := range good.entries {
		t, ok := d.tests[e.name]
		if !ok {
			if !d.lost("tests") {
				r.at(e.key, "there is no test "+quote(e.name)+" on this device", hint(e.name, keys(d.tests)))
			}
			continue
		}
		t.Good = r.text(e.value, "the good reading of "+e.name)
		if t.Good == "" || len(t.Reads) == 0 || d.unbound[e.name] {
			continue
		}
		if fits, err := trace.ParseReading(t, t.Good); err != nil {
			r.at(e.value, err.Error(), "write a reading's name or a measured value")
		} else if len(fits) == 0 || !isHealthy(t, fits[0].Reading) {
			r.at(e.value, "the good reading "+t.Good+" does not fall into the healthy band of "+e.name, "check the band or the reading")
		}
	}
}

func isHealthy(t *trace.Test, id trace.ReadingID) bool {
	for _, b := range t.Reads {
		if b.ID == id {
			return b.Healthy
		}
	}
	return false
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

// readProbes reads between which two points a test measures.
func (l *loader) readProbes(r *reader, d *deviceFile, t *trace.Test, n ast.Node) {
	items := r.list(n)
	for _, v := range items {
		id := r.text(v, "the point")
		if id == "" {
			return
		}
		p, ok := d.point(id)
		if !ok {
			if !d.lost("blocks") && !d.lost("points") {
				r.at(v, "there is no point “"+id+"” on this device", "a block has BLOCK-in, BLOCK-out and BLOCK-return, the plug line, neutral and earth, and there is metal; name others under points:")
			}
			return
		}
		t.Probes = append(t.Probes, p)
	}
	if len(items) != 2 {
		r.at(n, "a meter has two probes, not "+quantity.Number(float64(len(items))), "name two points, like [line, neutral]")
		t.Probes = nil
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

func (l *loader) readTest(r *reader, d *deviceFile, e *entry) {
	id := r.id(e.key, "the test")
	t := trace.Test{ID: trace.TestID(id), Power: trace.Off, Trust: .95}
	m, ok := r.mapping(e.value, "the test "+id, format.Test)
	if ok {
		t.Ask = m.text("ask")
		if n, ok := m.need("covers"); ok {
			items := r.list(n)
			if len(items) == 0 {
				r.at(n, "the test “"+id+"” covers nothing", "list the blocks that it tells about, like [cord, switch]")
			}
			for _, v := range items {
				b := r.text(v, "the block")
				if l.declared(r, v, "block", b, d.blocks, d.lost("blocks")) {
					t.Covers = append(t.Covers, trace.BlockID(b))
				}
			}
		}
		if n, ok := m.get("needs"); ok {
			for _, v := range r.list(n) {
				a := r.text(v, "the access")
				if l.declared(r, v, "access", a, d.access, d.lost("access")) {
					t.Needs = append(t.Needs, trace.AccessID(a))
				}
			}
		}
		if n, ok := m.need("power"); ok {
			t.Power = l.power(r, &m, n)
		}
		t.Minutes = m.number("minutes", 0)
		if n, ok := m.get("with"); ok {
			for _, v := range r.list(n) {
				if id := r.id(v, "the instrument"); id != "" && l.instrument(r, v, id) {
					t.With = append(t.With, id)
				}
			}
		}
		t.Waits = m.number("waits", 0)
		if n, ok := m.get("harms"); ok {
			if h, ok := r.mapping(n, "harms", format.Harms); ok {
				t.Harms.Chance = h.number("chance", 0)
				t.Harms.Cost = h.number("cost", 0)
			}
		}
		if n, ok := m.get("while"); ok {
			for _, v := range r.list(n) {
				t.While = append(t.While, m.wordOf("while", v))
			}
		}
		t.Trust = m.number("trust", t.Trust)
		t.MeterError = m.number("meter", 0)
		t.Proves = m.word("proves")
		if n, ok := m.get("after"); ok {
			for _, v := range r.list(n) {
				if id := r.text(v, "the test before"); id != "" {
					t.After = append(t.After, trace.TestID(id))
					d.after = append(d.after, after{string(t.ID), id, v})
				}
			}
		}
		if n, ok := m.get("probes"); ok {
			l.readProbes(r, d, &t, n)
		}
		if n, ok := m.get("apart"); ok {
			b := r.text(n, "the block")
			if l.declared(r, n, "block", b, d.blocks, d.lost("blocks")) {
				t.Apart = trace.BlockID(b)
			}
		}
		t.ByEye = m.flag("by_eye")
		t.Caution = m.text("caution")
		if t.Caution == "" && (t.Power == trace.Mains || t.Power == trace.Isolated) {
			r.at(e.key, "the test “"+id+"” is done live and has no caution", "write caution: and what keeps the repairer safe")
		}
		if n, ok := m.need("reads"); ok {
			d.bandAt[t.ID] = map[trace.ReadingID]ast.Node{}
			d.misread = false
			t.Reads, t.Kind = l.bands(r, d, &t, n)
			if d.misread {
				d.unbound[id] = true
			}
		}
	}
	d.testAt[t.ID] = e.key
	d.Tests = append(d.Tests, t)
}

// instrument checks a name that a test asks for against the shop's instruments.
// A shop need not have every instrument, so only a near miss is a slip.
func (l *loader) instrument(r *reader, n ast.Node, id string) bool {
	var ids []string
	for _, i := range l.set.Shop.Instruments {
		if i.ID == id {
			return true
		}
		ids = append(ids, i.ID)
	}
	if near := nearest(id, ids); near != "" {
		r.at(n, "there is no instrument "+quote(id)+" in this shop", "did you mean “"+near+"”")
		return false
	}
	return true
}

// limited is the power state of notes written before low-voltage and series-lamp
// were parted. It is read as the stricter of the two.
const limited = "limited"

func (l *loader) power(r *reader, m *mapping, n ast.Node) trace.Power {
	p := trace.Power(m.wordOf("power", n))
	if p == limited {
		line, column := r.place(n)
		l.remarks.Add(r.file, line, column, "“limited” is read as series-lamp, which is the mains", "write series-lamp, or low-voltage for a source of at most 25 V AC or 60 V DC that is isolated from the mains")
		p = trace.SeriesLamp
	}
	if (p == trace.LowVoltage || p == trace.SeriesLamp) && l.set.Shop.PowerMinutes == nil && !l.shopless {
		r.at(n, "the shop does not say how long it takes to set up "+trace.Plain(string(p))+" power", "add power_minutes to content/shop.yaml")
	}
	return p
}

// orderTests checks which test must come after which: each is there, and none
// waits for itself.
func (l *loader) orderTests(r *reader, d *deviceFile) {
	first := map[string][]string{}
	for _, a := range d.after {
		if d.tests[a.before] == nil {
			if !d.lost("tests") {
				r.at(a.at, "there is no test "+quote(a.before)+" on this device", hint(a.before, keys(d.tests)))
			}
			continue
		}
		first[a.test] = append(first[a.test], a.before)
		seen := map[string]bool{}
		var reaches func(id string) bool
		reaches = func(id string) bool {
			if id == a.test {
				return true
			}
			if seen[id] {
				return false
			}
			seen[id] = true
			for _, b := range first[id] {
				if reaches(b) {
					return true
				}
			}
			return false
		}
		if reaches(a.before) {
			r.at(a.at, "the test “"+a.test+"” waits for itself", "let one of the two come first")
			first[a.test] = first[a.test][:len(first[a.test])-1]
			t := d.tests[a.test]
			kept := t.After[:0]
			for _, id := range t.After {
				if string(id) != a.before {
					kept = append(kept, id)
				}
			}
			t.After = kept
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
		if isName(strings.TrimSuffix(a, ".yaml")) {
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

// bands reads what a test may read.
func (l *loader) bands(r *reader, d *deviceFile, t *trace.Test, n ast.Node) ([]trace.Band, quantity.Kind) {
	var out []trace.Band
	var spans []reading.Span
	nodes := map[int]ast.Node{} // where the span of a reading is written
	seen := map[string]bool{}
	healthy := 0
	for _, v := range r.list(n) {
		b := trace.Band{}
		var at, value, forbids ast.Node = v, nil, nil
		if _, ok := mapValues(v); ok {
			m, _ := r.group(v, "the reading")
			m.keys = format.Reading
			b.Healthy = m.flag("healthy")
			b.Forbids = strings.TrimSuffix(m.text("forbids"), ".")
			for _, e := range m.entries {
				switch {
				case e.name == "forbids":
					forbids = e.key
				case m.keys.Find(e.name) != nil:
				case b.ID != "" && nearest(e.name, m.keys.Names(true)) != "":
					r.knows(m.keys, e, true)
				case b.ID != "":
					r.at(e.key, "a reading has one name; "+quote(e.name)+" is a second one", "begin a new line with - for it")
				default:
					b.ID = trace.ReadingID(r.id(e.key, "the reading"))
					at, value = e.key, e.value
				}
			}
		} else {
			b.ID = trace.ReadingID(r.id(v, "the reading"))
		}
		if b.ID == "" {
			r.at(v, "this reading has no name", "write it like {open: above 10 kΩ}")
			continue
		}
		if !isName(string(b.ID)) {
			continue // told as its name was read
		}
		if seen[string(b.ID)] {
			r.at(at, "the reading “"+string(b.ID)+"” stands here twice", "give each its own name")
		}
		seen[string(b.ID)] = true
		if b.Healthy {
			healthy++
			if b.Forbids != "" {
				r.at(forbids, "a healthy reading forbids nothing", "write forbids: beside a reading that makes power dangerous")
			}
		}
		d.bandAt[t.ID][b.ID] = at
		s := reading.Span{Name: string(b.ID)}
		if !isEmpty(value) {
			nodes[len(spans)] = value
			if text := r.scalar(value, "the reading "+string(b.ID)); text != "" {
				var wrong *reading.Wrong
				if s, wrong = reading.ParseSpan(string(b.ID), text); wrong != nil {
					d.misread = true
					r.at(value, wrong.Error(), wrong.Do)
					s = reading.Span{Name: string(b.ID)}
				}
			}
		}
		b.Op, b.Link = s.Op, s.Address
		spans = append(spans, s)
		out = append(out, b)
	}
	kind := l.evaluate(r, d, out, spans, nodes)
	if len(r.list(n)) != len(out) {
		return nil, kind // a reading is damaged, so nothing is known of their number and names
	}
	switch {
	case len(out) < 2:
		r.at(n, "a test needs at least two readings", "write what a healthy and what a broken one reads")
	case healthy != 1:
		r.at(n, "exactly one reading must be the healthy one, not "+quantity.Number(float64(healthy)), "mark one with healthy: true")
	}
	return out, kind
}

// evaluate gives the bands their numbers, and reports what is wrong with them
// where they are written.
func (l *loader) evaluate(r *reader, d *deviceFile, bands []trace.Band, spans []reading.Span, nodes map[int]ast.Node) quantity.Kind {
	computed, kind, wrong := reading.Evaluate(spans, func(address string) (quantity.Value, error) {
		link, err := calc.ParseLink(address)
		if err != nil {
			return quantity.Value{}, &remedied{err, "see the calculator's page for its address"}
		}
		filled, err := l.plated(link, d.plate)
		if d.lost("plate") && (err != nil || takesPlate(link, filled)) {
			return quantity.Value{}, errPlate
		}
		if err != nil {
			return quantity.Value{}, &remedied{err, ""}
		}
		got, err := l.compute(filled)
		if err != nil {
			return quantity.Value{}, &remedied{err, lookUp(err)}
		}
		return got.Value, nil
	})
	for _, w := range wrong {
		if errors.Is(w.Err, errPlate) {
			d.misread = true
			continue
		}
		do := w.Do
		if w.Span > 0 && strings.Contains(w.Error(), "overlap") && (spans[w.Span].Address != "" || spans[w.Span-1].Address != "") {
			do = "their edges are computed: change an input of one, write above or below before its address, or make one reading of the two"
		}
		d.misread = true
		if known := (*remedied)(nil); errors.As(w.Err, &known) {
			do = known.do
		}
		r.at(nodes[w.Span], w.Error(), do)
	}
	for i, b := range computed {
		bands[i].Low, bands[i].High, bands[i].Text = b.Low, b.High, l.set.Shop.Style().Says(b.Text)
	}
	return kind
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
