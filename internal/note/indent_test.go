package note

import (
	"strings"
	"testing"

	"faultleaf/calc/all"
)

// TestSlippedLine: a line of a sound device note that stands too far left or right
// is one mistake, told at that line, and not the dozen that follow from it.
func TestSlippedLine(t *testing.T) {
	const file = "content/devices/fan-heater.md"
	lines := strings.Split(string(samples()[file].Data), "\n")
	tried := 0
	for i, line := range lines[1:] {
		if line == "---" {
			break
		}
		for _, by := range []int{-2, 2} {
			moved := strings.Repeat(" ", max(by, 0)) + line
			if by < 0 {
				if !strings.HasPrefix(line, "  ") {
					continue
				}
				moved = line[2:]
			}
			shop := samples()
			x := append([]string(nil), lines...)
			x[i+1] = moved
			shop[file].Data = []byte(strings.Join(x, "\n"))
			_, mistakes, _ := Load(shop, all.Find)
			tried++
			if len(mistakes) > 2 {
				t.Errorf("line %d moved by %d: %q gives %d mistakes:\n%s", i+2, by, moved, len(mistakes), printed(mistakes))
			}
			if len(mistakes) > 0 && (mistakes[0].Line != i+2 || mistakes[0].File != file) {
				t.Errorf("line %d moved by %d: %q is told elsewhere: %v", i+2, by, moved, mistakes[0])
			}
		}
	}
	if tried < 30 {
		t.Fatalf("only %d lines tried", tried)
	}
}

// TestUprightStays: a misspelt key is not taken for a line that has slipped.
func TestUprightStays(t *testing.T) {
	shop := samples()
	f := shop["content/devices/fan-heater.md"]
	f.Data = []byte(strings.Replace(string(f.Data), "family: Heat\n", "famly: Heat\ncolour: red\n", 1))
	_, mistakes, _ := Load(shop, all.Find)
	want := "content/devices/fan-heater.md:3:1: “famly” is not known here; did you mean “family”\ncontent/devices/fan-heater.md:4:1: “colour” is not known here; it may have "
	if got := printed(mistakes); !strings.HasPrefix(got, want) || len(mistakes) != 2 {
		t.Error(got)
	}
}
