package site

import (
	"bytes"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/core"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/search"
)

const starter = "../.." // holds content/

// stub stands for the browser binary, which these tests do not run.
var stub = core.Core{Wasm: core.Of("", []byte("\x00asm stub")), Trace: core.Of("", []byte("\x00asm trace")), Find: core.Of("", []byte("\x00asm find")), Script: []byte("// stub")}

// notes are the starter's, read once for all tests, none of which changes them.
var notes = sync.OnceValues(func() (*note.Set, []problem.Problem) {
	set, mistakes, _ := note.Load(os.DirFS(starter), all.Find)
	return set, mistakes
})

func load(t testing.TB, dir string) *note.Set {
	t.Helper()
	if dir == starter {
		set, mistakes := notes()
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		return set
	}
	set, mistakes, _ := note.Load(os.DirFS(dir), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return set
}

// starters is the starter's site, made once for all tests that only read it.
var starters = sync.OnceValues(func() (Files, error) {
	set, _ := notes()
	return Make(set, os.DirFS(starter), stub)
})

func ofStarter(t *testing.T) Files {
	t.Helper()
	load(t, starter)
	files, err := starters()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func made(t *testing.T, dir string) Files {
	t.Helper()
	files, err := Make(load(t, dir), os.DirFS(dir), stub)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// copied is a shop of one's own to change.
func copied(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "content"), os.DirFS(filepath.Join(starter, "content"))); err != nil {
		t.Fatal(err)
	}
	return dir
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Every page's links lead somewhere inside the site, with their anchors; nothing
// is styled or scripted inline; nothing is left uncomputed.
func TestPagesHoldTogether(t *testing.T) {
	files := ofStarter(t)
	link := regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	id := regexp.MustCompile(`\sid="([^"]+)"`)
	ids := map[string]map[string]bool{}
	for name, b := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		ids[name] = map[string]bool{}
		for _, m := range id.FindAllSubmatch(b, -1) {
			if ids[name][string(m[1])] {
				t.Errorf("%s: the id %s stands twice", name, m[1])
			}
			ids[name][string(m[1])] = true
		}
	}
	for name, b := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		for _, never := range []string{" style=", "<style", "NaN", "calc:", "<no value>", "ZgotmplZ", "%!"} {
			if i := bytes.Index(b, []byte(never)); i >= 0 && !(never == "calc:" && (strings.HasPrefix(name, "devices/") || name == "unwritten.html" || name == "writing-notes.html")) {
				t.Errorf("%s holds %q: …%s…", name, never, b[max(0, i-60):min(len(b), i+60)])
			}
		}
		for _, m := range regexp.MustCompile(`<script[^>]*>`).FindAll(b, -1) {
			if s := string(m); !strings.Contains(s, "src=") && !strings.Contains(s, `type="application/json"`) {
				t.Errorf("%s holds the inline script %s", name, s)
			}
		}
		for _, m := range link.FindAllSubmatch(b, -1) {
			to := strings.NewReplacer("&amp;", "&", "&#43;", "+").Replace(string(m[1]))
			u, err := url.Parse(to)
			if err != nil {
				t.Errorf("%s: %s: %v", name, to, err)
				continue
			}
			if u.Scheme != "" || strings.HasPrefix(to, "data:") {
				continue
			}
			target := name
			if u.Path != "" {
				target = path.Join(path.Dir(name), u.Path)
			}
			if _, ok := files[target]; !ok {
				t.Errorf("%s: %s leads nowhere", name, to)
				continue
			}
			if id, ok := strings.CutPrefix(u.Fragment, "suspect="); ok { // starts a trace
				if !bytes.Contains(files[target], []byte(`"id":"`+id+`"`)) {
					t.Errorf("%s: %s: the device has no fault %s", name, to, id)
				}
				continue
			}
			if u.Fragment != "" && !ids[target][u.Fragment] {
				t.Errorf("%s: %s: no place %s there", name, to, u.Fragment)
			}
		}
	}
}

// place puts files into the folder to.
func place(files Files, to string) (published.Report, error) {
	w, err := published.Begin(to)
	if err != nil {
		return published.Report{}, err
	}
	for name, b := range files {
		if _, err := w.Put(name, b); err != nil {
			break // Commit says why
		}
	}
	return w.Commit()
}

// Publishing the same notes twice gives the same bytes and writes nothing.
func TestPublishTwice(t *testing.T) {
	one, two := ofStarter(t), made(t, copied(t)) // read anew
	if len(one) != len(two) {
		t.Fatal("different files")
	}
	for name := range one {
		if !bytes.Equal(one[name], two[name]) {
			t.Errorf("%s differs", name)
		}
	}
	to := t.TempDir()
	put(t, to, "README", "not ours")
	if _, err := place(one, to); err != nil {
		t.Fatal(err)
	}
	r, err := place(two, to)
	if err != nil || r.Written != 0 || r.Removed != 0 {
		t.Errorf("the second time: %+v %v", r, err)
	}
	delete(two, "index.html")
	if r, err = place(two, to); err != nil || r.Removed != 1 {
		t.Errorf("one file fewer: %+v %v", r, err)
	}
	if _, err := os.Stat(filepath.Join(to, "README")); err != nil {
		t.Error("a file that was not published is gone")
	}
}

// The site is never written among the notes, by whatever way.
func TestApart(t *testing.T) {
	dir := copied(t)
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(filepath.Join(dir, "content", "pages"), link); err != nil {
		t.Skip(err)
	}
	for _, to := range []string{"content", "content/pages", "content/new/deep", "public/../content"} {
		if _, _, err := Publish(dir, filepath.Join(dir, to)); err == nil || !strings.Contains(err.Error(), "among the notes") {
			t.Errorf("--to %s: %v", to, err)
		}
	}
	if _, _, err := Publish(dir, link); err == nil {
		t.Error("a link into the notes was followed")
	}
	if err := apart(dir, filepath.Join(dir, "contents")); err != nil {
		t.Error(err)
	}
}

const newFault = `---
title: Heater thermal paste dried to powder
device: fan-heater
block: element
cause: a made-up cause for a test, zzyzx
seen: 3
symptoms: {air-cold: always}
reads: {pins-ohms: open}
mend: {does: Do a made-up thing, minutes: 12, succeeds: 0.9}
---
A 2 kW element reads [23.3–29.4 Ω](calc:element?power=2_kW&mains=230V#cold-range).
`

// A fault note added as one file appears in the search, on the device's page,
// in the trace and in the counts.
func TestOneFileIsEnough(t *testing.T) {
	dir := copied(t)
	before := ofStarter(t)
	put(t, dir, "content/faults/heater-made-up.md", newFault)
	after := made(t, dir)
	if _, ok := after["faults/heater-made-up.html"]; !ok {
		t.Fatal("it has no page")
	}
	device := string(after["devices/fan-heater.html"])
	if !strings.Contains(device, `href="../faults/heater-made-up.html">Heater thermal paste`) || !strings.Contains(device, `"id":"heater-made-up"`) {
		t.Error("it is not on its device's page, or not in the trace's data")
	}
	count := func(files map[string][]byte) string {
		_, rest, _ := strings.Cut(string(files["index.html"]), `href="devices/fan-heater.html"`)
		return regexp.MustCompile(`\d+ faults`).FindString(rest)
	}
	if count(before) == "" || count(before) == count(after) {
		t.Error("the counts do not follow")
	}
	ix, mistakes, err := Index(dir)
	if err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	if hits := ix.Search("zzyzx", searchOptions); len(hits) != 1 || hits[0].ID != "faults/heater-made-up" {
		t.Errorf("the search finds %v", hits)
	}
	a, err := trace.Next(load(t, dir).TraceDevice("fan-heater"), trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}})
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, c := range a.Chances {
		found = found || c.ID == "heater-made-up" && c.Chance > .02
	}
	if !found {
		t.Error("the trace does not know it")
	}
	// pages that have nothing to do with it are as they were
	for _, name := range []string{"faults/brushes-worn-down.html", "calc/rectifier.html", "devices/corded-drill.html", "checklists/after-repair.html"} {
		if !bytes.Equal(before[name], after[name]) {
			t.Errorf("%s changed", name)
		}
	}
}

// A claim that is wrong by one digit stops publishing with its place and both
// values, and the old site stays.
func TestWrongClaimStops(t *testing.T) {
	dir := copied(t)
	to := t.TempDir()
	put(t, to, "index.html", "the old site")
	put(t, dir, "content/faults/heater-made-up.md", strings.Replace(newFault, "23.3–29.4", "23.3–29.5", 1))
	_, mistakes, err := Publish(dir, to)
	if err != nil || len(mistakes) != 1 {
		t.Fatal(mistakes, err)
	}
	want := "content/faults/heater-made-up.md:11:22: the note says 23.3–29.5 Ω, but element gives 23.3–29.4 Ω"
	if got := mistakes[0].String(); !strings.HasPrefix(got, want) {
		t.Errorf("it says %s\nwant     %s", got, want)
	}
	if b, _ := os.ReadFile(filepath.Join(to, "index.html")); string(b) != "the old site" {
		t.Error("the old site is gone")
	}
}

// On every device, a fault's true readings lead the trace to its mend, or to a mend that
// is the same work. Every fifth fault is walked, always the same ones, and all of them
// with FAULTLEAF_WHOLE=1: the starter has so many that it takes minutes.
func TestEveryFaultOfTheStarter(t *testing.T) {
	every := 5
	if os.Getenv("FAULTLEAF_WHOLE") != "" {
		every = 1
	}
	seen := 0
	set := load(t, starter)
	for _, d := range set.Devices {
		dev := set.TraceDevice(d.Name)
		start, err := trace.Next(dev, trace.Evidence{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s begins with %s %s", d.Name, start.Kind, start.ID())
		total, walked := 0, 0
		for _, c := range dev.Causes {
			if seen++; seen%every != 0 {
				continue
			}
			walked++
			k := trace.Evidence{}
			for _, s := range dev.Symptoms {
				if o := c.Symptoms[s.ID]; o == "always" || o == "often" {
					k.Symptoms = append(k.Symptoms, s.ID)
				}
			}
			var log []string
			for step := 0; ; step++ {
				a, err := trace.Next(dev, k)
				if err != nil {
					t.Fatal(err)
				}
				log = append(log, string(a.Kind)+" "+a.ID())
				if (a.Kind == trace.DoMend || a.Kind == trace.Past) && a.Cause == c.ID {
					break
				}
				if step > 20 || a.Kind != trace.DoTest && a.Kind != trace.DoMend {
					t.Errorf("%s: %s is not found: %s", d.Name, c.ID, strings.Join(log, ", "))
					break
				}
				if a.Kind == trace.DoMend {
					k.Tried = append(k.Tried, trace.Mended{Cause: a.Cause, Before: len(k.Readings)})
					continue
				}
				for _, x := range dev.Tests {
					if x.ID == a.Test {
						id, ok := c.Likeliest(x.ID)
						for _, b := range x.Reads {
							if !ok && b.Healthy {
								id = b.ID
							}
						}
						k.Readings = append(k.Readings, trace.Reading{Test: x.ID, Value: string(id)})
					}
				}
			}
			total += len(log)
			t.Logf("  %s: %s", c.ID, strings.Join(log, ", "))
			if len(k.Tried) > 2 {
				t.Errorf("%s: %s was found only after %d mends in vain", d.Name, c.ID, len(k.Tried))
			}
		}
		t.Logf("%s: %d steps for %d faults", d.Name, total, walked)
	}
}

var searchOptions = search.Options{Limit: 3}
