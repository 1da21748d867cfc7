package visit

import (
	"encoding/json"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"faultleaf/internal/host"
)

// evil texts become something in a page that takes texts for more than that.
var evil = []string{`"><img src=x onerror=owned=1><svg onload=owned=2><script>owned=3</script></script><script>owned=4</script>`, `javascript:owned=5//'-(owned=6)-'{{owned=7}}${owned=8}`, "__proto__", "constructor"}

// owned tells what evil texts have become in the page.
const owned = `(() => {
	const wrong = typeof owned === 'undefined' ? [] : ['ran ' + owned];
	if ({}.polluted !== undefined) wrong.push('every object was changed');
	for (const e of document.querySelectorAll('*')) {
		for (const a of e.attributes) {
			if (/^on/i.test(a.name) || /^(href|src|action|xlink:href)$/.test(a.name) && /^\s*(javascript|data:text)/i.test(a.value)) wrong.push(e.outerHTML.slice(0, 200));
		}
		if (e.tagName === 'IMG' && e.getAttribute('src') === 'x') wrong.push(e.outerHTML.slice(0, 200));
	}
	return wrong.join('\n');
})()`

func (v *visitor) unowned(where string) {
	v.t.Helper()
	v.until(`document.readyState === 'complete' && (!document.querySelector('[data-trace]') || document.querySelector('.trace-step, .trace-live'))`)
	var wrong string
	v.do(chromedp.Evaluate(`new Promise((r) => setTimeout(r, 300))`, nil, awaiting), chromedp.Evaluate(owned, &wrong))
	if wrong != "" {
		v.t.Errorf("%s: %s", where, wrong)
	}
}

// A link that somebody sends brings texts and nothing else, whatever stands behind its ? and #.
func TestHostileLinks(t *testing.T) {
	v := visit(t, false)
	for _, s := range evil {
		e := url.QueryEscape(s)
		for _, to := range []string{
			"devices/kettle.html#shows=" + e + "&not=" + e + "&says=" + e + "&read=" + e + "=" + e + "&read=base-power=" + e + "&tried=" + e + "~" + e + "&mended=" + e + "&looked=" + e + "&nopart=" + e + "&skip=" + e + "~" + e + "&suspect=" + e + "&new=" + e + "&limit=" + e,
			"devices/kettle.html?job=" + e + "#" + e, "counter.html?device=" + e + "&job=" + e + "#says=" + e, "counter.html?device=kettle#shows=" + e + "&read=" + e, "job.html?job=" + e,
			"find.html?q=" + e + "&device=" + e + "&kind=" + e, "unwritten.html?name=" + e + "&says=" + e + "&blocks=" + e + "+" + e + "=" + e + "&class=" + e + "&plate.mains=" + e,
			"calc/element.html?power=" + e + "&" + e + "=" + e + "#" + e, "jobs/index.html?words=" + e + "&device=" + e + "&from=" + e, "sheets/kettle.html?job=" + e + "#read=" + e,
		} {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+to))
			v.unowned(to)
		}
	}
	// addresses that are cut short, or in another encoding
	for _, to := range []string{"calc/element.html?power=%E0%A4%A#%E0%A4%A", "calc/element.html#%", "devices/kettle.html#read=%&says=%ff", "find.html?q=%ff%", "counter.html?device=%#%", "index.html#%c0%ae", "checklists/after-repair.html#step-%", "unwritten.html?blocks=%E0%A4", "job.html?job=%#%"} {
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+to))
		v.unowned(to)
	}
	for _, w := range v.wrong { // a page that is not there is told in the log
		if !strings.Contains(w, "404") {
			t.Error(w)
		}
	}
}

// What another screen of the shop, or another site from the same disk, put into the storage is
// text on every page of the job.
func TestHostileStorage(t *testing.T) {
	v := visit(t, false)
	code := v.takeIn("dead "+evil[0], "kettle")
	facts := map[string]any{}
	for i, s := range evil {
		n := string(rune('a' + i))
		for _, name := range []string{"says", "title", "type", "was", "before", "limit", "reproduced", "cause", "reason", "outcome", "tried", "bag", "place", "shelf"} {
			if i == len(name)%len(evil) {
				facts[name] = s
			}
		}
		facts["shows/"+n], facts["shows/"+s] = s, true
		facts["known/readings/176446981234"+string(rune('0'+i))+"-aa"] = map[string]any{"test": s, "value": s, "at": s, "why": s}
		facts["known/readings/176446981233"+string(rune('0'+i))+"-aa"] = map[string]any{"test": "base-power", "value": s}
		facts["tick/"+s+"/"+s], facts["timer/"+n], facts["proof/"+n], facts["span/"+n], facts["parts/"+n] = s, map[string]any{"says": s, "for": s, "at": s}, map[string]any{"proof": s, "value": s}, map[string]any{"from": s}, map[string]any{"part": s, "count": s, "price": s}
		facts["known/tried"], facts["known/suspect"], facts["known/mended"] = []any{s, map[string]any{"cause": s}}, s, []any{map[string]any{"cause": s, "before": s}}
	}
	b, err := json.Marshal(facts)
	if err != nil {
		t.Fatal(err)
	}
	v.do(chromedp.Evaluate(`for (const [k, x] of Object.entries(`+string(b)+`)) if (k !== 'end') localStorage.setItem(kept.key('job:`+code+`/' + k), JSON.stringify([x, '2764469812345-zz']))`, nil))
	for _, p := range []string{"devices/kettle.html", "checklists/after-repair.html", "counter.html", "job.html", "index.html", "calc/earth-bond.html", "sheets/kettle.html", "find.html?q=kettle", "jobs/index.html"} {
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+p))
		v.unowned(p)
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, w := range v.wrong {
		if !strings.Contains(w, "404") {
			t.Error(w)
		}
	}
}

// The pages' policy lets their workers run and no others, over
// HTTP and from disk.

func TestWorkersRun(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "calc/element.html"))
		v.until(`typeof core === 'function' && document.readyState === 'complete'`)
		var got string
		v.do(chromedp.Evaluate(`core().then(() => typeof Go)`, &got, awaiting))
		if got != "undefined" { // the page itself loads what runs a binary only where no worker does
			t.Errorf("the binary runs in the page: Go is a %s there", got)
		}
		v.clean()
		v.do(chromedp.Evaluate(`new Promise((done) => { try { const w = new Worker('../faultleaf.js'); w.onerror = () => done('refused'); setTimeout(() => done('runs'), 2000); } catch { done('refused'); } })`, &got, awaiting))
		if got != "refused" {
			t.Error("a worker from a file of the site", got)
		}
	})
}

func TestWorkersRunInFirefox(t *testing.T) {
	f := openFirefox(t)
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(host.Handler(dir, host.Options{}))
	defer server.Close()
	for _, base := range []string{server.URL, (&url.URL{Scheme: "file", Path: dir}).String()} {
		f.ask("WebDriver:Navigate", map[string]any{"url": base + "/calc/element.html"})
		var got string
		f.run(`for (let n = 0; n < 600 && typeof start === 'undefined'; n++) await new Promise((r) => setTimeout(r, 50));
			await start('core'); return typeof Go;`, &got)
		if got != "undefined" {
			t.Errorf("%s: the binary runs in the page: Go is a %s there", base, got)
		}
	}
}
