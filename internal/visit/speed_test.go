package visit

import (
	"encoding/json"
	"sort"
	"testing"

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
