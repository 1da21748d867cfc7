// Package coverpage is the page that says, for each device and each thing that an
// owner can say of it, how many fault notes answer: so a gap is seen before
// somebody stands at the counter with it.
package coverpage

import (
	"fmt"
	"slices"
	"sort"

	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page.
var Kind = page.Listed(page.Kind{Name: "cover"}, rowOf, pages)

// row is what the page shows of a device.
type row struct {
	Address, Title, Notes string
	Answers               map[string]int // fault notes by complaint
}

func rowOf(s *page.Shop, d *note.Device) row {
	return row{d.Address(), d.Title, page.Count(len(s.FaultsOf(d.Name)), "fault note", "fault notes"), answers(s.Set, d)}
}

// Address is where it stands.
const Address = "answers.html"

type view struct {
	Devices []device
	Said    []said
	Pairs   string
	Unasked []page.Item
}

// device is one device with what is answered.
type device struct {
	Address, Title, Notes string
	Answers               []answer
}

// answer is one pair of device and complaint.
type answer struct {
	Says  string
	Notes int
}

// said is a complaint with the devices on which some note answers it.
type said struct {
	ID, Says string
	Devices  []page.Item
}

// Pairs counts, for each device and each complaint, the fault notes that show it
// at least sometimes.
func Pairs(set *note.Set) map[string]map[string]int {
	out := map[string]map[string]int{}
	for _, d := range set.Devices {
		out[d.Name] = answers(set, d)
	}
	return out
}

// answers are those of one device.
func answers(set *note.Set, d *note.Device) map[string]int {
	of := map[string]int{}
	for _, f := range set.FaultsOf(d.Name) {
		shows := map[string]bool{}
		for symptom, often := range f.Cause.Symptoms {
			if often == "never" || often == "rarely" {
				continue
			}
			for _, w := range d.Is[symptom] {
				shows[w.Name] = true
			}
		}
		for id := range shows {
			of[id]++
		}
	}
	return of
}

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	if len(s.Complaints) == 0 || len(rows) == 0 {
		return nil, nil
	}
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b row) int { return page.ByTitle(a.Title, b.Title) })
	v := view{}
	total := 0
	for _, r := range rows {
		row := device{Address: r.Address, Title: r.Title, Notes: r.Notes}
		for _, c := range s.Complaints {
			if n := r.Answers[c.ID]; n > 0 {
				row.Answers = append(row.Answers, answer{c.Says, n})
				total++
			}
		}
		sort.SliceStable(row.Answers, func(i, j int) bool { return row.Answers[i].Notes > row.Answers[j].Notes })
		v.Devices = append(v.Devices, row)
	}
	for _, c := range s.Complaints {
		row := said{ID: c.ID, Says: c.Says}
		for _, d := range rows {
			if n := d.Answers[c.ID]; n > 0 {
				row.Devices = append(row.Devices, page.Item{Address: d.Address, Title: d.Title, Note: fmt.Sprint(n)})
			}
		}
		if len(row.Devices) == 0 {
			v.Unasked = append(v.Unasked, page.Item{Title: c.Says})
			continue
		}
		v.Said = append(v.Said, row)
	}
	v.Pairs = page.Count(total, "pair of device and complaint is", "pairs of device and complaint are") + " answered by a note"
	return []page.Page{{Address: Address, Title: "What is answered", Template: "cover", View: v,
		Found: &search.Document{ID: "answers", Kind: "page", Title: "What is answered, by device and complaint", Address: Address,
			Text: "Which complaints the notes answer for each device, and which none answers."}}}, nil
}
