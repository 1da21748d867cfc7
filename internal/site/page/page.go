// Package page says what a page is and what a page kind may ask for.
//
// A page kind is a room of its own (faultpage, devicepage, ...) that exports one
// Kind. Its Pages function turns the shop into pages: for each an address, a
// template, the plain struct that the template sees, and the document for the
// search index. All deciding is done there; templates hold markup only.
package page

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/site/record"
	"faultleaf/search"
)

// Kind is one kind of page, and says what its pages rest on; a page is made again
// only where something of that has changed.
//
//	Of     a device's own notes, the votes of its faults, and what is no device's:
//	       block notes, checklists, plain pages, pictures, the shop's file
//	Pages  what is no device's
//	Lists  that, and of every device the row that Row gives; see Listed
type Kind struct {
	Name  string // "fault"; also the class of the page's body
	Of    func(*Shop, *note.Device) ([]Page, error)
	Pages func(*Shop) ([]Page, error)
	Row   func(*Shop, *note.Device) []byte
	Lists func(*Shop, [][]byte) ([]Page, error)
	Dated bool // its lists also rest on when every note changed

	Blocks bool // its pages show block notes as examples, which nothing else does
}

// Listed adds pages that show something of every device. row is all that they show
// of one, of plain types (record.Encode), so that they are made while the notes of few
// devices are in memory, and stand where no row has changed. Rows come in the order of
// the devices' files.
func Listed[T any](k Kind, row func(*Shop, *note.Device) T, lists func(*Shop, []T) ([]Page, error)) Kind {
	k.Row = func(s *Shop, d *note.Device) []byte { return record.Encode(row(s, d)) }
	k.Lists = func(s *Shop, kept [][]byte) ([]Page, error) {
		rows, err := Rows[T](kept)
		if err != nil {
			return nil, err
		}
		return lists(s, rows)
	}
	return k
}

// Rows reads rows as they are kept.
func Rows[T any](kept [][]byte) ([]T, error) {
	rows := make([]T, len(kept))
	for i, b := range kept {
		if err := record.Decode(b, &rows[i]); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// Each makes a page of everything in a list.
func Each[T any](s *Shop, list []T, one func(*Shop, T) (Page, error)) ([]Page, error) {
	var out []Page
	for _, x := range list {
		p, err := one(s, x)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// Page is one page before it is put into its frame.
type Page struct {
	Kind     string
	Address  string // relative to the site, "faults/x.html"
	Title    string
	Template string
	View     any
	Found    *search.Document // nil keeps the page out of the search
	// A page without a template is no page: it is found, and leads to a place on another.
}

// Shop is what the page kinds draw from.
type Shop struct {
	*note.Set
	Calculators []*calc.Calculator

	mu      sync.Mutex
	devices map[string]*trace.Device
	grounds map[string]*trace.Ground
	steps   map[string]*Steps // by device
	terms   *terms            // nil where the shop has no glossary
}

// NewShop prepares a checked set of notes.
func NewShop(set *note.Set, calculators []*calc.Calculator) *Shop {
	s := shopOf(set, calculators)
	if all := set.Terms(); len(all) > 0 {
		s.terms = newTerms(all)
	}
	return s
}

// With is the shop with other notes and the same glossary.
func (s *Shop) With(set *note.Set) *Shop {
	x := shopOf(set, s.Calculators)
	x.terms = s.terms
	return x
}

func shopOf(set *note.Set, calculators []*calc.Calculator) *Shop {
	return &Shop{Set: set, Calculators: calculators, devices: map[string]*trace.Device{}, grounds: map[string]*trace.Ground{}, steps: map[string]*Steps{}}
}

// Traced is a device as the trace sees it; nil if there is none.
func (s *Shop) Traced(device string) *trace.Device {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, ok := s.devices[device]
	if !ok {
		d = s.TraceDevice(device)
		s.devices[device] = d
	}
	return d
}

// Steps are what the trace says of a device before anything is read.
type Steps struct {
	First *trace.Advice        // nil until it is asked for
	Begin map[string]Beginning // by symptoms
	Tree  *trace.Node          // printed; nil until it is asked for
}

// Beginning is the first step where some symptoms are known.
type Beginning struct {
	trace.Action
	Again   bool
	Minutes float64
}

// Asked counts what was asked for.
func (x *Steps) Asked() int {
	n := len(x.Begin)
	if x.First != nil {
		n++
	}
	if x.Tree != nil {
		n++
	}
	return n
}

// Steps are those of a device that were asked for so far, or that Knows was told.
func (s *Shop) Steps(device string) *Steps {
	s.mu.Lock()
	defer s.mu.Unlock()
	x, ok := s.steps[device]
	if !ok {
		x = &Steps{Begin: map[string]Beginning{}}
		s.steps[device] = x
	}
	return x
}

// Knows tells the steps of a device that were worked out before.
func (s *Shop) Knows(device string, x *Steps) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.steps[device] = x
}

// Forget lets go of what was worked out of a device; who asks again has it worked
// out again.
func (s *Shop) Forget(device string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.devices, device)
	delete(s.grounds, device)
	delete(s.steps, device)
}

// mostGrounds is more than the devices whose pages are made at one time.
const mostGrounds = 8

// Ground is a device made ready for its steps.
func (s *Shop) Ground(device string) *trace.Ground {
	d := s.Traced(device)
	s.mu.Lock()
	defer s.mu.Unlock()
	g, ok := s.grounds[device]
	if !ok {
		if len(s.grounds) >= mostGrounds { // each holds what one solves in
			clear(s.grounds)
		}
		g = trace.Prepare(d)
		s.grounds[device] = g
	}
	return g
}

// First is the first step on a device when nothing is known. The pages of one device
// are made one after the other.
func (s *Shop) First(device string) (trace.Advice, error) {
	x := s.Steps(device)
	if x.First == nil {
		a, err := s.Ground(device).Brief(trace.Evidence{})
		if err != nil {
			return a, err
		}
		x.First = &a
	}
	return *x.First, nil
}

// Begin is the first step on a device when some symptoms are known.
func (s *Shop) Begin(device string, symptoms []trace.SymptomID) (Beginning, error) {
	x, key := s.Steps(device), Join(symptoms)
	if b, ok := x.Begin[key]; ok {
		return b, nil
	}
	a, err := trace.Advice{}, error(nil)
	if len(symptoms) == 0 {
		a, err = s.First(device)
	} else {
		a, err = s.Ground(device).Bare(trace.Evidence{Symptoms: symptoms})
	}
	b := Beginning{a.Action, a.Again, a.Minutes}
	if err == nil {
		x.Begin[key] = b
	}
	return b, err
}

// Tree is the trace of a device, laid out for paper.
func (s *Shop) Tree(device string) (*trace.Node, error) {
	x := s.Steps(device)
	if x.Tree != nil {
		return x.Tree, nil
	}
	n, err := s.Ground(device).Tree(trace.Evidence{}, trace.TreeLimits{})
	if err == nil {
		x.Tree = n
	}
	return n, err
}

// Root is the way from a page back to the site's root: "../" for each folder.
func Root(address string) string { return strings.Repeat("../", strings.Count(address, "/")) }

// Item is a line of a list: where it leads, what it is called, a remark.
type Item struct{ Address, Title, Note string }

// Count prints a number of things: "1 fault", "3 faults".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// Met says how often a fault was met: before, or in what share of published
// cases, and on the sheets of this shop, where they count for it: one that came back
// takes the vote of the one before it away.
func Met(c *trace.Cause, here float64) string {
	before := "seen " + Count(int(c.Seen+.5), "time", "times") + " before"
	if c.Share > 0 {
		before = quantity.Chance(c.Share) + " of the published cases"
	}
	if n := int(here); n > 0 {
		before += ", " + Count(n, "time", "times") + " here"
	}
	return before
}

// Money prints a sum in the shop's currency.
func (s *Shop) Money(x float64) string {
	v := quantity.Of(quantity.Money, x)
	v.Unit = s.Shop.Currency
	return s.Shop.Style().Says(v.Text())
}

// SearchHint is what stands in the empty search box.
func SearchHint(set *note.Set) string {
	if set.Shop.SearchHint != "" {
		return set.Shop.SearchHint
	}
	return "heater blows cold"
}

// Join lists names as they are written.
func Join[T ~string](ids []T) string {
	var names []string
	for _, id := range ids {
		names = append(names, string(id))
	}
	return strings.Join(names, ", ")
}

// Opens says what has to be opened, outermost first.
func Opens(d *trace.Device, needs []trace.AccessID) string {
	var list []string
	for _, a := range d.Opening(needs) {
		list = append(list, trace.InSentence(a.Does)+" ("+quantity.Minutes(a.Minutes)+")")
	}
	return strings.Join(list, ", ")
}

// Signal is a caution as the templates show it.
type Signal struct {
	Class, Word, Text string
}

// Signals turns cautions into boxes.
func Signals(cautions []calc.Caution) []Signal {
	var out []Signal
	for _, c := range cautions {
		out = append(out, SignalOf(c))
	}
	return out
}

// SignalOf is one box.
func SignalOf(c calc.Caution) Signal {
	return Signal{Class: strings.ToLower(string(c.Signal)), Word: string(c.Signal), Text: sentence(c.Text)}
}

// sentence writes a hazard, which a note may name in a word or two, as a sentence:
// it stands alone beside its signal word.
func sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return text
	}
	text = string(unicode.ToUpper(r)) + text[n:]
	if last, _ := utf8.DecodeLastRuneInString(text); unicode.IsLetter(last) || unicode.IsDigit(last) || last == ')' {
		text += "."
	}
	return text
}

// Hazards are those of a note as the search shows them: the first one's signal word
// goes before all.
func Hazards(list []string) string {
	var out []string
	for _, h := range list {
		if word, rest, ok := strings.Cut(h, ": "); ok && word == strings.ToUpper(word) {
			out = append(out, word+": "+sentence(rest))
		} else {
			out = append(out, sentence(h))
		}
	}
	return strings.Join(out, " ")
}

// Shelf is a shelf of calculators.
type Shelf struct {
	Name        string
	Calculators []Item
}

// Shelves lists the calculators by shelf, in the order of the list, with
// addresses from a page.
func (s *Shop) Shelves(from string) []Shelf {
	var out []Shelf
	for _, c := range s.Calculators {
		it := Item{Root(from) + "calc/" + c.Name + ".html", c.Title, c.For}
		name := strings.ToUpper(string(c.Shelf[:1])) + string(c.Shelf[1:])
		if n := len(out); n == 0 || out[n-1].Name != name {
			out = append(out, Shelf{Name: name})
		}
		out[len(out)-1].Calculators = append(out[len(out)-1].Calculators, it)
	}
	return out
}

// Unbroken is a text in which no line ends between a number and its unit.
func Unbroken(text string) string { return unit.ReplaceAllString(text, "$1\u00a0$2") }

var unit = regexp.MustCompile(`(\d) ((?:[kMGmµn]?(?:Ω|V|A|W|F|H|s)|%|°C|°F|min|h|g)(?:[\s,.;)]|$))`)

// ByTitle is the order of a list that is read by its titles: that of the letters, whatever
// the notes' files are called.
func ByTitle(a, b string) int {
	return cmp.Or(strings.Compare(strings.ToLower(a), strings.ToLower(b)), strings.Compare(a, b))
}

// JobItem is a job sheet as a line of a list. Its type stands in it, for one
// name of a device may cover different insides.
func (s *Shop) JobItem(from string, j *note.Job) Item {
	found := "cause unknown"
	if f := s.Fault(j.Sheet.Cause); f != nil {
		found = f.Title
	}
	title := j.Sheet.Date + " · " + s.DeviceTitle(j.Sheet.Device)
	if j.Sheet.Type != "" {
		title += " " + j.Sheet.Type
	}
	about := found + " · " + trace.Plain(j.Sheet.Outcome)
	if j.Sheet.Minutes > 0 {
		about += " · " + quantity.Minutes(j.Sheet.Minutes)
	}
	return Item{Root(from) + j.Address(), title, about}
}

// Sheet is a job sheet in a list that goes by its name, so by its date.
type Sheet struct {
	Name string
	Item Item
}

// LastSheets are the last n of some job sheets, newest first.
func (s *Shop) LastSheets(from string, jobs []*note.Job, n int) []Sheet {
	jobs = slices.Clone(jobs)
	slices.SortStableFunc(jobs, func(a, b *note.Job) int { return strings.Compare(b.Name, a.Name) })
	var out []Sheet
	for _, j := range jobs[:min(n, len(jobs))] {
		out = append(out, Sheet{j.Name, s.JobItem(from, j)})
	}
	return out
}

// Latest are the last n sheets of some lists, newest first.
func Latest(sheets []Sheet, n int) []Item {
	slices.SortStableFunc(sheets, func(a, b Sheet) int { return strings.Compare(b.Name, a.Name) })
	var out []Item
	for _, x := range sheets[:min(n, len(sheets))] {
		out = append(out, x.Item)
	}
	return out
}

// LastTimes are the last n of some job sheets, newest first.
func (s *Shop) LastTimes(from string, jobs []*note.Job, n int) []Item {
	return Latest(s.LastSheets(from, jobs, n), n)
}

// DeviceTitle is the title of a device, or its name if it is not there.
func (s *Shop) DeviceTitle(name string) string {
	if d, ok := s.Device(name); ok {
		return d.Title
	}
	return name
}
