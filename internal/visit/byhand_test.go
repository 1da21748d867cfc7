package visit

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// What no note describes is put right by hand at the question: in a block that the test is
// about, or any other. It stands on the trail and in the address, can be taken back there
// and by the step before, and its note is begun from it; the block is asked about again.
func TestPutRightByHand(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		const address = "devices/fan-heater.html#shows=air-cold&read=pins-ohms=motor-only"
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address))
		v.until(`document.querySelector('.trace-step[data-step]')`)
		v.do(chromedp.Evaluate(`document.querySelector('.trace-accept')?.click()`, nil))
		v.until(`document.querySelector('[data-by-hand]') && !document.querySelector('.trace-accept')`)
		if n := v.number(`new Set([...document.querySelectorAll('[data-by-hand]')].map((b) => b.dataset.byHand)).size - document.querySelectorAll('[data-by-hand]').length`); n != 0 || v.count(`[data-by-hand="outside"]`) != 1 {
			t.Error("a block is offered twice, or nothing outside the chain")
		}
		v.do(chromedp.Evaluate(`document.querySelector('[data-by-hand]').closest('details').open = true; document.querySelector('[data-by-hand="cord"]').click()`, nil))
		v.until(`document.querySelector('[data-put-right="cord"]')`)
		v.until(`decodeURIComponent(location.hash).includes('byhand=cord~1')`)
		if trail := v.text("[data-trail]"); !strings.Contains(trail, "by hand") {
			t.Errorf("the trail says %q", trail)
		}
		v.until(`document.activeElement.id === 'trace-step'`)
		// its note begins in that block
		v.do(chromedp.Evaluate(`[...document.querySelectorAll('[data-put-right] button')].at(-1).click()`, nil))
		v.until(`document.querySelector('.sheet-preview')?.textContent.includes('block: cord')`)
		// opened elsewhere it is the same, and is taken back by hand or by the step back
		for _, undo := range []string{`[data-put-right] button`, `[data-back]`} {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address+"&byhand=cord~1"))
			v.until(`document.querySelector('[data-put-right="cord"]')`)
			v.do(chromedp.Evaluate(`document.querySelector(`+quote(undo)+`).click()`, nil))
			v.until(`!document.querySelector('[data-put-right]') && location.hash.includes('read=') && !location.hash.includes('byhand')`)
		}
		// a step back takes back what was said last: a reading after it goes first
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/fan-heater.html#shows=air-cold&byhand=cord~0&read=pins-ohms=motor-only"))
		v.until(`document.querySelector('[data-put-right="cord"]')`)
		v.do(chromedp.Click(`[data-back]`))
		v.until(`document.querySelector('[data-put-right="cord"]') && !location.hash.includes('read=')`)
		v.clean()
	})
}

// In a job it is kept, over a reload too, and stands on the sheet and the papers; and what
// a look by hand found and cured is kept with the block it was found in.
func TestPutRightIsKept(t *testing.T) {
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
	v.do(chromedp.Navigate(v.base+"index.html"), chromedp.Evaluate(`jobs.begin({ device: 'plug-in-supply', title: 'Plug-in supply' }).code`, nil))
	var code string
	v.do(chromedp.Evaluate(`jobs.all()[0].code`, &code))
	trace := "devices/plug-in-supply.html?job=" + code
	v.do(chromedp.Navigate(v.base + trace + "#shows=hot-case&read=look-plug=clean&read=pins-ohms=low&read=insulation=good"))
	v.until(`document.querySelector('[data-looked="partly"]')`)
	v.do(chromedp.Click(`[data-looked="partly"]`))
	v.until(`document.querySelector('[data-put-right]')`)
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+trace))
	v.until(`document.querySelector('[data-put-right]')`)
	var block string
	v.do(chromedp.Evaluate(`document.querySelector('[data-put-right]').dataset.putRight`, &block))
	if kept := v.number(`jobs.here.all('known/byHand/').length`); kept != 1 {
		t.Errorf("%.0f facts are kept", kept)
	}
	v.do(chromedp.Navigate(v.base + "job.html?job=" + code))
	v.until(`document.querySelector('#sheet-outcome')`)
	v.do(chromedp.Evaluate(`{ const e = document.querySelector('#sheet-outcome'); e.value = 'given-up'; e.dispatchEvent(new Event('change')); }`, nil))
	v.until(`document.querySelector('.sheet-preview').textContent.includes('outcome: given-up')`)
	if sheet := strings.ReplaceAll(v.text(".sheet-preview"), `\`, ""); !strings.Contains(sheet, "Put right by hand, in no note: the "+block+".") {
		t.Errorf("the sheet does not say it: %s", sheet)
	}
	for _, paper := range []string{"owner", "shop"} {
		if says := v.text(`[data-for="` + paper + `"]`); !strings.Contains(says, "Put right by hand: "+block) || strings.Contains(says, "not found") {
			t.Errorf("the paper for the %s says %q", paper, says)
		}
	}
	// a block that the notes have no more is told, and stays in the job
	v.do(chromedp.Evaluate(`jobs.here.add('known/byHand/', { block: 'elephant', before: 0 })`, nil), chromedp.Navigate(v.base+trace))
	v.until(`document.querySelector('[data-gone]')?.textContent.includes('elephant')`)
	v.until(`document.querySelectorAll('[data-put-right]').length === 1`)
	v.clean()
}

// Where a look that was let go keeps others back, the step says so, with a way to it.
func TestLetGoIsToldOnThePage(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "devices/game-controller.html#skip=battery-look"))
	v.until(`document.querySelector('[data-left-out="battery-look"] button')`)
	if says := v.text("[data-left-out]"); !strings.Contains(says, "left out") {
		t.Errorf("it says %q", says)
	}
	if n := v.count(".trace-skipped"); n != 0 {
		t.Error("it is told twice")
	}
	v.do(chromedp.Click(`[data-left-out] button`))
	v.until(`!document.querySelector('[data-left-out]') && !location.hash.includes('skip') && document.querySelector('.trace-step')`)
	v.clean()
}
