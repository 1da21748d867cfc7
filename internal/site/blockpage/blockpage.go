// Package blockpage has a page for each common block, a list of them, and a page
// at each address that a fault had before it became a common one.
//
// A block's page says what it is, what can be asked of it, how it fails, and on
// which devices of the shop it stands, with what is read there.
package blockpage

import (
	"html/template"
	"slices"
	"sort"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/blocks"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/say"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the pages of common blocks.
var Kind = page.Listed(page.Kind{Name: "block", Blocks: true}, rowOf, pages)

// row is what the pages show of a device.
type row struct {
	Made   map[string]device // by the block that it is made of
	Faults []met             // that come from a block
	Moved  []note.Moved      // to its notes
}

// met is a fault of a device that comes from a block.
type met struct {
	Name, Block, Fault string
	Item               page.Item // its address from a block's page
}

func rowOf(s *page.Shop, d *note.Device) row {
	r := row{Made: map[string]device{}}
	root := page.Root("blocks/x")
	for _, kind := range d.Kinds {
		if _, ok := r.Made[kind]; !ok {
			r.Made[kind] = deviceOf(d, kind, root)
		}
	}
	own := map[string]bool{d.ID: true}
	votes := s.Votes()
	for _, f := range s.FaultsOf(d.Name) {
		own[f.ID] = true
		if f.Common != nil {
			r.Faults = append(r.Faults, met{f.Name, f.Common.Block, f.Common.Fault, page.Item{Address: root + f.Address(), Title: f.Title, Note: page.Met(&f.Cause, votes[f.Name].Here)}})
		}
	}
	for _, j := range s.JobsOf(d.Name) {
		own[j.ID] = true
	}
	for _, m := range s.Moved {
		if own[m.To] {
			r.Moved = append(r.Moved, m)
		}
	}
	return r
}

// shop is what stands of all rows, as the pages ask for it.
type shop struct {
	made  map[string][]device    // by block
	met   map[string][]page.Item // by block and fault, "mains-cord#broken"
	moved []note.Moved
}

func gather(s *page.Shop, rows []row) shop {
	all := shop{made: map[string][]device{}, met: map[string][]page.Item{}}
	var faults []met
	for _, r := range rows {
		for kind, d := range r.Made {
			all.made[kind] = append(all.made[kind], d)
		}
		faults = append(faults, r.Faults...)
		all.moved = append(all.moved, r.Moved...)
	}
	slices.SortFunc(faults, func(a, b met) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range faults {
		all.met[f.Block+"#"+f.Fault] = append(all.met[f.Block+"#"+f.Fault], f.Item)
	}
	for _, m := range s.Moved {
		if dir, _, _ := strings.Cut(m.To, "/"); dir != "devices" && dir != "faults" && dir != "jobs" {
			all.moved = append(all.moved, m)
		}
	}
	slices.SortFunc(all.moved, func(a, b note.Moved) int { return strings.Compare(a.From, b.From) })
	return all
}

// Address of the list of blocks.
const Address = "blocks.html"

type view struct {
	Title     string
	All       string // address of the list
	Does      []string
	Forbidden string
	Body      template.HTML
	Plate     string
	Tests     []test
	Faults    []fault
	Devices   []device
}

type test struct {
	ID, Ask, Minutes, Power string
	Cautions                []page.Signal
	Reads                   []read
}

type read struct {
	Name, Text string
	Healthy    bool
}

type fault struct {
	ID, Title, Cause, Mend, Minutes string
	Protective                      bool
	Shows                           []page.Item // Title is what is said, Note how often
	Because                         []string
	Look                            *page.Look // how it shows itself to the eye
	Body                            template.HTML
	Where                           []page.Item
}

type device struct {
	Title, Address, As string
	Reads              []page.Item // Title is the test, Note what a healthy one reads
}

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	all := gather(s, rows)
	var out []page.Page
	var list []page.Item
	for _, b := range s.Blocks {
		ps, err := one(s, b, all)
		if err != nil {
			return nil, err
		}
		out = append(out, ps...)
		list = append(list, page.Item{Address: b.Address(), Title: b.Title, Note: standing(len(b.Faults), len(all.made[b.Name]))})
	}
	if len(list) > 0 {
		sort.SliceStable(list, func(i, j int) bool { return list[i].Title < list[j].Title })
		out = append(out, page.Page{Address: Address, Title: "Common blocks", Template: "blocks", View: list,
			Found: &search.Document{ID: "blocks", Kind: "page", Title: "Common blocks", Address: Address, Text: "parts that many devices are made of, their tests and faults"}})
	}
	for _, m := range all.moved {
		out = append(out, page.Page{Address: m.From + ".html", Title: m.Title, Template: "moved", View: page.Item{Address: "../" + m.To + ".html", Title: m.Title}})
	}
	return out, nil
}

func one(s *page.Shop, b *note.Block, all shop) ([]page.Page, error) {
	root := page.Root(b.Address())
	body, err := s.Body(&b.Document, b.Address())
	if err != nil {
		return nil, err
	}
	v := view{Title: b.Title, All: root + Address, Body: body, Does: does(b), Forbidden: b.Kind.Forbidden()}
	for i, p := range b.Plate {
		if i > 0 {
			v.Plate += ", "
		}
		v.Plate += p.Name + " " + p.Value
	}
	for i := range b.Example.Tests {
		t := &b.Example.Tests[i]
		v.Tests = append(v.Tests, testOf(t))
	}
	docs := []search.Document{{ID: b.ID, Kind: "block", Title: b.Title, Address: b.Address(), Text: b.Plain()}}
	for i := range b.Faults {
		f, doc, err := faultOf(s, b, &b.Faults[i], all)
		if err != nil {
			return nil, err
		}
		v.Faults = append(v.Faults, f)
		docs = append(docs, doc)
	}
	v.Devices = all.made[b.Name]
	out := []page.Page{{Address: b.Address(), Title: b.Title, Template: "block", View: v, Found: &docs[0]}}
	for i := range docs[1:] { // each fault is found by itself, and leads to its place on the page
		out = append(out, page.Page{Found: &docs[i+1]})
	}
	return out, nil
}

// does says in words what passes through the block.
func does(b *note.Block) []string {
	n := b.Kind.Note
	var out []string
	if b.Kind.Source() {
		out = append(out, "A chain begins with it.")
	}
	switch c := n.Str("carries"); c {
	case "":
		out = append(out, "Nothing passes through it.")
	default:
		out = append(out, "It passes "+c+" on.")
	}
	if w := n.Str("work"); w != "" {
		out = append(out, "It makes "+w+".")
	}
	if n.Str("separates") == "true" {
		out = append(out, "It separates: a meter at the pins sees no further.")
	}
	if n.Str("protective") == "true" {
		out = append(out, "It protects: it is never left bypassed.")
	}
	if n.Str("ohms") == "unseen" {
		out = append(out, "It passes no direct current at rest, so a meter from end to end does not see it.")
	}
	return out
}

func testOf(t *trace.Test) test {
	v := test{ID: string(t.ID), Ask: t.Ask, Minutes: quantity.Minutes(t.Minutes), Power: t.Power.Says()}
	if t.Waits > 0 {
		v.Minutes += " and " + quantity.Minutes(t.Waits) + " of waiting"
	}
	if t.Caution != "" {
		v.Cautions = append(v.Cautions, page.SignalOf(calc.ReadCaution(t.Caution, calc.Signal(t.Power.Signal()))))
	}
	for _, b := range t.Reads {
		v.Reads = append(v.Reads, read{trace.Plain(string(b.ID)), b.Text, b.Healthy})
	}
	return v
}

func faultOf(s *page.Shop, b *note.Block, bf *note.BlockFault, all shop) (fault, search.Document, error) {
	c := b.Example.Cause(bf.Cause)
	body, err := s.BodyBelow(&bf.Document, b.Address(), 1)
	if err != nil {
		return fault{}, search.Document{}, err
	}
	v := fault{ID: bf.Name, Title: bf.Title, Cause: c.Says, Mend: c.Mend.Does, Minutes: quantity.Minutes(c.Mend.Minutes), Protective: c.Protective, Because: c.Because, Look: page.LookOf(c.Look), Body: body}
	if c.Mend.None != "" {
		v.Mend = c.Mend.None
	}
	doc := search.Document{ID: b.ID + "#" + bf.Name, Kind: "block", Title: bf.Title, Address: b.Address() + "#" + bf.Name, Cause: c.Says, Text: bf.Plain(), Like: b.Name + "#" + bf.Name}
	for _, because := range c.Because {
		doc.Cause += ". " + because
	}
	said, _ := faultNote(b, bf.Name).Get("complaints")
	for _, f := range said.Fields {
		says := "The work behind it stops"
		if x, ok := s.Complaint(f.Name); ok {
			says = x.Says
			if w := worth[f.Value.Text]; w > 0 {
				doc.Complaints = append(doc.Complaints, search.Weighted{Name: f.Name, Weight: w})
				doc.Symptoms = append(doc.Symptoms, search.Symptom{Says: x.Says, Is: []search.Weighted{{Name: f.Name, Weight: 1}}})
			}
		}
		v.Shows = append(v.Shows, page.Item{Title: says, Note: f.Value.Text})
	}
	v.Where = all.met[b.Name+"#"+bf.Name]
	return v, doc, nil
}

// standing says of a block in the list how it fails and where it stands.
func standing(faults, devices int) string {
	on := "on no device here yet"
	if devices > 0 {
		on = "on " + page.Count(devices, "device", "devices")
	}
	if faults == 0 {
		return on
	}
	return page.Count(faults, "fault", "faults") + ", " + on
}

// worth is how strongly a block's fault is about a complaint, for the search:
// less than the same fault of a device, which says more.
var worth = map[string]float64{"always": .8, "often": .6, "sometimes": .3}

func faultNote(b *note.Block, name string) blocks.Tree {
	for _, f := range b.Kind.Faults() {
		if f.Name == name {
			return f.Value
		}
	}
	return blocks.Tree{}
}

func deviceOf(d *note.Device, block, root string) device {
	v := device{Title: d.Title, Address: root + d.Address()}
	var as []string
	for id, kind := range d.Kinds {
		if kind == block {
			as = append(as, say.Block(id))
		}
	}
	sort.Strings(as)
	v.As = strings.Join(as, ", ")
	for i := range d.Tests {
		t := &d.Tests[i]
		from, ok := d.Brought[t.ID]
		if !ok || from.Block != block {
			continue
		}
		for _, band := range t.Reads {
			if band.Healthy && band.Text != "" {
				v.Reads = append(v.Reads, page.Item{Address: v.Address + "#test-" + string(t.ID), Title: trace.Plain(string(t.ID)), Note: band.Text})
			}
		}
	}
	return v
}
