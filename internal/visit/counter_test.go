package visit

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// What was searched for is offered at the counter as what the owner says, in one tap, with
// what it may mean; on a telephone the way on stays in sight below a long list.
func TestSearchedWordsAtTheCounter(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true), chromedp.Navigate(v.base+"index.html"))
		v.until(`document.querySelector('[data-find-words]').getAttribute('role') === 'combobox'`)
		v.enter(`[data-find-words]`, "coffee grinder hums")
		v.until(`document.querySelector('.find-hit')`)
		v.do(chromedp.Navigate(v.base + "devices/coffee-grinder.html"))
		v.until(`document.querySelector('.trace-chances') && document.querySelector('[data-take-in]')`)
		v.do(chromedp.Evaluate(`document.querySelector('[data-take-in]').click()`, nil))
		v.until(`document.querySelector('[data-asked]') && document.querySelector('.counter-list')`)
		if words := v.text("#counter-says"); words != "" {
			t.Errorf("the owner said nothing yet, but %q", words)
		}
		if in := v.number(`document.querySelector('[data-counter-open]').getBoundingClientRect().bottom <= innerHeight`); in != 1 {
			t.Error("the way on is out of sight")
		}
		v.do(chromedp.Click(`[data-asked]`))
		v.until(`document.querySelector('#counter-says').value === 'coffee grinder hums' && !document.querySelector('[data-asked]')`)
		v.until(`document.querySelector('[data-counter-proposed]')`)
		if says := v.text("[data-counter-proposed]"); !strings.Contains(says, "hums") {
			t.Errorf("proposed is %q", says)
		}
		v.do(chromedp.Click(`[data-counter-open]`))
		v.until(`jobs.here?.text('says') === 'coffee grinder hums'`)
		v.do(chromedp.Navigate(v.base + "counter.html?job="))
		v.until(`document.querySelector('[data-counter-open]')`)
		if n := v.count("[data-asked]"); n != 0 {
			t.Error("the words of the last one are offered for the next")
		}
		v.clean()
	})
}

// A step that the class of the thing does not ask for takes one line of a list and is not
// counted; a tap unfolds it, another ticks it.
func TestUnaskedSteps(t *testing.T) {
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true), chromedp.Navigate(v.base+"index.html"))
	v.until(`typeof jobs === 'object'`)
	v.do(chromedp.Evaluate(`location.href = jobs.address('checklists/after-repair.html', jobs.begin({ device: 'radio-toy', title: 'Radio toy', class: 'III' }).code)`, nil))
	v.until(`document.querySelectorAll('.tick-unasked').length > 2`)
	all := v.number(`document.querySelectorAll('[data-tick]').length`)
	unasked := v.number(`document.querySelectorAll('.tick-unasked').length`)
	if says := v.text("[data-ticks-count]"); says != fmt.Sprintf("%.0f of %.0f to do", all-unasked, all-unasked) {
		t.Errorf("of %.0f steps, %.0f not asked for, it says %q", all, unasked, says)
	}
	const bond = `document.querySelector('li:has([data-tick="bond"])')`
	if high := v.number(bond + `.getBoundingClientRect().height`); high > 60 {
		t.Errorf("what is not asked for is %.0f px high", high)
	}
	v.do(chromedp.Evaluate(bond+`.querySelector('.tick-spare').click()`, nil))
	v.until(`!` + bond + `.classList.contains('tick-unasked') && !` + bond + `.querySelector('[data-tick]').checked`)
	v.do(chromedp.Evaluate(bond+`.querySelector('.tick-spare').click()`, nil))
	v.until(bond + `.querySelector('[data-tick]').checked`)
	v.clean()
}
