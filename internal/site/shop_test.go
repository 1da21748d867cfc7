package site

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultleaf/internal/format"
)

// Every key of shop.yaml does something: with two values of it the pages differ. A new key
// stands in the format's table, and needs a line here.
func TestShopKeys(t *testing.T) {
	for key, two := range map[string][2]string{
		"name": {"Elm", "Oak"}, "id": {"elm", "oak"}, "address": {"Elm Street", "Oak Street"},
		"mains": {"230 V", "120 V"}, "hertz": {"50", "60"}, "currency": {"EUR", "USD"}, "rate": {"36", "45"},
		"units": {"metric", "imperial"}, "decimals": {"point", "comma"}, "lang": {"en", "de"}, "logo": {"images/a.svg", "images/b.svg"},
		"footer": {"Open", "Shut"}, "search_hint": {"dead", "hums"}, "power_minutes": {"{low-voltage: 3}", "{low-voltage: 30}"},
		"allow_mains_tests": {"false", "true"}, "instruments": {"[meter]", "[megger]"}, "measure_first": {"true", "false"}, "waits_count": {"0.1", "0.9"},
		"proofs": {"{II: [visual]}", "{II: [visual, polarity]}"}, "invented": {"false", "true"},
		"touch_current_rule": {"en", "strictest"}, "bond_rule": {"en", "uk"}, "insulation_rule": {"en", "uk"}, "discharge_rule": {"household", "laboratory"},
	} {
		if format.Shop.Find(key) == nil {
			t.Errorf("%s is no key of shop.yaml", key)
			continue
		}
		var sites [2]Files
		for i, value := range two {
			sites[i] = made(t, shopWith(t, key, value))
		}
		same := len(sites[0]) == len(sites[1])
		for name, b := range sites[0] {
			same = same && bytes.Equal(b, sites[1][name])
		}
		if same {
			t.Errorf("%s: nothing differs between %s and %s", key, two[0], two[1])
		}
		delete(waiting, key)
	}
	for key := range waiting {
		t.Errorf("%s is not tried here", key)
	}
}

// waiting are the keys that were not tried yet; a newer format is refused, which the
// reader's own tests hold.
var waiting = func() map[string]bool {
	all := map[string]bool{}
	for _, name := range format.Shop.Names(true) {
		all[name] = true
	}
	delete(all, "format")
	return all
}()

// shopWith is the shop of the format's samples with one key of shop.yaml set.
func shopWith(t *testing.T, key, value string) string {
	t.Helper()
	dir := t.TempDir()
	for _, s := range format.Samples {
		text := s.Text
		if s.Kind == "shop" {
			var lines []string
			for _, line := range strings.Split(text, "\n") {
				if !strings.HasPrefix(line, key+":") {
					lines = append(lines, line)
				}
			}
			text = strings.Join(lines, "\n") + key + ": " + value + "\n"
		}
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, s.File)), 0o755); err != nil {
			t.Fatal(err)
		}
		put(t, dir, s.File, text)
	}
	for _, folder := range []string{"content/images", "content/jobs"} {
		if err := os.MkdirAll(filepath.Join(dir, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	put(t, dir, "content/faults/heater-switch-burnt.md", "---\ntitle: Switch burnt\ndevice: fan-heater\nblock: switch\ncause: contact\nseen: 5\nsymptoms: {air-cold: often}\nmend: {does: Fit a new one, minutes: 20}\n---\n")
	put(t, dir, "content/jobs/2025-03-04-fan-heater-9.md", "---\ndevice: fan-heater\ndate: 2025-03-04\nsymptoms: [air-cold]\ncause: element-tag-burnt-off\nreason: old\nminutes: 20\noutcome: mended\n---\n")
	for _, name := range []string{"a", "b"} {
		put(t, dir, "content/images/"+name+".svg", `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10" viewBox="0 0 10 10"><path d="M0 0h9v9z"/></svg>`)
	}
	return dir
}
