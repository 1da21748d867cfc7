package note

import (
	"strings"

	"faultleaf/calc/blocks"
)

// Library is what devices can be made of: the shop's block notes and complaints.
func (s *Set) Library() *blocks.Library {
	lib := &blocks.Library{Kinds: map[string]*blocks.Kind{}}
	for _, b := range s.Blocks {
		lib.Kinds[b.Name] = b.Kind
	}
	for _, c := range s.Complaints {
		lib.Complaints = append(lib.Complaints, blocks.Complaint{ID: c.ID, Says: c.Says, Run: c.Needs == "run"})
	}
	return lib
}

// StaysShut finds the page of a thing that this shop does not open, by what it is
// called: "old microwave oven" is one of them. It is nil for anything else.
func (s *Set) StaysShut(name string) *Page {
	asked := " " + plainName(name) + " "
	for _, p := range s.Pages {
		for _, shut := range p.Shut {
			if strings.Contains(asked, " "+plainName(shut)+" ") {
				return p
			}
		}
	}
	return nil
}
