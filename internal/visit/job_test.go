package visit

import (
	"cmp"
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/host"
	"faultleaf/internal/inbox"
	"faultleaf/internal/note"
)

// tap clicks an element, once it stands still, and counts it: where something above it comes
// late, as on a busy machine, the tap would fall beside it.
func (v *visitor) tap(selector string, taps *int) {
	v.t.Helper()
	*taps++
	v.until(`(() => {
		const el = document.querySelector(` + quote(selector) + `);
		if (!el?.getClientRects().length) return false;
		el.scrollIntoView({block: 'center', behavior: 'instant'});
		const { x, y, width, height } = el.getBoundingClientRect();
		const [was, now] = [globalThis.tapped, [el, x, y, width, height]];
		globalThis.tapped = now;
		return was && now.every((n, i) => n === was[i]);
	})()`)
	v.do(chromedp.Click(selector, chromedp.ByQuery))
}

func (v *visitor) choose(selector, value string) {
	v.t.Helper()
	v.do(chromedp.Evaluate(`(() => { const e = document.querySelector(`+quote(selector)+`); e.value = `+quote(value)+`; e.dispatchEvent(new Event('change', {bubbles: true})); })()`, nil))
}

// takeIn brings a thing from the counter to its trace, and gives the job's code.
func (v *visitor) takeIn(words, device string) string {
	v.t.Helper()
	v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"counter.html?job="))
	v.until(`document.querySelector('#counter-says')`)
	v.enter("#counter-says", words)
	v.choose("#counter-device", device)
	v.do(chromedp.Click(`[data-counter-open]`))
	v.until(`location.pathname.endsWith('devices/` + device + `.html') && document.querySelector('.trace-step')`)
	var code string
	v.do(chromedp.Evaluate(`new URLSearchParams(location.search).get('job')`, &code))
	return code
}

// From the counter to the sheet at the width of a phone.
func TestCounterToCommit(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		taps := 0
		v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true), chromedp.Navigate(v.base+"index.html"))
		v.tap(`.start-take a`, &taps)
		v.until(`location.pathname.endsWith('counter.html') && document.querySelector('#counter-says')`)
		v.enter("#counter-says", "the lamp of the kettle lights and the water stays cold")
		v.until(`document.querySelector('#counter-device').value !== '' || document.querySelector('[data-offered="kettle"]')`)
		if v.number(`document.querySelector('#counter-device').value !== 'kettle'`) == 1 {
			v.tap(`[data-offered="kettle"]`, &taps)
		}
		v.tap(`[data-counter-proposed] [data-says="lamp-no-heat"] [data-is="true"]`, &taps)
		v.enter("#counter-type", "KE-88, 230 V 2.2 kW")
		v.tap(`[data-counter-open]`, &taps)
		v.until(`location.pathname.endsWith('devices/kettle.html') && document.querySelector('[data-symptom="lamp-no-heat"][aria-pressed="true"]')`)
		// the trace, until a mend is offered: the true readings of a loose tag
		for range 25 {
			if v.count(".trace-accept") > 0 {
				v.tap(".trace-accept", &taps)
				v.until(`!tapped[0].isConnected`) // the trace's answer takes its place, and not at once
				continue
			}
			v.until(`document.querySelector('.trace-reading:not(:disabled), [data-cured]')`)
			if v.count("[data-cured]") > 0 {
				break
			}
			var before, reading string
			v.do(chromedp.Evaluate(`document.querySelector('.trace-step').dataset.step`, &before),
				chromedp.Evaluate(`(() => { const has = [...document.querySelectorAll('[data-reading]')]; const want = {"kettle-ohms": "open-or-high", "pins-ohms": "open-or-high", "element-tug-tags": "loose-or-brown"}[document.querySelector('.trace-step').dataset.step]; return (has.find((b) => b.dataset.reading === want) || has.find((b) => b.textContent.includes('as it should be'))).dataset.reading; })()`, &reading))
			v.tap(`[data-reading="`+reading+`"]`, &taps)
			v.until(`document.querySelector('.trace-step').dataset.step !== ` + quote(before))
		}
		v.tap(`[data-cured="yes"]`, &taps)
		v.until(`location.pathname.endsWith('after-repair.html') && document.querySelector('.tick-ways')`)
		v.tap(`[data-to-sheet]`, &taps)
		v.until(`document.querySelector('[data-lacks]')`)
		if says := v.text("[data-lacks]"); !strings.Contains(says, "earth bond is missing") {
			t.Errorf("it says %q", says)
		}
		if v.count("[data-sheet-save]:disabled") != 1 {
			t.Error("a mended sheet can be saved without its proofs")
		}
		v.tap(`[data-to-checks]`, &taps)
		v.until(`location.pathname.endsWith('after-repair.html') && document.querySelector('.tick-ways')`)
		for _, step := range []string{"cord", "fuse", "covers", "protective", "class", "left-over", "run", "does", "no-smell"} {
			v.tap(`[data-tick="`+step+`"]`, &taps)
		}
		v.enter(`li:has([data-tick="bond"]) input:not([type=checkbox])`, "0.45 Ω\t")
		v.until(`document.querySelector('li:has([data-tick="bond"])').dataset.is === 'fails'`)
		v.enter(`li:has([data-tick="bond"]) [data-read] input`, "0.12 Ω\t")
		v.until(`document.querySelector('[data-tick="bond"]').checked`)
		v.enter(`li:has([data-tick="insulation"]) [data-read] input`, ">300 MΩ\t")
		v.until(`document.querySelector('[data-tick="insulation"]').checked`)
		v.do(chromedp.Reload())
		v.until(`document.querySelector('[data-tick="insulation"]')?.checked && document.querySelector('li:has([data-tick="bond"]) [data-read] input').value === '0.12 Ω'`)
		v.tap(`[data-jobbar] p:last-of-type a`, &taps)
		v.until(`document.querySelector('[data-proved]')`)
		v.do(chromedp.Evaluate(`document.querySelector('.sheet-more').open = true`, nil))
		v.enter("#sheet-money", "12")
		v.enter("#sheet-told", "Descale it twice a year.")
		v.until(`document.querySelector('.sheet-preview').textContent.includes('twice a year')`)
		v.tap(`[data-sheet-save]`, &taps)
		v.until(`!document.querySelector('[data-job-close]').parentElement.hidden`)
		sheet := v.text(".sheet-preview")
		t.Logf("%d taps\n%s", taps, sheet)
		var code string
		v.do(chromedp.Evaluate(`jobs.here.code`, &code))
		readsBack(t, code+"-kettle.md", sheet, "mended")
		if !strings.Contains(sheet, `proof: insulation, value: ">300 MΩ"`) || !strings.Contains(sheet, `type: "KE-88, 230 V 2.2 kW"`) {
			t.Error("something is missing on the sheet")
		}
		v.tap(`[data-job-close]`, &taps)
		v.until(`location.pathname.endsWith('index.html') && document.querySelector('[data-unfinished]')?.hidden`)
		var left int
		v.do(chromedp.Evaluate(`Object.keys(localStorage).filter((k) => k.includes(':job:')).length`, &left))
		if left != 0 {
			t.Errorf("%d facts of a closed job are left", left)
		}
		v.clean()
	})
}

// Two kettles in two tabs: nothing of one reaches the other; the next device is
// greeted by no ticks; one job in two tabs loses nothing.
func TestTwoKettles(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		first := v.takeIn("dead, no lamp", "kettle")
		ctx, stop := chromedp.NewContext(v.Context)
		defer stop()
		w := &visitor{Context: ctx, t: t, base: v.base, hosts: map[string]bool{}}
		second := w.takeIn("it leaks", "kettle")
		if first == second {
			t.Fatal("two jobs have one code")
		}
		v.do(chromedp.Click(`[data-symptom="dead-quiet"]`))
		w.do(chromedp.Click(`[data-symptom="leaks"]`))
		v.until(`document.querySelector('[data-symptom="dead-quiet"][aria-pressed="true"]')`)
		w.until(`document.querySelector('[data-symptom="leaks"][aria-pressed="true"]')`)
		for _, x := range []*visitor{v, w} {
			x.do(chromedp.Reload())
			x.until(`document.querySelector('[data-symptom][aria-pressed="true"]')`)
			if n := x.count(`[data-symptom][aria-pressed="true"]`); n != 1 {
				t.Errorf("%d symptoms", n)
			}
		}
		v.do(chromedp.Navigate(v.base + "checklists/after-repair.html"))
		v.until(`document.querySelector('.tick-ways')`)
		v.do(chromedp.Click(`[data-tick="cord"]`))
		w.do(chromedp.Navigate(w.base + "checklists/after-repair.html"))
		w.until(`document.querySelector('.tick-ways')`)
		if w.count(`[data-tick]:checked`) != 0 {
			t.Error("ticks of another job")
		}
		// now both tabs on the first job
		w.do(chromedp.Navigate(w.base + "checklists/after-repair.html?job=" + first))
		w.until(`document.querySelector('[data-tick="cord"]')?.checked`)
		v.do(chromedp.Click(`[data-tick="fuse"]`))
		w.do(chromedp.Click(`[data-tick="covers"]`))
		for _, x := range []*visitor{v, w} {
			x.until(`document.querySelectorAll('[data-tick]:checked').length === 3`)
		}
		// another device is just looking, and the start page lists both jobs
		v.do(chromedp.Navigate(v.base + "devices/lamp.html"))
		v.until(`document.querySelector('[data-jobbar]')?.textContent.includes('another device')`)
		v.do(chromedp.Navigate(v.base + "index.html"))
		v.until(`document.querySelectorAll('[data-unfinished-list] [data-job]').length === 2`)
		// by script: the list lies in a shelf that is not painted while the tab is behind
		v.do(chromedp.Evaluate(`document.querySelector('[data-job-delete="`+second+`"]').click(); document.querySelector('[data-job-delete-sure]').click()`, nil))
		v.until(`document.querySelectorAll('[data-unfinished-list] [data-job]').length === 1`)
		v.clean()
	})
}

// Junk in the storage stops no page, and storage that is full or forbidden is
// said at once.
func TestStorage(t *testing.T) {
	v := visit(t, false)
	code := v.takeIn("dead", "kettle")
	v.do(chromedp.Evaluate(`for (const [k, x] of [['shows/dead-quiet', '7'], ['known/readings/x', '["a"]'], ['span/1', '[{"from":"x"},"1764469812345-ab"]'], ['tick/after-repair/cord', '[5,"1764469812345-ab"]'], ['timer/1', '[null,3]'], ['says', '{'], ['known/tried', '["no list","1764469812345-ab"]'], ['known/readings/1764469812345-aa', '[{"test":"gone-test","value":"3 V"},"1764469812345-ab"]']]) localStorage.setItem(kept.key('job:`+code+`/' + k), x)`, nil))
	for _, p := range []string{"devices/kettle.html", "checklists/after-repair.html", "counter.html", "job.html", "index.html", "calc/earth-bond.html"} {
		v.do(chromedp.Navigate(v.base + p))
		v.until(`document.querySelector('[data-jobbar]') && document.readyState === 'complete'`)
	}
	// what was entered under names that the notes have changed counts under the new
	// ones; what has gone from them is said, and stays in the job
	v.do(chromedp.Evaluate(`jobs.here.add('known/readings/', {test: 'look-inside', value: 'thick-lime', at: 1}); jobs.here.set('shows/long-gone', true)`, nil))
	v.do(chromedp.Navigate(v.base + "devices/kettle.html"))
	v.until(`document.querySelector('.trace-step')`)
	if says := v.text("[data-gone]"); !strings.Contains(says, "gone-test: 3 V") || !strings.Contains(says, "long gone") {
		t.Errorf("what has gone: %q", says)
	}
	if says := v.text(".trace-path"); !strings.Contains(says, "crusted") {
		t.Errorf("the path is %q", says)
	}
	v.do(chromedp.Evaluate(`document.querySelector('[data-symptom="leaks"]').click()`, nil)) // the chips lie folded once readings are there
	v.until(`document.querySelector('[data-symptom="leaks"][aria-pressed="true"]')`)
	v.do(chromedp.Reload())
	v.until(`document.querySelector('.trace-step')`)
	if says := v.text("[data-gone]"); !strings.Contains(says, "gone-test: 3 V") {
		t.Errorf("a change loses what has gone: %q", says)
	}
	if n := v.count(".trace-path li"); n != 1 {
		t.Errorf("%d readings", n)
	}
	v.clean()
	v.do(chromedp.Evaluate(`Storage.prototype.setItem = function () { throw new DOMException('full', 'QuotaExceededError'); }`, nil), chromedp.Evaluate(`document.querySelector('[data-symptom="boils-on"]').click()`, nil))
	v.until(`document.querySelector('[data-refused]')?.textContent.includes('no more room')`)
	v.until(`document.querySelector('[data-symptom="boils-on"][aria-pressed="true"]')`)
}

// readsBack puts a sheet among the starter shop's and reads them all.
func readsBack(t *testing.T, name, sheet, outcome string) trace.Sheet {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "content"), os.DirFS(filepath.Join(shop, "content"))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "content", "jobs", name), []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	with, mistakes, _ := note.Load(os.DirFS(dir), all.Find)
	if len(mistakes) > 0 {
		t.Fatalf("%v\n%s", mistakes, sheet)
	}
	for _, j := range with.Jobs {
		if j.Name+".md" == name && j.Sheet.Outcome == outcome {
			return j.Sheet
		}
	}
	t.Errorf("the sheet does not read back as %s:\n%s", outcome, sheet)
	return trace.Sheet{}
}

// The clock counts what it has seen and nothing else; a timer tells when it is over.
func TestClock(t *testing.T) {
	v := visit(t, true)
	v.takeIn("it leaks", "kettle")
	var minutes []float64
	v.do(chromedp.Evaluate(`(() => {
		const real = Date.now.bind(Date); let on = 0; Date.now = () => real() + on * 1000;
		const out = []; const now = () => out.push(Math.round(minutesOf(jobs.here) * 10) / 10);
		const run = (s) => { for (; s > 0; s -= 10) { on += 10; clock.touched = Date.now(); tickClock(); } };
		run(120); now();                                  // two minutes at a step
		on += 3600; clock.touched = Date.now(); tickClock(); now(); // the machine slept an hour
		run(60); now();
		jobs.here.set('paused', true); run(600); now();   // a pause
		jobs.here.set('paused', false); run(60); now();
		jobs.here.set('span/9999999999999-zz', {step: 'x', from: Date.now() - 60000, to: Date.now()}); now(); // another screen, the same minute
		correctClock(jobs.here, '45'); now();
		run(60); now();
		for (let s = 0; s < 3000; s += 10) { on += 10; tickClock(); } // nobody touches it
		now();
		return out; })()`, &minutes))
	for i, want := range []float64{2, 2, 3, 3, 4, 4, 45, 46} {
		if d := minutes[i] - want; d < -.35 || d > .35 { // the ten seconds at an edge
			t.Errorf("at %d the clock says %v minutes, not %v: %v", i, minutes[i], want, minutes)
		}
	}
	if last := minutes[8]; last > 46.5 {
		t.Errorf("untouched minutes are counted: %v", minutes)
	}
	v.until(`document.querySelector('.jobbar-ask')`)
	v.do(chromedp.Evaluate(`document.querySelector('.jobbar-ask button').click()`, nil))
	v.until(`minutesOf(jobs.here) > 90 && !document.querySelector('.jobbar-ask')`)
	v.do(chromedp.Evaluate(`startTimer(jobs.here, 'soak', 1)`, nil))
	v.until(`document.querySelector('[data-timer]')?.textContent.includes('soak: ')`)
	v.do(chromedp.Evaluate(`{ const now = Date.now; Date.now = () => now() + 61000; drawTimers(); }`, nil))
	v.until(`document.querySelector('[data-timer][role=alert]')?.textContent.includes('Over: soak') && document.title.startsWith('Over: ')`)
	v.do(chromedp.Reload())
	v.until(`document.querySelector('[data-timer]')`)
	v.do(chromedp.Evaluate(`document.querySelector('[data-timer] button').click()`, nil))
	v.until(`!document.querySelector('[data-timer]')`)
	v.clean()
}

// The pages of a job, filled by the scripts, are within everybody's reach and fit
// a phone.
func TestJobReach(t *testing.T) {
	axe := axeCore(t)
	v := visit(t, false)
	code := v.takeIn("it leaks", "kettle")
	for _, scheme := range []string{"light", "dark"} {
		v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true), emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}))
		for address, ready := range map[string]string{"counter.html?job=" + code: "[data-counter-symptoms] li", "job.html?job=" + code: "[data-need]", "checklists/after-repair.html?job=" + code: ".tick-ways", "devices/kettle.html?job=" + code: ".trace-step",
			"index.html": "[data-job]", "jobs/index.html": ".jobs-filter:not([hidden])"} {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address))
			v.until(`document.querySelector(` + quote(ready) + `)`)
			if strings.HasPrefix(address, "job.html") {
				v.choose("#sheet-outcome", "mended")
				v.until(`document.querySelector('[data-lacks]')?.getClientRects().length`)
			}
			var over float64
			v.do(chromedp.Evaluate(`document.documentElement.scrollWidth - 360`, &over))
			if over > 0 {
				var wide string
				v.do(chromedp.Evaluate(`[...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > 360).slice(0, 4).map((e) => e.outerHTML.slice(0, 80)).join('; ')`, &wide))
				t.Errorf("%s is %v px wider than a phone: %s", address, over, wide)
			}
			var says string
			v.do(chromedp.Evaluate(string(axe)+`; 0`, nil), chromedp.Evaluate(`axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then((r) =>
				r.violations.map((x) => x.id + ': ' + x.help + ' at ' + x.nodes.slice(0, 3).map((n) => n.target.join(' ')).join(', ')).join('\n'))`, &says, awaiting))
			if says != "" {
				t.Errorf("%s, %s:\n%s", address, scheme, says)
			}
		}
	}
	v.clean()
}

// The papers of a job are one page each, and the ticket carries its code.
func TestPapers(t *testing.T) {
	v := visit(t, false)
	code := v.takeIn("it leaks: water stands under it, since Sunday, always", "kettle")
	v.do(chromedp.Navigate(v.base + "job.html?job=" + code))
	v.until(`document.querySelector('[data-for=ticket] .qr')`)
	v.enter("#sheet-told", "Descale it twice a year.")
	v.until(`document.querySelector('[data-for=owner]').textContent.includes('Descale')`)
	for _, paper := range []string{"ticket", "label", "owner", "shop"} {
		var pdf []byte
		v.do(chromedp.Evaluate(`document.body.dataset.paper = `+quote(paper), nil), chromedp.ActionFunc(func(ctx context.Context) (err error) {
			pdf, _, err = page.PrintToPDF().WithPaperWidth(8.27).WithPaperHeight(11.69).Do(ctx)
			return err
		}))
		if n := pagesOf(pdf); n != 1 {
			t.Errorf("the %s takes %d pages", paper, n)
		}
	}
	v.clean()
}

// A checklist and a reading sheet are one page of paper each: every sheet, whose head
// stands in one line, and the five longest checklists.
func TestOnePage(t *testing.T) {
	v := visit(t, false)
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range []string{"checklists", "sheets"} {
		list, err := os.ReadDir(filepath.Join(dir, kind))
		if err != nil {
			t.Fatal(err)
		}
		long := map[string]int64{}
		for _, e := range list {
			if info, err := e.Info(); err == nil {
				long[e.Name()] = info.Size()
			}
		}
		slices.SortFunc(list, func(a, b os.DirEntry) int { return cmp.Compare(long[b.Name()], long[a.Name()]) })
		if kind == "checklists" {
			list = list[:min(5, len(list))]
		}
		for _, e := range list {
			if n := v.sides(kind + "/" + e.Name()); n != 1 {
				t.Errorf("%s/%s takes %d pages", kind, e.Name(), n)
			}
			var broken []string
			v.do(emulation.SetEmulatedMedia().WithMedia("print"), chromedp.Evaluate(`[...document.querySelectorAll('.sheet-rows thead th')].filter(th => {
				const all = document.createRange();
				all.selectNodeContents(th);
				return new Set([...all.getClientRects()].filter(r => r.width > 1).map(r => Math.round(r.top))).size > 1;
			}).map(th => th.textContent)`, &broken), emulation.SetEmulatedMedia())
			if len(broken) > 0 {
				t.Errorf("%s/%s: the heads %q stand in two lines", kind, e.Name(), broken)
			}
		}
	}
}

// The note of a fault goes on two sides of one sheet, and the list of a year's jobs is no
// book: of a long list only what is unfolded is printed, and a plot stands smaller.
func TestFewSides(t *testing.T) {
	v := visit(t, false)
	for address, most := range map[string]int{"faults/element-tag-burnt-off.html": 2, "faults/air-fryer-board-wet.html": 2, "faults/amp-cord-slack.html": 2, "faults/amp-reservoir-dried.html": 2, "faults/reservoir-dried-out.html": 2, "faults/bridge-diode-open.html": 2, "answers.html": 5, "jobs/2024-10-08-cordless-tool-pack-1.html": 1, "jobs/index.html": 3} {
		if n := v.sides(address); n > most {
			t.Errorf("%s takes %d sides of paper; %d are enough", address, n, most)
		}
	}
}

// sides is how many sides of A4 a page takes.
func (v *visitor) sides(address string) int {
	v.t.Helper()
	var pdf []byte
	v.do(chromedp.Navigate(v.base+address), chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).WithPaperWidth(8.27).WithPaperHeight(11.69).Do(ctx)
		return err
	}))
	return pagesOf(pdf)
}

func pagesOf(pdf []byte) int {
	return strings.Count(string(pdf), "/Type /Page\n") + strings.Count(string(pdf), "/Type /Page/") + strings.Count(string(pdf), "/Type /Page ")
}

// A laptop and a tablet on one job, by the inbox: readings of both, the tablet
// that comes with the code's address alone, the sheet saved on the host, a hostile
// one refused.
func TestInbox(t *testing.T) {
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	at := t.TempDir()
	box, err := inbox.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	says, err := box.Passphrase()
	if err != nil {
		t.Fatal(err)
	}
	judge, mistakes := note.NewJudge(os.DirFS(shop), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	var door atomic.Pointer[inbox.Door]
	open := func(box *inbox.Box) {
		door.Store(&inbox.Door{Box: box, Path: "/bench/", Check: func(_ inbox.Kind, name string, text []byte) error {
			_, wrong := judge.Sheet(name, text)
			return note.Error(wrong)
		}})
	}
	open(box)
	server := httptest.NewServer(host.Handler(dir, host.Options{Path: "/bench/", Inbox: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { door.Load().ServeHTTP(w, r) })}))
	defer server.Close()
	laptop, tablet := visit(t, false), visit(t, false)
	laptop.base, tablet.base = server.URL+"/bench/", server.URL+"/bench/"
	enter := func(v *visitor) {
		v.until(`document.querySelector('#inbox-pass')`)
		if says := v.text("[data-inbox-enter]"); !strings.Contains(says, "Not encrypted") {
			t.Errorf("the form says %q", says)
		}
		v.enter("#inbox-pass", says+"\r")
		v.until(`!document.querySelector('#inbox-pass')`)
	}
	code := laptop.takeIn("it leaks", "kettle")
	enter(laptop)
	laptop.do(chromedp.Click(`[data-symptom="leaks"]`))
	tablet.do(chromedp.Navigate(tablet.base + "job.html?job=" + code))
	enter(tablet)
	tablet.until(`document.querySelector('[data-job-page] .strip')?.textContent.includes('it leaks')`)
	tablet.do(chromedp.Navigate(tablet.base + "devices/kettle.html?job=" + code))
	tablet.until(`document.querySelector('[data-symptom="leaks"][aria-pressed="true"]')`)
	// both add, the laptop cut off from the host meanwhile
	laptop.do(chromedp.Evaluate(`globalThis.real = fetch; globalThis.fetch = () => Promise.reject(new Error("off")); 1`, nil))
	laptop.do(chromedp.Evaluate(`jobs.here.add('known/readings/', {test: 'look-base', value: 'bright', at: Date.now()})`, nil))
	tablet.do(chromedp.Evaluate(`jobs.here.add('known/readings/', {test: 'press-switch', value: 'stays-and-snaps', at: Date.now()})`, nil))
	tablet.until(`theInbox.sent.get('` + code + `') && !theInbox.busy`)
	laptop.until(`document.querySelector("[data-inbox-trouble]")?.textContent.includes("does not answer")`)
	laptop.do(chromedp.Evaluate(`globalThis.fetch = real; 1`, nil))
	for _, v := range []*visitor{laptop, tablet} {
		v.until(`jobs.here.all('known/readings/').length === 2`)
	}
	// a host that begins anew with what an older backup holds, here nothing, is told all again
	for _, gone := range []string{"jobs", "ended"} {
		if err := os.RemoveAll(filepath.Join(at, gone)); err != nil {
			t.Fatal(err)
		}
	}
	if box, err = inbox.Open(at); err != nil {
		t.Fatal(err)
	}
	open(box)
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(100 * time.Millisecond) {
		if list, err := box.Jobs(1); err == nil && len(list[code]) > 0 && list[code]["says"].Stamp != "" && list[code]["shows/leaks"].Stamp != "" {
			break
		}
		if time.Now().After(end) {
			t.Fatal("what the screens had told before is lost")
		}
	}
	// the sheet
	tablet.do(chromedp.Navigate(tablet.base + "job.html?job=" + code))
	tablet.until(`document.querySelector('#sheet-outcome')`)
	tablet.choose("#sheet-outcome", "given-up")
	tablet.choose("#sheet-cause", "unknown")
	tablet.until(`!document.querySelector('[data-sheet-inbox]').disabled`)
	tablet.enter("#sheet-told", "call 0151 496 0000")
	tablet.until(`document.querySelector('.sheet-preview').textContent.includes('496')`)
	tablet.do(chromedp.Evaluate(`document.querySelector('[data-sheet-inbox]').click()`, nil))
	tablet.until(`document.querySelector('[data-sheet-trouble]').textContent.includes('telephone')`)
	tablet.enter("#sheet-told", "a new seal")
	tablet.until(`document.querySelector('.sheet-preview').textContent.includes('a new seal')`)
	tablet.do(chromedp.Evaluate(`document.querySelector('[data-sheet-inbox]').click()`, nil))
	tablet.until(`document.querySelector('.trace-tools [role=status]').textContent.includes('inbox')`)
	items, err := box.Items()
	if err != nil || len(items) != 1 || items[0].Name != code+"-kettle.md" || !strings.Contains(string(items[0].Text), "press-switch") || !strings.Contains(string(items[0].Text), "base-look") {
		t.Fatalf("%v %v", items, err)
	}
	var status int
	laptop.do(chromedp.Evaluate(`theInbox.call('sheets', {name: 'x-1.md', text: '---\ndevice: kettle\n---\n<script>'}).then((a) => a.status)`, &status, awaiting))
	if status != 422 {
		t.Errorf("a hostile sheet is answered with %d", status)
	}
	// closed on the tablet, it is closed on the laptop
	tablet.do(chromedp.Evaluate(`document.querySelector('[data-job-close]').click()`, nil))
	tablet.until(`location.pathname.endsWith('index.html') && document.querySelector('[data-unfinished]')?.hidden`)
	laptop.until(`document.querySelector('[data-jobbar]').textContent.includes('was closed')`)
}
