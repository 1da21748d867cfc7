package visit

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// Where a test is answered by looking, each answer stands beside what it looks like:
// drawn, and hidden from who is read to, for the answer says it in words.
func TestLooksBesideAnswers(t *testing.T) {
	v := visit(t, true)
	v.do(chromedp.Navigate(v.base + "devices/vacuum-cleaner.html#shows=brush-still&read=body-look=holds-and-moves"))
	v.until(`document.querySelector('[data-step=head-turn] .trace-reading')`)
	for _, must := range []string{
		`[...document.querySelectorAll('[data-step=head-turn] .trace-reading')].every(b => b.querySelector('.trace-seen svg[aria-hidden=true]'))`,
		`!document.querySelector('.trace-seen svg[role]')`,
		`document.querySelector('.trace-healthy .trace-seen').innerHTML !== document.querySelector('.trace-reading:not(.trace-healthy) .trace-seen').innerHTML`,
		`document.querySelector('.trace-seen svg path').getBoundingClientRect().width > 0`,
	} {
		var ok bool
		v.do(chromedp.Evaluate(must, &ok))
		if !ok {
			t.Errorf("not so: %s", must)
		}
	}
	v.clean()
}
