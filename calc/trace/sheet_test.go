package trace

import (
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

func TestSheet(t *testing.T) {
	s := Sheet{Device: "fan-heater", Date: "2025-03-04", OwnerSays: `it went "pop"`, Limit: "20 €: no more", Reproduced: "yes",
		Symptoms: []SymptomID{"air-cold", "crackled-first"}, Readings: []Reading{{Test: "element-ohms", Value: "1 MΩ", Minutes: 2.5}},
		Cause: "tag-off", Reason: "loose crimp", Parts: []Part{{Part: "tag-6.3", Count: 1, Price: .8}}, Minutes: 38, Money: .8, Outcome: "mended"}
	want := `---
device: fan-heater
date: 2025-03-04
owner_says: "it went \"pop\""
limit: "20 €: no more"
reproduced: "yes"
symptoms: [air-cold, crackled-first]
readings:
  - {test: element-ohms, value: "1 MΩ", minutes: 2.5}
cause: tag-off
reason: "loose crimp"
parts:
  - {part: "tag-6.3", count: 1, price: 0.8}
minutes: 38
money: 0.8
outcome: mended
---

Written by the trace. Add below what the next one on this bench should know.
`
	if got := s.Markdown(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Whatever a person typed reads back from the front matter.
func FuzzSheet(f *testing.F) {
	f.Add("pop", "17 V", "fan-heater")
	f.Add("a: b # c\n---\n\"", "{x: [1]}", "null")
	f.Add("\u2028\ufeff\x00\t\\\x85", "> 20 MΩ", "1e3")
	f.Add("0", "0", "a---")
	f.Fuzz(func(t *testing.T, said, value, id string) {
		m := Sheet{Device: id, Date: "2025-03-04", OwnerSays: said, Readings: []Reading{{Test: TestID(id), Value: value}}, Outcome: "mended"}.Markdown()
		front, _, closed := strings.Cut(strings.TrimPrefix(m, "---\n"), "\n---\n") // a line of its own closes it
		if !strings.HasPrefix(m, "---\n") || !closed {
			t.Fatalf("no front matter: %q", m)
		}
		var back struct {
			Device   string
			Owner    string `yaml:"owner_says"`
			Cause    string
			Readings []struct{ Test, Value string }
		}
		if err := yaml.Unmarshal([]byte(front), &back); err != nil {
			t.Fatalf("%v in %q", err, m)
		}
		fair := func(s string) string {
			return strings.ToValidUTF8(s, "\uFFFD")
		}
		if back.Owner != fair(strings.TrimSpace(said)) || back.Readings[0].Value != fair(value) || back.Cause != "unknown" {
			t.Fatalf("%q reads back as %+v", m, back)
		}
		if back.Device != strings.ToValidUTF8(id, "\uFFFD") || back.Readings[0].Test != back.Device {
			t.Fatalf("the id %q reads back as %+v", id, back)
		}
	})
}

func TestCoded(t *testing.T) {
	for code, want := range map[string]bool{
		"2026-03-04-kb7": true, "2026-03-04-kb7b": true, "2026-03-04-kb7-lamp": true, "2026-03-04-": false, "2026-03-04": false, "2026-03-05-kb7": false, "kb7": false, "": false,
		"2026-03-04--kb7": false, "2026-03-04-kb7-": false, "2026-03-04-KB7": false, "2026-03-04-kb7/../x": false, "2026-03-04-kb7 ": false, "2026-03-04-kü7": false,
	} {
		if got := (Sheet{Date: "2026-03-04", Code: code}).Coded(); got != want {
			t.Errorf("%q: %v", code, got)
		}
	}
	if (Sheet{Code: "-a"}).Coded() {
		t.Error("a code without a date")
	}
}
