package note_test

import (
	"os"
	"path"
	"reflect"
	"slices"
	"sync"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

// The starter read in parts, several at once and against one reading of what is no
// device's, is the starter read as a whole.
func TestParts(t *testing.T) {
	starter := os.DirFS("../..")
	whole, mistakes, remarks := note.Load(starter, all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	shared := note.Open(starter, all.Find, false)
	var wait sync.WaitGroup
	var mu sync.Mutex
	var docs []*note.Document
	const most = 18 // devices; they stand for all
	for devices := range slices.Chunk(whole.Devices[:most], 5) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			files := filesOf(whole, devices)
			part := shared.Part(files)
			mu.Lock()
			defer mu.Unlock()
			if len(part.Mistakes) > 0 || len(part.Devices) != len(devices) {
				t.Errorf("%d devices of %d, mistakes %v", len(part.Devices), len(devices), part.Mistakes)
			}
			if got, want := of(files, part.Remarks), of(files, remarks); !slices.Equal(got, want) {
				t.Errorf("remarks\n%v\nnot\n%v", got, want)
			}
			for i, d := range part.Devices {
				docs = append(docs, &d.Document)
				same(t, &d.Document, &devices[i].Document)
				samePlain(t, d.Name, []any{d.Plate, d.Blocks, d.Symptoms, d.Access, d.Tests, d.Points, d.Names, d.Is, d.Also, d.Expanded}, []any{devices[i].Plate, devices[i].Blocks, devices[i].Symptoms, devices[i].Access, devices[i].Tests, devices[i].Points, devices[i].Names, devices[i].Is, devices[i].Also, devices[i].Expanded})
			}
			for _, f := range part.Faults {
				docs = append(docs, &f.Document)
				w := whole.Fault(f.Name)
				same(t, &f.Document, &w.Document)
				samePlain(t, f.Name, []any{f.Cause, f.Common}, []any{w.Cause, w.Common})
			}
			for _, j := range part.Jobs {
				docs = append(docs, &j.Document)
				w, _ := whole.Note(j.File)
				same(t, &j.Document, w)
			}
		}()
	}
	wait.Wait()
	alone := shared.Alone()
	var known []*note.Document // the others, by their names
	for _, d := range whole.Documents() {
		known = append(known, &note.Document{File: d.File})
	}
	if amiss := alone.Amiss(slices.Concat(known, docs)...); len(alone.Mistakes) > 0 || len(amiss) > 0 {
		t.Errorf("the parts do not go together: %v", amiss)
	}
}

// of are the remarks on some files.
func of(files []string, list problem.List) (out problem.List) {
	for _, r := range list {
		if slices.Contains(files, r.File) {
			out = append(out, r)
		}
	}
	return out
}

// filesOf are the files of some devices' notes.
func filesOf(s *note.Set, devices []*note.Device) (out []string) {
	for _, d := range devices {
		out = append(out, d.File)
		for _, f := range s.FaultsOf(d.Name) {
			if _, err := os.Stat(path.Join("../..", f.File)); err == nil { // common ones have none
				out = append(out, f.File)
			}
		}
		for _, j := range s.JobsOf(d.Name) {
			out = append(out, j.File)
		}
	}
	return out
}

func same(t *testing.T, got, want *note.Document) {
	t.Helper()
	samePlain(t, want.File, []any{got.Title, got.Draft, got.Checked, got.Was, got.Made, got.Plain(), got.Leads, got.Places, got.Cites}, []any{want.Title, want.Draft, want.Checked, want.Was, want.Made, want.Plain(), want.Leads, want.Places, want.Cites})
}

func samePlain(t *testing.T, name string, got, want []any) {
	t.Helper()
	for i := range got {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("%s: %v, not %v", name, got[i], want[i])
		}
	}
}

// A mistake that shows in a block note by itself is one where no device that uses the
// block tells it, and no part tells it.
func TestUnused(t *testing.T) {
	odd := fstest.MapFS{"content/blocks/odd.md": {Data: []byte(`---
title: Odd
carries: current
ohms: unseen
tests:
  volts:
    ask: Volts
    minutes: 1
    power: "off"
    sees: {open: low}
    reads: [{low: below}, {right: plate.odd, healthy: true}]
faults:
  dead: {title: Dead, cause: age, does: open, look: none, mend: {does: Fit a new one, minutes: 1}}
---

## dead

It is.
`), Mode: 0o644}}
	shop := note.Over(os.DirFS("../.."), odd)
	shared := note.Open(shop, all.Find, false)
	if m := shared.Alone().Mistakes; len(m) > 0 {
		t.Fatal(m)
	}
	if len(shared.Unused(shared.Alone().Set).Mistakes) == 0 {
		t.Error("a plate that the example does not give is no mistake")
	}
	used := &note.Set{Faults: []*note.Fault{{Common: &note.Common{Block: "odd", Fault: "dead"}}}}
	if len(shared.Unused(used).Mistakes) > 0 {
		t.Error("a block that is used is unsound by itself")
	}
}
