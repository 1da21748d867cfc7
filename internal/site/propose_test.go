package site

import (
	"testing"

	"faultleaf/internal/note"
	"faultleaf/search"
)

// At the counter the owner's words propose the device's symptoms: of the
// vocabulary's own wordings nearly all lead to the symptom that is that complaint,
// among the first four.
func TestCounterProposes(t *testing.T) {
	set := load(t, starter)
	ix, _, err := Index(starter)
	if err != nil {
		t.Fatal(err)
	}
	proposes := func(d *note.Device, words, wanted string) bool {
		first := map[string]bool{}
		for _, h := range ix.Search(words, search.Options{Limit: 30, Device: d.Name}) {
			for _, s := range d.Symptoms {
				if s.Says == h.Symptom && len(first) < 4 {
					first[s.Says] = true
				}
			}
		}
		return first[wanted]
	}
	good, all := 0, 0
	for _, d := range set.Devices {
		for _, s := range d.Symptoms {
			for _, w := range d.Is[s.ID] {
				c, ok := set.Complaint(w.Name)
				if !ok || w.Weight < 1 {
					continue
				}
				for _, words := range append([]string{c.Says}, c.Wordings[:min(2, len(c.Wordings))]...) {
					all++
					if proposes(d, words, s.Says) {
						good++
					}
				}
			}
		}
	}
	t.Logf("%d of %d", good, all)
	if good*100 < all*85 {
		t.Errorf("only %d of %d wordings propose their symptom", good, all)
	}
}
