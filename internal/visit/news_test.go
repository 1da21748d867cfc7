package visit

import (
	"bytes"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"faultleaf/internal/host"
	"faultleaf/internal/inbox"
	sites "faultleaf/internal/published"
)

// put publishes the starter's site into a folder, or what is there already, with one page
// changed.
func put(t *testing.T, dir, changed, from, to string) {
	t.Helper()
	whole, err := published()
	if err != nil {
		t.Fatal(err)
	}
	if sites.Any(dir) {
		whole = dir
	}
	list, err := sites.ReadManifest(os.DirFS(whole))
	if err != nil {
		t.Fatal(err)
	}
	w, err := sites.Begin(dir)
	if err != nil {
		t.Fatal(err)
	}
	for name := range list {
		b, err := os.ReadFile(filepath.Join(whole, name))
		if err != nil {
			t.Fatal(err)
		}
		if name == changed {
			if !bytes.Contains(b, []byte(from)) {
				t.Fatalf("%s does not hold %s", name, from)
			}
			b = bytes.ReplaceAll(b, []byte(from), []byte(to))
		}
		if _, err := w.Put(name, b); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := w.Commit(); err != nil {
		t.Fatal(err)
	}
}

// A note that is saved shows in the open page, which keeps its place, its ticks, what was
// typed and where the cursor was. A mistake is said on it, and taken back.
func TestNewsInPage(t *testing.T) {
	v := visit(t, false)
	dir := t.TempDir()
	const page = "checklists/lithium-packs.html"
	put(t, dir, "", "", "")
	news := host.NewNews(true)
	server := httptest.NewServer(host.Handler(dir, host.Options{News: news}))
	t.Cleanup(server.Close)
	v.base = server.URL + "/"
	v.do(chromedp.EmulateViewport(1280, 500), chromedp.Navigate(v.base+page))
	v.until(`typeof stays === 'object' && document.querySelectorAll('[data-tick]:not([disabled])').length > 8`)
	v.do(chromedp.Evaluate(`document.querySelectorAll('[data-tick]')[2].click()`, nil))
	v.do(chromedp.Evaluate(`document.querySelectorAll('.tick-ways button')[6].click()`, nil)) // the fourth fails
	v.enter(`[data-find-words]`, "swollen")
	v.do(chromedp.Evaluate(`document.querySelectorAll('[data-tick]')[9].scrollIntoView({block: 'start'})`, nil))
	var before, after float64
	where := `document.querySelectorAll('[data-tick]')[9].getBoundingClientRect().top`
	v.do(chromedp.Evaluate(where, &before))
	time.Sleep(2500 * time.Millisecond) // it has asked once by now

	put(t, dir, page, "Looked at and smelled", "Smelled and looked at")
	news.Made(true)
	v.until(`document.querySelector('main').textContent.includes('Smelled and looked at')`)
	v.until(`document.querySelectorAll('[data-tick]')[2].checked`)
	v.until(`document.querySelectorAll('.tick-ways button')[6].getAttribute('aria-pressed') === 'true'`)
	v.until(`document.querySelector('[data-find-words]').value === 'swollen'`)
	v.until(`document.activeElement === document.querySelector('[data-find-words]')`)
	time.Sleep(3 * time.Second) // no later put-back moves it
	v.do(chromedp.Evaluate(where, &after))
	if d := after - before; d > 3 || d < -3 {
		t.Errorf("the page moved by %g pixels", d)
	}

	// another page's change leaves this one alone
	v.do(chromedp.Evaluate(`document.body.dataset.same = 'yes'`, nil))
	put(t, dir, "checklists/stuck.html", "<h1>", "<h1>New: ")
	news.Made(true)
	news.Stale([]string{"content/pages/wire.md:3:1: a mistake; mend it", "content/shop.yaml:1:1: <b>another</b>"}, time.Now())
	v.until(`document.querySelector('[data-stale] summary')?.textContent.includes('2 mistakes')`)
	if v.count(`body[data-same]`) != 1 {
		t.Error("another page's change loaded this one again")
	}
	if got := v.text(`[data-stale] li:last-child`); got != "content/shop.yaml:1:1: <b>another</b>" {
		t.Error(got)
	}
	put(t, dir, page, "Smelled and looked at", "Sniffed")
	news.Made(true)
	v.until(`!document.querySelector('[data-stale]') && document.querySelector('main').textContent.includes('Sniffed')`)
	v.clean()
}

// A note that is being changed on its page is not lost when the page changes under it: the
// page says so, and waits.
func TestNewsWaitsForAnEdit(t *testing.T) {
	v := visit(t, false)
	dir := t.TempDir()
	const page = "checklists/lithium-packs.html"
	put(t, dir, "", "", "")
	box, err := inbox.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	word, err := box.Passphrase()
	if err != nil {
		t.Fatal(err)
	}
	news := host.NewNews(true)
	server := httptest.NewServer(host.Handler(dir, host.Options{News: news, Inbox: &inbox.Door{Box: box, Path: "/", Notes: os.DirFS(shop)}}))
	t.Cleanup(server.Close)
	v.base = server.URL + "/"
	v.do(chromedp.Navigate(v.base + "index.html"))
	v.until(`document.querySelector('#inbox-pass')`)
	v.enter("#inbox-pass", word+"\r")
	v.until(`!document.querySelector('#inbox-pass')`)
	v.do(chromedp.Navigate(v.base + page))
	v.until(`document.querySelector('[data-edit]')`)
	v.do(chromedp.Click(`[data-edit]`))
	v.until(`document.querySelector('#edit-text')?.value.startsWith('---')`)
	v.enter("#edit-text", "mine")
	v.until(`document.querySelector('[data-unsent]')`)
	time.Sleep(2500 * time.Millisecond) // it has asked once by now
	put(t, dir, page, "<h1>", "<h1>Newer: ")
	news.Made(true)
	v.until(`document.querySelector('[data-newer]')`)
	if text := v.number(`document.querySelector('#edit-text').value.includes('mine')`); text != 1 {
		t.Error("what was written is lost")
	}
	v.do(chromedp.Click(`[data-newer] button`))
	v.until(`document.querySelector('h1').textContent.includes('Newer') && !document.querySelector('.edit-note')`)
}

// A trace that is just looking goes on with its readings after a note was saved.
func TestNewsInTrace(t *testing.T) {
	v := visit(t, false)
	dir := t.TempDir()
	put(t, dir, "", "", "")
	news := host.NewNews(true)
	server := httptest.NewServer(host.Handler(dir, host.Options{News: news}))
	t.Cleanup(server.Close)
	v.base = server.URL + "/"
	v.do(chromedp.Navigate(v.base + "devices/kettle.html"))
	v.until(`document.querySelector('[data-symptom]')`)
	v.do(chromedp.Evaluate(`document.querySelector('[data-symptom]').click()`, nil))
	v.until(`location.hash.includes('shows=')`)
	time.Sleep(2500 * time.Millisecond)
	put(t, dir, "devices/kettle.html", "<h1>", "<h1>The new ")
	news.Made(true)
	v.until(`document.querySelector('h1').textContent.includes('The new')`)
	v.until(`document.querySelector('[data-symptom][aria-pressed=true]')`)
	v.clean()
}
