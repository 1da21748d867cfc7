// Package visit holds the tests that use a published site as its readers do: in
// a real browser, over HTTP and straight from disk.
package visit

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"faultleaf/calc/all"
	"faultleaf/calc/calctest"
	"faultleaf/internal/host"
	"faultleaf/internal/note"
	"faultleaf/internal/site"
)

const shop = "../.." // holds content/

// published is the starter shop's site, made once.
var published = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "faultleaf-visit-")
	if err != nil {
		return "", err
	}
	_, mistakes, err := site.Publish(shop, dir)
	if err == nil && len(mistakes) > 0 {
		err = fmt.Errorf("%v", mistakes)
	}
	return dir, err
})

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, err := published(); err == nil {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

func browser(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	t.Skip("no chromium is installed; bash .ci/test installs it where apt is there")
	return ""
}

// visitor is a browser tab that remembers what went wrong in it.
type visitor struct {
	context.Context
	t    testing.TB
	base string

	mu    sync.Mutex
	wrong []string
	hosts map[string]bool
}

// visit opens a tab on the starter's site, over HTTP or from disk.
func visit(t testing.TB, disk bool) *visitor {
	t.Helper()
	browser(t)
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	return visitSite(t, dir, disk)
}

// visitSite opens a tab of a new browser on a site.
func visitSite(t testing.TB, dir string, disk bool) *visitor {
	t.Helper()
	exe := browser(t)
	v := &visitor{t: t, hosts: map[string]bool{}}
	if disk {
		v.base = (&url.URL{Scheme: "file", Path: filepath.ToSlash(dir)}).String() + "/"
	} else {
		server := httptest.NewServer(host.Handler(dir, host.Options{Path: "/some/path"}))
		t.Cleanup(server.Close)
		v.base = server.URL + "/some/path/"
	}
	profile, err := os.MkdirTemp("", "faultleaf-profile-")
	if err != nil {
		t.Fatal(err)
	}
	// the browser may still be writing when the test ends, so this is a try
	t.Cleanup(func() { os.RemoveAll(profile) })
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(exe), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-quic", true))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop := chromedp.NewContext(alloc)
	t.Cleanup(stop)
	ctx, stop = context.WithTimeout(ctx, 6*time.Minute) // on a machine with much else to do
	t.Cleanup(stop)
	v.Context = ctx
	chromedp.ListenTarget(ctx, func(ev any) {
		v.mu.Lock()
		defer v.mu.Unlock()
		switch ev := ev.(type) {
		case *runtime.EventExceptionThrown:
			v.wrong = append(v.wrong, "exception: "+ev.ExceptionDetails.Error())
		case *runtime.EventConsoleAPICalled:
			if ev.Type == runtime.APITypeError || ev.Type == runtime.APITypeWarning {
				b, _ := json.Marshal(ev.Args)
				v.wrong = append(v.wrong, "console: "+string(b))
			}
		case *log.EventEntryAdded: // policy violations and failed loads
			v.wrong = append(v.wrong, "log: "+ev.Entry.Text+" "+ev.Entry.URL)
		case *network.EventRequestWillBeSent:
			if u, err := url.Parse(ev.Request.URL); err == nil && u.Scheme != "data" && u.Scheme != "blob" {
				v.hosts[u.Scheme+"://"+u.Host] = true
			}
		}
	})
	v.do(network.Enable(), log.Enable(), runtime.Enable())
	return v
}

func (v *visitor) do(actions ...chromedp.Action) {
	v.t.Helper()
	if err := chromedp.Run(v.Context, actions...); err != nil {
		v.t.Fatalf("%v (so far: %v)", err, v.wrong)
	}
}

// until waits for a condition in the page. While a page gives way to the next
// there is nobody to ask, which is no answer yet.
func (v *visitor) until(condition string) {
	v.t.Helper()
	var holds bool
	var err error
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if err = chromedp.Run(v.Context, chromedp.Evaluate(`Boolean(`+condition+`)`, &holds)); err == nil && holds {
			return
		}
	}
	v.t.Fatalf("it never came true: %s (%v; so far: %v)", condition, err, v.wrong)
}

// awake waits until the browser binary runs.
func (v *visitor) awake() {
	v.until(`typeof core === 'function'`)
	v.do(chromedp.Evaluate(`core().then(() => true)`, nil, awaiting))
}

func awaiting(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }

// enter types text into a field in place of what it holds.
func (v *visitor) enter(selector, text string) {
	v.t.Helper()
	v.do(chromedp.Evaluate(`{ const el = document.querySelector(`+quote(selector)+`); el.scrollIntoView({block: 'center'}); el.focus(); el.select?.(); }`, nil), chromedp.KeyEvent(text))
}

func (v *visitor) text(selector string) string {
	v.t.Helper()
	var s string
	v.do(chromedp.Evaluate(`document.querySelector(`+quote(selector)+`)?.textContent ?? ''`, &s))
	return s
}

func quote(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

// clean fails the test if anything went wrong, or if another host was asked.
// count is the number of elements that match.
func (v *visitor) count(selector string) int {
	var n int
	v.do(chromedp.Evaluate(`document.querySelectorAll(`+strconv.Quote(selector)+`).length`, &n))
	return n
}

func (v *visitor) clean() {
	v.t.Helper()
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, w := range v.wrong {
		v.t.Error(w)
	}
	base, _ := url.Parse(v.base)
	for h := range v.hosts {
		if h != base.Scheme+"://"+base.Host {
			v.t.Errorf("a request went to %s", h)
		}
	}
}

func both(t *testing.T, test func(t *testing.T, v *visitor)) {
	t.Run("http", func(t *testing.T) { test(t, visit(t, false)) })
	t.Run("disk", func(t *testing.T) { test(t, visit(t, true)) })
}

// A symptom typed on the start page finds the right fault first, by keyboard.
func TestSearch(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "index.html"))
		v.until(`document.querySelector('[data-find-words]').getAttribute('role') === 'combobox'`)
		// a slash from anywhere goes to the search; as an event, because a driven
		// browser would type it as well
		v.do(chromedp.Evaluate(`document.body.dispatchEvent(new KeyboardEvent('keydown', {key: '/', bubbles: true}))`, nil), chromedp.KeyEvent("heater blows cold"))
		v.until(`document.querySelectorAll('.find-hit').length > 0`)
		v.until(`document.querySelector('.find-hit').dataset.id === 'faults/element-tag-burnt-off'`)
		if first := v.text(".find-hit"); !strings.Contains(first, "Fan heater") || !strings.Contains(first, "min") {
			t.Errorf("the first hit says %q", first)
		}
		v.until(`new URL(location.href).searchParams.get('q') === 'heater blows cold'`)
		v.do(chromedp.KeyEvent("\ue015"), chromedp.KeyEvent("\r")) // arrow down, Enter
		v.until(`location.pathname.endsWith('/faults/element-tag-burnt-off.html')`)
		v.until(`document.readyState === 'complete'`)
		v.clean()
	})
}

// A calculator changes its result and its plot as one types, and says what is
// wrong with an impossible input.
func TestCalculator(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "calc/rectifier.html?ac=12_V&load=24_Ω#mean"))
		v.until(`document.querySelector('[data-out="mean"]').textContent === '13.23 V'`)
		v.until(`document.querySelector('[data-out-row="mean"]').classList.contains('asked')`)
		before := v.text(`[data-plot="waveform"]`)
		v.enter(`[name="load"]`, "0,5 A")
		v.until(`document.querySelector('[data-out="load-current"]').textContent === '500 mA'`)
		v.enter(`[name="ac"]`, "24V±5%")
		v.until(`/^\d+\.\d+–\d+\.\d+ V$/.test(document.querySelector('[data-out="mean"]').textContent)`)
		if after := v.text(`[data-plot="waveform"]`); before == "" || after == before {
			t.Error("the plot did not follow")
		}
		v.enter(`[name="ac"]`, "12 Ω")
		v.until(`!document.querySelector('[data-input-error="ac"]').hidden`)
		if says := v.text(`[data-input-error="ac"]`); !strings.Contains(says, "voltage") {
			t.Errorf("it says %q", says)
		}
		v.clean()
	})
}

// What a calculator shows always belongs to the inputs beside it, on a slow machine
// too: an edit or an address blanks the results until their own answer is there, and the
// ways on with them. Many keystrokes become few questions. Start over, the address and what is copied
// hold what stands in the form; an error belongs to its field.
func TestCalculatorShowsNothingStale(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.ActionFunc(func(ctx context.Context) error {
			_, err := page.AddScriptToEvaluateOnNewDocument(`{
				const post = Worker.prototype.postMessage;
				globalThis.questions = 0;
				Worker.prototype.postMessage = function (m) { if (m.what === 'calc') questions++; setTimeout(() => post.call(this, m), m.what === 'calc' ? 400 : 0); };
				globalThis.copies = [];
			}`).Do(ctx)
			return err
		}))
		v.do(chromedp.Navigate(v.base + "calc/rectifier.html?ac=17_V"))
		const peak = `document.querySelector('[data-out="open-circuit-peak"]').textContent`
		var early string
		v.do(chromedp.Evaluate(peak, &early))
		if early != "–" && early != "24.0 V" {
			t.Errorf("before the answer it shows %q beside 17 V", early)
		}
		v.until(peak + ` === '24.0 V'`)
		v.until(`new URL(location.href).searchParams.get('ac') === '17_V' && new URL(location.href).searchParams.get('load')`)
		// an edit blanks at once; fifteen keystrokes are at most two questions
		var now struct {
			Peak, Onward string
			Copy         bool
		}
		v.do(chromedp.Evaluate(`(() => { globalThis.questions = 0; const el = document.querySelector('[name="ac"]');
			for (let i = 1; i <= 15; i++) { el.value = i + ' V'; el.dispatchEvent(new Event('input', { bubbles: true })); }
			return { peak: `+peak+`, onward: document.querySelector('[data-leads-to="discharge"]').getAttribute('href') || '', copy: document.querySelector('[data-calc-copy]').disabled }; })()`, &now))
		if now.Peak != "–" || now.Onward != "" || !now.Copy {
			t.Errorf("right after an edit: %+v", now)
		}
		v.until(peak + ` === '21.2 V'`)
		var asked int
		if v.do(chromedp.Evaluate(`questions`, &asked)); asked > 2 {
			t.Errorf("fifteen keystrokes were %d questions", asked)
		}
		v.until(`document.querySelector('[data-leads-to="discharge"]').href.includes('21.2')`)
		// an error is tied to its field and leaves nothing standing
		v.enter(`[name="ac"]`, "12 Ω")
		v.until(`document.querySelector('[name="ac"]').getAttribute('aria-invalid') === 'true'`)
		v.until(`(() => { const el = document.querySelector('[name="ac"]'), says = document.getElementById(el.getAttribute('aria-errormessage'));
			return !says.hidden && says.textContent.includes('voltage') && el.getAttribute('aria-describedby').includes(says.id) && ` + peak + ` === '–'; })()`)
		// a field left empty is told, not filled in silently
		v.enter(`[name="ac"]`, "12 V")
		v.until(peak + ` === '16.97 V'`)
		v.do(chromedp.Evaluate(`{ const el = document.querySelector('[name="ac"]'); el.value = ''; el.dispatchEvent(new Event('input', { bubbles: true })); }`, nil))
		v.until(`document.querySelector('[data-input-error="ac"]').textContent.includes('left empty')`)
		// start over
		v.do(chromedp.Click(`[data-calc-reset]`))
		v.until(`!location.search && document.querySelector('[name="ac"]').value === document.querySelector('[name="ac"]').defaultValue`)
		v.until(peak + ` !== '–' && document.querySelector('[data-calc-caption]').textContent.includes('example')`)
		// the result as text
		v.do(chromedp.Evaluate(`Object.defineProperty(navigator, 'clipboard', { value: { writeText: async (s) => { copies.push(s); } } })`, nil), chromedp.Click(`[data-calc-copy="result"]`))
		v.until(`copies.length === 1 && copies[0].includes('` + `calc/rectifier.html?') && copies[0].includes(` + peak + `)`)
		v.clean()
	})
}

// A reading is asked for; none is taken from an example, from an emptied field or from the
// device before.
func TestReadingIsAsked(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		const verdict = `document.querySelector('[data-out="verdict"]').textContent`
		v.do(chromedp.Navigate(v.base + "calc/earth-bond.html"))
		v.awake()
		v.until(verdict + `.includes('Nothing is judged yet') && document.querySelector('[name="reading"]').value === ''`)
		v.enter(`[name="reading"]`, "0.1 Ω")
		v.until(verdict + `.startsWith('Passes')`)
		v.enter(`[name="length"]`, "3 m")
		v.until(verdict + `.startsWith('Passes')`)
		v.do(chromedp.Evaluate(`{ const el = document.querySelector('[name="reading"]'); el.value = ''; el.dispatchEvent(new Event('input', { bubbles: true })); }`, nil))
		v.until(verdict + `.includes('Nothing is judged yet')`)
		v.enter(`[name="reading"]`, "0.1 Ω")
		v.until(verdict + `.startsWith('Passes')`)
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"calc/earth-bond.html"))
		v.until(`document.querySelector('[name="reading"]').value === ''`)
		v.until(verdict + `.includes('Nothing is judged yet')`)
		v.clean()
	})
}

// The binary runs beside the page, from disk too; where a browser refuses that
// it runs in the page.
func TestBesideThePage(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		answers := func(where string) {
			t.Helper()
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"calc/rectifier.html"))
			v.awake()
			var got string
			v.do(chromedp.Evaluate(`typeof binaries.core`, &got))
			if got != where {
				t.Errorf("the core in the page is %s", got)
			}
			v.enter(`[name="ac"]`, "24 V")
			v.until(`document.querySelector('[data-out="open-circuit-peak"]').textContent === '33.9 V'`)
		}
		answers("undefined")
		v.do(noWorkers())
		answers("object")
		v.clean()
	})
}

// From one calculator to the next with the amount that was computed.
func TestOnward(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "calc/rectifier.html"))
		v.awake()
		v.enter(`[name="ac"]`, "24 V")
		v.until(`document.querySelector('[data-leads-to="discharge"]').href.includes('volts=')`)
		var first string
		v.do(chromedp.Evaluate(`document.querySelector('[data-leads-to="discharge"]').href`, &first))
		v.enter(`[name="ac"]`, "12 V")
		// while it computes anew it leads nowhere
		v.until(`document.querySelector('[data-leads-to="discharge"]').href.includes('volts=') && document.querySelector('[data-leads-to="discharge"]').href !== ` + strconv.Quote(first))
		v.do(chromedp.Click(`[data-leads-to="discharge"]`))
		v.until(`location.pathname.endsWith('discharge.html') && document.readyState === 'complete'`)
		var volts string
		v.do(chromedp.Value(`[name="volts"]`, &volts))
		if !strings.Contains(volts, "V") || volts == "325 V" {
			t.Errorf("the volts did not come along: %q", volts)
		}
		v.clean()
	})
}

// The bench's other turns: a new one is cheaper, the part is missing, something
// is wrong still, nothing fits; and the way back home to what is not finished.
func TestTraceTurns(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		step := func() string { return v.text("#trace-step") }
		open := func(hash string) {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/fan-heater.html"+hash))
			v.until(`document.querySelector('.trace-step')`)
		}
		open("#shows=air-cold&read=element-look=end-loose&read=element-ohms=open")
		v.until(`document.querySelector('[data-cured="partly"]')`)
		if n := v.count(".trace-path .mark-strip svg"); n != 2 {
			t.Errorf("%d steps with their chances", n)
		}
		v.do(chromedp.Click(`.trace-money summary`))
		v.do(chromedp.SetValue(`#trace-price`, "2"), chromedp.Evaluate(`document.querySelector('#trace-price').dispatchEvent(new Event('change'))`, nil))
		v.until(`document.querySelector('#trace-step').textContent.includes('cheaper')`)
		v.do(chromedp.Evaluate(`(() => { const e = document.querySelector('#trace-price'); e.value = ''; e.dispatchEvent(new Event('change')); })()`, nil))
		v.until(`document.querySelector('[data-cured="partly"]')`)
		v.do(chromedp.Click(`[data-cured="partly"]`))
		v.until(`document.querySelectorAll('.trace-path li').length === 3`)
		if says := v.text(".trace-path li:last-child"); !strings.Contains(says, "something is wrong still") {
			t.Errorf("the path says %q", says)
		}
		if strings.Contains(step(), "tag burnt") {
			t.Errorf("a part known good is suspected: %q", step())
		}
		// what was begun just looking is kept when it is taken in, and waits on the start page
		v.do(chromedp.Evaluate(`document.querySelector('[data-take-in]').click()`, nil))
		v.until(`location.pathname.endsWith('counter.html') && document.querySelector('[data-counter-open]')`)
		v.do(chromedp.Click(`[data-counter-open]`))
		v.until(`document.querySelectorAll('.trace-path li').length === 3`)
		v.do(chromedp.Navigate(v.base + "index.html?job="))
		v.until(`!document.querySelector('[data-unfinished]').hidden`)
		if says := v.text("[data-unfinished-list]"); !strings.Contains(says, "Fan heater") || !strings.Contains(says, "2 readings") || !strings.Contains(says, "Next: ") {
			t.Errorf("not finished: %q", says)
		}
		// a short that no note explains: every test after it finds all as it should be, and no mend cures
		open("#shows=air-cold&read=pins-ohms=short")
		for range 60 {
			if v.count("[data-draft]") > 0 {
				break
			}
			v.do(chromedp.Evaluate(`{ const card = document.querySelector('.trace-step'); card.id = 'seen'; card.querySelector('.trace-accept, .trace-healthy, [data-cured="no"]')?.click(); }`, nil))
			v.until(`!document.querySelector('#seen')`)
		}
		if v.count("[data-draft]") == 1 {
			v.do(chromedp.Click(`[data-draft]`))
			v.until(`document.querySelector('.trace-step .sheet-preview')`)
			if text := v.text(".trace-step .sheet-preview"); !strings.Contains(text, "device: fan-heater") || !strings.Contains(text, "air-cold: often") {
				t.Errorf("the draft is %q", text)
			}
		} else {
			t.Errorf("no note is offered, but %q", step())
		}
		v.clean()
	})
}

// A trace is followed to its end, names the cause, and writes a job sheet that
// the reader of notes accepts unchanged.
func TestTrace(t *testing.T) {
	// what a heater with its element tag burnt off reads
	set, mistakes, _ := note.Load(os.DirFS(shop), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	const truth = "element-tag-burnt-off"
	reads := map[string]string{}
	device := set.TraceDevice("fan-heater")
	for _, c := range device.Causes {
		if c.ID == truth {
			for test := range c.Reads {
				id, _ := c.Likeliest(test)
				reads[string(test)] = string(id)
			}
		}
	}
	for _, x := range device.Tests {
		if _, ok := reads[string(x.ID)]; !ok {
			for _, b := range x.Reads {
				if b.Healthy {
					reads[string(x.ID)] = string(b.ID)
				}
			}
		}
	}
	table, _ := json.Marshal(reads)
	both(t, func(t *testing.T, v *visitor) {
		v.takeIn("it blows cold", "fan-heater")
		v.until(`document.querySelector('[data-trace-live]') && !document.querySelector('[data-trace-live]').hidden && document.querySelector('.trace-step')`)
		v.do(chromedp.Click(`[data-symptom="air-cold"]`))
		v.until(`document.querySelector('[data-symptom="air-cold"]').getAttribute('aria-pressed') === 'true'`)
		// step by step: read the caution, enter the true reading
		var path string
		v.do(chromedp.Evaluate(`(async () => {
			const reads = `+string(table)+`;
			const wait = (ms) => new Promise((done) => setTimeout(done, ms));
			const log = [];
			for (let step = 0; step < 25; step++) {
				const card = document.querySelector('.trace-step');
				const gate = card.querySelector('.trace-accept');
				if (gate) {
					if (card.querySelector('.trace-reading:not(:disabled), #trace-value:not(:disabled)')) throw new Error('a reading could be entered before the caution was read');
					gate.click();
					await wait(20);
					continue;
				}
				if (card.querySelector('[data-cured]')) {
					log.push('mend ' + card.querySelector('#trace-step').textContent);
					return log.join('; ');
				}
				const here = [...card.querySelectorAll('[data-reading]')].map((b) => b.dataset.reading);
				const done = jobs.here.all('known/readings/').map(([, r]) => r.test);
				const test = Object.keys(reads).find((t) => !done.includes(t) && here.includes(reads[t]) && card.dataset.step === t);
				if (!test) throw new Error('no true reading for ' + card.dataset.step + ' among ' + here);
				log.push(test + ' ' + reads[test]);
				card.querySelector('[data-reading="' + reads[test] + '"]').click();
				for (let i = 0; i < 1500 && document.querySelector('.trace-step') === card; i++) await wait(20);
			}
			throw new Error('no end: ' + log.join('; '));
		})()`, &path, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
		t.Log(path)
		if !strings.Contains(path, "mend Mend: Element tag burnt off") {
			t.Errorf("the trace ended at %q", path)
		}
		if !strings.Contains(v.text(".trace-chances li"), "Element tag burnt off") {
			t.Error("the cause does not lead the chances")
		}
		v.do(chromedp.Click(`[data-cured="yes"]`))
		v.until(`document.querySelector('.tick-ways') && document.querySelector('[data-to-sheet]')`)
		v.do(chromedp.Click(`[data-to-sheet]`))
		v.until(`document.querySelector('#sheet-outcome')`)
		v.do(chromedp.Evaluate(`document.querySelector('.sheet-more').open = true`, nil))
		v.choose("#sheet-outcome", "replaced")
		v.enter(`#sheet-told`, `It "blew" cold: a # and a \ and {braces}`)
		v.enter(`#sheet-notes`, `see <b> and [x](y)`)
		v.do(chromedp.Evaluate(`(() => { const e = document.querySelector('#sheet-minutes'); e.value = '45'; e.dispatchEvent(new Event('change')); })()`, nil))
		v.until(`document.querySelector('.sheet-preview').textContent.includes('minutes: 45') && document.querySelector('.sheet-preview').textContent.includes('braces')`)
		sheet := v.text(".sheet-preview")
		var code string
		v.do(chromedp.Evaluate(`jobs.here.code`, &code))
		v.clean()
		s := readsBack(t, code+"-fan-heater.md", sheet, "replaced")
		if s.Cause != truth || s.Minutes != 45 || !strings.Contains(s.Told, `\ and {braces}`) || len(s.Readings) == 0 {
			t.Errorf("the sheet reads back as %+v", s)
		}
	})
}

// Ticks belong to a job; without one they last as long as the page.
func TestChecklist(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "checklists/after-repair.html"))
		v.until(`/^\d+ of \d+ to do$/.test(document.querySelector('[data-ticks-count]').textContent)`)
		v.do(chromedp.Click(`[data-tick="fuse"]`))
		v.until(`document.querySelector('[data-ticks-of=ok]').textContent === '1'`)
		v.do(chromedp.Reload())
		v.until(`document.querySelector('.tick-ways') && !document.querySelector('[data-tick="fuse"]').checked`)
		code := v.takeIn("dead", "kettle")
		v.do(chromedp.Navigate(v.base + "checklists/after-repair.html?job=" + code))
		v.until(`document.querySelector('.tick-ways')`)
		v.do(chromedp.Click(`[data-tick="fuse"]`), chromedp.Reload())
		v.until(`document.querySelector('.tick-ways') && document.querySelector('[data-tick="fuse"]').checked`)
		if name := v.attribute(`[data-tick="bond"]`, "aria-label"); !strings.Contains(name, "300 mΩ") {
			t.Errorf("the step is called %q", name)
		}
		v.clean()
	})
}

func (v *visitor) attribute(selector, name string) string {
	var s string
	v.do(chromedp.Evaluate(`document.querySelector(`+quote(selector)+`).getAttribute(`+quote(name)+`)`, &s))
	return s
}

// sample gives pages of every kind, that is of every folder, by their addresses: all when they
// are no more than few, and else few of them, the heaviest for one half and for the other some
// spread over the rest. Everything in the site's own folder is a kind of its own.
func sample(t *testing.T, dir string, few int) []string {
	t.Helper()
	type written struct {
		name string
		size int64
	}
	kinds := map[string][]written{}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(p, ".html") {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		rel = filepath.ToSlash(rel)
		kind := path.Dir(rel)
		if kind == "." || path.Base(rel) == "index.html" || rel == "jobs/figures.html" || rel == "calc/checked.html" {
			kind = rel
		}
		kinds[kind] = append(kinds[kind], written{rel, info.Size()})
		return err
	})
	if err != nil || len(kinds) < 10 {
		t.Fatal(err, kinds)
	}
	var list []string
	for _, pages := range kinds {
		slices.SortFunc(pages, func(a, b written) int {
			return cmp.Or(cmp.Compare(b.size, a.size), strings.Compare(a.name, b.name))
		})
		for n := range min(few, len(pages)) {
			if heavy := few / 2; n >= heavy && len(pages) > few {
				n = heavy + (n-heavy)*(len(pages)-heavy)/(few-heavy)
			}
			list = append(list, pages[n].name)
		}
	}
	slices.Sort(list)
	t.Logf("%d pages of %d kinds", len(list), len(kinds))
	return list
}

// Pages of every kind open without a complaint and fit a phone, and no field cuts what
// stands in it.
func TestEveryPage(t *testing.T) {
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
	for _, p := range sample(t, dir, 12) {
		// on a busy machine the browser gives up a navigation now and then, and does it when asked again
		if err := chromedp.Run(v, chromedp.Navigate(v.base+p)); err != nil {
			t.Logf("%s, asked for again: %v", p, err)
			v.do(chromedp.Navigate(v.base + p))
		}
		v.until(`document.readyState === 'complete'`)
		var over float64
		v.do(chromedp.Evaluate(`document.documentElement.scrollWidth - 360`, &over))
		if over > 0 {
			t.Errorf("%s is %v px wider than a phone", p, over)
		}
		var short []string
		v.do(chromedp.Evaluate(`[...document.querySelectorAll('main input')].filter((i) => i.checkVisibility() && i.scrollWidth > i.clientWidth + 1).map((i) => i.name + ' ' + i.value)`, &short))
		if len(short) > 0 {
			t.Errorf("%s: fields too narrow for what they hold: %q", p, short)
		}
	}
	v.clean()
}

// The same inputs print the same result natively and in the browser.
func TestSameResults(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "index.html"))
	v.awake()
	starter, _ := note.LoadShop(os.DirFS("../.."), all.Find)
	const tried = 300 // of each calculator; more only takes longer
	for _, c := range all.At(starter.Values()) {
		sets := calctest.Random(c, tried, 77)
		questions := make([]map[string]any, len(sets))
		for i, set := range sets {
			inputs := [][2]string{}
			for _, s := range set {
				inputs = append(inputs, [2]string{s.Name, s.Value})
			}
			questions[i] = map[string]any{"name": c.Name, "inputs": inputs}
		}
		b, _ := json.Marshal(questions)
		var answers []string
		v.do(chromedp.Evaluate(`core().then((call) => Promise.all((`+string(b)+`).map((q) => call('calc', JSON.stringify(q)))))`, &answers, awaiting))
		results, differ := 0, 0
		for i, set := range sets {
			var got struct {
				Outputs []struct{ Name, Text string }
				Error   *struct{ Says string }
			}
			if err := json.Unmarshal([]byte(answers[i]), &got); err != nil {
				t.Fatal(err)
			}
			want, err := c.Run(set)
			switch {
			case err != nil:
				if got.Error == nil || got.Error.Says != err.Error() {
					t.Errorf("%s %v: native %v, browser %s", c.Name, set, err, answers[i])
				}
				continue
			case got.Error != nil:
				t.Errorf("%s %v: the browser refuses: %s", c.Name, set, got.Error.Says)
				continue
			}
			results++
			for k, o := range want.Outputs {
				if got.Outputs[k].Text != o.Text {
					if differ++; differ < 5 {
						t.Errorf("%s %v: %s is %s natively, %s in the browser", c.Name, set, o.Name, o.Text, got.Outputs[k].Text)
					}
				}
			}
		}
		if results < tried/4 {
			t.Errorf("%s: only %d of %d inputs gave a result", c.Name, results, tried)
		}
		t.Logf("%s: %d results equal", c.Name, results-differ)
	}
	v.clean()
}

// noWorkers makes a browser of one that refuses workers.
func noWorkers() chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(`globalThis.Worker = function () { throw new Error('no worker here'); };`).Do(ctx)
		return err
	})
}
