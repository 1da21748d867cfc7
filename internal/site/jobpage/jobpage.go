// Package jobpage shows the job sheets: one page each, and their list with the
// counts by outcome.
package jobpage

import (
	"html/template"
	"math"
	"slices"
	"strings"
	"time"

	"faultleaf/calc/draw"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/calc/trace/say"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the job sheets' pages.
var Kind = page.Listed(page.Kind{Name: "job", Of: func(s *page.Shop, d *note.Device) ([]page.Page, error) {
	return page.Each(s, s.JobsOf(d.Name), one)
}}, rowOf, lists)

type view struct {
	Title, Device, DeviceAddress string
	Plate, Rows                  []row
	Said                         string // by the owner
	Readings                     []reading
	Proofs                       []proof
	Parts                        []string
	Body                         template.HTML
	Sprite, Chain                template.HTML // the chain in small, with the block where it was found
	Where                        string        // the same in words
}

type row struct{ Name, Value, Address string }

type reading struct {
	Ask, Value, Planned, Minutes string
	PlannedSpan, TakenSpan       template.HTML // on one ruler of minutes
}

type proof struct{ Name, Value, Limit, Ended string }

type list struct {
	Title, Count, Outcomes string
	Years                  []page.Item // with the address "" for this one
	Devices                []page.Item // the id as its address
	Endings                []string
	Months                 []month
	Sprite                 template.HTML // the symbols of the chains
}

// month is the sheets of one month; Open ones are read without unfolding.
type month struct {
	Title, Count string
	Open         bool
	Jobs         []line
}

// open is how many of the newest sheets stand unfolded, with their months whole.
const open = 8

type line struct {
	Address, Date, DeviceID, Device, Code, Said, Found, Minutes, Outcome string
	Chain                                                                template.HTML // in small, with the block where it was found
}

// ofDevice is what the lists show of a device and its sheets.
type ofDevice struct {
	Name, Title string
	Sheets      []sheet
	Chains      map[trace.BlockID]circuit.Mini // in small, with a block where something was found
}

// sheet is a line before it stands in a list.
type sheet struct {
	Name, Outcome string
	Block         trace.BlockID // where the cause is; "" where it is not known
	Line          line
}

func rowOf(s *page.Shop, d *note.Device) ofDevice {
	r := ofDevice{Name: d.Name, Title: d.Title, Chains: map[trace.BlockID]circuit.Mini{}}
	for _, j := range s.JobsOf(d.Name) {
		sh := j.Sheet
		name := d.Title
		if sh.Type != "" {
			name += ", " + sh.Type
		}
		x := sheet{Name: j.Name, Outcome: sh.Outcome, Line: line{Address: page.Root("jobs/x") + j.Address(), Date: sh.Date, DeviceID: sh.Device, Device: name, Code: sh.Code, Said: sh.OwnerSays, Found: found(s, j), Outcome: trace.Plain(sh.Outcome)}}
		if sh.Minutes > 0 {
			x.Line.Minutes = quantity.Minutes(sh.Minutes)
		}
		t := s.Traced(d.Name)
		if c := t.Cause(trace.CauseID(sh.Cause)); c != nil {
			x.Block = c.Block
			if r.Chains[c.Block] == nil {
				r.Chains[c.Block] = drawn.Mini(t, trace.Advice{}, c.Block)
			}
		}
		r.Sheets = append(r.Sheets, x)
	}
	return r
}

// listedSheet is a sheet with its device.
type listedSheet struct {
	*sheet
	of *ofDevice
}

// found again are the newest sheets, at least indexed of them; older ones stand on their
// year's page, so that the index that every page loads stays small. They leave it
// leaving at a time, so that a new sheet hardly ever means that another leaves.
const indexed, leaving = 1000, 200

// few is up to how many sheets one page holds them all.
const few = 400

var endings = []string{"mended", "given-up", "replaced", "came-back"}

// Old tells which of the sheets with these ids are too old to be found by
// themselves. An id begins with the sheet's date.
func Old(ids []string) map[string]bool {
	old := map[string]bool{}
	if len(ids) <= indexed {
		return old
	}
	ids = slices.Sorted(slices.Values(ids))
	for _, id := range ids[:(len(ids)-indexed)/leaving*leaving] {
		old[id] = true
	}
	return old
}

func lists(s *page.Shop, rows []ofDevice) ([]page.Page, error) {
	var newest []listedSheet
	for i := range rows {
		for k := range rows[i].Sheets {
			newest = append(newest, listedSheet{&rows[i].Sheets[k], &rows[i]})
		}
	}
	slices.SortFunc(newest, func(a, b listedSheet) int { return strings.Compare(b.Name, a.Name) })
	var out []page.Page
	years := map[string][]listedSheet{}
	var order []string
	for _, j := range newest {
		y := "undated"
		if len(j.Line.Date) >= 4 {
			y = j.Line.Date[:4]
		}
		if years[y] == nil {
			order = append(order, y)
		}
		years[y] = append(years[y], j)
	}
	if len(newest) <= few {
		return append(out, page.Page{Address: "jobs/index.html", Title: "Job sheets", Template: "jobs", View: listed(rows, "Job sheets", newest, nil)}), nil
	}
	for i, y := range order {
		var ways []page.Item
		for k, other := range order {
			it := page.Item{Title: other, Note: page.Count(len(years[other]), "sheet", "sheets")}
			if k != i {
				it.Address = yearAddress(order, k)
			}
			ways = append(ways, it)
		}
		title := "Job sheets of " + y
		out = append(out, page.Page{Address: "jobs/" + yearAddress(order, i), Title: title, Template: "jobs", View: listed(rows, title, years[y], ways)})
	}
	return out, nil
}

// yearAddress is the page of a year; the last one is the shelf's own.
func yearAddress(order []string, i int) string {
	if i == 0 {
		return "index.html"
	}
	return order[i] + ".html"
}

// listed is a page of sheets, newest first.
func listed(rows []ofDevice, title string, jobs []listedSheet, years []page.Item) list {
	l := list{Title: title, Count: page.Count(len(jobs), "sheet", "sheets"), Years: years}
	counts, devices := map[string]int{}, map[string]bool{}
	var chains []circuit.Mini
	listed := 0
	for _, j := range jobs {
		counts[j.sheet.Outcome]++
		devices[j.of.Name] = true
		x := j.Line
		if mini := j.of.Chains[j.Block]; j.Block != "" && len(jobs) <= few {
			chains, x.Chain = append(chains, mini), template.HTML(mini.SVG())
		}
		in := monthOf(x.Date)
		if n := len(l.Months); n == 0 || l.Months[n-1].Title != in {
			l.Months = append(l.Months, month{Title: in, Open: listed < open})
		}
		m := &l.Months[len(l.Months)-1]
		m.Jobs = append(m.Jobs, x)
		listed++
	}
	for i := range l.Months {
		l.Months[i].Count = page.Count(len(l.Months[i].Jobs), "sheet", "sheets")
	}
	l.Sprite = template.HTML(circuit.Sprite(chains...))
	var parts []string
	for _, o := range endings {
		if n := counts[o]; n > 0 {
			parts = append(parts, trace.Plain(o)+" "+quantity.Number(float64(n)))
			l.Endings = append(l.Endings, trace.Plain(o))
		}
	}
	if len(parts) > 0 {
		l.Outcomes = strings.ToUpper(parts[0][:1]) + strings.Join(parts, ", ")[1:] + "."
	}
	for _, d := range rows {
		if devices[d.Name] {
			l.Devices = append(l.Devices, page.Item{Address: d.Name, Title: d.Title})
		}
	}
	slices.SortStableFunc(l.Devices, func(a, b page.Item) int { return page.ByTitle(a.Title, b.Title) })
	return l
}

// monthOf is the month of a sheet's date, in words.
func monthOf(date string) string {
	at, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return "Undated"
	}
	return at.Format("January 2006")
}

func found(s *page.Shop, j *note.Job) string {
	if f := s.Fault(j.Sheet.Cause); f != nil {
		return f.Title
	}
	return "unknown"
}

func one(s *page.Shop, j *note.Job) (page.Page, error) {
	body, err := s.Body(&j.Document, j.Address())
	if err != nil {
		return page.Page{}, err
	}
	sh := j.Sheet
	root := page.Root(j.Address())
	d := s.Traced(sh.Device)
	v := view{Title: s.DeviceTitle(sh.Device) + ", " + sh.Date, Device: s.DeviceTitle(sh.Device), DeviceAddress: root + "devices/" + sh.Device + ".html", Body: body}
	add := func(name, value, address string) {
		if value != "" {
			v.Rows = append(v.Rows, row{name, value, address})
		}
	}
	v.Said = sh.OwnerSays
	cell := func(name, value string) {
		if value != "" {
			v.Plate = append(v.Plate, row{Name: name, Value: value})
		}
	}
	cell("outcome", trace.Plain(sh.Outcome))
	if sh.Minutes > 0 {
		cell("time", quantity.Minutes(sh.Minutes))
	}
	if sh.Money > 0 {
		cell("parts", s.Money(sh.Money))
	}
	cell("type", sh.Type)
	add("Code", sh.Code, "")
	add("By", sh.By, "")
	add("Before", sh.Before, "")
	add("Tried already", sh.Tried, "")
	add("Owner’s limit", sh.Limit, "")
	add("Seen on the bench", sh.Reproduced, "")
	add("It showed", symptoms(d, sh.Symptoms), "")
	if f := s.Fault(sh.Cause); f != nil {
		add("Found", f.Title, root+f.Address())
	} else {
		add("Found", "cause unknown", "")
	}
	add("What the notes expected", expected(s, d, sh), "")
	add("Why", sh.Reason, "")
	add("The owner was told", sh.Told, "")
	for _, p := range sh.Proofs {
		x := proof{Name: p.Kind.Says(), Value: p.Value, Limit: strings.TrimPrefix(p.Limit, "limit ")}
		switch {
		case p.Pass == trace.PassOK:
			x.Ended = "passed"
		case p.Pass == trace.PassFails:
			x.Ended = "failed"
		default:
			x.Ended = "not taken"
		}
		if p.Why != "" {
			x.Ended += ": " + p.Why
		}
		v.Proofs = append(v.Proofs, x)
	}
	v.Readings = readings(s, d, sh)
	if d != nil {
		if c := d.Cause(trace.CauseID(sh.Cause)); c != nil {
			mini := drawn.Mini(d, trace.Advice{}, c.Block)
			v.Sprite, v.Chain = template.HTML(circuit.Sprite(mini)), template.HTML(mini.SVG())
			for i, m := range mini {
				if m.Here {
					v.Where = "Found in the " + say.Block(c.Block) + ": block " + quantity.Number(float64(i+1)) + " of " + quantity.Number(float64(len(mini))) + " on the wire."
				}
			}
		}
	}
	for _, p := range sh.Parts {
		v.Parts = append(v.Parts, quantity.Number(p.Count)+" × "+trace.Plain(p.Part)+", "+s.Money(p.Price)+" each")
	}
	doc := &search.Document{ID: j.ID, Kind: "job", Title: v.Title, Address: j.Address(), Device: sh.Device, DeviceTitle: v.Device,
		Symptoms: []search.Symptom{{Says: sh.OwnerSays}}, Complaints: s.JobComplaints(sh.Device, sh.Symptoms), Cause: found(s, j) + ". " + sh.Reason, Text: strings.Join([]string{"job sheet", sh.Code, sh.Type, j.Plain()}, " ")}
	return page.Page{Address: j.Address(), Title: v.Title, Template: "job", View: v, Found: doc}, nil
}

// expected says which place the cause had among the notes' chances, by what the
// device showed alone.
func expected(s *page.Shop, d *trace.Device, sh trace.Sheet) string {
	if s.Fault(sh.Cause) == nil || d == nil || len(sh.Symptoms) == 0 {
		return ""
	}
	chances, _ := s.Ground(sh.Device).Chances(trace.Evidence{Symptoms: sh.Symptoms})
	own, before := 0.0, 0
	for _, c := range chances {
		if string(c.ID) == sh.Cause {
			own = c.Chance
		}
	}
	for _, c := range chances {
		if c.Chance > own {
			before++
		}
	}
	if before == 0 {
		return "this, by what it showed: " + quantity.Chance(own)
	}
	return "by what it showed " + quantity.Chance(own) + ", behind " + page.Count(before, "other", "others")
}

// readings puts each test on the ruler twice: as planned, with its opening, and
// as taken.
func readings(s *page.Shop, d *trace.Device, sh trace.Sheet) []reading {
	list := sh.Readings
	var out []reading
	for _, r := range list {
		out = append(out, reading{Ask: ask(d, r.Test), Value: trace.Plain(r.Value), Minutes: taken(r.Minutes)})
	}
	bare := slices.Clone(list)
	for i := range bare {
		bare[i].Minutes = 0
	}
	if d == nil || len(list) == 0 {
		return out
	}
	g := s.Ground(sh.Device)
	planned, done := g.Taken(trace.Evidence{Readings: bare}), g.Taken(trace.Evidence{Readings: list})
	if len(planned) < len(list) { // a test that has gone from the notes
		return out
	}
	end := 0.0
	for _, s := range [][]trace.LookStep{planned, done} {
		last := s[len(s)-1]
		end = math.Max(end, last.At+last.Minutes)
	}
	span := func(s trace.LookStep) template.HTML {
		return template.HTML(draw.Span{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens, End: end}.SVG())
	}
	for i := range out {
		out[i].Planned = quantity.Minutes(planned[i].Minutes)
		out[i].PlannedSpan = span(planned[i])
		if list[i].Minutes > 0 {
			out[i].TakenSpan = span(done[i])
		}
	}
	return out
}

// taken is how long a reading took, "" where nobody measured it.
func taken(minutes float64) string {
	if minutes <= 0 {
		return ""
	}
	return quantity.Minutes(minutes)
}

func symptoms(d *trace.Device, ids []trace.SymptomID) string {
	var says []string
	for _, id := range ids {
		for _, s := range d.Symptoms {
			if s.ID == id && len(says) > 0 {
				says = append(says, trace.InSentence(s.Says))
			} else if s.ID == id {
				says = append(says, s.Says)
			}
		}
	}
	return strings.Join(says, "; ")
}

func ask(d *trace.Device, id trace.TestID) string {
	if t := d.Test(id); t != nil {
		return t.Ask
	}
	return string(id)
}
