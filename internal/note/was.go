package note

import (
	"path"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/trace"
)

// Names resolves what things of a device are called in short, and what they were
// called before, so that old sheets, links and stickers go on to hold.
type Names struct {
	causes   map[string]string
	tests    map[string]string
	symptoms map[string]string
	readings map[string]string // "test.reading", both as they were, to both now
}

// Cause is the id of a fault that goes by a name; the name itself where nothing
// else is known.
func (n Names) Cause(id string) string { return renamed(n.causes, id) }

// Test is the id of a test that goes by a name.
func (n Names) Test(id string) string { return renamed(n.tests, id) }

// Symptom is the id of a symptom that goes by a name.
func (n Names) Symptom(id string) string { return renamed(n.symptoms, id) }

// Reading is what a test's reading is called now, and the test that gives it;
// both may be as they were.
func (n Names) Reading(test, reading string) (nowTest, nowReading string) {
	for _, t := range []string{test, n.Test(test)} {
		if now, ok := n.readings[t+"."+reading]; ok {
			test, reading, _ := strings.Cut(now, ".")
			return test, reading
		}
	}
	return n.Test(test), reading
}

// Today gives what is known under a device's former names those that it has now;
// a name that the device still has stays.
func (n Names) Today(d *trace.Device, e trace.Evidence) trace.Evidence {
	symptoms := func(list []trace.SymptomID) (out []trace.SymptomID) {
		for _, id := range list {
			if d.Symptom(id) == nil {
				id = trace.SymptomID(n.Symptom(string(id)))
			}
			out = append(out, id)
		}
		return out
	}
	cause := func(id trace.CauseID) trace.CauseID {
		if d.Cause(id) == nil {
			return trace.CauseID(n.Cause(string(id)))
		}
		return id
	}
	mends := func(list []trace.Mended) (out []trace.Mended) {
		for _, m := range list {
			m.Cause = cause(m.Cause)
			out = append(out, m)
		}
		return out
	}
	e.Symptoms, e.Absent, e.Tried, e.Mended, e.Suspect = symptoms(e.Symptoms), symptoms(e.Absent), mends(e.Tried), mends(e.Mended), cause(e.Suspect)
	e.Readings = append([]trace.Reading(nil), e.Readings...)
	for i := range e.Readings {
		r := &e.Readings[i]
		if test, value := n.Reading(string(r.Test), r.Value); d.Test(r.Test) == nil || value != r.Value {
			r.Test, r.Value = trace.TestID(test), value
		}
	}
	e.Skipped = append([]trace.Skip(nil), e.Skipped...)
	for i := range e.Skipped {
		if s := &e.Skipped[i]; d.Test(s.Test) == nil {
			s.Test = trace.TestID(n.Test(string(s.Test)))
		}
	}
	return e
}

func renamed(m map[string]string, id string) string {
	if now, ok := m[id]; ok {
		return now
	}
	return id
}

// Was lists the old names of a device's tests and symptoms, for its page.
func (n Names) Was() (tests, symptoms map[string]string) { return n.tests, n.symptoms }

// Old are all the old names by what they name, for the jobs that were begun with
// them; nil where there are none.
func (n Names) Old() map[string]map[string]string {
	old := map[string]map[string]string{}
	for what, names := range map[string]map[string]string{"causes": n.causes, "tests": n.tests, "symptoms": n.symptoms, "readings": n.readings} {
		if len(names) > 0 {
			old[what] = names
		}
	}
	if len(old) == 0 {
		return nil
	}
	return old
}

// former is what a note says it was called before.
type former struct {
	r  *reader
	at ast.Node
	d  *Document
}

// readFormer keeps the names that a note had before, until all notes are read: a
// list, or on a device also a group that names its things.
func (l *loader) readFormer(d *Document, m *mapping) {
	n, ok := m.get("was")
	if !ok {
		return
	}
	add := func(at ast.Node, old string) {
		d.Was = append(d.Was, old)
		l.formers = append(l.formers, former{m.r, at, d})
		if d.Kind == KindDevice {
			l.devicesWere[old] = d.Name
		}
	}
	if values, grouped := mapValues(n); grouped && d.Kind == KindDevice {
		l.things[d.Name] = former{m.r, n, d}
		for _, v := range values { // the device itself may be among its things
			if now, ok := v.Value.(*ast.StringNode); ok && now.Value == d.Name {
				add(v.Key, strings.TrimSpace(v.Key.GetToken().Value))
			}
		}
		return
	}
	for _, v := range m.r.list(n) {
		if old := m.r.id(v, "what the note was called"); IsName(old) {
			add(v, old)
		}
	}
}

// now is what a device is called that may have had another name.
func (l *loader) now(device string) string {
	if to, ok := l.devicesWere[device]; ok && l.devices[device] == nil {
		return to
	}
	if l.known != nil && l.devices[device] == nil && !l.elsewhere(device) {
		if to, ok := l.known.were[device]; ok {
			return to
		}
	}
	return device
}

// lead lets the former names of notes lead to them.
func (l *loader) lead() {
	for _, d := range l.set.Devices {
		if f, ok := l.things[d.Name]; ok {
			l.readWas(l.devices[d.Name], f)
		}
	}
	next := map[*Document]int{}
	for _, f := range l.formers {
		d := f.d
		old := d.Was[next[d]]
		next[d]++
		dir := path.Dir(d.File)
		file := dir + "/" + old + ".md"
		if l.doc(file) != nil {
			f.r.at(f.at, "there is a note “"+old+"” still", "take this name out, or the other note away")
			continue
		}
		if to, twice := l.movedTo(file); twice {
			f.r.at(f.at, "the note “"+old+"” leads to "+to+" already", "keep one of the two")
			continue
		}
		l.moved[file] = d.File
		l.set.Moved = append(l.set.Moved, Moved{strings.TrimPrefix(dir, "content/") + "/" + old, d.ID, d.Title})
		if dev, ok := l.devices[l.deviceOf[d]]; ok && d.Kind == KindFault {
			if dev.Names.causes == nil {
				dev.Names.causes = map[string]string{}
			}
			dev.Names.causes[old] = d.Name
		}
	}
}

// readWas reads what a device's things were called before.
func (l *loader) readWas(d *deviceFile, f former) {
	r := f.r
	m, ok := r.mapping(f.at, "was", nil)
	if !ok {
		return
	}
	names := &d.Names
	if names.causes == nil {
		names.causes = map[string]string{}
	}
	names.tests, names.symptoms, names.readings = map[string]string{}, map[string]string{}, map[string]string{}
	faults := map[string]*Fault{}
	for _, f := range l.set.Faults {
		if f.Device == d.Name {
			faults[f.Name] = f
		}
	}
	for _, e := range m.entries {
		now := r.text(e.value, "what "+quote(e.name)+" is now")
		if now == "" || now == d.Name { // the device's own name was read with the note
			continue
		}
		if test, id, ok := strings.Cut(now, "."); ok || strings.Contains(e.name, ".") {
			if !ok { // of the same test
				test, _, _ = strings.Cut(e.name, ".")
				if d.tests[test] == nil {
					test = was(m, test)
				}
				id = now
			}
			t := d.tests[test]
			if t == nil && !d.lost("tests") {
				r.at(e.value, "there is no test "+quote(test)+" on this device", hint(test, keys(d.tests)))
			} else if t != nil && len(t.Reads) > 0 && !hasReading(t, id) {
				r.at(e.value, "the test “"+test+"” has no reading “"+id+"”", hint(id, readingNames(t)))
			}
			if !strings.Contains(e.name, ".") {
				r.at(e.key, "what was a reading is written with its test", "write it like old-test.old-reading: "+now)
			}
			names.readings[e.name] = test + "." + id
			continue
		}
		cause := names.Cause(now)
		switch {
		case faults[cause] != nil:
			names.causes[e.name] = cause
			old := "content/faults/" + e.name + ".md"
			if l.doc(old) != nil {
				r.at(e.key, "there is a fault “"+e.name+"” still", "take this line out, or the note away")
				continue
			}
			l.moved[old] = "content/faults/" + cause + ".md"
			l.set.Moved = append(l.set.Moved, Moved{"faults/" + e.name, "faults/" + cause, faults[cause].Title})
		case d.tests[now] != nil:
			names.tests[e.name] = now
		case d.symptoms[now]:
			names.symptoms[e.name] = now
		case !d.lost("tests"):
			all := append(append(keys(d.tests), keys(d.symptoms)...), keys(names.causes)...)
			r.at(e.value, quote(now)+" is no fault, no test and no symptom of this device", hint(now, all))
		}
	}
}

// Moved is an address that leads elsewhere now, both without ending, and what is
// found there.
type Moved struct{ From, To, Title string }

// was is what the note says that a name is now.
func was(m mapping, name string) string {
	for _, e := range m.entries {
		if e.name == name {
			if n, ok := e.value.(*ast.StringNode); ok {
				return n.Value
			}
		}
	}
	return name
}

func hasReading(t *trace.Test, id string) bool {
	for _, b := range t.Reads {
		if string(b.ID) == id {
			return true
		}
	}
	return false
}

func readingNames(t *trace.Test) []string {
	var out []string
	for _, b := range t.Reads {
		out = append(out, string(b.ID))
	}
	return out
}

// rename puts today's names into a job sheet; its file stays as it is.
func (l *loader) rename(s *trace.Sheet) {
	d, ok := l.devices[s.Device]
	if !ok {
		return
	}
	n := d.Names
	for i, id := range s.Symptoms {
		if !d.symptoms[string(id)] {
			s.Symptoms[i] = trace.SymptomID(n.Symptom(string(id)))
		}
	}
	for i := range s.Readings {
		x := &s.Readings[i]
		test, value := n.Reading(string(x.Test), x.Value)
		if value == x.Value && d.tests[string(x.Test)] != nil {
			continue // nothing has changed
		}
		x.Test, x.Value = trace.TestID(test), value
	}
	s.Cause = n.Cause(s.Cause)
}
