package safety

import (
	"slices"
	"testing"

	"faultleaf/calc/sources"
)

// Every set of rules rests on a document of the list, is said to be in use only
// where that is, and a document that has ended is in use nowhere.
func TestSets(t *testing.T) {
	short := map[string]string{Europe: "EU", Britain: "UK", Oceania: "AU/NZ", NorthAmerica: "US"}
	for name, set := range Sets {
		s, ok := sources.Find(set.Source)
		if !ok {
			t.Errorf("%s rests on %s, which is not on the list", name, set.Source)
			continue
		}
		if s.InForce() != (len(set.Regions) > 0) {
			t.Errorf("%s: %s, %s, is in use in %v", name, s.Name, s.Status, set.Regions)
		}
		if len(s.Devices) == 0 {
			t.Errorf("%s: %s says on no device what it judges", name, s.Name)
		}
		for _, r := range set.Regions {
			if !slices.Contains(s.Regions, short[r]) {
				t.Errorf("%s is not in use in %s: %v", s.Name, r, s.Regions)
			}
		}
	}
}

func TestWhere(t *testing.T) {
	tests := []struct {
		names []string
		want  string
	}{
		{[]string{"en", "uk"}, "In use in Europe, the United Kingdom. No figure here for Australia and New Zealand, North America: ask your code."},
		{[]string{"en", "uk", "as-nzs", "ul"}, "In use in Europe, the United Kingdom, Australia and New Zealand, North America."},
		{[]string{"it"}, "In use nowhere any more. No figure here for Europe, the United Kingdom, Australia and New Zealand, North America: ask your code."},
	}
	for _, test := range tests {
		if got := Where(test.names...); got != test.want {
			t.Errorf("%v: %s", test.names, got)
		}
	}
}
