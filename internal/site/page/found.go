package page

import (
	"math"
	"sort"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/say"
	"faultleaf/internal/note"
	"faultleaf/search"
)

// How strongly a note is about a complaint, for the search.
var (
	oftenWorth  = map[trace.Often]float64{"always": 1, "often": 0.85, "sometimes": 0.5, "rarely": 0.12}
	casesWorth  = 0.4 // of the share of a fault's cases, the root of it; the rest counts without any
	deviceWorth = 0.6 // of a complaint on the device's own page
	jobWorth    = 0.6 // on a job sheet
)

// Speech is how people speak in this shop, for the search.
func (s *Shop) Speech() search.Speech {
	out := search.Speech{Words: s.Words}
	for _, c := range s.Complaints {
		x := search.Complaint{ID: c.ID, Short: c.Short, Wordings: c.Wordings, Finds: weighted(c.Finds)}
		if x.Short == "" {
			x.Short = trace.Plain(c.ID)
		}
		out.Complaints = append(out.Complaints, x)
	}
	return out
}

func weighted(list []note.Weighted) []search.Weighted {
	var out []search.Weighted
	for _, w := range list {
		out = append(out, search.Weighted(w))
	}
	return out
}

// Weighted turns names and weights of a note into those of the search.
func Weighted(lists ...[]note.Weighted) []search.Weighted {
	var out []search.Weighted
	for _, l := range lists {
		out = append(out, weighted(l)...)
	}
	return out
}

// Symptoms are spoken sentences of a device with the complaints that they are.
func (s *Shop) Symptoms(device string, list []trace.Symptom) []search.Symptom {
	d, ok := s.Device(device)
	var out []search.Symptom
	for _, sy := range list {
		x := search.Symptom{Says: sy.Says}
		if ok {
			x.Is = weighted(d.Is[sy.ID])
		}
		out = append(out, x)
	}
	return out
}

// FaultComplaints says how strongly a fault is about each complaint: how often it
// shows a symptom, how well the symptom is that complaint, and its share of the
// device's cases.
func (s *Shop) FaultComplaints(device string, c *trace.Cause) []search.Weighted {
	d, ok := s.Device(device)
	if !ok {
		return nil
	}
	most := 1.0
	for _, other := range s.Traced(device).Causes {
		most = max(most, other.Seen+other.Jobs)
	}
	share := 1 - casesWorth + float64(casesWorth*math.Sqrt((c.Seen+c.Jobs)/most))
	return strongest(func(add func(id string, weight float64)) {
		for id, often := range c.Symptoms {
			for _, w := range d.Is[id] {
				add(w.Name, float64(oftenWorth[often]*float64(w.Weight*share)))
			}
		}
	})
}

// DeviceComplaints are those of the device's own page.
func (s *Shop) DeviceComplaints(d *note.Device) []search.Weighted {
	return strongest(func(add func(id string, weight float64)) {
		for _, is := range d.Is {
			for _, w := range is {
				add(w.Name, float64(deviceWorth*w.Weight))
			}
		}
	})
}

// JobComplaints are those that a job sheet ticked.
func (s *Shop) JobComplaints(device string, symptoms []trace.SymptomID) []search.Weighted {
	d, ok := s.Device(device)
	if !ok {
		return nil
	}
	return strongest(func(add func(id string, weight float64)) {
		for _, id := range symptoms {
			for _, w := range d.Is[id] {
				add(w.Name, float64(jobWorth*w.Weight))
			}
		}
	})
}

// strongest keeps the most of each complaint, sorted by id: maps range in any
// order, and equal notes must give equal bytes.
func strongest(visit func(add func(id string, weight float64))) []search.Weighted {
	most := map[string]float64{}
	visit(func(id string, weight float64) {
		if weight > 0 {
			most[id] = max(most[id], weight)
		}
	})
	var out []search.Weighted
	for id, w := range most {
		out = append(out, search.Weighted{Name: id, Weight: w})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// BeginWith fills the first test of a document, its minutes and its caution: the
// trace's next step for some symptoms, and where that is a mend, the cheapest test
// without a live part that tells about the fault.
func (s *Shop) BeginWith(doc *search.Document, device string, c *trace.Cause, symptoms []trace.SymptomID) {
	d := s.Traced(device)
	if d == nil {
		return
	}
	var first *trace.Test
	if a, err := s.Begin(device, symptoms); err == nil && a.Kind == trace.DoTest {
		first = d.Test(a.Test)
		doc.FirstTest, doc.FirstMinutes = say.Step(d, a.Action, a.Again), quantity.Minutes(a.Minutes)
	}
	if first == nil && c != nil {
		for i := range d.Tests {
			t := &d.Tests[i]
			if _, tells := c.Reads[t.ID]; tells && t.Power != trace.Mains && t.Power != trace.Isolated && (first == nil || testMinutes(d, t) < testMinutes(d, first)) {
				first = t
			}
		}
		if first != nil {
			doc.FirstTest, doc.FirstMinutes = first.Ask, quantity.Minutes(testMinutes(d, first))
		}
	}
	if first != nil {
		doc.Hazard = first.Caution
	}
}

// testMinutes counts a test with what must be opened for it.
func testMinutes(d *trace.Device, t *trace.Test) float64 {
	total := t.Minutes
	for _, a := range d.Opening(t.Needs) {
		total += a.Minutes
	}
	return total
}
