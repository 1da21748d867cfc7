package note

import (
	"github.com/yuin/goldmark/ast"

	"faultleaf/calc"
	"faultleaf/calc/trace"
	"faultleaf/internal/history"
	"faultleaf/internal/picture"
)

// Kind is the kind of a document, as in the search index.
type Kind string

// The kinds of documents; calculators have pages too, but no document.
const (
	KindDevice    Kind = "device"
	KindFault     Kind = "fault"
	KindChecklist Kind = "checklist"
	KindJob       Kind = "job"
	KindPage      Kind = "page"
	KindBlock     Kind = "block"
)

// Document is what every note has.
type Document struct {
	Kind  Kind
	Name  string // the file's name without .md
	ID    string // "faults/element-tag-burnt-off"
	File  string // "content/faults/element-tag-burnt-off.md"
	Title string
	Draft bool // something is still to be filled in
	// Checked are those who read the note and found it right.
	Checked []string
	Was     []string // names that the note had before
	Made    string   // the block note that it was made from, where it has no file of its own

	Source  []byte                               // the body's Markdown, to which Body's segments point
	Body    ast.Node                             // nil if the note has no body
	Numbers map[*ast.Link]Number                 // calc: links, computed
	Blocks  map[*ast.FencedCodeBlock]Computation // calc and plot blocks, computed
	Cites   []Cite                               // links to sources, in their order
	Settled *Settled                             // see Settle
	Leads   []string                             // files of notes that links lead to, each with the place on its page
	Led     []Led                                // of these, links that lead elsewhere than they say
	Shows   []string                             // pictures, by their files
	Places  []string                             // on its page, that links may lead to, sorted; nil where they are not known
}

// Settled is a document's text without the tree that it was made from.
type Settled struct {
	HTML  string // for the document's own page
	Words string // plain
}

// Settle puts the finished text in the place of its tree, which takes many times
// the room.
func (d *Document) Settle(s *Settled) {
	d.Settled, d.Source, d.Body, d.Numbers, d.Blocks = s, nil, nil, nil, nil
}

// Address is the page of the document, relative to the site.
func (d *Document) Address() string { return d.ID + ".html" }

// Number is a computed number in a text.
type Number struct {
	Link calc.Link // with the plate's values filled in
	Text string    // as the page shows it
}

// Computation is a calculator placed into a note.
type Computation struct {
	Link   calc.Link
	Result calc.Result
	Plot   string // name of the plot, for a plot block
}

// Shop is content/shop.yaml.
type Shop struct {
	Format                             int // that the notes keep to, from 1
	Name, ID, Address, Currency, Units string
	Mains                              string // "230 V"
	Hertz                              float64
	Rate                               float64 // money per hour
	PowerMinutes                       map[trace.Power]float64
	WaitsCount                         float64 // of an unattended minute against one at the bench; 0 for as much
	AllowMains                         bool
	Instruments                        []trace.Instrument // none: everything is there
	MendUnmeasured                     bool               // a part may be fitted before a reading on it
	Rules                              map[string]string  // the choice that decides, by calculator
	Comma                              bool               // decimals are written 0,5
	Lang                               string             // of the notes, "de"; "" for English
	Logo                               string             // a picture, "images/logo.svg"
	Footer, SearchHint                 string
	Proofs                             trace.Needs // by class; nil where the shop's file says nothing
	Invented                           bool        // its job sheets are a demonstration, and say nothing about what is met most
}

// Plate is one line of a device's rating plate.
type Plate struct{ Name, Value string }

// Device is a content/devices/ note.
type Device struct {
	Document
	Also     []Weighted        // further names that mean it, of weight 0.5 and more
	Near     []Weighted        // names of things like it: they offer it and never mean it
	Unlike   []string          // names that hold one of its own and mean something else
	Family   string            // what it is, as on the start page: "Heat", "Motors"; "" for others
	Class    string            // of protection against shock: I, II, III or ""
	JudgedAs string            // the kind of device that documents part, "appliance"; "" where the note does not say
	Price    float64           // of a new one; 0 where the note does not say
	Proofs   []trace.ProofKind // asked for besides those of its class
	Plate    []Plate
	Blocks   []trace.Block
	Symptoms []trace.Symptom
	Access   []trace.Access
	Steps    map[trace.AccessID][]string // of an access, where the note tells it step by step
	Points   []trace.Point
	Tests    []trace.Test

	Short    string                     // as texts name it; "" for its title
	Expanded []Expansion                // of a device made of common blocks: itself, then its faults
	Names    Names                      // short and former names of its things
	Uses     []string                   // block notes that its chain names, also one that cannot be read
	Kinds    map[trace.BlockID]string   // block notes of the blocks that have one
	Brought  map[trace.TestID]BlockTest // tests that block notes bring

	Is map[trace.SymptomID][]Weighted // the complaints that a symptom is, in the order written
}

// BlockTest names a test of a block note.
type BlockTest struct{ Block, Test string }

// Fault is a content/faults/ note.
type Fault struct {
	Document
	Device string // the device's name
	Cause  trace.Cause
	Common *Common // nil for a fault of the device's own
}

// Checklist is a content/checklists/ note; its steps are its task list.
type Checklist struct {
	Document
	When    string
	Hazards []string
	Minutes float64    // about how long it takes; 0 if the note does not say
	Also    []Weighted // what it is asked for by
	Is      []Weighted // complaints that it helps with
	Steps   []Step
}

// Job is a content/jobs/ note: one job sheet.
type Job struct {
	Document
	Sheet trace.Sheet
}

// Page is a content/pages/ note.
type Page struct {
	Document
	Hazards []string
	Also    []Weighted // what it is asked for by
	Shut    []string   // names of things that are not opened here; the page says why, and who can
}

// Set is everything in content/, each list sorted by name.
type Set struct {
	Shop       Shop
	Words      string      // content/words.txt: the shop's own spellings and synonyms
	Complaints []Complaint // in the order of content/complaints.yaml; none if the shop has no such file
	Blocks     []*Block
	Devices    []*Device
	Faults     []*Fault
	Checklists []*Checklist
	Jobs       []*Job
	Pages      []*Page
	Images     map[string]picture.Picture // by file: "content/images/x.svg"
	Moved      []Moved                    // addresses that lead elsewhere now
	Past       history.History            // of the notes; who loads them may read it from the repository

	index *index // see Index
}

// Documents lists the documents of all kinds.
func (s *Set) Documents() []*Document {
	all := make([]*Document, 0, len(s.Blocks)+len(s.Devices)+len(s.Faults)+len(s.Checklists)+len(s.Jobs)+len(s.Pages))
	for _, b := range s.Blocks {
		all = append(all, &b.Document)
	}
	for _, d := range s.Devices {
		all = append(all, &d.Document)
	}
	for _, f := range s.Faults {
		all = append(all, &f.Document)
	}
	for _, c := range s.Checklists {
		all = append(all, &c.Document)
	}
	for _, j := range s.Jobs {
		all = append(all, &j.Document)
	}
	for _, p := range s.Pages {
		all = append(all, &p.Document)
	}
	return all
}

// Note finds a document by its file.
func (s *Set) Note(file string) (*Document, bool) {
	if s.index != nil {
		d, ok := s.index.notes[file]
		return d, ok
	}
	for _, d := range s.Documents() {
		if d.File == file {
			return d, true
		}
	}
	return nil, false
}

// Needs are the proofs that a device must show before it goes back.
func (s *Set) Needs(d *Device) []trace.Need {
	needs := s.Shop.Proofs
	if needs == nil {
		needs = trace.CommonNeeds()
	}
	return needs.For(d.Class, d.Proofs)
}

// closed counts the shop's job sheets on a device, and those of them whose cause
// is in no note: how well its notes cover what comes in is no other device's. A
// job that came back closed nothing.
func (s *Set) closed(device string) (all, unknown float64) {
	for _, j := range s.JobsOf(device) {
		if j.Sheet.Outcome == "came-back" || j.Draft {
			continue
		}
		all++
		if j.Sheet.Cause == "" || j.Sheet.Cause == "unknown" {
			unknown++
		}
	}
	return all, unknown
}

// Bench tells a device what this shop's bench has and allows.
func (s *Set) Bench(t *trace.Device) {
	t.Shop = trace.Shop{PowerMinutes: s.Shop.PowerMinutes, AllowMains: s.Shop.AllowMains, Rate: s.Shop.Rate, Currency: s.Shop.Currency, Comma: s.Shop.Comma, WaitsCount: s.Shop.WaitsCount,
		Instruments: s.Shop.Instruments, MendUnmeasured: s.Shop.MendUnmeasured}
	t.Shop.OwnSheets, t.Shop.UnknownSheets = s.closed(t.ID)
	for i := range t.Tests {
		t.Tests[i].Meter = t.Shop.Meter(t.Tests[i].With)
	}
}

// TraceDevice puts a device and its faults together for the trace, each fault
// with the votes of the shop's job sheets (Votes); a cause that is unknown votes
// for nothing.
func (s *Set) TraceDevice(name string) *trace.Device {
	d, ok := s.Device(name)
	if !ok {
		return nil
	}
	t := &trace.Device{ID: d.Name, Title: d.Title, Blocks: d.Blocks, Symptoms: d.Symptoms, Access: d.Access, Points: d.Points, Tests: append([]trace.Test(nil), d.Tests...), Class: d.Class, Price: d.Price}
	s.Bench(t)
	votes := s.Votes()
	for _, f := range s.FaultsOf(name) {
		if f.Draft {
			continue // nothing counts on it yet
		}
		c := f.Cause
		c.Jobs = votes[f.Name].Cases()
		t.Causes = append(t.Causes, c)
	}
	trace.Publish(t.Causes)
	return t
}

// Nearest is the name among some that differs by a slip or two; "" if none does.
func Nearest(name string, among []string) string { return nearest(name, among) }
