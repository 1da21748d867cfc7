package visit

import (
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
