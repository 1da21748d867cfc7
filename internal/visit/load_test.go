package visit

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// lent is a copy of a site by links: its files may be moved away or written anew, never
// written into.
func lent(t *testing.T, site string) string {
	t.Helper()
	dir := t.TempDir()
	err := filepath.WalkDir(site, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(site, p)
		if err != nil {
			return err
		}
		if d.IsDir() {
			return os.MkdirAll(filepath.Join(dir, rel), 0o755)
		}
		if os.Link(p, filepath.Join(dir, rel)) == nil {
			return nil
		}
		b, err := os.ReadFile(p) // another disk
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(dir, rel), b, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// ends evaluates a promise in the page and gives what it comes to; one that never ends is
// told as silence.
func (v *visitor) ends(promise string) string {
	v.t.Helper()
	var said string
	v.do(chromedp.Evaluate(`Promise.race([Promise.resolve().then(() => `+promise+`).then(String, (e) => 'fails: ' + e.message),
		new Promise((done) => setTimeout(() => done('silence'), 60000))])`, &said, awaiting))
	return said
}

// Whatever the page loads may be asked for by two at the same time: both get it, and so
// does the next one.
func TestTwoAskAtOnce(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "jobs/index.html"))
		v.until(`typeof payload === 'function'`)
		if says := v.ends(`Promise.all(Object.keys(faultleafFiles.payloads).map(async (name) => {
			const all = await Promise.all([payload(name), payload(name), payload(name)]);
			all.push(await payload(name));
			if (all.some((bytes) => !bytes?.length || bytes.length !== all[0].length)) throw new Error(name + ' differs');
		})).then(() => 'all')`); says != "all" {
			t.Errorf("asked for at once: %s", says)
		}
		if says := v.ends(`Promise.all([core(), tracer(), finder(), core(), index(), index(), search({query: 'kettle leaks', limit: 3}), search({query: 'kettle leaks', limit: 3})]).then((all) => all.at(-1).hits[0].id === all.at(-2).hits[0].id)`); says != "true" {
			t.Errorf("started at once: %s", says)
		}
		v.clean()
	})
}

// Two binaries in a page that has no workers share one start of Go.
func TestTwoInPage(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(noWorkers(), chromedp.Navigate(v.base+"jobs/index.html")) // from the start: a page at rest starts the search by itself
		v.until(`typeof payload === 'function'`)
		if says := v.ends(`Promise.all([core(), tracer(), finder()]).then(() => Object.keys(binaries).sort().join())`); says != "core,find,trace" {
			t.Errorf("started in the page: %s", says)
		}
	})
}

// A load that fails, or that brings half of a file, is told at once, and tried again by the
// next one who asks.
func TestLoadFails(t *testing.T) {
	whole, err := published()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, how, file, asks string
		disk                  bool
	}{
		{"gone from disk", "gone", "dictionary.*.js", "index()", true},
		{"empty on disk", "empty", "dictionary.*.js", "index()", true},
		{"half on disk", "half", "dictionary.*.js", "index()", true},
		{"half a binary on disk", "half", "core.*.js", "core()", true},
		{"half of a list on disk", "half", "bench.*.js", "payload('bench')", true},
		{"gone from the host", "gone", "dictionary.*.bin", "index()", false},
		{"a binary gone from the host", "gone", "core.*.bin", "core()", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := lent(t, whole)
			list, err := filepath.Glob(filepath.Join(dir, "run", c.file))
			if err != nil || len(list) != 1 {
				t.Fatal(c.file, list, err)
			}
			file := list[0]
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
			switch c.how {
			case "empty":
				err = os.WriteFile(file, nil, 0o644)
			case "half":
				err = os.WriteFile(file, b[:len(b)/2], 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
			v := visitSite(t, dir, c.disk)
			v.do(chromedp.Navigate(v.base + "jobs/figures.html"))
			v.until(`typeof payload === 'function'`)
			for range 2 {
				if says := v.ends(c.asks); !strings.HasPrefix(says, "fails: ") || !strings.Contains(says, "publish the site again") {
					t.Errorf("it says %s", says)
				}
			}
			if err := os.WriteFile(file, b, 0o644); err != nil {
				t.Fatal(err)
			}
			if says := v.ends(c.asks + `.then(() => 'there')`); says != "there" {
				t.Errorf("once it is whole: %s", says)
			}
		})
	}
}

// A page that is opened with a question is answered, whatever of what faultleaf.js began for
// it fails: no workers, or a file that comes only with the second asking.
func TestAskedInAddress(t *testing.T) {
	const asked = "find.html?q=heater+blows+cold"
	t.Run("no workers", func(t *testing.T) {
		both(t, func(t *testing.T, v *visitor) {
			v.do(noWorkers(), chromedp.Navigate(v.base+asked))
			v.until(`document.querySelector('.find-hit')`)
		})
	})
	for _, file := range []string{"find", "dictionary"} {
		t.Run(file+" fails once", func(t *testing.T) {
			v := visit(t, false)
			v.do(chromedp.ActionFunc(func(ctx context.Context) error {
				_, err := page.AddScriptToEvaluateOnNewDocument(`{ const get = fetch; let first = true; globalThis.fetch = (at) => {
					if (!first || !at.includes('run/` + file + `.')) return get(at);
					first = false;
					return Promise.resolve(new Response('', {status: 503}));
				}; }`).Do(ctx)
				return err
			}), chromedp.Navigate(v.base+asked))
			v.until(`document.querySelector('.find-hit')`)
		})
	}
	t.Run("no script", func(t *testing.T) {
		whole, err := published()
		if err != nil {
			t.Fatal(err)
		}
		dir := lent(t, whole)
		list, err := filepath.Glob(filepath.Join(dir, "run", "app.*.js"))
		if err != nil || len(list) != 1 {
			t.Fatal(list, err)
		}
		if err := os.Remove(list[0]); err != nil {
			t.Fatal(err)
		}
		v := visitSite(t, dir, false)
		v.do(chromedp.Navigate(v.base + asked))
		v.until(`document.documentElement.dataset.bare === ''`)
	})
}
