package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestBegunKeys: every key that a begun note offers behind a # is one that a note of its kind may have,
// so that taking the # away is all there is to do.
func TestBegunKeys(t *testing.T) {
	dir := t.TempDir()
	if text, status := says("outfit", dir, "--bare"); status != 0 {
		t.Fatal(text)
	}
	offered := regexp.MustCompile(`(?m)^# ([a-z_]+: .*|[a-z_]+:)$`)
	for file, args := range map[string][]string{
		"faults/lamp-cord.md":             {"fault", "lamp-cord", "--device", "table-lamp", "--block", "cord"},
		"devices/sander.md":               {"device", "sander"},
		"devices/rice-cooker.md":          {"device", "rice-cooker", "--class", "I", "--plate", "power=700W", "--blocks", "mains-plug mains-cord thermostat sheathed-element"},
		"checklists/sanding.md":           {"checklist", "sanding"},
		"pages/glue.md":                   {"page", "glue"},
		"blocks/knob.md":                  {"block", "knob"},
		"jobs/2025-03-04-table-lamp-1.md": {"job", "table-lamp", "--date", "2025-03-04"},
	} {
		if text, status := says(append(append([]string{"note"}, args...), "--from", dir)...); status != 0 {
			t.Fatal(text)
		}
		path := filepath.Join(dir, "content", file)
		begun, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if file != "devices/rice-cooker.md" && !offered.Match(begun) {
			t.Errorf("%s offers nothing:\n%s", file, begun)
		}
		if err := os.WriteFile(path, offered.ReplaceAll(begun, []byte("$1")), 0o644); err != nil {
			t.Fatal(err)
		}
		if text, _ := says("inspect", "--from", dir); strings.Contains(text, "is not known here") {
			t.Errorf("%s:\n%s", file, text)
		}
		if err := os.WriteFile(path, begun, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
