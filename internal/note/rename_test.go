package note

import (
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
)

// moved carries a renaming out in memory.
func moved(t *testing.T, fsys fstest.MapFS, old, now string) fstest.MapFS {
	t.Helper()
	edits, mistakes, err := Rename(fsys, all.Find, old, now)
	if err != nil || len(mistakes) > 0 {
		t.Fatalf("%s to %s: %v\n%s", old, now, err, printed(mistakes))
	}
	out := fstest.MapFS{}
	for name, f := range fsys {
		out[name] = f
	}
	for _, e := range edits {
		if e.Gone {
			delete(out, e.File)
		} else {
			out[e.File] = &fstest.MapFile{Data: e.Text}
		}
	}
	return out
}

// TestRename: a note of each kind moves with all that names it, and back; the
// addresses that it had lead on.
func TestRename(t *testing.T) {
	shop := samples()
	shop["content/pages/names.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Names\n---\n[The tag](../faults/element-tag-burnt-off.md#how-to-confirm), [the heater](../devices/fan-heater.md), [the cord](../blocks/cord.md), [meters](meters.md),\n[its cord](../faults/soup-warmer-cord-broken.md), [steps][s].\n\n[s]: ../checklists/before-opening.md\n")}
	shop["content/jobs/2025-03-05-soup-warmer-1.md"] = &fstest.MapFile{Data: []byte("---\r\ndevice: soup-warmer\r\ndate: 2025-03-05\r\ncause: \"soup-warmer-cord-broken\"\r\noutcome: mended\r\n---\r\n")}
	for _, c := range []struct {
		old, now string
		gone     []string // words that must be in no file, but behind was:
		lead     map[string]string
	}{
		{"element-tag-burnt-off", "tag-burnt", []string{"element-tag-burnt-off"}, map[string]string{"faults/element-tag-burnt-off": "faults/tag-burnt"}},
		{"fan-heater", "blow-heater", []string{"device: fan-heater", "devices/fan-heater.md"}, map[string]string{"devices/fan-heater": "devices/blow-heater"}},
		{"devices/soup-warmer", "soup-pot", []string{"device: soup-warmer", "cause: soup-warmer", "faults/soup-warmer"}, map[string]string{"devices/soup-warmer": "devices/soup-pot", "faults/soup-warmer-cord-broken": "faults/soup-pot-cord-broken"}},
		{"cord", "mains-cord", []string{"is: cord,", "blocks/cord.md"}, map[string]string{"blocks/cord": "blocks/mains-cord"}},
		{"content/pages/meters.md", "false-volts", []string{"(meters.md)"}, map[string]string{"pages/meters": "pages/false-volts"}},
		{"before-opening", "before-a-case", []string{"before-opening.md"}, map[string]string{"checklists/before-opening": "checklists/before-a-case"}},
	} {
		after := moved(t, shop, c.old, c.now)
		for file, f := range after {
			for _, line := range strings.Split(string(f.Data), "\n") {
				for _, word := range c.gone {
					if strings.Contains(line, word) && !strings.HasPrefix(line, "was:") {
						t.Errorf("%s to %s: %s still says %q", c.old, c.now, file, line)
					}
				}
			}
		}
		set, mistakes, _ := Load(after, all.Find)
		if len(mistakes) > 0 {
			t.Errorf("%s", printed(mistakes))
		}
		got := map[string]string{}
		for _, m := range set.Moved {
			got[m.From] = m.To
		}
		for from, to := range c.lead {
			if got[from] != to {
				t.Errorf("%s to %s: the address %s leads to %q", c.old, c.now, from, got[from])
			}
		}
		before, _, _ := Load(shop, all.Find)
		if a, b := len(before.Votes()), len(set.Votes()); a != b || set.Votes()["tag-burnt"].Here+set.Votes()["element-tag-burnt-off"].Here != 1 {
			t.Errorf("%s to %s: a sheet lost its fault", c.old, c.now)
		}
		// once more, and back: the notes are as they were but for what they remember
		twice := moved(t, after, c.now, c.now+"-2")
		back := moved(t, twice, c.now+"-2", c.old[strings.LastIndex(c.old, "/")+1:len(strings.TrimSuffix(c.old, ".md"))])
		for file, f := range shop {
			if got := forgotten(string(back[file].Data)); got != forgotten(string(f.Data)) {
				t.Errorf("%s to %s and back: %s is\n%s", c.old, c.now, file, got)
			}
		}
		if len(back) != len(shop) {
			t.Errorf("%d files became %d", len(shop), len(back))
		}
	}
}

// forgotten is a note without what it remembers, its quotes and its line ends.
func forgotten(text string) string {
	var out []string
	for _, line := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n") {
		if !strings.HasPrefix(line, "was:") {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// TestOldNames: sheets and notes with a device's old name are read under the new.
func TestOldNames(t *testing.T) {
	after := moved(t, samples(), "fan-heater", "blow-heater")
	after["content/jobs/2025-03-06-fan-heater-1.md"] = &fstest.MapFile{Data: []byte("---\ndevice: fan-heater\ndate: 2025-03-06\ncause: element-tag-burnt-off\noutcome: mended\n---\n")}
	set, mistakes, _ := Load(after, all.Find)
	if len(mistakes) > 0 || len(set.JobsOf("blow-heater")) != 2 {
		t.Fatal(printed(mistakes))
	}
	judge, mistakes := NewJudge(after, all.Find)
	if len(mistakes) > 0 {
		t.Fatal(printed(mistakes))
	}
	if s, list := judge.Sheet("2025-03-07-fan-heater-1.md", []byte("---\ndevice: fan-heater\ndate: 2025-03-07\ncause: unknown\noutcome: mended\n---\n")); len(list) > 0 || s.Device != "blow-heater" {
		t.Errorf("%+v %s", s, printed(list))
	}
}

// TestRenameRefused: what cannot be done is one sentence, and changes nothing.
func TestRenameRefused(t *testing.T) {
	for _, c := range []struct{ old, now, says string }{
		{"element-tag", "x", "there is no note “element-tag”"},
		{"fan-heatr", "x", "did you mean “fan-heater”"},
		{"fan-heater", "soup-warmer", "there is a note “soup-warmer” already"},
		{"fan-heater", "Fan Heater", "is not plain"},
		{"soup-warmer-cord-broken", "x", "is a common fault, which stands in content/blocks/cord.md"},
		{"2025-03-04-fan-heater-1", "x", "there is no note"},
	} {
		if edits, _, err := Rename(samples(), all.Find, c.old, c.now); err == nil || !strings.Contains(err.Error(), c.says) || edits != nil {
			t.Errorf("%s to %s: %v", c.old, c.now, err)
		}
	}
	shop := samples()
	shop["content/pages/x.md"] = &fstest.MapFile{Data: []byte("no note")}
	if _, mistakes, _ := Rename(shop, all.Find, "fan-heater", "x"); len(mistakes) != 1 {
		t.Errorf("with a mistake: %s", printed(mistakes))
	}
}
