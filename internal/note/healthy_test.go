package note

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
)

// TestHealthy: a mistake in one note leaves it, and the device whose advice it
// bears on, and nothing else; what stays gives the same trace as before.
func TestHealthy(t *testing.T) {
	for _, c := range []struct {
		file, from, to string
		left           []string // devices
		files          int
		all            bool
	}{
		{"content/faults/element-tag-burnt-off.md", "block: element", "block: elemnt", []string{"fan-heater"}, 3, false},
		{"content/faults/element-tag-burnt-off.md", "---\n", "<<<<<<< a\n>>>>>>> b\n", []string{"fan-heater"}, 3, false},
		{"content/devices/fan-heater.md", "title: Fan heater\n", "", []string{"fan-heater"}, 3, false},
		{"content/jobs/2025-03-04-fan-heater-1.md", "outcome: mended", "outcome: mendet", []string{"fan-heater"}, 3, false},
		{"content/blocks/cord.md", "does: open", "does: opn", []string{"soup-warmer"}, 3, false},
		{"content/pages/meters.md", "../checklists/before-opening.md", "nowhere.md", nil, 1, false},
		{"content/checklists/before-opening.md", "- [ ] Unplug", "* Unplug", nil, 1, false},
		{"content/shop.yaml", "rate: 36", "rte: 36", nil, 0, true},
		{"content/complaints.yaml", "dead: {says", "dead: {sas", nil, 0, true},
	} {
		shop := samples()
		shop["content/pages/links.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Links\n---\n[a](../devices/fan-heater.md#test-element-ohms) [b](../faults/element-tag-burnt-off.md#how-to-confirm) [c](meters.md) [d](../checklists/before-opening.md) [e](../faults/soup-warmer-cord-broken.md)\n")}
		sound, mistakes, _ := Load(shop, all.Find)
		if len(mistakes) > 0 {
			t.Fatal(printed(mistakes))
		}
		f := shop[c.file]
		shop[c.file] = &fstest.MapFile{Data: []byte(strings.Replace(string(f.Data), c.from, c.to, 1))}
		set, left, mistakes, _ := LoadHealthy(shop, all.Find, nil)
		if len(mistakes) == 0 || left.All != c.all {
			t.Errorf("%s: %+v\n%s", c.file, left, printed(mistakes))
			continue
		}
		if c.all {
			continue
		}
		if len(left.Devices) != len(c.left) || len(c.left) > 0 && left.Devices[0] != c.left[0] {
			t.Errorf("%s with %q: the devices %v are left, wanted %v", c.file, c.to, left.Devices, c.left)
		}
		for _, d := range sound.Devices {
			now := set.TraceDevice(d.Name)
			if left.Has(d.Name) != (now == nil) {
				t.Errorf("%s with %q: the trace of %s is there: %v", c.file, c.to, d.Name, now != nil)
			}
			if now != nil && !reflect.DeepEqual(now, sound.TraceDevice(d.Name)) {
				t.Errorf("%s with %q: the trace of %s is another one", c.file, c.to, d.Name)
			}
		}
		for _, d := range set.Documents() {
			if left.Files[d.File] {
				t.Errorf("%s is left and is used", d.File)
			}
		}
		if _, ok := set.Note("content/pages/links.md"); !ok && c.file != "content/blocks/cord.md" && c.file != "content/devices/fan-heater.md" {
			t.Errorf("%s with %q: a page is left for a link to it: %v", c.file, c.to, left.Files)
		}
	}
}

// TestHealthyOnOne: what is wrong in a block's note on one device only leaves the
// others that are made of it.
func TestHealthyOnOne(t *testing.T) {
	shop := samples()
	b := shop["content/blocks/cord.md"]
	b.Data = []byte(strings.Replace(string(b.Data), "bent along its whole length", "at the {knob}", 1))
	warmer := string(shop["content/devices/soup-warmer.md"].Data)
	shop["content/devices/tea-warmer.md"] = &fstest.MapFile{Data: []byte(strings.Replace(strings.Replace(warmer, "Soup", "Tea", 1), "symptoms:", "words: {knob: dial}\nsymptoms:", 1))}
	set, left, mistakes, _ := LoadHealthy(shop, all.Find, nil)
	if len(mistakes) == 0 || !left.Has("soup-warmer") || left.Has("tea-warmer") || set.TraceDevice("tea-warmer") == nil || left.Files["content/blocks/cord.md"] {
		t.Errorf("%+v\n%s", left, printed(mistakes))
	}
}

// TestHealthyUnknown: a fault that does not say of which device it is asks who may
// know.
func TestHealthyUnknown(t *testing.T) {
	shop := samples()
	shop["content/faults/element-tag-burnt-off.md"] = &fstest.MapFile{Data: []byte("nothing")}
	_, left, _, _ := LoadHealthy(shop, all.Find, func(file string) string {
		if file == "content/faults/element-tag-burnt-off.md" {
			return "fan-heater"
		}
		return ""
	})
	if !left.Has("fan-heater") || left.Has("soup-warmer") {
		t.Errorf("%+v", left)
	}
}
