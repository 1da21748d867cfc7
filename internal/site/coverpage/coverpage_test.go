package coverpage

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
)

// families say which of the starter's devices the records of a family are about;
// a lead without electronics in it has fewer ways to fail.
var families = map[string][]string{
	"heating-appliance":    {"kettle", "steam-iron", "toaster", "filter-coffee-maker", "fan-heater", "hot-plate", "hair-dryer", "small-oven", "air-fryer", "espresso-machine", "hair-straightener"},
	"lamp":                 {"lamp", "metal-lamp", "led-light"},
	"universal-motor-tool": {"corded-drill", "vacuum-cleaner", "hand-mixer", "blender", "food-processor", "hedge-trimmer", "sewing-machine"},
	"fan":                  {"fan"},
	"audio-amplifier":      {"audio-amplifier", "portable-radio", "record-player", "cassette-player"},
	"charger-or-adapter":   {"plug-in-supply", "switch-mode-supply", "lead-acid-charger", "laptop-supply", "usb-supply"},
	"cordless-tool":        {"cordless-tool-pack", "cordless-vacuum"},
	"cord-or-lead":         {"extension-reel", "outlet-strip"},
}

// means are the complaints that a column of the base rates stands for: one of
// them answers it.
var means = map[string][]string{
	"not working / dead / no power": {"dead"},
	"won't switch on / start":       {"dead", "will-not-start"},
	"intermittent / cuts out":       {"intermittent", "stops-by-itself", "short-run"},
	"trips / blows fuse":            {"trips", "blows-fuse"},
	"smell / smoke / sparks":        {"smells", "sparks", "went-bang"},
	"noise / hum / crackle":         {"noisy", "hum", "crackle"},
	"no heat / poor heat":           {"no-heat", "half-heat"},
	"does not turn / spin":          {"no-motion", "stuck"},
	"no charge / no hold":           {"no-charge", "short-run"},
	"no suction / weak / slow":      {"weak", "no-flow", "blocked"},
	"flicker / dim":                 {"flickers", "weak"},
	"leaks":                         {"leaks"},
}

// apart are pairs that a device cannot show, with the reason.
var apart = map[string]string{
	"no heat / poor heat of fan":                    "a fan does not heat; the records count fan heaters",
	"leaks of universal-motor-tool":                 "a drill holds no water",
	"does not turn / spin of heating-appliance":     "most of them have nothing that turns",
	"leaks of heating-appliance":                    "most of them hold no water",
	"does not turn / spin of audio-amplifier":       "an amplifier and a radio have nothing that turns",
	"no charge / no hold of universal-motor-tool":   "they have no battery",
	"no suction / weak / slow of heating-appliance": "most of them move nothing",
}

// No pair that the base rates call common is without a note: from three records
// in a hundred of a family up.
func TestCommonPairsAreAnswered(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(os.Getenv("FAULTLEAF_DATA"), "data", "base_rates.md"))
	if os.Getenv("FAULTLEAF_DATA") == "" || err != nil {
		t.Skip("the base rates are not here: FAULTLEAF_DATA names the folder that holds them")
	}
	set, mistakes, _ := note.Load(os.DirFS("../../.."), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes[0])
	}
	pairs := Pairs(set)
	share := regexp.MustCompile(`\((\d+) %\)`)
	var columns []string
	common := 0
	for line := range strings.SplitSeq(string(raw), "\n") {
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if strings.HasPrefix(line, "| family | not working") {
			columns = cells
			continue
		}
		if columns == nil || len(cells) != len(columns) || families[cells[0]] == nil {
			continue
		}
		for i, column := range columns[1:] {
			m := share.FindStringSubmatch(cells[i+1])
			if m == nil {
				continue
			}
			percent, _ := strconv.Atoi(m[1])
			if percent < 3 || apart[column+" of "+cells[0]] != "" {
				continue
			}
			if means[column] == nil {
				t.Fatalf("the column %q means no complaint", column)
			}
			for _, device := range families[cells[0]] {
				common++
				notes := 0
				for _, id := range means[column] {
					notes += pairs[device][id]
				}
				if pairs[device] == nil {
					t.Errorf("there is no device %s", device)
				} else if notes == 0 {
					t.Errorf("%s: nobody answers “%s”, which %d %% of the records of %s say", device, column, percent, cells[0])
				}
			}
		}
	}
	if common < 60 {
		t.Errorf("only %d common pairs were read", common)
	}
}
