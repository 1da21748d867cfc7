package visit

import (
	"context"
	"encoding/json"
	"sort"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"faultleaf/calc/all"
	"faultleaf/calc/calctest"
)

// BenchmarkKeystroke prints, for every calculator, the milliseconds from a
// keystroke's question to its answer with the plots, in the browser: median and
// 95 of 100. It judges nothing; machines differ.
func BenchmarkKeystroke(b *testing.B) {
	if testing.Short() {
		b.Skip("the browser takes its time")
	}
	for _, c := range all.Calculators {
		b.Run(c.Name, func(b *testing.B) {
			v := visit(b, false)
			v.do(chromedp.Navigate(v.base + "index.html"))
			v.until(`typeof faultleafCore === 'object'`)
			var questions []string
			for _, set := range calctest.Random(c, 100, 5) {
				inputs := [][2]string{}
				for _, s := range set {
					inputs = append(inputs, [2]string{s.Name, s.Value})
				}
				q, _ := json.Marshal(map[string]any{"name": c.Name, "inputs": inputs, "plots": true})
				questions = append(questions, string(q))
			}
			list, _ := json.Marshal(questions)
			var took []float64
			// the first round lets the browser translate the binary to its fast form
			v.do(chromedp.Evaluate(`(`+string(list)+`).forEach((q) => faultleafCore.calc(q)); 0`, nil))
			for b.Loop() {
				v.do(chromedp.Evaluate(`(`+string(list)+`).map((q) => { const t = performance.now(); faultleafCore.calc(q); return performance.now() - t; })`, &took))
			}
			sort.Float64s(took)
			b.ReportMetric(took[len(took)/2], "ms-median")
			b.ReportMetric(took[len(took)*95/100], "ms-p95")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkPaint prints, with the processor slowed down four times, when the
// largest thing of the start page is painted, what was transferred until then,
// how far the layout moved, and the longest task while a symptom is typed.
func BenchmarkPaint(b *testing.B) {
	if testing.Short() {
		b.Skip("the browser takes its time")
	}
	v := visit(b, false)
	const watch = `
		globalThis.seen = {paint: 0, shift: 0, task: 0};
		new PerformanceObserver((l) => { for (const e of l.getEntries()) seen.paint = Math.max(seen.paint, e.startTime); }).observe({type: 'largest-contentful-paint', buffered: true});
		new PerformanceObserver((l) => { for (const e of l.getEntries()) if (!e.hadRecentInput) seen.shift += e.value; }).observe({type: 'layout-shift', buffered: true});
		new PerformanceObserver((l) => { for (const e of l.getEntries()) seen.task = Math.max(seen.task, e.duration); }).observe({type: 'longtask'});`
	v.do(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(watch).Do(ctx)
		return err
	}), emulation.SetCPUThrottlingRate(4))
	for b.Loop() {
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"index.html"))
		v.until(`document.readyState === 'complete' && seen.paint > 0`)
		var paint, shift, early, task float64
		v.do(chromedp.Evaluate(`seen.paint`, &paint),
			chromedp.Evaluate(`performance.getEntries().filter((e) => (e.entryType === 'resource' || e.entryType === 'navigation') && !e.name.endsWith('.bin')).reduce((s, e) => s + e.decodedBodySize, 0) / 1024`, &early))
		v.until(`typeof faultleafCore === 'object'`)
		v.do(chromedp.Evaluate(`document.querySelector('[data-find-words]').focus(); seen.task = 0`, nil), chromedp.SendKeys(`[data-find-words]`, "h"))
		v.until(`document.querySelector('.find-hit')`)
		v.do(chromedp.Evaluate(`seen.task = 0`, nil), chromedp.SendKeys(`[data-find-words]`, "eater blows cold"))
		v.until(`document.querySelector('.find-hit')`)
		v.do(chromedp.Sleep(300*time.Millisecond), chromedp.Evaluate(`seen.task`, &task), chromedp.Evaluate(`seen.shift`, &shift))
		b.ReportMetric(paint, "ms-largest-paint")
		b.ReportMetric(early, "kB-before-binary")
		b.ReportMetric(shift, "layout-shift")
		b.ReportMetric(task, "ms-longest-task-typing")
		b.ReportMetric(0, "ns/op")
	}
}
