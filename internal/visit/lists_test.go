package visit

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// A long list is short on a telephone: it unfolds where somebody asks, and what is
// typed leaves the rows that hold it, in sight.
func TestLongListsFold(t *testing.T) {
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 800, 1, false))
	for address, most := range map[string]int{"index.html": 1600, "jobs/index.html": 3600, "calc/index.html": 1800, "calc/checked.html": 6500} {
		v.do(chromedp.Navigate(v.base + address))
		v.until(`document.readyState === 'complete' && !document.querySelector('[data-fold-small]:not([data-set]), [data-sift][hidden], [data-jobs-filter][hidden]')`)
		var tall int
		v.do(chromedp.Evaluate(`document.documentElement.scrollHeight`, &tall))
		if tall > most {
			t.Errorf("%s is %d px long at 360 px, and %d are allowed", address, tall, most)
		}
	}
	v.do(emulation.SetDeviceMetricsOverride(1280, 900, 1, false), chromedp.Navigate(v.base+"index.html"))
	v.until(`document.readyState === 'complete'`)
	var tall, devices int // the page grows with the devices, in four columns
	v.do(chromedp.Evaluate(`document.documentElement.scrollHeight`, &tall), chromedp.Evaluate(`document.querySelectorAll('.family-device').length`, &devices))
	if tall > 900+43*devices {
		t.Errorf("the start page is %d px long at 1280 px, with %d devices", tall, devices)
	}
	v.do(emulation.SetDeviceMetricsOverride(360, 800, 1, false), chromedp.Navigate(v.base+"answers.html")) // which has a line for each
	v.until(`document.readyState === 'complete' && !document.querySelector('[data-fold-small]:not([data-set]), [data-sift][hidden]')`)
	v.do(chromedp.Evaluate(`document.documentElement.scrollHeight`, &tall))
	if tall > 800+85*devices {
		t.Errorf("answers.html is %d px long at 360 px, with %d devices", tall, devices)
	}
	v.do(emulation.SetDeviceMetricsOverride(1280, 900, 1, false))
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"index.html#checklists"))
	v.until(`document.getElementById('checklists').closest('details').open`)
	v.do(emulation.SetDeviceMetricsOverride(360, 800, 1, false), chromedp.Navigate(v.base+"jobs/index.html"))
	v.until(`document.querySelector('[data-jobs-filter]:not([hidden])')`)
	months := v.count("[data-month]")
	v.enter("[data-jobs-filter] [name=words]", "toaster wire")
	v.until(`document.querySelector('[data-jobs-said]').textContent.includes(' of ')`)
	if n := v.count("[data-month]:not([hidden])"); n == 0 || n >= months {
		t.Errorf("%d of %d months are left by two words", n, months)
	}
	if n := v.count("[data-month]:not([hidden]):not([open])"); n > 0 {
		t.Errorf("%d months hold what was asked for and stay folded", n)
	}
	v.do(chromedp.Navigate(v.base + "calc/sources.html"))
	v.until(`document.querySelector('[data-sift]:not([hidden])')`)
	v.enter("[data-sift] input", "60335-1")
	v.until(`document.querySelector('[data-sift] [role=status]').textContent.includes(' of ')`)
	if n, all := v.count(".line:not([hidden])"), v.count(".line"); n == 0 || n > all/4 {
		t.Errorf("%d of %d sources are left by a number", n, all)
	}
	// what an address names is unfolded
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"calc/sources.html#en-50678"))
	v.until(`document.getElementById('en-50678').closest('details').open`)
	v.clean()
}

// The form of a picked chain says nothing that is not for people, and offers no way
// that leads nowhere.
func TestPickedChainForm(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "unwritten.html"))
	v.until(`document.querySelector('[data-unwritten-form]:not([hidden])')`)
	if said := v.text("[data-unwritten-form]"); strings.Contains(said, "null") || strings.Contains(said, "undefined") {
		t.Errorf("the form says %q", said)
	}
	if n := v.count(".unwritten-ways button"); n > 0 {
		t.Errorf("%d buttons stand there before a block is picked", n)
	}
	v.do(chromedp.Evaluate(`(() => { const s = document.getElementById('unwritten-next'); s.value = 'mains-plug'; s.dispatchEvent(new Event('change', {bubbles: true})); })()`, nil))
	v.until(`document.querySelectorAll('.unwritten-ways button').length === 2`)
	v.clean()
}
