// Package jobpage shows the job sheets: one page each, and their list with the
// counts by outcome.
package jobpage

import (
	"html/template"
	"math"
	"slices"
	"strings"

	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the job sheets' pages.
var Kind = page.Kind{Name: "job", Pages: pages}

type view struct {
	Title, Device, DeviceAddress string
	Rows                         []row
	Readings                     []reading
	Parts                        []string
	Body                         template.HTML
}

type row struct{ Name, Value, Address string }

type reading struct {
	Ask, Value, Planned, Minutes string
	PlannedSpan, TakenSpan       template.HTML // on one ruler of minutes
}

type list struct {
	Count, Outcomes string
	Jobs            []line
}

type line struct{ Address, Date, Device, Said, Found, Minutes, Outcome string }

func pages(s *page.Shop) ([]page.Page, error) {
	l := list{Count: page.Count(len(s.Jobs), "sheet", "sheets")}
	counts := map[string]int{}
	var out []page.Page
	for _, j := range s.Jobs {
		counts[j.Sheet.Outcome]++
		p, err := one(s, j)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	for _, j := range s.Latest(len(s.Jobs)) {
		l.Jobs = append(l.Jobs, line{page.Root("jobs/x") + j.Address(), j.Sheet.Date, s.DeviceTitle(j.Sheet.Device), j.Sheet.OwnerSays, found(s, j),
			quantity.Minutes(j.Sheet.Minutes), trace.Plain(j.Sheet.Outcome)})
	}
	var parts []string
	for _, o := range []string{"mended", "given-up", "replaced", "came-back"} {
		if n := counts[o]; n > 0 {
			parts = append(parts, trace.Plain(o)+" "+quantity.Number(float64(n)))
		}
	}
	if len(parts) > 0 {
		l.Outcomes = strings.ToUpper(parts[0][:1]) + strings.Join(parts, ", ")[1:] + "."
	}
	return append(out, page.Page{Address: "jobs/index.html", Title: "Job sheets", Template: "jobs", View: l}), nil
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
	add("The owner said", sh.OwnerSays, "")
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
	add("Why", sh.Reason, "")
	add("Outcome", trace.Plain(sh.Outcome), "")
	add("Time", quantity.Minutes(sh.Minutes), "")
	add("Parts cost", s.Money(sh.Money), "")
	v.Readings = readings(d, sh.Readings)
	for _, p := range sh.Parts {
		v.Parts = append(v.Parts, quantity.Number(p.Count)+" × "+p.Part+", "+s.Money(p.Price)+" each")
	}
	doc := &search.Document{ID: j.ID, Kind: "job", Title: v.Title, Address: j.Address(), Device: sh.Device, DeviceTitle: v.Device,
		Symptoms: []search.Symptom{{Says: sh.OwnerSays}}, Complaints: s.JobComplaints(sh.Device, sh.Symptoms), Cause: found(s, j) + ". " + sh.Reason, Text: j.Plain()}
	return page.Page{Address: j.Address(), Title: v.Title, Template: "job", View: v, Found: doc}, nil
}

// readings puts each test on the ruler twice: as planned, with its opening, and
// as taken.
func readings(d *trace.Device, list []trace.Reading) []reading {
	var out []reading
	for _, r := range list {
		out = append(out, reading{Ask: ask(d, r.Test), Value: trace.Plain(r.Value), Minutes: quantity.Minutes(r.Minutes)})
	}
	bare := slices.Clone(list)
	for i := range bare {
		bare[i].Minutes = 0
	}
	planned, errP := trace.Taken(d, trace.Evidence{Readings: bare})
	taken, errT := trace.Taken(d, trace.Evidence{Readings: list})
	if errP != nil || errT != nil || len(list) == 0 {
		return out
	}
	end := 0.0
	for _, s := range [][]trace.LookStep{planned, taken} {
		last := s[len(s)-1]
		end = math.Max(end, last.At+last.Minutes)
	}
	span := func(s trace.LookStep) template.HTML {
		return template.HTML(draw.Span{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens, End: end}.SVG())
	}
	for i := range out {
		out[i].Planned = quantity.Minutes(planned[i].Minutes)
		out[i].PlannedSpan, out[i].TakenSpan = span(planned[i]), span(taken[i])
	}
	return out
}

func symptoms(d *trace.Device, ids []trace.SymptomID) string {
	var says []string
	for _, id := range ids {
		for _, s := range d.Symptoms {
			if s.ID == id {
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
