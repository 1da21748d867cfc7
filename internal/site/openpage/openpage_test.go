package openpage

import (
	"strings"
	"testing"

	"faultleaf/calc/trace"
	"faultleaf/internal/note"
)

// Each opening is a part of the list: its steps where the note tells them, else what
// it does; one that the shop does not do has no tick.
func TestOpening(t *testing.T) {
	d := &note.Device{Document: note.Document{Name: "kettle", Title: "Kettle"},
		Access: []trace.Access{
			{ID: "base-open", Does: "Open the base", Minutes: 4, Undo: 3},
			{ID: "inner", Does: "Lift the <plate>", Minutes: 2, Undo: 2, Inside: "base-open"},
			{ID: "vessel", Does: "Cut the vessel", Forbidden: "it never closes again"}},
		Steps: map[trace.AccessID][]string{"base-open": {"Feet off", "Two screws below them"}}}
	p := one(d)
	v := p.View.(view)
	body := string(v.Body)
	for _, want := range []string{"Feet off.", "Two screws below them.", "Lift the &lt;plate&gt;.", "First: open the base", "Not for this shop: it never closes again"} {
		if !strings.Contains(body, want) {
			t.Errorf("the list lacks %q:\n%s", want, body)
		}
	}
	if n := strings.Count(body, "data-tick="); n != 3 || v.Count != "3 steps" || v.Minutes != "6 min" {
		t.Errorf("%d ticks, %s, %s", n, v.Count, v.Minutes)
	}
	if p.Address != "opening/kettle.html" || !Has(d) || Has(&note.Device{Access: d.Access[2:]}) {
		t.Error("a page stands where nothing is opened, or none where something is")
	}
}
