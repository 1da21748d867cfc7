package note

import (
	"os"
	"strings"
	"testing"

	"faultleaf/calc/all"
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
	for _, d := range set.Devices {
		for _, m := range d.Moved {
			moved[m.From] = m.To
		}
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
