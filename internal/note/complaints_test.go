package note

import (
	"os"
	"reflect"
	"testing"
	"testing/fstest"

	"faultleaf/calc"
	"faultleaf/calc/trace"
)

const vocabulary = `dead:
  says: Nothing at all happens
  wordings: [not work, no power]
  finds: {no-heat: 0.45}
no-heat:
  says: It stays cold
  needs: run
`

func TestComplaints(t *testing.T) {
	fsys := good(t)
	fsys["content/complaints.yaml"] = &fstest.MapFile{Data: []byte(vocabulary)}
	fsys["content/devices/fan.md"] = &fstest.MapFile{Data: []byte(`---
title: Fan
also: [desk fan, {tower fan: 0.8}, {blower: 0.6, ventilator: 1}]
near: [air purifier, {hair dryer: 0.2}]
unlike: [fan oven]
blocks: [plug]
symptoms:
  a: {says: A, is: dead}
  b: {says: B, is: [dead, {no-heat: 0.7}]}
  c: {says: C, is: {no-heat: 0.3, dead: 1}}
  d: {says: D, is: none}
  e: E
---
`)}
	fsys["content/pages/shut.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Shut\nshut: [microwave oven, valve radio]\n---\nWhy.\n")}
	set, mistakes, remarks := Load(fsys, findWire)
	if len(mistakes) > 0 {
		t.Fatal(printed(mistakes))
	}
	for _, r := range remarks { // the heater of the good shop names no complaints
		if r.File == "content/devices/fan.md" && r.Line != 12 {
			t.Error(r)
		}
	}
	if len(remarks) != 3 {
		t.Errorf("remarks: %s", printed(remarks))
	}
	want := []Complaint{
		{ID: "dead", Says: "Nothing at all happens", Wordings: []string{"not work", "no power"}, Finds: []Weighted{{"no-heat", .45}}},
		{ID: "no-heat", Says: "It stays cold", Needs: "run"},
	}
	if !reflect.DeepEqual(set.Complaints, want) {
		t.Errorf("%+v", set.Complaints)
	}
	d, _ := set.Device("fan")
	if want := []Weighted{{"desk fan", 1}, {"tower fan", .8}, {"blower", .6}, {"ventilator", 1}}; !reflect.DeepEqual(d.Also, want) {
		t.Errorf("also: %v", d.Also)
	}
	if want := []Weighted{{"air purifier", .4}, {"hair dryer", .2}}; !reflect.DeepEqual(d.Near, want) {
		t.Errorf("near: %v", d.Near)
	}
	is := map[trace.SymptomID][]Weighted{
		"a": {{"dead", 1}}, "b": {{"dead", 1}, {"no-heat", .7}}, "c": {{"no-heat", .3}, {"dead", 1}},
	}
	if !reflect.DeepEqual(d.Is, is) {
		t.Errorf("is: %v", d.Is)
	}
	for _, p := range set.Pages {
		if p.Name == "shut" && !reflect.DeepEqual(p.Shut, []string{"microwave oven", "valve radio"}) {
			t.Errorf("shut: %v", p.Shut)
		}
	}
}

// A shop from before the vocabulary reads as it did; one that uses it without
// having it is told where to get it.
func TestNoVocabulary(t *testing.T) {
	fsys := good(t)
	if _, mistakes, remarks := Load(fsys, findWire); len(mistakes)+len(remarks) > 0 {
		t.Errorf("%s%s", printed(mistakes), printed(remarks))
	}
	fsys["content/devices/fan.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Fan\nblocks: [plug]\nsymptoms: {a: {says: A, is: dead}}\n---\n")}
	_, mistakes, _ := Load(fsys, findWire)
	if len(mistakes) != 1 || mistakes[0].Line != 4 {
		t.Error(printed(mistakes))
	}
}

// Every complaint of the starter is some symptom's, and every symptom is said to
// be one or none.
func TestStarterVocabulary(t *testing.T) {
	set, mistakes, _ := Load(os.DirFS("../.."), func(string) (*calc.Calculator, bool) { return nil, false })
	for _, m := range mistakes {
		if m.File == complaintsFile {
			t.Error(m)
		}
	}
	used := map[string]bool{}
	for _, d := range set.Devices {
		for _, is := range d.Is {
			for _, w := range is {
				used[w.Name] = true
			}
		}
	}
	for _, c := range set.Complaints {
		if c.Says == "" || len(c.Wordings) == 0 {
			t.Errorf("%s has no sentence or no wording", c.ID)
		}
		if !used[c.ID] {
			t.Logf("no symptom is %s", c.ID)
		}
	}
	if len(set.Complaints) < 42 {
		t.Errorf("%d complaints, and the ids are fixed", len(set.Complaints))
	}
}
