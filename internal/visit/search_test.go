package visit

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
)

// typed are what BenchmarkSearch types, letter by letter.
var typed = []string{"wont turn on", "no lites", "smells hot", "bc547", "130C", "heater blows cold", "tripping the electrics", "intermitant sound",
	"changed fuse and bulb, still dead", "motor hums and does not start", "worn brush", "lamp flickers when the cord is moved"}

// BenchmarkSearch prints how long the search takes in the page, on the starter's site
// or on the one in the folder that FAULTLEAF_SITE names. It stands beside the goals in
//
//	go run ./cmd/measure browser 20000
//
// The first result is that of the page of results in a browser that has seen nothing of
// the site but its leaf (so that the browser's own start is not counted), from the
// beginning of the navigation; it is taken five times, each in a new browser. The other
// figures are of keys: shards are fetched in the first round, and
// each key's best of five more rounds counts.
func BenchmarkSearch(b *testing.B) {
	if testing.Short() {
		b.Skip("the browser takes its time")
	}
	browser(b)
	dir := os.Getenv("FAULTLEAF_SITE")
	if dir == "" {
		var err error
		if dir, err = published(); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		for name, disk := range map[string]bool{"http": false, "disk": true} {
			var first, fetched []float64
			for range 5 {
				ms, kB := firstResult(b, dir, disk)
				first, fetched = append(first, ms), append(fetched, kB)
			}
			slices.Sort(first)
			b.ReportMetric(first[0], "ms-first-result-"+name+"-best")
			b.ReportMetric(first[len(first)/2], "ms-first-result-"+name)
			if !disk {
				b.ReportMetric(slices.Max(fetched), "kB-before-first-result")
			}
		}
		keys(b, dir)
		b.ReportMetric(0, "ns/op")
	}
}

// firstResult gives the milliseconds to the first result of a page that is opened with
// a question, and the kilobytes that came until then (over HTTP).
func firstResult(b *testing.B, dir string, disk bool) (ms, kB float64) {
	v := visitSite(b, dir, disk)
	defer chromedp.Cancel(v.Context) //nolint:errcheck // the next one is opened anyway
	v.do(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(`new MutationObserver(() => {
			if (globalThis.firstHit || !document.querySelector('.find-hit')) return;
			globalThis.firstHit = performance.now();
			globalThis.came = performance.getEntries().reduce((s, e) => s + (e.encodedBodySize || 0), 0) / 1000;
		}).observe(document, {childList: true, subtree: true});`).Do(ctx)
		return err
	}), chromedp.Navigate(v.base+"leaf.svg"), chromedp.Navigate(v.base+"find.html?q="+url.QueryEscape("heater blows cold")))
	v.until(`globalThis.firstHit`)
	v.do(chromedp.Evaluate(`firstHit`, &ms), chromedp.Evaluate(`came`, &kB))
	return ms, kB
}

// keys types, and reports.
func keys(b *testing.B, dir string) {
	v := visitSite(b, dir, false)
	v.do(chromedp.Navigate(v.base+"find.html"), chromedp.Evaluate(`performance.setResourceTimingBufferSize(20000)`, nil))
	v.until(`typeof index === 'function'`)
	v.do(chromedp.Evaluate(`index().then(() => 1)`, nil, awaiting))
	var questions []any
	for _, q := range typed {
		for i := range q {
			questions = append(questions, map[string]any{"query": q[:i+1], "limit": 12, "first": 5, "typing": true})
		}
	}
	list, err := json.Marshal(questions)
	if err != nil {
		b.Fatal(err)
	}
	round := func() (took []float64) {
		v.do(chromedp.Evaluate(`(async () => { const took = []; for (const q of `+string(list)+`) { const t = performance.now(); await search(q); took.push(performance.now() - t); } return took; })()`, &took, awaiting))
		return took
	}
	cold := round()
	var shards []float64
	v.do(chromedp.Evaluate(`performance.getEntriesByType('resource').filter((e) => /run.(words|texts)-/.test(e.name)).map((e) => e.duration)`, &shards))
	best := round()
	var every []float64
	for range 5 {
		took := round()
		every = append(every, took...)
		for i := range best {
			best[i] = min(best[i], took[i])
		}
	}
	report := func(took []float64, what string) {
		if len(took) > 0 {
			slices.Sort(took)
			b.ReportMetric(took[len(took)/2], "ms-"+what+"-median")
			b.ReportMetric(took[len(took)*95/100], "ms-"+what+"-p95")
		}
	}
	report(cold, "key-cold")
	report(shards, "fetch-of-a-shard")
	report(best, "key")
	report(every, "key-of-all-rounds")
	b.ReportMetric(float64(len(shards)), "shards-fetched")
	b.ReportMetric(tab(b, v), "MB-tab")
}

// tab gives the megabytes that the page's process has to itself.
func tab(b testing.TB, v *visitor) float64 {
	var list []*systeminfo.ProcessInfo
	v.do(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		list, err = systeminfo.GetProcessInfo().Do(cdp.WithExecutor(ctx, chromedp.FromContext(ctx).Browser))
		return err
	}))
	most := 0
	for _, p := range list {
		if p.Type != "renderer" {
			continue
		}
		text, err := os.ReadFile(fmt.Sprintf("/proc/%d/smaps_rollup", p.ID))
		if err != nil {
			b.Log("the memory of a process can only be read on Linux: ", err)
			return 0
		}
		own := 0
		for sc := bufio.NewScanner(bytes.NewReader(text)); sc.Scan(); {
			if f := strings.Fields(sc.Text()); len(f) > 1 && strings.HasPrefix(f[0], "Private_") {
				kB, _ := strconv.Atoi(f[1])
				own += kB
			}
		}
		most = max(most, own)
	}
	return float64(most) / 1000
}
