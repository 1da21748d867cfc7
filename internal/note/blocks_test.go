package note

import (
	"encoding/json"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
)

// What the starter's devices were made of before common blocks is on stickers
// and in job sheets: all of it must lead somewhere still.
func TestOldNamesHold(t *testing.T) {
	set, mistakes, _ := Load(os.DirFS("../.."), all.Find)
	for _, m := range mistakes {
		t.Error(m)
	}
	raw, err := os.ReadFile("testdata/before-blocks.txt")
	if err != nil {
		t.Fatal(err)
	}
	pages, moved := map[string]bool{}, map[string]string{}
	for _, f := range set.Faults {
		pages[f.ID] = true
	}
	for _, m := range set.Moved {
		moved[m.From] = m.To
	}
	var d *Device
	names := Names{}
	checked := 0
	for _, line := range strings.Split(strings.TrimSpace(string(raw)), "\n") {
		words := strings.Fields(line)
		switch words[0] {
		case "device":
			var ok bool
			if d, ok = set.Device(words[1]); !ok {
				t.Fatalf("there is no device %s any more", words[1])
			}
			names = d.Names
		case "symptoms":
			for _, id := range words[1:] {
				found := false
				for _, s := range d.Symptoms {
					found = found || string(s.ID) == names.Symptom(id)
				}
				if !found {
					t.Errorf("%s: the symptom %s leads nowhere", d.Name, id)
				}
				checked++
			}
		case "test":
			if !hasTest(d, words[1]) && !hasTest(d, names.Test(words[1])) {
				t.Errorf("%s: the test %s leads nowhere", d.Name, words[1])
			}
			for _, reading := range words[2:] {
				test, now := words[1], reading
				if !hasTestReading(d, test, now) {
					test, now = names.Reading(words[1], reading)
				}
				if !hasTestReading(d, test, now) {
					t.Errorf("%s: the reading %s of %s leads nowhere", d.Name, reading, words[1])
				}
				checked++
			}
		case "faults":
			for _, id := range words[1:] {
				if to := "faults/" + id; !pages[to] && !pages[moved[to]] {
					t.Errorf("%s: the fault %s has no page any more", d.Name, id)
				}
				checked++
			}
		}
	}
	if checked < 800 {
		t.Errorf("only %d names were looked up", checked)
	}
}

func hasTest(d *Device, id string) bool {
	for _, t := range d.Tests {
		if string(t.ID) == id {
			return true
		}
	}
	return false
}

func hasTestReading(d *Device, test, reading string) bool {
	for i := range d.Tests {
		if string(d.Tests[i].ID) == test {
			return hasReading(&d.Tests[i], reading)
		}
	}
	return false
}

// A chain that was picked traces as the note that keeps it, and that note
// inspects clean. What its plate lacks is asked for as at a bench.
func TestPickedIsItsNote(t *testing.T) {
	home := os.DirFS("../..")
	set, _, _ := Load(home, all.Find)
	if _, _, err := (blocks.Picked{Blocks: "mains-plug mains-cord heating-wire", Class: "I"}).Expand(set.Library(), all.Compute); err == nil || !strings.HasSuffix(err.Error(), "“power”; read it off the rating plate and give it with the rest, like power=2kW") {
		t.Error(err)
	}
	for _, chain := range []string{
		"plug=mains-plug cord=mains-cord switch=contact-switch [ cut-out=thermal-link element=heating-wire | motor=small-fan-motor ] air=airway",
		"mains-plug mains-cord thermostat thermal-link sheathed-element waterway",
		"plug=mains-plug cord=mains-cord switch=speed-trigger motor=universal-motor gears=gearing",
		"plug=mains-plug transformer bridge reservoir lead=output-lead",
	} {
		p := blocks.Picked{Title: "Thing", Blocks: chain, Class: "I", Has: []string{"fuse", "link"}, Shows: []string{"tingles"},
			Plate: map[string]string{"mains": "230 V", "power": "1.2 kW", "secondary": "17 V ± 4 %", "winding": "2 Ω", "capacitor": "2200 µF ± 20 %", "load": "33 Ω"}}
		d, _, err := p.Expand(set.Library(), all.Compute)
		if err != nil {
			t.Errorf("%s: %v", chain, err)
			continue
		}
		set.Bench(d)
		front, err := p.Front(set.Library())
		if err != nil {
			t.Fatal(err)
		}
		shop := fstest.MapFS{"content/devices/unwritten.md": &fstest.MapFile{Data: []byte(front)}}
		_ = fs.WalkDir(home, "content", func(file string, e fs.DirEntry, err error) error {
			switch {
			case e != nil && e.IsDir() && (e.Name() == "devices" || e.Name() == "faults" || e.Name() == "jobs"):
				return fs.SkipDir // of other devices
			case err == nil && !e.IsDir():
				if raw, err := fs.ReadFile(home, file); err == nil {
					shop[file] = &fstest.MapFile{Data: raw}
				}
			}
			return err
		})
		kept, mistakes, _ := Load(shop, all.Find)
		for _, m := range mistakes {
			if m.File == "content/devices/unwritten.md" || strings.Contains(m.On, "unwritten") {
				t.Error(m)
			}
		}
		n := kept.TraceDevice("unwritten")
		for _, x := range []*trace.Device{d, n} {
			for i := range x.Causes {
				x.Causes[i].Address, x.Causes[i].Jobs = "", 0
			}
		}
		slices.SortFunc(d.Causes, func(a, b trace.Cause) int { return strings.Compare(string(a.ID), string(b.ID)) })
		picked, _ := json.Marshal(d)
		noted, _ := json.Marshal(n)
		if string(picked) != string(noted) {
			i := 0
			for i < min(len(picked), len(noted)) && picked[i] == noted[i] {
				i++
			}
			t.Errorf("%s: picked …%.120s\nnoted …%.120s", chain, picked[max(0, i-40):], noted[max(0, i-40):])
		}
	}
}
