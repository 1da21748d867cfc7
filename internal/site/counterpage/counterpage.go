// Package counterpage is where a job begins and where it stands: the counter and
// the job's own page. Both are filled by the scripts from what Bench gives.
package counterpage

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
)

// Kind is the counter, Job the page of the job on the bench.
var (
	Kind = page.Kind{Name: "counter", Pages: func(*page.Shop) ([]page.Page, error) {
		return []page.Page{{Address: "counter.html", Title: "Taking in", Template: "counter"}}, nil
	}}
	Job = page.Kind{Name: "job-page", Pages: func(*page.Shop) ([]page.Page, error) {
		return []page.Page{{Address: "job.html", Title: "The job on this bench", Template: "job-page"}}, nil
	}}
)

type bench struct {
	Shop    shop           `json:"shop"`
	Devices map[string]Row `json:"devices"`
	Lists   []list         `json:"lists"`
}

// Row is what a list of devices needs of one.
type Row struct {
	Name  string `json:"-"`
	Title string `json:"title"`
	At    string `json:"at"` // the payload with the rest of it, in run/, named by what it holds
}

type shop struct {
	Name     string  `json:"name"`
	Currency string  `json:"currency"`
	Rate     float64 `json:"rate"`
}

type device struct {
	Title    string                       `json:"title"`
	Class    string                       `json:"class"`
	Price    float64                      `json:"price,omitempty"`
	Symptoms []symptom                    `json:"symptoms"`
	Causes   []cause                      `json:"causes"`
	Tests    map[trace.TestID]string      `json:"tests"`
	Proofs   []trace.Need                 `json:"proofs"`
	Chain    string                       `json:"chain"`         // in small, as circuit.Mini says it, shaded by the chances at rest
	Was      map[string]map[string]string `json:"was,omitempty"` // what its things were called before
}

type symptom struct {
	ID   trace.SymptomID `json:"id"`
	Says string          `json:"says"`
}

type cause struct {
	ID         trace.CauseID `json:"id"`
	Title      string        `json:"title"`
	At         int           `json:"at"` // its block's place on the chain, from 0
	Protective bool          `json:"protective,omitempty"`
	Because    []string      `json:"because,omitempty"`
	Parts      []part        `json:"parts,omitempty"`
}

type part struct {
	Part  string  `json:"part"`
	Count float64 `json:"count"`
	Price float64 `json:"price"`
}

// list is a checklist that proves something.
type list struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Address string  `json:"address"`
	Minutes float64 `json:"minutes,omitempty"`
	Steps   []step  `json:"steps"`
}

type step struct {
	ID    string          `json:"id"`
	Proof trace.ProofKind `json:"proof"`
}

// Device is what the pages of a job need of a device, as JSON: its symptoms, causes,
// tests and the proofs asked for. It is fetched when that device is on the bench.
func Device(s *page.Shop, d *note.Device) (row Row, payload []byte, err error) {
	t := s.Traced(d.Name)
	v := device{Title: d.Title, Class: d.Class, Price: d.Price, Symptoms: []symptom{}, Causes: []cause{}, Tests: map[trace.TestID]string{}, Proofs: s.Needs(d), Was: d.Names.Old()}
	var rest trace.Advice
	rest.Chances, rest.Unknown = trace.Chances(t, trace.Evidence{})
	v.Chain = drawn.Mini(t, rest, "").Text()
	for _, x := range t.Symptoms {
		v.Symptoms = append(v.Symptoms, symptom{x.ID, x.Says})
	}
	for _, x := range t.Tests {
		v.Tests[x.ID] = x.Ask
	}
	for _, c := range t.Causes {
		o := cause{ID: c.ID, Title: c.Title, At: drawn.Place(t, c.Block), Protective: c.Protective, Because: c.Because}
		for _, p := range c.Mend.Parts {
			o.Parts = append(o.Parts, part{p.Part, p.Count, p.Price})
		}
		v.Causes = append(v.Causes, o)
	}
	if payload, err = json.Marshal(v); err != nil {
		return Row{}, nil, err
	}
	sum := sha256.Sum256(append([]byte(d.Name+"\x00"), payload...)) // two devices may have the same
	return Row{Name: d.Name, Title: d.Title, At: "device-" + hex.EncodeToString(sum[:8])}, payload, nil
}

// Bench is what every page of a job needs, as JSON: the devices by name, the lists
// that hold proofs. It travels once and not with every page.
func Bench(s *page.Shop, rows []Row) ([]byte, error) {
	b := bench{Shop: shop{s.Shop.Name, s.Shop.Currency, s.Shop.Rate}, Devices: map[string]Row{}, Lists: []list{}}
	for _, r := range rows {
		b.Devices[r.Name] = r
	}
	for _, c := range s.Checklists {
		l := list{ID: c.Name, Title: c.Title, Address: c.Address(), Minutes: c.Minutes}
		for _, x := range c.Steps {
			if x.Proof != "" {
				l.Steps = append(l.Steps, step{x.ID, x.Proof})
			}
		}
		if len(l.Steps) > 0 {
			b.Lists = append(b.Lists, l)
		}
	}
	return json.Marshal(b)
}
