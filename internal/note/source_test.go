package note

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A note cites documents by their id: an unknown one, one that has ended without
// a word, one that was not seen without a word, and one that gives no verdict on
// this kind of device are mistakes.
func TestSources(t *testing.T) {
	const page = "---\ntitle: Limits\n---\n"
	tests := []struct{ text, says string }{
		{"At most 0.5 mA ([EN 50699](source:en-50699)).", ""},
		{"At most 0.5 mA ([EN 50699](source:en-50698)).", "content/pages/limits.md:4:17: there is no source “en-50698”; did you mean “en-50678”"},
		{"5 % ([IEC 60950-1](source:iec-60950-1)).", "content/pages/limits.md:4:6: IEC 60950-1 is withdrawn for iec-62368-1; say so in this paragraph, or cite what is in force"},
		{"5 % ([IEC 60950-1](source:iec-60950-1), withdrawn).", ""},
		{"withdrawn\n\n5 % ([IEC 60950-1](source:iec-60950-1)).", "content/pages/limits.md:6:6: IEC 60950-1 is withdrawn for iec-62368-1; say so in this paragraph, or cite what is in force"},
		{"0.75 mA ([UL 101](source:ul-101)).", "content/pages/limits.md:4:10: UL 101 was not seen; say in this paragraph that the figure is from memory"},
		{"0.75 mA ([UL 101](source:ul-101), from memory).", ""},
	}
	for _, test := range tests {
		fsys := good(t)
		fsys["content/pages/limits.md"] = &fstest.MapFile{Data: []byte(page + test.text)}
		_, mistakes, _ := Load(fsys, findWire)
		if got := strings.TrimSpace(printed(mistakes)); got != test.says {
			t.Errorf("%s:\n%s\nwant\n%s", test.text, got, test.says)
		}
	}
}

// What a device is judged as decides which documents its note may cite for a
// verdict.
func TestJudgedAs(t *testing.T) {
	const fan = "---\ntitle: Fan\njudged_as: KIND\nblocks: [plug]\nsymptoms: {a: A}\n---\nAt most 0.5 mA ([UL 8750](source:ul-8750)).\n"
	for kind, says := range map[string]string{
		"luminaire": "",
		"appliance": "content/devices/fan.md:7:17: UL 8750 gives no verdict on this kind of device (appliance); it is for LED equipment in lighting products alone; cite a document for it, or write that there is no figure",
		"apliance":  "content/devices/fan.md:3:12: a device cannot be judged as “apliance”; did you mean “appliance”",
	} {
		fsys := good(t)
		fsys["content/devices/fan.md"] = &fstest.MapFile{Data: []byte(strings.Replace(fan, "KIND", kind, 1))}
		_, mistakes, _ := Load(fsys, findWire)
		if got := strings.TrimSpace(printed(mistakes)); got != says {
			t.Errorf("%s:\n%s\nwant\n%s", kind, got, says)
		}
	}
}
