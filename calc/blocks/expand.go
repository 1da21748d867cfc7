package blocks

import (
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
		d.plate[f.Name] = quantity.Spaced(f.Value.Text)
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
		for name := range plated {
			if _, there := d.plate[name]; !there && f.Name != name && near(f.Name, []string{name}) == "did you mean “"+name+"”" {
				d.root(f.At, "the plate has no “"+name+"”, but a “"+f.Name+"”", "did you mean “"+name+"”")
				d.lost = true
			}
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
