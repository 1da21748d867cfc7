package visit

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"maps"
	"math"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"faultleaf/internal/host"
	"faultleaf/internal/outfit"
	"faultleaf/internal/site"
)

// kinds are one page of each kind of the starter shop.
var kinds = map[string]string{
	"start":      "index.html",
	"search":     "index.html?q=heater+blows+cold",
	"find":       "find.html?q=printer+jams",
	"device":     "devices/fan-heater.html",
	"trace":      "devices/fan-heater.html#shows=air-cold&read=pins-ohms=motor-only",
	"fault":      "faults/element-tag-burnt-off.html",
	"checklist":  "checklists/after-repair.html",
	"calculator": "calc/rectifier.html",
	"shelves":    "calc/index.html",
	"checked":    "calc/checked.html",
	"jobs":       "jobs/index.html",
	"job":        "jobs/2025-01-14-fan-heater-1.html",
	"figures":    "jobs/figures.html",
	"page":       "pages/meter-readings.html",
}

// besides are states and kinds that no picture is kept of.
var besides = map[string]string{
	"nothing": "index.html?q=xyzzyqq",
	"opening": "opening/fan-heater.html",
	"sheet":   "sheets/fan-heater.html",
	"block":   "blocks/thermal-link.html",
	"counter": "counter.html?job=",
	"blocks":  "unwritten.html",
}

// settled waits for what a page of a kind builds itself.
func (v *visitor) settled(kind string) {
	switch kind {
	case "trace", "device":
		v.until(`document.querySelector('.trace-step')`)
	case "nothing":
		v.until(`document.querySelector('.find-empty')`)
	case "search", "find":
		v.until(`document.querySelector('.find-hit') && document.querySelector('.find-group')`)
	}
}

// axeCore is the script of axe-core, which is not part of this house: its file is
// named in FAULTLEAF_AXE, or lies in node_modules.
func axeCore(t *testing.T) []byte {
	t.Helper()
	file := os.Getenv("FAULTLEAF_AXE")
	if file == "" {
		file = filepath.Join(shop, "node_modules", "axe-core", "axe.min.js")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Skip("axe-core is not installed: npm install --no-save axe-core puts it into node_modules")
	}
	return axe
}

// Pages of every kind follow WCAG 2.2 AA as far as a program can tell: light,
// dark, forced colours, and at twice the size. axe-core is not part of this
// house: its file is named in FAULTLEAF_AXE, or lies in node_modules.
func TestAccessible(t *testing.T) {
	axe := axeCore(t)
	for _, how := range []struct {
		name  string
		media []*emulation.MediaFeature
		width int64
	}{
		{"light", []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}}, 1280},
		{"dark", []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}, 360},
		{"forced colours", []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}, 768},
		{"twice the size", nil, 640}, // 1280 px at 200 %
	} {
		v := visit(t, false) // one each, because a visit has its time
		v.do(emulation.SetDeviceMetricsOverride(how.width, 900, 1, false), emulation.SetEmulatedMedia().WithFeatures(how.media))
		all := maps.Clone(kinds)
		if how.name == "light" {
			maps.Copy(all, besides)
		}
		for name, address := range all {
			v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address))
			v.until(`document.readyState === 'complete'`)
			v.settled(name)
			var says string
			v.do(chromedp.Evaluate(string(axe)+`; 0`, nil), chromedp.Evaluate(`axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then((r) =>
				r.violations.map((x) => x.id + ': ' + x.help + ' at ' + x.nodes.slice(0, 3).map((n) => n.target.join(' ')).join(', ')).join('\n'))`,
				&says, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
			if says != "" {
				t.Errorf("%s, %s:\n%s", name, how.name, says)
			}
		}
	}
}

// A picture is compared as small squares of grey, so that another machine's
// letters do not matter, but a lost column or a black page does.
const (
	square  = 16
	farther = 40  // of 255: a square that differs
	most    = .10 // share of squares that may differ
)

// small makes the picture of squares.
func small(img image.Image) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx()/square, b.Dy()/square))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			sum := 0
			for j := range square {
				for i := range square {
					sum += int(color.GrayModel.Convert(img.At(b.Min.X+x*square+i, b.Min.Y+y*square+j)).(color.Gray).Y)
				}
			}
			out.SetGray(x, y, color.Gray{Y: uint8(sum / square / square)})
		}
	}
	return out
}

// Pictures of every page kind of a small shop that does not change with the
// starter: three widths, light and dark, and on paper. UPDATE_GOLDEN=1 takes
// them anew; FAULTLEAF_PICTURES=FOLDER keeps the full pictures to look at.
func TestPictures(t *testing.T) {
	browser(t)
	dir := t.TempDir()
	if err := outfit.Usual.Example(filepath.Join(dir, "content")); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(dir, "content"), os.DirFS(filepath.Join("testdata", "shop"))); err != nil { // a page and sheets besides
		t.Fatal(err)
	}
	to := filepath.Join(dir, "public")
	if _, mistakes, err := site.Publish(dir, to); err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	server := httptest.NewServer(host.Handler(to, host.Options{}))
	t.Cleanup(server.Close)
	v := visit(t, false)
	v.base = server.URL + "/"
	small := map[string]string{"start": "index.html", "search": "index.html?q=stays+dark", "find": "find.html?q=stays+dark", "device": "devices/table-lamp.html",
		"trace": "devices/table-lamp.html#shows=dark&read=bulb-elsewhere=stays-dark", "fault": "faults/lamp-switch-worn.html",
		"checklist": "checklists/before-opening.html", "calculator": "calc/discharge.html", "shelves": "calc/index.html", "checked": "calc/checked.html",
		"jobs": "jobs/index.html", "opening": "opening/table-lamp.html", "job": "jobs/2026-01-05-table-lamp-1.html", "figures": "jobs/figures.html", "page": "pages/lamps.html"}
	for name := range kinds {
		address, ok := small[name]
		if !ok {
			t.Errorf("no picture is taken of the page kind %s", name)
			continue
		}
		file, _, _ := strings.Cut(strings.ReplaceAll(address, "?", "#"), "#")
		if _, err := os.Stat(filepath.Join(to, filepath.FromSlash(file))); err != nil {
			t.Errorf("there is no page %s", file)
			continue
		}
		for _, scheme := range []string{"light", "dark", "print"} {
			for _, width := range []int64{360, 768, 1280} {
				if scheme == "print" && width != 768 {
					continue
				}
				media := emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}})
				if scheme == "print" {
					media = emulation.SetEmulatedMedia().WithMedia("print")
				}
				v.do(emulation.SetDeviceMetricsOverride(width, 960, 1, false), media, chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+address))
				v.until(`document.readyState === 'complete'`)
				if scheme != "print" {
					v.settled(name)
				}
				var shot []byte
				v.do(chromedp.ActionFunc(func(ctx context.Context) error {
					var err error
					shot, err = page.CaptureScreenshot().Do(ctx)
					return err
				}))
				picture(t, fmt.Sprintf("%s-%s-%d", name, scheme, width), shot)
			}
		}
	}
}

// The README's pictures, of the starter shop: FAULTLEAF_README=1 takes them anew.
func TestReadmePictures(t *testing.T) {
	if os.Getenv("FAULTLEAF_README") == "" {
		t.Skip("FAULTLEAF_README=1 takes the README's pictures anew")
	}
	v := visit(t, false)
	v.do(emulation.SetDeviceMetricsOverride(1100, 900, 1, false), emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}}))
	for name, shown := range map[string]struct{ address, ready string }{
		"search":     {"index.html?q=heater+blows+cold", `document.querySelector('.find-hit') && document.querySelector('.find-group')`},
		"trace":      {"devices/fan-heater.html#shows=air-cold&read=pins-ohms=motor-only&read=element-look=whole", `document.querySelector('.trace-path')`},
		"calculator": {"calc/rectifier.html?ac=18_V", `document.querySelector('.plot svg') && !document.querySelector('.calc.stale') && document.querySelector('[data-calc-caption]').textContent.includes('Result')`},
	} {
		v.do(chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+shown.address))
		v.until(shown.ready)
		var shot []byte
		v.do(chromedp.ActionFunc(func(ctx context.Context) error {
			var err error
			shot, err = page.CaptureScreenshot().Do(ctx)
			return err
		}))
		folder := filepath.Join(shop, "pictures")
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name+".png"), shot, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// picture compares one picture with the kept one.
func picture(t *testing.T, name string, shot []byte) {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		t.Fatal(err)
	}
	if folder := os.Getenv("FAULTLEAF_PICTURES"); folder != "" {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name+".png"), shot, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got := small(img)
	file := filepath.Join("testdata", "pictures", name+".png")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		var b bytes.Buffer
		if err := png.Encode(&b, got); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	if want.Bounds() != got.Bounds() {
		t.Errorf("%s has another size", name)
		return
	}
	differ := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			w := color.GrayModel.Convert(want.At(x, y)).(color.Gray).Y
			if math.Abs(float64(w)-float64(got.GrayAt(x, y).Y)) > farther {
				differ++
			}
		}
	}
	if share := float64(differ) / float64(got.Rect.Dx()*got.Rect.Dy()); share > most {
		t.Errorf("%s differs from the kept picture in %.0f %% of its area; UPDATE_GOLDEN=1 takes it anew once it was looked at", name, 100*share)
	}
}

// The reader's own colours hold whatever scheme is on, or was chosen here: a chain's blocks
// keep none of ours.
func TestForcedColours(t *testing.T) {
	v := visit(t, false)
	for _, scheme := range []string{"light", "dark"} {
		v.do(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}, {Name: "prefers-color-scheme", Value: scheme}}))
		v.do(chromedp.Navigate(v.base + "faults/element-tag-burnt-off.html"))
		for _, chosen := range []string{"", "dark", "light"} {
			var fills string
			v.do(chromedp.Evaluate(fmt.Sprintf(`(() => { document.documentElement.dataset.scheme = %q;
				const canvas = document.createElement('p'); canvas.style.color = 'Canvas'; document.body.append(canvas);
				return [...document.querySelectorAll('.part-box')].map((e) => getComputedStyle(e).fill).filter((fill) => fill !== getComputedStyle(canvas).color).join(' '); })()`, chosen), &fills))
			if fills != "" {
				t.Errorf("%s, chosen %q: blocks are filled with %s", scheme, chosen, fills)
			}
		}
	}
}

// The question stands in the first screen, whatever the device: its first line, on a
// telephone and on low screens, as the page opens. Above it stands the wire in short, which
// a tap shows whole. FAULTLEAF_WHOLE=1 looks at every device.
func TestQuestionInTheFirstScreen(t *testing.T) {
	_, pages := devicePages(t)
	v := visit(t, false)
	worst := map[string]float64{}
	seen := 0
	for i, p := range pages {
		device := strings.TrimSuffix(filepath.Base(p), ".html")
		if os.Getenv("FAULTLEAF_WHOLE") == "" && i%12 != 0 && device != "plug-in-supply" && device != "laptop" {
			continue
		}
		if seen++; seen%12 == 0 { // a visit has its time
			v.clean()
			v = visit(t, false)
		}
		for _, size := range [][2]int64{{360, 740}, {1024, 600}, {1280, 720}} {
			v.do(emulation.SetDeviceMetricsOverride(size[0], size[1], 1, size[0] < 700), chromedp.Navigate("about:blank"), chromedp.Navigate(v.base+"devices/"+device+".html"))
			v.until(`document.querySelector('.trace-step .trace-ask') && document.querySelector('.trace-chances')`)
			name := fmt.Sprintf("%d x %d", size[0], size[1])
			// where it stands in the page, and how much a line of it needs
			foot := v.number(`(() => { const e = document.querySelector('#trace-step'); return e.getBoundingClientRect().top + scrollY + parseFloat(getComputedStyle(e).lineHeight); })()`)
			worst[name] = max(worst[name], foot)
			if foot > float64(size[1]) {
				t.Errorf("%s, %s: the question's first line ends at %.0f px", device, name, foot)
			}
			if wide := v.number(`document.documentElement.scrollWidth`); wide > float64(size[0]) {
				t.Errorf("%s, %s: the page is %.0f px wide", device, name, wide)
			}
		}
	}
	t.Log("the lowest first line of a question ends at, in px:", worst)
	// the whole wire is a tap away, and stays while the page is open
	whole := `[...document.querySelectorAll('[data-chain] .circuit')].filter((e) => e.getClientRects().length).map((e) => e.getAttribute('class')).join()`
	v.until(whole + ` === 'circuit circuit-slim-wide'`)
	v.do(chromedp.Click(`.chain-slim`))
	v.until(whole + ` === 'circuit circuit-wide' && document.querySelector('.chain-slim').getAttribute('aria-expanded') === 'true'`)
	v.do(chromedp.Evaluate(`document.querySelector('[data-symptom]').click()`, nil))
	v.until(`document.querySelector('.trace-reading, .trace-accept') && ` + whole + ` === 'circuit circuit-wide'`)
	v.do(chromedp.Click(`.chain-slim`))
	v.until(whole + ` === 'circuit circuit-slim-wide'`)
	v.do(emulation.SetDeviceMetricsOverride(1280, 900, 1, false))
	v.until(whole + ` === 'circuit circuit-wide' && !document.querySelector('.chain-slim').getClientRects().length`)
	v.clean()
}

// Who needs letters twice as large reads every kind of page on a telephone without moving it sideways; a table
// and a drawing have a box of their own for that.
func TestTwiceAsLarge(t *testing.T) {
	v := visit(t, true)
	v.do(emulation.SetDeviceMetricsOverride(360, 740, 1, true))
	for _, page := range []string{"index.html", "find.html", "answers.html", "counter.html", "unwritten.html", "writing-notes.html", "blocks.html", "job.html", "calc/index.html",
		"blocks/mains-cord.html", "checklists/before-opening.html", "opening/air-fryer.html", "sheets/air-fryer.html", "pages/capacitors.html", "faults/kettle-element-open.html"} {
		v.do(chromedp.Navigate(v.base + page))
		v.until(`document.querySelector('main')`)
		if page == "counter.html" {
			v.until(`document.querySelector('[data-counter-open]')`)
		}
		v.do(chromedp.Evaluate(`document.documentElement.style.fontSize = '200%'`, nil))
		if over := v.number(`document.documentElement.scrollWidth - 360`); over > 0 {
			t.Errorf("%s is %v px wider than a telephone", page, over)
		}
	}
	v.clean()
}
