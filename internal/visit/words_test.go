package visit

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"faultleaf/internal/outfit"
	"faultleaf/internal/site"
)

// A shop's own words may be longer than a column, be codes, or run from right to left:
// no page becomes wider than its screen by them, and nothing stands outside it.
func TestLongWords(t *testing.T) {
	browser(t)
	const (
		word = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunter"
		code = "XQ-9981726354-ABCDEFGHIJ-77-ZZ"
	)
	dir := t.TempDir()
	content := filepath.Join(dir, "content")
	if err := outfit.Usual.Example(content); err != nil {
		t.Fatal(err)
	}
	for file, with := range map[string][]string{
		"shop.yaml":                  {"name: \"Our shop\"", "name: \"" + word + " am Hafen\""},
		"devices/table-lamp.md":      {"title: Table lamp", "title: " + word + "\nfamily: " + word, "says: It stays dark", "says: " + word + " " + code, "does: Open the base", "does: " + word + " مفتاح المصباح", "Put its bulb into a lamp of the shop that works", word + " 電球を外して別の器具で点灯するか確かめる", "Let the bulb cool;", word + ";"},
		"faults/lamp-switch-worn.md": {"title: Lamp switch worn out", "title: " + word, "contacts burnt in the switch", word + code, "many years of switching", word, "minutes: 15,", "minutes: 15, parts: [{part: " + code + ", price: 123456.90}],", "Replace the switch by one with", word + word + " `" + code + code + "`"},
	} {
		path := filepath.Join(content, filepath.FromSlash(file))
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if changed := strings.NewReplacer(with...).Replace(string(b)); changed == string(b) {
			t.Fatalf("%s holds nothing of what is to be replaced", file)
		} else if err := os.WriteFile(path, []byte(changed), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for file, text := range map[string]string{
		"pages/long.md":                   "---\ntitle: " + word + "\n---\n" + word + word + "\n\n## " + word + "\n\n- " + code + code + "\n- مفتاح المصباح\n\n| " + word + " | " + code + " |\n|---|---|\n| " + word + " | 接点 |\n",
		"checklists/long.md":              "---\ntitle: " + word + "\nwhen: " + word + "\n---\n\n## " + word + "\n\n- [ ] " + word + " " + code + "\n- [ ] مفتاح المصباح مغلق\n",
		"jobs/2026-01-05-table-lamp-1.md": "---\ndevice: table-lamp\ndate: 2026-01-05\ntype: " + code + "\nowner_says: " + word + "\ncause: lamp-switch-worn\noutcome: mended\nminutes: 30\n---\n" + word + word + "\n",
	} {
		path := filepath.Join(content, filepath.FromSlash(file))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	to := filepath.Join(dir, "public")
	if _, mistakes, err := site.Publish(dir, to); err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	v := visitSite(t, to, false)
	for _, width := range []int64{320, 1280} {
		v.do(emulation.SetDeviceMetricsOverride(width, 900, 1, false))
		for _, address := range []string{"index.html", "devices/table-lamp.html", "devices/table-lamp.html#shows=dark", "faults/lamp-switch-worn.html", "jobs/index.html", "jobs/2026-01-05-table-lamp-1.html", "jobs/figures.html",
			"pages/long.html", "checklists/long.html", "opening/table-lamp.html", "sheets/table-lamp.html", "counter.html?job=", "find.html?q=" + word, "answers.html"} {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address))
			v.until(`document.readyState === 'complete' && (!document.querySelector('[data-trace]') || document.querySelector('.trace-step'))`)
			var wide string
			v.do(chromedp.Evaluate(`(() => {
				const out = document.documentElement.scrollWidth > innerWidth ? ['the page is ' + document.documentElement.scrollWidth + ' wide'] : [];
				for (const e of document.querySelectorAll('main *:not(svg *)')) {
					if (e.closest('.out-of-sight, .find-said, .trace-said') || e.getBoundingClientRect().right <= innerWidth + 1) continue;
					let within = false;
					for (let p = e.parentElement; p; p = p.parentElement) within ||= getComputedStyle(p).overflowX !== 'visible';
					if (!within && e.checkVisibility()) out.push(e.tagName + '.' + e.getAttribute('class') + ' ends at ' + Math.round(e.getBoundingClientRect().right));
				}
				return out.slice(0, 5).join('; ');
			})()`, &wide))
			if wide != "" {
				t.Errorf("%s at %d: %s", address, width, wide)
			}
		}
	}
}
