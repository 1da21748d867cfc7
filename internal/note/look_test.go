package note

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A look is a word of the list. A fault that a test by eye shows and that has none is
// remarked, unless it says that no drawing tells it.
func TestLook(t *testing.T) {
	const device, fault = "content/devices/fan-heater.md", "content/faults/element-tag-burnt-off.md"
	edit := func(fsys fstest.MapFS, file, old, new string) {
		t.Helper()
		before := string(fsys[file].Data)
		if !strings.Contains(before, old) {
			t.Fatalf("%s holds no %q", file, old)
		}
		fsys[file] = &fstest.MapFile{Data: []byte(strings.Replace(before, old, new, 1))}
	}
	const unseen = "shows itself to the eye on the test “look”, and has no look"
	for _, c := range []struct {
		look, mistake, remark string
		eye                   bool
	}{
		{"", "", "", false},
		{"", "", unseen, true},
		{"look: none\n", "", "", true},
		{"look: burnt-tag\n", "", "", true},
		{"look: burnt-tags\n", "the look cannot be “burnt-tags”; did you mean “burnt-tag”", "", true},
	} {
		fsys := good(t)
		edit(fsys, fault, "because:", c.look+"because:")
		if c.eye {
			edit(fsys, device, "  look:\n", "  look:\n    by_eye: true\n")
		}
		set, mistakes, remarks := Load(fsys, findWire)
		if got := printed(mistakes); (got == "") != (c.mistake == "") || !strings.Contains(got, c.mistake) {
			t.Errorf("%q: mistakes %q, wanted %q", c.look, got, c.mistake)
		}
		if got := printed(remarks); strings.Contains(got, "burnt-off.md:4:8: the fault "+unseen) != (c.remark != "") {
			t.Errorf("%q: remarks %q, wanted %q", c.look, got, c.remark)
		}
		if c.look != "look: burnt-tag\n" {
			continue
		}
		d := set.TraceDevice("fan-heater")
		for i := range d.Tests {
			x := &d.Tests[i]
			if seen := d.Looks(x); (len(seen) > 0) != (x.ID == "look") {
				t.Errorf("the test %s shows %v", x.ID, seen)
			}
		}
	}
}
