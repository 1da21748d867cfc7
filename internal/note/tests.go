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

func (l *loader) readTest(r *reader, d *deviceFile, e *entry) {
	id := r.id(e.key, "the test")
	t := trace.Test{ID: trace.TestID(id), Power: trace.Off, Trust: .95}
	if m, ok := r.mapping(e.value, "the test "+id, format.Test); ok {
		l.fillTest(r, d, &t, &m, e.key)
	}
	d.testAt[t.ID] = e.key
	d.Tests = append(d.Tests, t)
}

// fillTest reads the keys of a test; key is its name in the note.
func (l *loader) fillTest(r *reader, d *deviceFile, t *trace.Test, m *mapping, key ast.Node) {
	id := string(t.ID)
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
		t.Power = l.power(r, m, n)
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
			if before := r.text(v, "the test before"); before != "" {
				t.After = append(t.After, trace.TestID(before))
				d.after = append(d.after, after{id, before, v})
			}
		}
	}
	if n, ok := m.get("probes"); ok {
		l.readProbes(r, d, t, n)
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
		r.at(key, "the test “"+id+"” is done live and has no caution", "write caution: and what keeps the repairer safe")
	}
	if n, ok := m.need("reads"); ok {
		d.bandAt[t.ID] = map[trace.ReadingID]ast.Node{}
		d.misread = false
		t.Reads, t.Kind = l.bands(r, d, t, n)
		if d.misread {
			d.unbound[id] = true
		}
	}
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
		if !IsName(string(b.ID)) {
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
