package effect_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/effect"
	"faultleaf/internal/format"
	"faultleaf/internal/note"
)

// heater is the heater of the format's examples with fault notes added or changed.
func heater(t *testing.T, notes map[string]string) *trace.Device {
	t.Helper()
	shop := fstest.MapFS{}
	for _, s := range format.Samples {
		shop[s.File] = &fstest.MapFile{Data: []byte(s.Text)}
	}
	for name, text := range notes {
		shop["content/faults/"+name+".md"] = &fstest.MapFile{Data: []byte(text)}
	}
	set, mistakes, _ := note.Load(shop, all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return set.TraceDevice("fan-heater")
}

func fault(block, seen, reads string) string {
	return "---\ntitle: Another\ndevice: fan-heater\nblock: " + block + "\ncause: it broke\nseen: " + seen + "\nsymptoms: {air-cold: always}\nreads: " + reads + "\nmend: {does: Mend it, minutes: 5}\n---\n"
}

func TestCompare(t *testing.T) {
	plain := heater(t, nil)
	for _, c := range []struct {
		name          string
		before, after *trace.Device
		says          []string
		never         []string
	}{
		{"the same", plain, heater(t, nil), []string{"fan-heater: the advice stays as it is"}, []string{"first"}},
		{"a new fault that a test parts", plain, heater(t, map[string]string{"another": fault("element", "4", "{element-ohms: low}")}),
			[]string{"  The fan turns, and the air stays cold", "Another (another)", "Element tag burnt off its terminal (element-tag-burnt-off)"}, []string{"no test parts"}},
		{"a new fault that nothing parts", plain, heater(t, map[string]string{"another": fault("element", "4", "{element-ohms: open}")}),
			[]string{"no test parts another from element-tag-burnt-off"}, []string{"a test parts"}},
		{"a fault that is parted now", heater(t, map[string]string{"another": fault("element", "4", "{element-ohms: open}")}), heater(t, map[string]string{"another": fault("element", "4", "{element-ohms: low}")}),
			[]string{"a test parts another from element-tag-burnt-off now"}, []string{"no test parts"}},
		{"many cases more", heater(t, map[string]string{"another": fault("switch", "1", "{element-ohms: as-rated}")}), heater(t, map[string]string{"another": fault("switch", "90", "{element-ohms: as-rated}")}),
			[]string{"first before: ", "first now:    "}, nil},
		{"a new device", nil, plain, []string{"fan-heater: a new device", "first: "}, []string{"before"}},
		{"a device that is gone", plain, nil, []string{"fan-heater: there is no trace of it any more"}, nil},
	} {
		e, err := effect.Compare(c.before, c.after)
		if err != nil {
			t.Fatal(c.name, err)
		}
		got := strings.Join(e.Words(), "\n")
		for _, s := range c.says {
			if !strings.Contains(got, s) {
				t.Errorf("%s: %q is not said in\n%s", c.name, s, got)
			}
		}
		for _, s := range c.never {
			if strings.Contains(got, s) {
				t.Errorf("%s: %q is said in\n%s", c.name, s, got)
			}
		}
	}
}
