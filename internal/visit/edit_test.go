package visit

import (
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"faultleaf/internal/host"
	"faultleaf/internal/inbox"
)

// A note is changed from its page by whoever gave the passphrase: the text is handed in to the
// inbox, and content/ stays as it is. Without an inbox the page says where its file is.
func TestEdit(t *testing.T) {
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	at := t.TempDir()
	box, err := inbox.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	word, err := box.Passphrase()
	if err != nil {
		t.Fatal(err)
	}
	door := &inbox.Door{Box: box, Path: "/", Notes: os.DirFS(shop)}
	server := httptest.NewServer(host.Handler(dir, host.Options{Inbox: door}))
	defer server.Close()
	v := visit(t, false)
	plain := v.base
	v.base = server.URL + "/"
	v.do(chromedp.Navigate(v.base + "index.html"))
	v.until(`document.querySelector('#inbox-pass')`)
	v.enter("#inbox-pass", word+"\r")
	v.until(`!document.querySelector('#inbox-pass')`)
	const file = "content/checklists/lithium-packs.md"
	v.do(chromedp.Navigate(v.base + "checklists/lithium-packs.html"))
	v.until(`document.querySelector('[data-edit]')`)
	v.do(chromedp.Click(`[data-edit]`))
	v.until(`document.querySelector('#edit-text')?.value.startsWith('---')`)
	before, err := os.ReadFile(filepath.Join(shop, file))
	if err != nil {
		t.Fatal(err)
	}
	v.do(chromedp.Evaluate(`{ const b = document.querySelector('#edit-text'); b.value = b.value.replace('minutes: 6', 'minutes: 7'); }`, nil), chromedp.Click(`.edit-note button[type=submit]`))
	v.until(`document.querySelector('.edit-note [role=status]').textContent.includes('Handed in as checklists-lithium-packs.md')`)
	items, err := box.Items()
	if err != nil || len(items) != 1 {
		t.Fatal(items, err)
	}
	c, ok := inbox.ReadChange(items[0].Text)
	if !ok || c.File != file || c.Base != inbox.Base(before) || c.Text != strings.Replace(string(before), "minutes: 6", "minutes: 7", 1) {
		t.Errorf("handed in: %+v", c)
	}
	if after, _ := os.ReadFile(filepath.Join(shop, file)); string(after) != string(before) {
		t.Error("the note itself was changed")
	}

	v.base = plain
	v.do(chromedp.Navigate(v.base + "checklists/lithium-packs.html"))
	v.until(`typeof startEdit === 'function'`)
	if !strings.Contains(v.text(".foot-file"), file) || v.count("[data-edit]") != 0 {
		t.Error("without an inbox the foot says", v.text(".foot-file"))
	}
}
