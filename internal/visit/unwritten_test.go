package visit

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/chromedp/chromedp"

	"faultleaf/calc/all"
	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
)

// A device nobody has written up: picked from the address, traced, and kept.
func TestUnwritten(t *testing.T) {
	both(t, func(t *testing.T, v *visitor) {
		v.do(chromedp.Navigate(v.base + "unwritten.html?name=Hair+dryer&blocks=mains-plug+mains-cord+contact-switch+[+thermal-link+heating-wire+|+small-fan-motor+]+airway&plate.power=1.8+kW"))
		v.until(`document.querySelector('[data-unwritten-trace]').textContent.includes('class')`) // never assumed
		v.do(chromedp.Click(`input[name=unwritten-class][value=II]`, chromedp.ByQuery))
		v.until(`!!document.querySelector('[data-trace=unwritten] .trace-symptoms')`)
		if row := v.text(".unwritten-chain"); row != "mains plug → mains cord → contact switch → ( thermal link → heating wire | small fan motor ) → airway" {
			t.Errorf("the chain is shown as %q", row)
		}
		v.until(`location.search.includes('class=II')`)
		v.enter("#unwritten-name", "old microwave oven")
		v.until(`document.querySelector('[data-unwritten-trace]').textContent.includes('stays shut')`)
		v.clean()
	})
}

// What the blocks expand to is the same natively and in the browser, byte for byte.
func TestSameExpansion(t *testing.T) {
	set, mistakes, _ := note.Load(os.DirFS("../.."), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	library, err := json.Marshal(map[string]any{"library": set.Library(), "shop": map[string]any{}})
	if err != nil {
		t.Fatal(err)
	}
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "index.html"))
	v.awake()
	var loaded string
	v.do(chromedp.Evaluate(`core().then((call) => call('blocks', `+quote(string(library))+`))`, &loaded, awaiting))
	same := 0
	for _, chain := range []string{
		"mains-plug mains-cord contact-switch [ thermal-link heating-wire | small-fan-motor ] airway",
		"mains-plug mains-cord thermostat thermal-link sheathed-element waterway",
		"mains-plug mains-cord speed-trigger universal-motor gearing",
		"mains-plug mains-cord contact-switch [ universal-motor | [ heating-wire | contact-switch sheathed-element ] ]",
		"mains-plug contact-switch",
	} {
		for _, class := range []string{"I", "II", ""} {
			for _, power := range []string{"300 W", "2 kW"} {
				p := blocks.Picked{Blocks: chain, Class: class, Plate: map[string]string{"mains": "230 V", "power": power}, Shows: []string{"tingles"}}
				q, _ := json.Marshal(p)
				want := native(t, set, p)
				var got string
				v.do(chromedp.Evaluate(`core().then((call) => call('unwritten', `+quote(string(q))+`))`, &got, awaiting))
				if got != want {
					t.Errorf("%s, class %s, %s: natively %d bytes, in the browser %d, and they differ", chain, class, power, len(want), len(got))
					continue
				}
				same++
			}
		}
	}
	t.Logf("%d expansions equal", same)
	v.clean()
}

// native is what the page's core should answer.
func native(t *testing.T, set *note.Set, p blocks.Picked) string {
	t.Helper()
	d, _, err := p.Expand(set.Library(), all.Compute)
	var b []byte
	if err != nil {
		b, err = json.Marshal(map[string]any{"error": map[string]string{"says": err.Error()}})
	} else {
		type onPage struct {
			trace.Device
			Plate map[string]string `json:"plate"`
		}
		var front string
		if front, err = p.Front(set.Library()); err == nil {
			b, err = json.Marshal(struct {
				Device onPage `json:"device"`
				Row    string `json:"row"`
				Note   string `json:"note"`
			}{onPage{*d, p.Plate}, blocks.Row(d.Blocks), front})
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
