package visit

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

func (v *visitor) key(k string) {
	v.t.Helper()
	v.do(chromedp.KeyEvent(k))
}

func (v *visitor) number(js string) float64 {
	v.t.Helper()
	var x float64
	v.do(chromedp.Evaluate(`Number(`+js+`)`, &x))
	return x
}

// devicePages are the starter's site and the files of its devices' pages.
func devicePages(t *testing.T) (dir string, pages []string) {
	t.Helper()
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	if pages, err = filepath.Glob(filepath.Join(dir, "devices", "*.html")); err != nil || len(pages) < 10 {
		t.Fatal(pages, err)
	}
	return dir, pages
}

// On a telephone one tap on what it shows brings the first question into view, and the
// page stays short; the caution stands above the field that it is about. FAULTLEAF_WHOLE=1
// looks at every device.
func TestTraceOnAPhone(t *testing.T) {
	_, pages := devicePages(t)
	var tallest, lowest float64
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
	for i, p := range pages {
		if os.Getenv("FAULTLEAF_WHOLE") == "" && i%9 != 0 && filepath.Base(p) != "kettle.html" {
			continue
		}
		if i > 0 && i%15 == 0 { // a visit has its time
			v.clean()
			v = visit(t, false)
			v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
		}
		device := strings.TrimSuffix(filepath.Base(p), ".html")
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/"+device+".html"))
		v.until(`document.querySelector('[data-symptom]')?.getClientRects().length`)
		v.do(chromedp.Evaluate(`document.querySelector('[data-symptom]').click()`, nil))
		v.until(`document.activeElement.id === 'trace-step' && document.querySelector('.trace-step [data-reading], .trace-step [data-cured]')`)
		top := v.number(`document.querySelector('#trace-step').getBoundingClientRect().top`)
		high := v.number(`document.documentElement.scrollHeight`)
		tallest, lowest = max(tallest, high), max(lowest, top)
		if top < 0 || top > 400 {
			t.Errorf("%s: the question begins at %.0f px of the view", device, top)
		}
		if high > 4500 {
			t.Errorf("%s: the page is %.0f px high", device, high)
		}
		if over := v.number(`document.documentElement.scrollWidth`); over > 360 {
			t.Errorf("%s: the page is %.0f px wide", device, over)
		}
		if v.number(`[...document.querySelectorAll('.trace-step .signal')].every((s) => [...document.querySelectorAll('.trace-step :is(.trace-value, .trace-reading)')].every((f) => s.compareDocumentPosition(f) & 4))`) != 1 {
			t.Errorf("%s: the caution stands below what it is about", device)
		}
		if n := v.number(`[...document.querySelectorAll('.go')].filter((b) => b.getClientRects().length).length`); n > 1 {
			t.Errorf("%s: %.0f things look like the one to do", device, n)
		}
	}
	t.Logf("the tallest page is %.0f px; the lowest question begins at %.0f", tallest, lowest)
	v.clean()
}

// By keys alone: letters choose answers, digits go into the meter's field and nowhere
// else, Enter says that the caution was read, and one tick is enough for a row of
// unplugged steps.
func TestTraceByKeys(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "devices/kettle.html"))
	v.until(`document.querySelector('[data-symptom="dead-quiet"]')?.getClientRects().length`)
	tabs := v.number(`[...document.querySelectorAll('.trace-main :is(button, input, summary, a)')].filter((e) => e.tabIndex >= 0 && e.getClientRects().length).length`)
	if tabs > 3 {
		t.Errorf("%.0f stops of the tab key to choose what it shows", tabs)
	}
	v.do(chromedp.Evaluate(`document.querySelector('[data-symptom="dead-quiet"]').focus()`, nil))
	v.key("\r")
	v.until(`document.activeElement.id === 'trace-step'`)
	ticks, steps := 0, 0
	for steps < 4 && v.count(".trace-reading") > 0 {
		if v.count(".trace-accept") > 0 {
			v.key("\r")
			v.until(`!document.querySelector('.trace-accept') && document.querySelector('.trace-reading:not(:disabled)')`)
			ticks++
		}
		before := v.text(".trace-no")
		if v.count("#trace-value") > 0 {
			v.key("5")
			v.until(`document.activeElement.id === 'trace-value'`)
			if n := v.text(".trace-no"); n != before {
				t.Fatal("a digit has chosen an answer")
			}
			v.do(chromedp.Evaluate(`document.querySelector('#trace-value').value = ''; document.querySelector('#trace-step').focus()`, nil))
		}
		var key string
		v.do(chromedp.Evaluate(`document.querySelector('.trace-healthy').dataset.key`, &key))
		if len(key) != 1 || key < "g" || key > "z" {
			t.Fatalf("the letter of an answer is %q; a to f name faults", key)
		}
		v.key(key)
		v.until(`document.querySelector('.trace-no')?.textContent !== ` + quote(before) + ` || !document.querySelector('.trace-reading')`)
		v.until(`document.activeElement.id === 'trace-step'`)
		steps++
	}
	if steps < 3 || ticks > 2 {
		t.Errorf("%d steps took %d ticks", steps, ticks)
	}
	v.key("\b")
	v.until(`document.querySelectorAll('.trail li').length === ` + string(rune('0'+steps+1)))
	// a tick is for its power state only
	if v.number(`holds({ state: 'off', signal: 'WARNING' }, { state: 'mains' }) === null && holds({ state: 'mains', signal: 'DANGER' }, { state: 'off' }) === null && holds({ state: 'off', signal: 'WARNING' }, { state: 'off' }) !== null`) != 1 {
		t.Error("a tick outlives its power state, or does not last for it")
	}
	v.do(chromedp.Evaluate(`document.body.dispatchEvent(new KeyboardEvent('keydown', {key: '?', bubbles: true}))`, nil))
	v.until(`document.querySelector('[data-keys]').open`)
	v.clean()
}

// A value is entered with the unit that stands beside the field.
func TestTraceUnit(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "devices/kettle.html#shows=dead-quiet&read=press-switch=stays-and-snaps&read=base-look=bright"))
	v.until(`document.querySelector('.trace-accept')`)
	v.do(chromedp.Evaluate(`document.querySelector('.trace-accept').click()`, nil))
	v.until(`document.querySelector('#trace-value:not(:disabled)')`)
	v.enter("#trace-value", "24")
	v.key("\r")
	v.until(`document.querySelectorAll('.trace-path li').length === 3`)
	if says := v.text(".trace-path li:last-child"); !strings.Contains(says, "24") || !strings.Contains(says, "Ω") {
		t.Errorf("it was taken as %q", says)
	}
	v.clean()
}

// Addresses hold under former names, of readings and of tests; and what the search
// heard goes along to the device.
func TestFormerAddresses(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "devices/kettle.html#shows=dead-quiet&read=contacts-ohms=switch-open"))
	v.until(`document.querySelectorAll('.trace-path li').length === 1`)
	if says := v.text(".trail"); !strings.Contains(says, "switch ohms") || !strings.Contains(says, "open") {
		t.Errorf("the trail says %q", says)
	}
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/kettle.html#test-look-base"))
	v.until(`document.querySelector('#test-base-look').closest('details').open`)
	v.do(chromedp.Navigate(v.base + "index.html?q=kettle"))
	v.until(`document.querySelector('.find-hit[data-id="devices/kettle"]')`)
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/kettle.html#says=It%20trips%20the%20house%20supply"))
	v.until(`document.querySelector('[data-symptom="trips"][aria-pressed="true"]') && document.querySelector('.trace-reading')`)
	v.clean()
}

// How pages look is remembered, and put on before anything is painted.
func TestLookIsKept(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		light := emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}})
		v.do(light, chromedp.Navigate(v.base+"faults/kettle-switch-burnt.html"))
		v.until(`document.querySelector('[data-look-way="scheme=dark"]')`)
		v.do(chromedp.Evaluate(`document.querySelector('[data-look-way="scheme=dark"]').click(); document.querySelector('[data-look-way="type=large"]').click()`, nil))
		v.do(chromedp.Navigate(v.base + "index.html"))
		v.until(`document.readyState === 'complete' && document.documentElement.dataset.scheme === 'dark' && document.documentElement.dataset.type === 'large'`)
		if ground := v.number(`Number(/\d+/.exec(getComputedStyle(document.documentElement).backgroundColor)[0])`); ground > 60 {
			t.Errorf("the ground is %v of 255 bright", ground)
		}
		v.until(`document.querySelector('[data-look-way="scheme="]')`)
		v.do(chromedp.Evaluate(`document.querySelector('[data-look-way="scheme="]').click(); document.querySelector('[data-look-way="type="]').click()`, nil))
		v.clean()
	})
}

// What a device's page weighs before the binary: page, stylesheet and scripts, packed.
func TestDeviceWeighsLittle(t *testing.T) {
	dir, pages := devicePages(t)
	packed := func(file string) int {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		w := gzip.NewWriter(&out)
		_, _ = w.Write(b)
		_ = w.Close()
		return out.Len()
	}
	rest := packed(filepath.Join(dir, "faultleaf.css")) + packed(filepath.Join(dir, "faultleaf.js")) + packed(filepath.Join(dir, "leaf.svg"))
	apps, err := filepath.Glob(filepath.Join(dir, "run", "app.*.js"))
	if err != nil || len(apps) != 1 {
		t.Fatal(apps, err)
	}
	rest += packed(apps[0])
	for _, p := range pages {
		if n := rest + packed(p); n > 90e3 {
			t.Errorf("%s weighs %d bytes with what it needs before the binary; 90,000 are allowed", filepath.Base(p), n)
		}
	}
	t.Logf("what all pages share weighs %d bytes", rest)
}

// An address of another trace that is entered while the page is open is followed, and one step back undoes it.
func TestTraceFollowsItsAddress(t *testing.T) {
	v := visit(t, true)
	v.do(chromedp.Navigate(v.base + "devices/fan-heater.html#shows=air-cold"))
	v.until(`document.querySelector('[data-step=pins-ohms] .trace-reading')`)
	v.do(chromedp.Evaluate(`location.hash = '#shows=air-cold&read=pins-ohms=open'`, nil))
	v.until(`document.querySelector('[data-trail]').textContent.includes('open') && !document.querySelector('[data-step=pins-ohms]')`)
	v.do(chromedp.Click(`[data-back]`))
	v.until(`document.querySelector('[data-step=pins-ohms] .trace-reading')`)
	v.clean()
}
