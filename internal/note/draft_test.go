package note

import (
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/format"
)

// begun is the examples' shop with one note more.
func begun(file, text string) fstest.MapFS {
	shop := samples()
	shop[file] = &fstest.MapFile{Data: []byte(text)}
	return shop
}

// TestDraftTeachesNothing: whatever a draft says, and however it says that it is
// one, the trace knows no more than without it.
func TestDraftTeachesNothing(t *testing.T) {
	set, _, _ := Load(samples(), all.Find)
	dev := set.TraceDevice("fan-heater")
	before, err := trace.Next(dev, trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}})
	if err != nil {
		t.Fatal(err)
	}
	evidence := trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}, Readings: []trace.Reading{{Test: "element-ohms", Value: "40 MΩ"}}}
	whole := "title: T\ndevice: fan-heater\nblock: switch\ncause: contact burnt\nseen: 900\nsymptoms: {air-cold: always}\nreads: {element-ohms: open}\nmend: {does: New switch, minutes: 1}\n---\n"
	for what, text := range map[string]string{
		"begun from the trace":    trace.Draft(dev, "It is the switch", "switch", evidence),
		"begun before drafts":     strings.Replace(trace.Draft(dev, "It is the switch", "switch", evidence), trace.BegunFirst, "", 1),
		"that says so":            "---\ndraft: true\n" + whole,
		"with an unfilled cause":  "---\n" + strings.Replace(whole, "contact burnt", trace.BegunCause, 1),
		"with an unfilled mend":   "---\n" + strings.Replace(whole, "New switch", trace.BegunMend, 1),
		"with the words below it": "---\n" + whole + "\n" + trace.BegunText + "\n",
	} {
		set, mistakes, remarks := Load(begun("content/faults/switch-burnt.md", text), all.Find)
		if len(mistakes) > 0 {
			t.Errorf("%s: %s", what, printed(mistakes))
		}
		after, err := trace.Next(set.TraceDevice("fan-heater"), trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}})
		if err != nil || len(after.Chances) != len(before.Chances) || after.Chances[0] != before.Chances[0] {
			t.Errorf("%s: the trace goes by it: %+v, before %+v (%v)", what, after.Chances, before.Chances, err)
		}
		if drafts := set.Drafts(); len(drafts) != 1 || drafts[0].Name != "switch-burnt" {
			t.Errorf("%s: %d drafts", what, len(drafts))
		}
		if told := strings.Contains(printed(remarks), "counts as a draft"); told == strings.Contains(text, "draft: true") {
			t.Errorf("%s: the remarks are\n%s", what, printed(remarks))
		}
	}
	// and without a sign of a draft it counts
	set, _, _ = Load(begun("content/faults/switch-burnt.md", "---\n"+whole), all.Find)
	after, _ := trace.Next(set.TraceDevice("fan-heater"), trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}})
	if len(after.Chances) == len(before.Chances) {
		t.Error("a whole note counts for nothing")
	}
}

// TestDraftSheet: a draft of a job sheet votes for nothing.
func TestDraftSheet(t *testing.T) {
	for draft, want := range map[string]float64{"": 2, "draft: true\n": 1} {
		set, mistakes, _ := Load(begun("content/jobs/2025-03-05-fan-heater-1.md", "---\n"+draft+"device: fan-heater\ndate: 2025-03-05\ncause: element-tag-burnt-off\noutcome: mended\n---\n"), all.Find)
		if len(mistakes) > 0 {
			t.Fatal(printed(mistakes))
		}
		if got := set.Votes()["element-tag-burnt-off"].Here; got != want {
			t.Errorf("%q: %v votes, wanted %v", draft, got, want)
		}
	}
}

// TestDraftOfCommonFault: a draft that would refine a common fault leaves it as its
// block says it.
func TestDraftOfCommonFault(t *testing.T) {
	shop := begun("content/faults/soup-warmer-cord-broken.md", "---\ndraft: true\ndevice: soup-warmer\nlike: cord-broken\nseen: 100\n---\n")
	set, mistakes, remarks := Load(shop, all.Find)
	if len(mistakes) > 0 || !strings.Contains(printed(remarks), "the common fault stands as its block says it") {
		t.Fatal(printed(mistakes), printed(remarks))
	}
	faults := set.TraceDevice("soup-warmer").Causes
	if len(faults) != 1 || faults[0].Seen == 100 {
		t.Errorf("%+v", faults)
	}
}

// TestBegun: a begun note of every kind is sound, a draft, and holds every key
// that it may have.
func TestBegun(t *testing.T) {
	for _, k := range format.Kinds {
		known := map[string]string{"title": "New one", "device": "fan-heater", "block": "switch", "date": "2025-06-01"}
		below := k.Below
		file := strings.NewReplacer("NAME", "new-one", "DATE-DEVICE-1", "2025-06-01-fan-heater-1").Replace(k.File)
		switch k.Name {
		case "shop", "complaints":
			continue
		case "checklist":
			below = "- [ ] " + format.BegunStep
		case "job":
			delete(known, "title")
		}
		for key := range known {
			if k.Keys.Find(key) == nil {
				delete(known, key)
			}
		}
		text := k.Begin(known, below)
		set, mistakes, _ := Load(begun(file, text), all.Find)
		if len(mistakes) > 0 {
			t.Errorf("%s:\n%s\n%s", k.Name, printed(mistakes), text)
		}
		if d, ok := set.Note(file); !ok || !d.Draft {
			t.Errorf("%s: no draft", k.Name)
		}
		for _, key := range k.Keys.Names(false) {
			if !strings.Contains(text, key+":") && k.Keys.Find(key).Example != "" {
				t.Errorf("%s: the begun note has no %s", k.Name, key)
			}
		}
		// without the line that says so it is still one, where words were to be filled in
		if d, _, _ := Load(begun(file, strings.Replace(text, trace.BegunFirst, "", 1)), all.Find); k.Name != "job" {
			if n, ok := d.Note(file); !ok || !n.Draft {
				t.Errorf("%s: unfilled, and no draft:\n%s", k.Name, text)
			}
		}
	}
}
