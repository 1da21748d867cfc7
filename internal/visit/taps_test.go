package visit

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// effort is what a way through the pages asks of a hand: taps, links among them, and
// how far a telephone is scrolled for them. What is typed, cautions, what it shows,
// readings and proofs are the work itself, and are not counted.
type effort struct{ taps, links, scroll int }

// counted taps an element and counts the tap and the scrolling to it.
func (v *visitor) counted(e *effort, selector string) {
	v.t.Helper()
	v.until(`document.querySelector(` + quote(selector) + `)?.getClientRects().length`)
	var far struct {
		Scroll int
		Link   bool
	}
	v.do(chromedp.Evaluate(`(() => { const e = document.querySelector(`+quote(selector)+`), b = e.getBoundingClientRect();
		const scroll = Math.round(Math.max(0, b.bottom - innerHeight, -b.top));
		if (scroll) e.scrollIntoView({ block: 'center' });
		return { scroll, link: e.matches('a') }; })()`, &far))
	v.do(chromedp.Click(selector, chromedp.ByQuery))
	e.taps++
	e.scroll += far.Scroll
	if far.Link {
		e.links++
	}
}

// answers goes through a trace with true readings, which are not counted, until a mend
// is offered.
func (v *visitor) answers(readings map[string]string) {
	v.t.Helper()
	for range 25 {
		v.until(`document.querySelector('.trace-accept, .trace-reading:not(:disabled), [data-cured]')`)
		if v.count(".trace-accept") > 0 {
			v.do(chromedp.Evaluate(`document.querySelector('.trace-accept').click()`, nil))
			continue
		}
		if v.count("[data-cured]") > 0 {
			return
		}
		step := v.text(".trace-no")
		v.do(chromedp.Evaluate(`(() => { const want = `+jsonOf(readings)+`[document.querySelector('.trace-step').dataset.step];
			(document.querySelector('[data-reading="' + want + '"]') || document.querySelector('.trace-healthy')).click(); })()`, nil))
		v.until(`document.querySelector('.trace-no')?.textContent !== ` + quote(step) + ` || document.querySelector('[data-cured]')`)
	}
	v.t.Fatal("no mend is offered")
}

func jsonOf(m map[string]string) string {
	var s []string
	for k, x := range m {
		s = append(s, quote(k)+":"+quote(x))
	}
	return "{" + strings.Join(s, ",") + "}"
}

// What five errands cost at the width of a telephone. The first edition of these pages
// took 11 taps to a first test or a sheet, 2 links and 3340 px from a rectifier to its
// fuse, and 20 taps to tick and print; the goal is half of that at most.
func TestTaps(t *testing.T) {
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
	start := func() { v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"index.html")) }
	kept := []struct {
		errand string
		most   effort
		do     func(e *effort)
	}{
		{"a lamp flickers: to its first test", effort{3, 2, 400}, func(e *effort) {
			start()
			v.until(`document.querySelector('[data-find-words]').getAttribute('role') === 'combobox'`)
			v.counted(e, "[data-find-words]")
			v.enter("[data-find-words]", "lamp flickers")
			v.until(`document.querySelector('.find-hit') && document.querySelector('.find-group')`)
			v.counted(e, ".find-hit")
			v.until(`location.pathname.includes('/devices/') || location.pathname.includes('/faults/')`)
			if v.number(`location.pathname.includes('/faults/')`) == 1 {
				v.counted(e, ".note-main .go")
			}
			v.until(`document.querySelector('.trace-reading')`)
		}},
		{"a dead kettle: from the counter to a saved sheet", effort{5, 2, 1800}, func(e *effort) {
			start()
			v.counted(e, ".start-take a")
			v.until(`document.querySelector('#counter-says')`)
			v.enter("#counter-says", "dead kettle, the lamp stays dark")
			v.until(`document.querySelector('[data-says="dead-quiet"]')`)
			v.do(chromedp.Evaluate(`document.querySelector('[data-says="dead-quiet"] [data-is="true"]').click()`, nil))
			v.counted(e, "[data-counter-open]")
			v.until(`document.querySelector('[data-symptom="dead-quiet"][aria-pressed="true"]')`)
			v.answers(map[string]string{"kettle-ohms": "open-or-high", "pins-ohms": "open-or-high", "element-tug-tags": "loose-or-brown"})
			v.counted(e, `[data-cured="yes"]`)
			v.until(`location.pathname.endsWith('after-repair.html') && document.querySelector('.tick-ways')`)
			v.do(chromedp.Evaluate(`for (const box of document.querySelectorAll('[data-tick]')) if (!box.closest('li').querySelector('[data-read]')) box.click()`, nil))
			for step, value := range map[string]string{"bond": "0.12 Ω", "insulation": ">300 MΩ"} {
				v.enter(`li:has([data-tick="`+step+`"]) [data-read] input`, value+"\t")
				v.until(`document.querySelector('[data-tick="` + step + `"]').checked`)
			}
			v.do(chromedp.Evaluate(`[...document.querySelectorAll('[data-tick]')].at(-1).scrollIntoView({ block: 'center' })`, nil)) // ticking has led there
			v.counted(e, "[data-to-sheet]")
			v.until(`document.querySelector('[data-proved]')`)
			v.counted(e, "[data-sheet-save]:not(:disabled)")
			v.until(`!document.querySelector('[data-job-close]').parentElement.hidden`)
		}},
		{"a rectifier is computed: which fuse", effort{1, 1, 1200}, func(e *effort) {
			v.do(chromedp.Navigate(v.base + "calc/rectifier.html?ac=12_V&load=24_Ω"))
			v.until(`document.querySelector('[data-leads-to="fuse"]')?.href.includes('?')`)
			v.counted(e, `[data-leads-to="fuse"]`)
			v.until(`location.pathname.endsWith('calc/fuse.html')`)
		}},
		{"after the repair: tick and print", effort{3, 2, 400}, func(e *effort) {
			start()
			v.counted(e, `.arm-ways a[href$="#checklists"]`)
			v.do(chromedp.Sleep(300 * time.Millisecond))
			v.counted(e, `a[href="checklists/after-repair.html"]`)
			v.until(`document.querySelector('.tick-ways')`)
			v.do(chromedp.Evaluate(`globalThis.printed = 0; window.print = () => printed++; for (const box of document.querySelectorAll('[data-tick]')) if (!box.checked) box.click()`, nil))
			v.counted(e, ".ticks-print")
			v.until(`printed === 1`)
		}},
		{"a trace is shared", effort{1, 0, 400}, func(e *effort) {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/kettle.html#shows=dead-quiet&read=press-switch=stays-and-snaps"))
			v.until(`document.querySelector('[data-share]:not(:disabled)')`)
			v.do(chromedp.Evaluate(`globalThis.copies = []; Object.defineProperty(navigator, 'clipboard', { value: { writeText: async (s) => { copies.push(s); } } })`, nil))
			v.counted(e, "[data-share]")
			v.until(`copies.length === 1 && copies[0].includes('press-switch')`)
		}},
	}
	for _, k := range kept {
		var e effort
		k.do(&e)
		says := fmt.Sprintf("%s: %d taps, %d of them links, %d px", k.errand, e.taps, e.links, e.scroll)
		t.Log(says)
		if e.taps > k.most.taps || e.links > k.most.links || e.scroll > k.most.scroll {
			t.Errorf("%s; kept were %+v", says, k.most)
		}
	}
	v.clean()
}
