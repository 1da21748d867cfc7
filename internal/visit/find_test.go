package visit

import (
	"context"
	"encoding/json"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"faultleaf/internal/site"
	"faultleaf/search"
)

func (v *visitor) types(text string) {
	v.t.Helper()
	v.do(chromedp.Evaluate(`document.body.dispatchEvent(new KeyboardEvent('keydown', {key: '/', bubbles: true})); document.querySelector('[data-find-words]').select()`, nil), chromedp.KeyEvent(text))
	v.until(`document.querySelector('[data-find-words]').value === ` + quoted(text))
	v.until(`document.querySelector('.find-group button') || document.querySelector('.find-empty')`)
	v.do(chromedp.Sleep(300 * time.Millisecond)) // until the typing rests
}

func quoted(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

// What was understood stands above the notes; a choice narrows them, stays in the
// address, and Escape takes it back.
func TestWhichDevice(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "index.html"))
		v.awake()
		v.types("does not work")
		if label := v.text(".find-group-label"); label != "Which device?" {
			t.Errorf("the choices are called %q", label)
		}
		if said := v.text("[data-find-heard]"); said != "does nothing" {
			t.Errorf("understood: %q", said)
		}
		var device string // one of those behind the first choices
		v.do(chromedp.Evaluate(`(() => { const rest = document.querySelector('.find-rest'); rest.selectedIndex = 3; const value = rest.value; rest.dispatchEvent(new Event('change', {bubbles: true})); return value; })()`, &device))
		v.until(`document.querySelector('.find-choice[aria-pressed=true]')`)
		v.until(`document.querySelector('.find-hit').dataset.id === ` + quoted("devices/"+device))
		v.until(`new URL(location.href).searchParams.get('device') === ` + quoted(device))
		v.do(chromedp.KeyEvent("\u001b"))
		v.until(`!new URL(location.href).searchParams.get('device') && !document.querySelector('.find-choice[aria-pressed=true]')`)
		v.until(`document.querySelector('[data-find-words]').value === 'does not work'`)
		// the kinds narrow likewise
		v.do(chromedp.Evaluate(`[...document.querySelectorAll('.find-choice')].find((b) => b.textContent === 'checklists')?.click()`, nil))
		v.until(`new URL(location.href).searchParams.get('kind') === 'checklist'`)
		v.until(`[...document.querySelectorAll('.find-hit')].every((a) => a.dataset.id.startsWith('checklists/'))`)
		// going back leaves the choice behind
		v.do(chromedp.Evaluate(`history.back()`, nil))
		v.until(`!new URL(location.href).searchParams.get('kind')`)
		v.clean()
	})
}

// A thing that no note is about is said to be missing, and counted in the shop's
// figures; a shut one leads to its page.
func TestNothingHeld(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "find.html"))
	v.awake()
	v.types("umbrella not working")
	if said := v.text("[data-find-heard]"); !strings.Contains(said, "No note is about “umbrella”.") {
		t.Errorf("said: %q", said)
	}
	v.until(`document.querySelector('.find-unwritten').getAttribute('href') === 'unwritten.html?name=umbrella&says=dead'`)
	v.do(chromedp.Sleep(1800 * time.Millisecond))
	v.types("microwave sparks")
	v.until(`document.querySelector('.find-hit').dataset.id === 'pages/shut-microwave-ovens'`)
	if first := v.text(".find-hit"); !strings.Contains(first, "DANGER") {
		t.Errorf("the shut thing's row says %q", first)
	}
	v.do(chromedp.Navigate(v.base + "jobs/figures.html"))
	v.until(`!document.querySelector('[data-vain]').hidden`)
	if list := v.text("[data-vain-list]"); list != "umbrella not working" {
		t.Errorf("searched in vain: %q", list)
	}
	v.clean()
}

// On a page about a device it is the one in hand, until another is named.
func TestDeviceInHand(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "devices/toaster.html"))
	v.awake()
	v.types("does not work")
	v.until(`document.querySelector('.find-hit').dataset.id === 'devices/toaster'`)
	v.types("kettle does not work")
	v.until(`document.querySelector('.find-hit').dataset.id === 'devices/kettle'`)
	v.clean()
}

// The page and the command line give the same notes in the same order.
func TestSameOrder(t *testing.T) {
	ix, _, err := site.Index(shop)
	if err != nil {
		t.Fatal(err)
	}
	v := visit(t, false)
	for _, q := range []string{"heater blows cold", "no lites", "amp humms, changed fuse", "works on and off", "fuse calculator"} {
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"find.html?q="+url.QueryEscape(q)+"+")) // the blank says that the last word is finished
		v.until(`document.querySelectorAll('.find-hit').length > 5 && document.querySelector('.find-group')`)
		var got []string
		v.do(chromedp.Evaluate(`[...document.querySelectorAll('.find-hit')].map((a) => a.dataset.id)`, &got))
		var want []string
		for _, h := range ix.Search(q, search.Options{Limit: 40}) {
			want = append(want, h.ID)
		}
		if strings.Join(got, " ") != strings.Join(want, " ") {
			t.Errorf("%s:\npage    %v\ncommand %v", q, got, want)
		}
	}
	v.clean()
}

// A shard that is missing is said, beside what is found without it; nothing fails in
// silence. Once it is there again, the next key finds it.
func TestMissingShard(t *testing.T) {
	whole, err := published()
	if err != nil {
		t.Fatal(err)
	}
	both := func(disk bool) {
		dir := lent(t, whole)
		gone, err := filepath.Glob(filepath.Join(dir, "run", "words-*"))
		if err != nil || len(gone) == 0 {
			t.Fatal(err, gone)
		}
		for _, name := range gone {
			if err := os.Rename(name, name+".away"); err != nil {
				t.Fatal(err)
			}
		}
		v := visitSite(t, dir, disk)
		v.do(chromedp.Navigate(v.base + "find.html?q=heater+blows+cold"))
		v.until(`document.querySelector('.find-trouble')?.textContent.includes('cannot be read')`)
		for _, name := range gone {
			if err := os.Rename(name+".away", name); err != nil {
				t.Fatal(err)
			}
		}
		v.types("heater blows cold air")
		v.until(`document.querySelector('.find-hit')?.dataset.id === 'faults/element-tag-burnt-off' && !document.querySelector('.find-trouble')`)
	}
	t.Run("http", func(*testing.T) { both(false) })
	t.Run("disk", func(*testing.T) { both(true) })
}

// FAULTLEAF_PICTURES keeps pictures of the search in three widths.
func TestFindPictures(t *testing.T) {
	folder := os.Getenv("FAULTLEAF_PICTURES")
	if folder == "" {
		t.Skip("FAULTLEAF_PICTURES names no folder for pictures")
	}
	v := visit(t, false)
	for _, width := range []int64{360, 1100} {
		for name, at := range map[string]string{"find-dead": "index.html?q=not+working", "find-kettle": "find.html?q=ketle+not+working,+changed+fuse", "find-printer": "find.html?q=printer+jams"} {
			v.do(chromedp.EmulateViewport(width, 800), chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+at))
			v.until(`document.querySelector('.find-group')`)
			var shot []byte
			v.do(chromedp.ActionFunc(func(ctx context.Context) (err error) {
				shot, err = page.CaptureScreenshot().Do(ctx)
				return err
			}))
			if err := os.WriteFile(folder+"/"+name+"-"+map[int64]string{360: "phone", 1100: "wide"}[width]+".png", shot, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// What was heard goes by way of a fault's page to its trace.
func TestHeardOfAFault(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "find.html?q=" + url.QueryEscape("kettle trips the house supply")))
		v.until(`document.querySelector('.find-hit[href*="faults/kettle"]')`)
		v.do(chromedp.Evaluate(`document.querySelector('.find-hit[href*="faults/kettle"]').click()`, nil))
		v.until(`document.querySelector('.of-fault a[href*="#suspect="][href*="&says="]')`)
		v.do(chromedp.Evaluate(`document.querySelector('.of-fault a[href*="#suspect="]').click()`, nil))
		v.until(`document.querySelector('[data-symptom="trips"][aria-pressed="true"]')`)
	})
}
