package note

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"faultleaf/calc/all"
)

// TestMisleading: what somebody may well write, and what is said of it, change by
// change, in testdata/misleading.golden.
func TestMisleading(t *testing.T) {
	var got strings.Builder
	for _, c := range [][3]string{
		{"content/devices/fan-heater.md", "{open: above 10 kΩ}", "{open: above 0,5 Ω}"},
		{"content/devices/fan-heater.md", "{open: above 10 kΩ}", "{open: above 10,5 kΩ}"},
		{"content/devices/fan-heater.md", "plate: {mains: 230 V, power: 2 kW}", "plate: {mains: 230 V, power: 2,2 kW}"},
		{"content/devices/fan-heater.md", "minutes: 6, undo: 4", "minutes: 6,5, undo: 4"},
		{"content/faults/element-tag-burnt-off.md", "price: 0.80", "price: 0,80"},
		{"content/faults/element-tag-burnt-off.md", "seen: 4", "seen: 4,5"},
		{"content/jobs/2025-03-04-fan-heater-1.md", "minutes: 40", "minutes: 40\nmoney: 5,50"},
		{"content/jobs/2025-03-04-fan-heater-1.md", "value: 2 MΩ, minutes: 4", "value: 0,5 Ω, minutes: 4"},
		{"content/faults/element-tag-burnt-off.md", "cause: crimped tag between element and cut-out", "cause: „crimped tag: between“"},
		{"content/faults/element-tag-burnt-off.md", "title: Element tag burnt off its terminal", "title: „Element tag burnt off its terminal“"},
		{"content/faults/element-tag-burnt-off.md", "because: [loose crimp, inlet blocked]", "because: [„loose crimp, old“, inlet blocked]"},
		{"content/faults/element-tag-burnt-off.md", "mend: {does: Cut back", "mend: {does: “Cut: back"},
		{"content/devices/fan-heater.md", "      - {low: below}", "      - {odd: 5–4 Ω}\n      - {low: below}"},
		{"content/devices/fan-heater.md", "{open: above 10 kΩ}", "{open: above 10 Ω}"},
		{"content/devices/fan-heater.md", "      - {low: below}", "      - {low: below 30 Ω}"},
		{"content/devices/fan-heater.md", "      - {low: below}", "      - {as-half: \"calc:element?power=4kW&mains=230V#cold-range\"}\n      - {low: below}"},
		{"content/devices/fan-heater.md", "{open: above 10 kΩ}", "{open: above 10 kΩ}\n      - {near: \"calc:element?power=1.9kW&mains=230V#cold-range\"}"},
		{"content/devices/fan-heater.md", "power: off", "power: off\n    trust: 0,9"},
		{"content/devices/fan-heater.md", "good: {element-ohms: 25.9 Ω}", "good: {element-ohms: 25,9 Ω}"},
		{"content/faults/element-tag-burnt-off.md", "mend: {does: Cut back", "mend: {does: Unplug, wait a minute, then cut back"},
		{"content/devices/fan-heater.md", "plate: {mains: 230 V, power: 2 kW}", "plate: {two bars, mains: 230 V, power: 2 kW}"},
		{"content/devices/fan-heater.md", "{open: above 10 kΩ}", "{open: above 10 kΩ, or jumps about}"},
		{"content/faults/element-tag-burnt-off.md", "seen: 4", "seen:4"},
		{"content/faults/element-tag-burnt-off.md", "seen: 4", "seen = 4"},
		{"content/faults/element-tag-burnt-off.md", "seen: 4", "seen：4"},
		{"content/faults/element-tag-burnt-off.md", "seen: 4", "seen:\u00a04"},
		{"content/faults/element-tag-burnt-off.md", "title: Element", "title:Element"},
		{"content/faults/element-tag-burnt-off.md", "title: Element", "title: Element: the"},
		{"content/faults/element-tag-burnt-off.md", "title: Element", "title: *Element*"},
		{"content/faults/element-tag-burnt-off.md", "title: Element", "title: %Element"},
		{"content/faults/element-tag-burnt-off.md", "title: Element tag", "title: \"Element\" tag"},
		{"content/faults/element-tag-burnt-off.md", "title: Element", "title: 'Element"},
		{"content/faults/element-tag-burnt-off.md", "cause: crimped", "Cause: crimped"},
		{"content/faults/element-tag-burnt-off.md", "because:", "becuase:"},
		{"content/faults/element-tag-burnt-off.md", "minutes: 25", "minute: 25"},
		{"content/faults/element-tag-burnt-off.md", "needs: [grille-off]", "needs: [grille-off"},
		{"content/faults/element-tag-burnt-off.md", "needs: [grille-off]", "needs: [grille-off]]"},
		{"content/faults/element-tag-burnt-off.md", "---\ntitle", "–––\ntitle"},
		{"content/faults/element-tag-burnt-off.md", "---\ntitle", "----\ntitle"},
		{"content/faults/element-tag-burnt-off.md", "---\ntitle", "\n---\ntitle"},
		{"content/faults/element-tag-burnt-off.md", "---\ntitle", "# Tag\n---\ntitle"},
		{"content/faults/element-tag-burnt-off.md", "---\ntitle", "title"},
		{"content/faults/element-tag-burnt-off.md", "\n---\nThe tag", "\n--\nThe tag"},
		{"content/faults/element-tag-burnt-off.md", "The tag is brown", "See [the heater](../devices/fan heater.md). The tag is brown"},
		{"content/faults/element-tag-burnt-off.md", "The tag is brown", "See [the heater](../devices/fan-heater.md. The tag is brown"},
		{"content/devices/fan-heater.md", "healthy: true", "healthy: yes"},
		{"content/devices/fan-heater.md", "class: II", "class: 2"},
		{"content/devices/soup-warmer.md", "class: II", "class: 2"},
		{"content/devices/soup-warmer.md", "power: 300 W", "power: 300 Ohm"},
		{"content/devices/soup-warmer.md", "reach: bottom-off", "reach: botom-off"},
		{"content/devices/soup-warmer.md", "  - cord: {", "  -cord: {"},
		{"content/devices/soup-warmer.md", "family: Heat", "family: Heat\nalso: food warmer, plate warmer"},
		{"content/shop.yaml", "rate: 36", "rate: 36,50"},
		{"content/shop.yaml", "mains: 230 V", "mains: 230,5 V"},
	} {
		shop := samples()
		f := shop[c[0]]
		if !strings.Contains(string(f.Data), c[1]) {
			t.Fatal(c)
		}
		f.Data = []byte(strings.Replace(string(f.Data), c[1], c[2], 1))
		_, mistakes, _ := Load(shop, all.Find)
		inside(t, shop, mistakes)
		fmt.Fprintf(&got, "== %s\n", c[2])
		_ = mistakes.Print(&got)
	}
	const golden = "testdata/misleading.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil || got.String() != string(want) {
		t.Errorf("got\n%s\nwanted\n%s", got.String(), want)
	}
}
