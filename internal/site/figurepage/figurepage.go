// Package figurepage shows the shop itself, from its job sheets: which faults
// come most, how long each device takes, what was not worth mending, and which
// parts to keep.
package figurepage

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page of figures; a shop without job sheets has none.
var Kind = page.Listed(page.Kind{Name: "figures"}, rowOf, pages)

// sheet is what the page takes of a job sheet.
type sheet struct {
	File, Date, Outcome, Reason, Cause string
	Minutes                            float64
	Parts                              []trace.Part
	Fault                              page.Item // found; none where the cause is in no note
}

// row is what it takes of a device.
type row struct {
	Name, Title string
	Sheets      []sheet
}

func rowOf(s *page.Shop, d *note.Device) row {
	r := row{Name: d.Name, Title: d.Title}
	for _, j := range s.JobsOf(d.Name) {
		x := sheet{File: j.File, Date: j.Sheet.Date, Outcome: j.Sheet.Outcome, Reason: j.Sheet.Reason, Cause: j.Sheet.Cause, Minutes: j.Sheet.Minutes, Parts: j.Sheet.Parts}
		if f := s.Fault(j.Sheet.Cause); f != nil {
			x.Fault = page.Item{Address: page.Root(Address) + f.Address(), Title: f.Title}
		}
		r.Sheets = append(r.Sheets, x)
	}
	return r
}

// job is a sheet with its device.
type job struct {
	sheet
	device, title string
}

// jobs are the sheets of all devices, as they are read: by file.
func jobs(rows []row) (list []job) {
	for _, r := range rows {
		for _, x := range r.Sheets {
			list = append(list, job{x, r.Name, r.Title})
		}
	}
	slices.SortFunc(list, func(a, b job) int { return strings.Compare(a.File, b.File) })
	return list
}

type view struct {
	Span                     string // "142 sheets from 2024-03-01 to 2026-02-11"
	Faults, Minutes, Outcome []bar
	Lost                     []lost
	Spares, MoreSpares       []spare // what is used most, and the rest
	SparesNote               string
}

// bar is one of several shares, drawn as a length; Share is in per cent of the
// longest there can be.
type bar struct{ Label, Text, Share string }

func barOf(label string, value float64, text string) bar {
	return bar{label, text, quantity.Number(quantity.Round(100*max(0, min(1, value)), 3))}
}

// lost is a fault that was not worth mending at times.
type lost struct{ Address, Title, Device, Times, Why string }

// spare is a part to keep.
type spare struct{ Part, Used, Keep, Devices, Address string }

// Address is where the page stands.
const Address = "jobs/figures.html"

const shown = 12 // bars in a chart

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	jobs := jobs(rows)
	if len(jobs) == 0 {
		return nil, nil
	}
	first, last := jobs[0].Date, jobs[0].Date
	for _, j := range jobs {
		first, last = min(first, j.Date), max(last, j.Date)
	}
	v := view{Span: page.Count(len(jobs), "sheet", "sheets") + " from " + first + " to " + last}
	v.Faults = faults(jobs)
	v.Minutes = minutes(jobs)
	v.Outcome = outcomes(jobs)
	v.Lost = notWorth(jobs)
	v.spares(s, jobs, years(first, last))
	if len(v.Spares) > shown {
		v.Spares, v.MoreSpares = v.Spares[:shown], v.Spares[shown:]
	}
	v.SparesNote = "So many that one is missing one time in twenty when it is wanted, if a delivery takes a fortnight."
	return []page.Page{{Address: Address, Title: "The shop in figures", Template: "figures", View: v,
		Found: &search.Document{ID: "jobs/figures", Kind: "page", Title: "The shop in figures", Address: Address,
			Text: "Which faults come most, minutes per device, what was not worth mending, spares to keep."}}}, nil
}

// years between two dates, a quarter at least, so that a young shop's rates are
// not made of a single week.
func years(first, last string) float64 {
	a, errA := time.Parse(time.DateOnly, first)
	b, errB := time.Parse(time.DateOnly, last)
	if errA != nil || errB != nil {
		return 1
	}
	return math.Max(.25, b.Sub(a).Hours()/24/365.25)
}

// tally counts by name and lists the largest first, equal ones by name.
type tally struct {
	name  string
	count float64
}

func counted(m map[string]float64) []tally {
	var out []tally
	for name, n := range m {
		out = append(out, tally{name, n})
	}
	slices.SortFunc(out, func(a, b tally) int {
		return cmp.Or(cmp.Compare(b.count, a.count), cmp.Compare(a.name, b.name))
	})
	return out
}

func faults(jobs []job) (bars []bar) {
	m := map[string]float64{}
	for _, j := range jobs {
		name := "cause unknown"
		if j.Fault.Title != "" {
			name = j.Fault.Title + ", " + trace.InSentence(j.title)
		}
		m[name]++
	}
	all := counted(m)
	for _, t := range all[:min(shown, len(all))] {
		bars = append(bars, barOf(t.name, t.count/all[0].count, quantity.Number(t.count)))
	}
	return bars
}

func minutes(jobs []job) (bars []bar) {
	by, titles := map[string][]float64{}, map[string]string{}
	for _, j := range jobs {
		if j.Minutes > 0 {
			by[j.device] = append(by[j.device], j.Minutes)
			titles[j.device] = j.title
		}
	}
	middles := map[string]float64{}
	most := 0.0
	for name, list := range by {
		slices.Sort(list)
		middles[name] = (list[(len(list)-1)/2] + list[len(list)/2]) / 2
		most = math.Max(most, middles[name])
	}
	for _, t := range counted(middles) {
		list := by[t.name]
		bars = append(bars, barOf(titles[t.name], t.count/most,
			quantity.Minutes(t.count)+" ("+strings.TrimSuffix(quantity.Minutes(list[0]), " min")+" to "+quantity.Minutes(list[len(list)-1])+"), "+page.Count(len(list), "job", "jobs")))
	}
	return bars
}

func outcomes(jobs []job) (bars []bar) {
	m := map[string]float64{}
	for _, j := range jobs {
		m[trace.Plain(j.Outcome)]++
	}
	for _, t := range counted(m) {
		share := t.count / float64(len(jobs))
		bars = append(bars, barOf(strings.ToUpper(t.name[:1])+t.name[1:], share, quantity.Number(t.count)+", "+quantity.Chance(share)))
	}
	return bars
}

// notWorth lists the faults whose jobs ended in giving up or a new one.
func notWorth(jobs []job) []lost {
	m, of, why, one := map[string]float64{}, map[string]int{}, map[string]string{}, map[string]job{}
	for _, j := range jobs {
		of[j.Cause]++
		if (j.Outcome == "given-up" || j.Outcome == "replaced") && j.Fault.Title != "" {
			m[j.Cause]++
			why[j.Cause] = cmp.Or(why[j.Cause], j.Reason)
			one[j.Cause] = j
		}
	}
	var out []lost
	for _, t := range counted(m) {
		j := one[t.name]
		out = append(out, lost{j.Fault.Address, j.Fault.Title, j.title,
			quantity.Number(t.count) + " of " + page.Count(of[t.name], "job", "jobs"), why[t.name]})
	}
	return out
}

// spares lists the parts used, with how many to keep by the calculator for
// spares: a delivery of a fortnight, and one time in twenty without.
func (v *view) spares(s *page.Shop, jobs []job, years float64) {
	used, by := map[string]float64{}, map[string][]string{}
	for _, j := range jobs {
		for _, p := range j.Parts {
			used[p.Part] += p.Count
			if !slices.Contains(by[p.Part], j.title) {
				by[p.Part] = append(by[p.Part], j.title)
			}
		}
	}
	for _, t := range counted(used) {
		x := spare{Part: trace.Plain(t.name), Used: quantity.Number(quantity.Round(t.count/years, 2)), Devices: strings.Join(by[t.name], ", ")}
		x.Keep, x.Address = keep(s, t.count/years)
		v.Spares = append(v.Spares, x)
	}
}

// keep is how many of a part to have on the shelf for so many uses in a year,
// and the calculator's address with these inputs; "" where it cannot be told.
func keep(s *page.Shop, aYear float64) (text, address string) {
	for _, c := range s.Calculators {
		if c.Name != "spares" {
			continue
		}
		l := calc.Link{Calculator: c.Name, Inputs: []calc.Setting{{Name: "uses", Value: quantity.Number(quantity.Round(aYear, 3))}}, Output: "keep"}
		r, err := c.Run(l.Inputs)
		if err != nil {
			return "", ""
		}
		if got, ok := r.Output(l.Output); ok {
			return got.Text, page.NumberAddress(page.Root(Address), l)
		}
	}
	return "", ""
}
