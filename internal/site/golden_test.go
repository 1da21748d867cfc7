package site

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"faultleaf/internal/outfit"
)

// One page of each kind, made from the shop that `faultleaf outfit` begins and
// a job sheet and a page beside it, against testdata. UPDATE_GOLDEN=1 rewrites
// them; the diff is the review.
func TestGolden(t *testing.T) {
	dir := t.TempDir()
	if err := outfit.Usual.Example(filepath.Join(dir, "content")); err != nil {
		t.Fatal(err)
	}
	for _, sub := range []string{"jobs", "pages"} {
		if err := os.MkdirAll(filepath.Join(dir, "content", sub), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	put(t, dir, "content/jobs/2025-03-04-table-lamp-1.md", `---
device: table-lamp
date: 2025-03-04
owner_says: "It is dark & <still> flickers"
symptoms: [dark]
readings:
  - {test: bulb-ohms, value: 120 Ω, minutes: 1}
cause: lamp-switch-worn
reason: many years
parts: [{part: switch-2a, count: 1, price: 1.50}]
minutes: 20
money: 1.5
outcome: mended
---
Invented for a test.
`)
	put(t, dir, "content/pages/numbers.md", "---\ntitle: Numbers\n---\nA lamp of 40 W reads [=](calc:element?power=40_W&mains=230V&material=tungsten#hot) hot, see the [lamp](../devices/table-lamp.md).\n\n"+
		"| a | b |\n|---|--:|\n| 1 | `2` |\n\n```go\nx := 1\n```\n\n```calc element\npower = 1 kW\n```\n\n```plot discharge\nvolts = 100 V\n```\n")
	files := made(t, dir)
	for golden, page := range map[string]string{
		"start.html": "index.html", "device.html": "devices/table-lamp.html", "fault.html": "faults/lamp-switch-worn.html", "checklist.html": "checklists/before-opening.html",
		"job.html": "jobs/2025-03-04-table-lamp-1.html", "jobs.html": "jobs/index.html", "page.html": "pages/numbers.html", "calculator.html": "calc/element.html", "shelves.html": "calc/index.html",
	} {
		got, ok := files[page]
		if !ok {
			t.Errorf("there is no page %s", page)
			continue
		}
		// from <main> on: the frame is the same everywhere
		if i := bytes.Index(got, []byte("<main")); golden != "start.html" && i >= 0 {
			got = got[i:]
		}
		name := filepath.Join("testdata", golden)
		if os.Getenv("UPDATE_GOLDEN") != "" {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs from %s; UPDATE_GOLDEN=1 rewrites it", page, name)
		}
	}
}
