package note

import (
	"sort"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/trace"
)

// cross checks what faults and job sheets say of their device.
func (l *loader) cross() {
	causes := map[string]*faultFile{}
	for _, f := range l.faults {
		causes[f.Name] = f
		l.crossFault(f)
	}
	l.reviewed = len(l.mistakes)
	l.sought = len(l.mistakes) == 0
	if l.sought {
		l.review()
	}
	for _, j := range l.jobs {
		l.crossJob(j, causes)
	}
}

func (l *loader) crossFault(f *faultFile) {
	d, ok := l.devices[f.Device]
	if !ok {
		l.noDevice(f.r, f.device, f.Device)
		return
	}
	l.crossWith(f, d)
}

// noDevice tells of a note whose device is not there.
func (l *loader) noDevice(r *reader, n ast.Node, device string) {
	switch {
	case device == "":
	case l.elsewhere(device):
		l.strays = true
	default:
		r.root(n, "there is no device "+quote(device), hint(device, l.deviceNames()))
	}
}

func (l *loader) crossWith(f *faultFile, d *deviceFile) {
	r := f.r
	l.declared(r, f.block, "block", string(f.Cause.Block), d.blocks, d.lost("blocks"))
	f.Cause.Protective = f.Cause.Protective || d.guards[string(f.Cause.Block)]
	for i, n := range f.takes {
		// a part need not be a block, but a near miss is a slip
		if t := f.Cause.Takes[i]; !d.blocks[t] {
			if near := nearest(t, keys(d.blocks)); near != "" {
				r.at(n, "there is no block "+quote(t)+" on this device", "did you mean “"+near+"”")
			}
		}
	}
	for _, e := range f.symptoms {
		if !l.declared(r, e.key, "symptom", e.name, d.symptoms, d.lost("symptoms")) {
			delete(f.Cause.Symptoms, trace.SymptomID(e.name))
		}
	}
	for _, e := range f.reads {
		t, ok := d.tests[e.name]
		if !ok {
			if !d.lost("tests") {
				r.at(e.key, "there is no test "+quote(e.name)+" on this device", hint(e.name, keys(d.tests)))
			}
			delete(f.Cause.Reads, trace.TestID(e.name))
			continue
		}
		reads := f.Cause.Reads[t.ID]
		kept := make([]trace.Read, 0, len(reads))
		for i, read := range reads {
			if hasReading(t, string(read.Reading)) {
				kept = append(kept, read)
			} else if len(t.Reads) > 0 {
				r.at(f.readAt[t.ID][i], "the test “"+e.name+"” has no reading “"+string(read.Reading)+"”", hint(string(read.Reading), readingNames(t)))
			}
		}
		if f.Cause.Reads[t.ID] = kept; len(kept) == 0 {
			delete(f.Cause.Reads, t.ID)
		}
	}
	for i, n := range f.needs {
		l.declared(r, n, "access", string(f.Cause.Mend.Needs[i]), d.access, d.lost("access"))
	}
	if f.Draft {
		return // what it leaves open is no surprise
	}
	line, column := 1, 1
	if f.block != nil {
		line, column = r.place(f.block)
	}
	if t := shows(d.Tests, &f.Cause); t != nil && f.Cause.Look == "" && !f.noLook {
		l.remarks.Add(r.file, line, column, "the fault shows itself to the eye on the test “"+string(t.ID)+"”, and has no look", "add look: with a word of the list, or look: none")
	}
	for _, t := range d.Tests {
		if _, says := f.Cause.Reads[t.ID]; says {
			continue
		}
		for _, b := range t.Covers {
			if b == f.Cause.Block {
				l.remarks.Add(r.file, line, column, "the note should state what the test “"+string(t.ID)+"” reads, for it covers this block; without it that test moves the chance neither way", "add it under reads:")
			}
		}
	}
}

// shows is the first test by eye on which a fault mostly reads something other
// than a healthy one; nil where it hides.
func shows(tests []trace.Test, c *trace.Cause) *trace.Test {
	for i := range tests {
		if id, ok := c.Likeliest(tests[i].ID); ok && tests[i].ByEye && id != tests[i].Healthy() {
			return &tests[i]
		}
	}
	return nil
}

func (l *loader) crossJob(j *jobFile, causes map[string]*faultFile) {
	r, s := j.r, &j.Sheet
	d, ok := l.devices[s.Device]
	if !ok {
		l.noDevice(r, j.device, s.Device)
		return
	}
	l.rename(s)
	for i, n := range j.symptoms {
		l.declared(r, n, "symptom", string(s.Symptoms[i]), d.symptoms, d.lost("symptoms"))
	}
	for i, jr := range j.readings {
		if jr.test == nil || jr.value == nil {
			continue
		}
		t, ok := d.tests[string(s.Readings[i].Test)]
		if !ok {
			if s.Readings[i].Test != "" && !d.lost("tests") {
				r.at(jr.test, "there is no test "+quote(string(s.Readings[i].Test))+" on this device", hint(string(s.Readings[i].Test), keys(d.tests)))
			}
			continue
		}
		if s.Readings[i].Value == "" || len(t.Reads) == 0 {
			continue
		}
		fits, err := trace.ParseReading(t, s.Readings[i].Value)
		if err != nil {
			r.at(jr.value, err.Error(), "write a reading's name or the measured value with its unit")
		} else if len(fits) == 0 {
			line, column := r.place(jr.value)
			l.remarks.Add(r.file, line, column, "the reading "+quote(s.Readings[i].Value)+" lies in no band of the test “"+string(t.ID)+"”, so it says nothing",
				"look whether a digit slipped; if not, give the device's note a band for it")
		}
	}
	l.crossProofs(j, d)
	if s.Cause == "" || s.Cause == "unknown" {
		return
	}
	f, ok := causes[s.Cause]
	if t, their := l.their("content/faults/" + s.Cause + ".md"); !ok && their {
		f, ok = &faultFile{Fault: &Fault{Device: t.device}}, true
	}
	if !ok {
		var names []string
		for name, f := range causes {
			if f.Device == s.Device {
				names = append(names, name)
			}
		}
		sort.Strings(names)
		r.at(j.cause, "there is no fault "+quote(s.Cause), hint(s.Cause, append(names, "unknown")))
	} else if f.Device != s.Device && f.Device != "" {
		r.at(j.cause, "the fault “"+s.Cause+"” belongs to “"+f.Device+"”, not to this device", "name a fault of "+s.Device+", or write unknown")
	} else if f.Cause.Protective && s.Outcome == "mended" && s.Reason == "" {
		r.at(j.cause, "a protective part gave way here, and the sheet does not say why", "write reason: and what made it act, or “reason not found” and the soak under load that it passed")
	} else if f.Cause.Protective && s.Outcome == "mended" && trace.NoReason(s.Reason) && s.Soak <= 0 {
		r.at(j.cause, "a protective part gave way here for no reason that was found, and the sheet tells of no soak under load", "run it under full load, watched, and write soak: and the minutes it passed")
	}
}

func keys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
